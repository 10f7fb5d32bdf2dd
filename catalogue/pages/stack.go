package pages

import (
	"strconv"
	"strings"

	"rodlore/catalogue/pages/drawing"
	"rodlore/diffing"
	"rodlore/models"
)

// Stack draws a model's releases, oldest first, below one another with their
// butts above one another, and marks on each what changed since the one before.
// The error means that a spec gives no rod.
func (p Pen) Stack(releases []Labelled) (*drawing.Picture, error) {
	var said []string
	edits := make([][]diffing.Edit, len(releases))
	for i, r := range releases {
		rings := p.ringWords(r.Spec)
		if i > 0 {
			edits[i] = diffing.Edits(diffing.Specs(releases[i-1].Spec, r.Spec))
		}
		if len(edits[i]) == 0 {
			said = append(said, p.say("stack.release", "label", r.Label, "rings", rings))
			continue
		}
		said = append(said, p.say("stack.changed", "label", r.Label, "rings", rings, "changes", p.words.List(p.groups(edits[i]))))
	}
	name := releases[len(releases)-1].Name.Text
	pic := p.picture(p.say("stack.title", "name", name), p.say("stack.description", "releases", strings.Join(said, " ")))
	mark := func(i int, v *side) []drawing.Mark {
		if i == 0 {
			return nil
		}
		return v.changes(releases[i-1].Spec, edits[i])
	}
	words := func(i int) string { return p.words.List(p.groups(edits[i])) }
	return p.rack(pic, releases, words, mark, p.say("stack.legend"))
}

// Rack draws rods of several models to one scale, their butts above one
// another. The error means that a spec gives no rod.
func (p Pen) Rack(rods []Labelled) (*drawing.Picture, error) {
	var said []string
	for _, r := range rods {
		said = append(said, p.say("stack.release", "label", r.Label, "rings", r.Length.Text+", "+p.ringWords(r.Spec)))
	}
	pic := p.picture(p.say("rack.title"), p.say("rack.description", "rods", strings.Join(said, " ")))
	words := func(i int) string { return rods[i].Length.Text + ", " + p.ringWords(rods[i].Spec) }
	return p.rack(pic, rods, words, func(int, *side) []drawing.Mark { return nil }, "")
}

// ringWords says how many rings a rod has.
func (p Pen) ringWords(s *models.Spec) string {
	return p.say("count", "n", strconv.Itoa(len(s.Rings)-1))
}

// groups names what was edited. What is said of a rod and not of what it is made
// of does not show.
func (p Pen) groups(edits []diffing.Edit) []string {
	var list []string
	for _, e := range edits {
		if e.Group != diffing.Wording && e.Group != diffing.Settings {
			list = append(list, p.words.Group(e.Group))
		}
	}
	return list
}

// rack draws rods below one another with words beside their labels and marks on
// them.
func (p Pen) rack(pic *drawing.Picture, rods []Labelled, words func(int) string, mark func(int, *side) []drawing.Mark, legend string) (*drawing.Picture, error) {
	sides, err := p.abreast(rods, longest(rods))
	if err != nil {
		return nil, err
	}
	y := 0.0
	for i, v := range sides {
		y = v.set(pic, y, rods[i].Label, words(i))
		pic.Add(mark(i, v)...)
	}
	pic.Add(sides[0].scaleLine(y + 1.6*p.letters)...)
	if legend != "" {
		pic.Add(p.notes(y+1.6*p.letters, legend)...)
	}
	return p.close(pic), nil
}

// abreast lays rods out to one scale, so much of each as stands within shown
// metres of its butt.
func (p Pen) abreast(rods []Labelled, shown float64) ([]*side, error) {
	along, across := fitting(shown, p.width-2*margin), usualAcross
	sides := make([]*side, len(rods))
	for i, r := range rods {
		v, err := p.newSide(r.Spec, along, 1)
		if err != nil {
			return nil, err
		}
		v.shown = min(shown, r.TotalLength())
		up, down := v.reach()
		across = max(across, fitting((up+down)*1e-3, flattest*p.width))
		sides[i] = v
	}
	for _, v := range sides {
		v.across, v.butt = across, (p.width-along.mm(shown))/2
	}
	return sides, nil
}

// set puts a rod with its label and words into a picture, below y, and says
// where it ends.
func (v *side) set(pic *drawing.Picture, y float64, label, words string) (bottom float64) {
	p := v.pen
	y += 1.5 * p.letters
	name := p.label(margin, y, drawing.Start, label)
	name.Bold = true
	pic.Add(name)
	beyond := margin + drawing.TextWidth(label, p.letters, true) + 0.6*p.letters
	for n, line := range p.wrapped(words, p.width-margin-beyond) {
		if n > 0 {
			y += 1.3 * p.letters
		}
		pic.Add(p.faint(beyond, y, drawing.Start, line))
	}
	up, down := v.reach()
	v.axis = y + up + signRoom
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

// changes marks on a rod what became of an older one.
func (v *side) changes(old *models.Spec, edits []diffing.Edit) []drawing.Mark {
	marks := v.ringChanges(old)
	for _, e := range edits {
		for _, at := range v.changedSpans(old, e) {
			marks = append(marks, v.bracket(at))
		}
	}
	return marks
}

// ringChanges marks rings that moved, are others, are new or gone.
func (v *side) ringChanges(old *models.Spec) []drawing.Mark {
	var marks []drawing.Mark
	for _, pair := range diffing.RingPairs(old, v.spec) {
		switch {
		case pair.New < 0:
			s := float64(old.Rings[pair.Old].At.Value)
			marks = append(marks, v.ringSign(gone, s, v.radius(s)))
		case pair.Old < 0:
			marks = append(marks, v.signOf(added, pair.New))
		case old.Rings[pair.Old].Part.Text != v.spec.Rings[pair.New].Part.Text:
			marks = append(marks, v.signOf(other, pair.New))
		case old.Rings[pair.Old].At.Value != v.spec.Rings[pair.New].At.Value:
			marks = append(marks, v.signOf(moved, pair.New))
		}
	}
	return marks
}

func (v *side) signOf(what sign, ring int) drawing.Mark {
	return v.ringSign(what, float64(v.spec.Rings[ring].At.Value), v.ringEnd(ring))
}

// ringSign sets a sign beyond what stands at s from the tip and reaches out to h.
func (v *side) ringSign(what sign, s, h float64) drawing.Mark {
	const gap = 0.6 // mm
	return what.at(v.x(s), v.y(h)+(signSize+gap)*sgn(v.y(1)-v.y(0)))
}

// sgn is the sign of v as a factor.
func sgn(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}

// changedSpans are where on the rod an edit shows beside the rings, from the
// tip.
func (v *side) changedSpans(old *models.Spec, e diffing.Edit) []models.Span {
	s := v.spec
	switch e.Group {
	case diffing.Handle:
		return []models.Span{{From: s.TotalLength() - s.HandleFront(), To: s.TotalLength()}}
	case diffing.Joints:
		return s.JointSpans()
	case diffing.Sections:
		return []models.Span{{From: 0, To: s.TotalLength()}}
	case diffing.Finish:
		return nil // it shows all over the rod
	}
	for i, at := range s.SectionSpans() {
		if string(e.Group) == "blank of "+s.Sections[i].Name.Text {
			return []models.Span{at}
		}
	}
	return nil
}

// bracket is a bar over a part of the rod, on the side without rings.
func (v *side) bracket(at models.Span) *drawing.Path {
	const gap, end = 1.6, 0.8 // mm
	thick := 0.0
	for _, s := range []float64{at.From, (at.From + at.To) / 2, at.To - 1e-3} {
		thick = max(thick, v.thick(v.spec.TotalLength()-s))
	}
	away := sgn(v.y(0) - v.y(1))
	y := v.y(-thick) + gap*away
	return &drawing.Path{
		Points: []drawing.Point{{X: v.x(at.To), Y: y - end*away}, {X: v.x(at.To), Y: y}, {X: v.x(at.From), Y: y}, {X: v.x(at.From), Y: y - end*away}},
		Style:  drawing.Style{Stroke: drawing.Series(1), Width: usualLine},
	}
}
