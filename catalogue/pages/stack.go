package pages

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/say"
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
			edits[i] = slices.DeleteFunc(diffing.Edits(p.comparer.Compare(releases[i-1].Spec, r.Spec).Changes()), diffing.Edit.OnPaper)
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
	pic.Notes = p.say("stack.legend")
	pic.Key = p.changeKey()
	return p.rack(pic, releases, words, mark)
}

// changeKey says what the signs of changes mean.
func (p Pen) changeKey() []drawing.Entry {
	var key []drawing.Entry
	for what, name := range []string{moved: "moved", other: "other", added: "added", gone: "gone"} {
		key = append(key, sign(what).entry(p.say("stack."+name)))
	}
	return append(key, drawing.Entry{Sample: []drawing.Mark{bar(1, 7, 1, 0.8)}, Text: p.say("stack.part")})
}

// ringWords says how many rings a rod has.
func (p Pen) ringWords(s *models.Spec) string {
	return p.say("count", "n", strconv.Itoa(len(s.Rings)-1))
}

// groups names what was edited.
func (p Pen) groups(edits []diffing.Edit) []string {
	return say.Each(edits, func(e diffing.Edit) string { return p.words.Group(e.Group) })
}

// changes marks on a rod what became of an older one.
func (v *side) changes(old *models.Spec, edits []diffing.Edit) []drawing.Mark {
	marks := v.ringChanges(old)
	for _, e := range edits {
		for _, at := range v.changedSpans(e) {
			marks = append(marks, v.bracket(at))
		}
	}
	return marks
}

// ringChanges marks rings that moved, are others, are new or gone.
func (v *side) ringChanges(old *models.Spec) []drawing.Mark {
	var marks []drawing.Mark
	for _, pair := range v.pen.comparer.Compare(old, v.spec).RingPairs() {
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
	return what.at(v.x(s), v.y(h)+math.Copysign(signSize+gap, v.y(1)-v.y(0)))
}

// changedSpans are where on the rod an edit shows beside the rings, from the
// tip.
func (v *side) changedSpans(e diffing.Edit) []models.Span {
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
		if (e.Group.Kind == diffing.BlankKind || e.Group.Kind == diffing.CutKind) && e.Group.Of == s.Sections[i].Name.Text {
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
	away := math.Copysign(1, v.y(0)-v.y(1))
	return bar(v.x(at.To), v.x(at.From), v.y(-thick)+gap*away, -end*away)
}

// bar is a line across with ends that point down by so much, or up.
func bar(from, to, y, end float64) *drawing.Path {
	return &drawing.Path{
		Points: []drawing.Point{{X: from, Y: y + end}, {X: from, Y: y}, {X: to, Y: y}, {X: to, Y: y + end}},
		Style:  drawing.Style{Stroke: drawing.Series(1), Width: usualLine},
	}
}

// Step draws a rod with what changed since an older one marked on it. The error means
// that a spec gives no rod.
func (p Pen) Step(was, is Labelled) (*drawing.Picture, error) {
	edits := slices.DeleteFunc(diffing.Edits(p.comparer.Compare(was.Spec, is.Spec).Changes()), diffing.Edit.OnPaper)
	pic := p.picture(p.say("step.title", "label", is.Label), p.say("step.description",
		"was", was.Label, "rings", p.ringList(is.Spec)))
	sides, err := p.abreast([]Labelled{is}, is.TotalLength(), flattest)
	if err != nil {
		return nil, err
	}
	v := sides[0]
	up, _ := v.reach()
	v.axis, v.oneOfSeveral = up+signRoom, true
	pic.Add(v.marks()...)
	pic.Add(v.changes(was.Spec, edits)...)
	pic.Key = p.changeKey()
	return p.close(pic), nil
}
