package pages

import (
	"strings"

	"rodlore/catalogue/pages/drawing"
)

// Rack draws rods of several models to one scale, their butts above one
// another. The error means that a spec gives no rod.
func (p Pen) Rack(rods []Labelled) (*drawing.Picture, error) {
	words := func(i int) string {
		return p.words.Say("lists.more", "list", p.display.Written(rods[i].Length.Quantity()), "next", p.ringWords(rods[i].Spec))
	}
	var said []string
	for i, r := range rods {
		said = append(said, p.say("stack.release", "label", r.Label, "rings", words(i)))
	}
	pic := p.picture(p.say("rack.title"), p.say("rack.description", "rods", strings.Join(said, " ")))
	return p.rack(pic, rods, words, func(int, *side) []drawing.Mark { return nil })
}

// rack draws rods below one another, by their index with words beside their
// labels and marks on them.
func (p Pen) rack(
	pic *drawing.Picture, rods []Labelled, words func(int) string, mark func(int, *side) []drawing.Mark,
) (*drawing.Picture, error) {
	sides, err := p.abreast(rods, longest(rods), flattest)
	if err != nil {
		return nil, err
	}
	y := 0.0
	for i, v := range sides {
		y = v.set(pic, y, rods[i].Label, words(i))
		pic.Add(mark(i, v)...)
	}
	pic.Add(sides[0].scaleLine(y + 1.6*p.letters)...)
	return p.close(pic), nil
}

// abreast lays rods out to one scale, so much of each as stands within shown
// metres of its butt, each at most so high as a share of the picture's width.
func (p Pen) abreast(rods []Labelled, shown, high float64) ([]*side, error) {
	along, butt := p.ground(shown)
	across := usualAcross
	sides := make([]*side, len(rods))
	for i, r := range rods {
		v, err := p.newSide(r.Spec, along, 1)
		if err != nil {
			return nil, err
		}
		v.shown = min(shown, r.TotalLength())
		up, down := v.reach()
		across = max(across, p.fitting((up+down)*1e-3, high*p.width))
		sides[i] = v
	}
	for _, v := range sides {
		v.across, v.butt = across, butt
	}
	return sides, nil
}

// Standing says where the last of rods that are drawn below one another has its butt end
// and its tip, as shares of the picture's width.
func (p Pen) Standing(rods []Labelled) (butt, tip float64) {
	along, butt := p.ground(longest(rods))
	return butt / p.width, (butt + along.mm(rods[len(rods)-1].TotalLength())) / p.width
}

// ground is the scale along of rods drawn to one scale, so many metres of them, and
// where their butts stand, mm.
func (p Pen) ground(shown float64) (along scale, butt float64) {
	along = p.fitting(shown, p.width-2*margin)
	return along, (p.width - along.mm(shown)) / 2
}

// set puts a rod with its label and words into a picture, below y, and says
// where it ends. A label that would leave no room for the words is cut.
func (v *side) set(pic *drawing.Picture, y float64, label, words string) (bottom float64) {
	p := v.pen
	y += 1.5 * p.letters
	name, beyond := p.headed(margin, y, p.shortened(label, p.width/2))
	pic.Add(name)
	for n, line := range drawing.Wrapped(words, p.letters, p.width-margin-beyond) {
		if n > 0 {
			y += 1.3 * p.letters
		}
		pic.Add(p.faint(beyond, y, drawing.Start, line))
	}
	up, down := v.reach()
	v.axis, v.oneOfSeveral = y+up+signRoom, true
	pic.Add(v.marks()...)
	return v.axis + down + signRoom
}

const (
	// flattest is how high each of several rods may be as a share of the
	// picture's width.
	flattest = 0.11
	// signRoom is what signs of a change need above and below a rod, mm.
	signRoom = 3.4
)
