package diffing

import "fmt"

// Phrases put into words what is seen of a rod and no measure says.
type Phrases interface {
	// Look is the word for what is named: none, stays, as bought, no butt cap, or
	// a kind of joint.
	Look(name string) string
	// Things counts: "1 ring", "2 rings". A thing is a ring, section, size or grip.
	Things(thing string, n int) string
	// Taper says that a grip is so thick at its back and so at its front.
	Taper(back, front string) string
}

// english are the Phrases that what is seen is told in unless In says otherwise.
type english struct{}

func (english) Look(name string) string { return name }

func (english) Things(thing string, n int) string {
	if n != 1 {
		thing += "s"
	}
	return fmt.Sprintf("%d %s", n, thing)
}

func (english) Taper(back, front string) string { return back + " to " + front }
