package pages

import (
	"slices"
	"strconv"

	"rodlore/catalogue/pages/drawing"
	"rodlore/diffing"
)

// view is a part of the rod that a customer looks at.
type view struct {
	name    string // of its text
	aspects []diffing.Aspect
	// shown is how much of a rod the view takes, m from the butt.
	shown func(Labelled) float64
}

// views are all of them, in the order in which they are drawn.
var views = []view{
	{"rod", []diffing.Aspect{diffing.RingCount, diffing.RodLength, diffing.SectionCount, diffing.JointKind, diffing.BlankColour, diffing.WhippingColour},
		func(r Labelled) float64 { return r.TotalLength() }},
	{"butt", []diffing.Aspect{diffing.ButtRingCount, diffing.ButtRingSize, diffing.ButtRingPlace},
		func(r Labelled) float64 { return max(float64(r.Sections[0].Length.Value), buttRingFromButt(r)+beyond) }},
	{"handle", []diffing.Aspect{diffing.HandleLength, diffing.HandleShape, diffing.ReelSeat, diffing.ReelSeatPlace},
		func(r Labelled) float64 { return min(r.TotalLength(), r.HandleFront()+beyond) }},
}

// beyond is how much of the blank is shown beyond a handle or a butt ring, m.
const beyond = 0.08

// buttRingFromButt is where the lowest ring stands.
func buttRingFromButt(r Labelled) float64 {
	return r.TotalLength() - float64(r.Rings[len(r.Rings)-1].At.Value)
}

// Sights draws what a customer sees changed from one rod to another: each part
// of the rod on which something did, as it was and as it is. Without sights it
// is nil. The error means that a spec gives no rod.
func (p Pen) Sights(before, after Labelled, sights []diffing.Sight) (*drawing.Picture, error) {
	if len(sights) == 0 {
		return nil, nil
	}
	var said []string
	for _, s := range sights {
		said = append(said, p.sight(s))
	}
	pic := p.picture(p.say("sights.title"), p.say("sights.description", "before", before.Label, "after", after.Label, "sights", p.words.List(said)))
	y := 0.0
	for _, view := range views {
		if seen := p.seen(view, sights); seen != "" {
			var err error
			if y, err = p.view(pic, y, view, seen, before, after); err != nil {
				return nil, err
			}
		}
	}
	return p.close(pic), nil
}

// sight says one thing that is seen changed. Of what is counted the numbers are
// enough, for its name says of what.
func (p Pen) sight(s diffing.Sight) string {
	t := p.teller()
	old, now := t.Looks(s.Old), t.Looks(s.New)
	if n, ok := s.Old[0].(diffing.Number); ok && s.Unit == "1" {
		old, now = strconv.Itoa(n.N), strconv.Itoa(s.New[0].(diffing.Number).N)
	}
	return p.say("sights.sight", "aspect", p.say("sights."+string(s.Aspect)), "old", old, "new", now)
}

// seen says what is seen changed in a view; "" for nothing.
func (p Pen) seen(v view, sights []diffing.Sight) string {
	var list []string
	for _, s := range sights {
		if slices.Contains(v.aspects, s.Aspect) {
			list = append(list, p.sight(s))
		}
	}
	if len(list) == 0 {
		return ""
	}
	return p.say("sights.view", "view", p.say("sights."+v.name), "sights", p.words.List(list))
}

// view draws a part of both rods below y and says where that ends.
func (p Pen) view(pic *drawing.Picture, y float64, v view, seen string, rods ...Labelled) (bottom float64, err error) {
	shown := 0.0
	for _, r := range rods {
		shown = max(shown, v.shown(r))
	}
	sides, err := p.abreast(rods, shown)
	if err != nil {
		return 0, err
	}
	for _, text := range p.wrapped(seen, p.width-2*margin) {
		y += 1.5 * p.letters
		pic.Add(p.label(margin, y, drawing.Start, text))
	}
	for i, r := range rods {
		words := p.display.Written(r.Length.Text) + ", " + p.ringWords(r.Spec)
		if v.name != "rod" {
			words = ""
		}
		y = sides[i].set(pic, y, r.Label, words)
	}
	y += 1.2 * p.letters
	pic.Add(sides[0].scaleLine(y)...)
	return y + 1.2*p.letters, nil
}
