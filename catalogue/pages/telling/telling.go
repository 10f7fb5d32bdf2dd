package telling

import (
	"math"
	"slices"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/say"
	"rodlore/diffing"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// Teller tells of steps from one revision to another.
type Teller struct {
	say.Teller
}

// New gives the Teller of a range, in its words and units of today.
func New(r *catalogue.Range) (Teller, error) {
	set, err := r.Settings()
	if err != nil {
		return Teller{}, err
	}
	w, err := say.Of(r)
	if err != nil {
		return Teller{}, err
	}
	return Teller{Teller: w.Teller(set)}, nil
}

// Effects are the figures by which somebody who fishes is told what a step did.
var Effects = []string{
	"weight", "balance-with-reel", "balance", "swing", "third-load", "test-curve", "recovery", "settle", "half-turn",
	"flat-turn", "cast-share", "line-share", "line-touch", "line-gap", "ring-load-worst", "line-angle-sum",
}

// constants are the figures of which it is told that they stayed.
var constants = figures.Keys(figures.Constant)

// Done says what became of some figures, as far as they changed and it would be
// noticed.
func (t Teller) Done(step *catalogue.Step, keys []string) []string {
	var said []string
	for _, key := range keys {
		if t.twice(step, key) {
			continue
		}
		if s, ok := Shift(step, key); ok && t.Felt(s) {
			said = append(said, t.Shift(s))
		}
	}
	return said
}

// twice reports whether a figure would say again what another one says: where the
// rod balances without its reel, and the test curve, unless it alone says that the
// power is another.
func (t Teller) twice(step *catalogue.Step, key string) bool {
	switch key {
	case "balance":
		_, withReel := Shift(step, "balance-with-reel")
		return withReel
	case "test-curve":
		_, alone := CurveAlone(step)
		return !alone
	}
	return false
}

// CurveAlone is what became of the test curve where it became another by as much as
// an angler notices, and the third load, which can be compared, does not say so.
func CurveAlone(step *catalogue.Step) (curve diffing.Shift, ok bool) {
	curve, ok = Shift(step, "test-curve")
	if !ok || curve.Answer() != diffing.Changed || math.Abs(curve.Change) <= curve.Noticed {
		return curve, false
	}
	third, told := Shift(step, "third-load")
	return curve, !told || third.Answer() != diffing.Changed
}

// Same says which of the figures that matter stayed.
func (t Teller) Same(step *catalogue.Step) []string {
	var said []string
	_, alone := CurveAlone(step)
	for _, key := range constants {
		if key == "third-load" && alone {
			continue // as much power is not said beside another test curve
		}
		if s, ok := Shift(step, key); ok && s.Answer() == diffing.Same {
			said = append(said, t.Shift(s))
		}
	}
	return said
}

// Unnoticed reports whether it is certain of the Effects that nobody would notice what
// became of them.
func Unnoticed(step *catalogue.Step) bool {
	for _, key := range Effects {
		if s, ok := Shift(step, key); ok && s.Answer() != diffing.Same && !s.Within() {
			return false
		}
	}
	return true
}

// Named are what the figures of a step are called to which an answer goes, among
// those by which somebody who fishes is told what it did.
func (t Teller) Named(step *catalogue.Step, answer diffing.Answer) []string {
	var names []string
	for _, key := range Effects {
		if t.twice(step, key) {
			continue
		}
		if s, ok := Shift(step, key); ok && s.Answer() == answer {
			names = append(names, t.Name(key))
		}
	}
	return names
}

// Beside are the maker's words for customers beside what the numbers say of a step,
// so that what they do not bear out is seen before a customer sees it. The step is
// nil where there is no release to hold the words against.
func (t Teller) Beside(tell string, step *catalogue.Step) []document.Block {
	blocks := []document.Block{t.Paragraph("words.none")}
	if tell != "" {
		blocks = []document.Block{document.Quote(Plain(Reflow(tell)))}
	}
	if step == nil || step.Against == nil {
		return append(blocks, t.Paragraph("words.first"))
	}
	label := step.Against.Label()
	if changed := t.Done(step, Effects); len(changed) > 0 {
		blocks = append(blocks, t.Paragraph("words.changed", "label", label), Bullets(changed))
	} else {
		blocks = append(blocks, t.Paragraph("words.unchanged", "label", label))
	}
	for _, list := range []struct {
		path   string
		answer diffing.Answer
	}{{"words.same", diffing.Same}, {"words.open", diffing.Open}} {
		if names := t.Named(step, list.answer); len(names) > 0 {
			blocks = append(blocks, t.Paragraph(list.path, "figures", t.List(names)))
		}
	}
	return blocks
}

// Shift is what became of a figure that both sides of a step have.
func Shift(step *catalogue.Step, key string) (diffing.Shift, bool) {
	s, _ := diffing.Find(step.Shifts, key)
	return s, s.Both()
}

// Seen says what a customer sees changed on the rack.
func (t Teller) Seen(step *catalogue.Step) []string {
	return say.Each(step.Sights(), t.Sight)
}

// Made says what was made otherwise and is not seen.
func (t Teller) Made(step *catalogue.Step) []string {
	var said []string
	for _, e := range diffing.Edits(step.Changes) {
		if e.OnPaper() {
			continue
		}
		if text := t.edit(step, e); text != "" {
			said = append(said, text)
		}
		if e.Group == diffing.Joints || e.Group.Kind == diffing.CutKind {
			said = append(said, t.cuts(step, e)...)
		}
	}
	return said
}

// cuts says by how much an edit made sections longer or shorter.
func (t Teller) cuts(step *catalogue.Step, e diffing.Edit) []string {
	var said []string
	before := map[string]float64{}
	for _, s := range step.Against.Spec().Sections {
		before[s.Name.Text] = float64(s.Length.Value)
	}
	for _, s := range step.Spec().Sections {
		name, length := s.Name.Text, float64(s.Length.Value)
		by := length - before[name]
		if by == 0 || !slices.ContainsFunc(e.Changes, func(c diffing.Change) bool { return c.Path[0] == models.Segment{Key: "sections", Entry: name} }) {
			continue
		}
		path := "edits.cut.longer"
		if by < 0 {
			path = "edits.cut.shorter"
		}
		said = append(said, t.Say(path, "section", name, "by", t.Size("", "m", by, length)))
	}
	return said
}

// edit says what one group of edits is about; "" where that is seen already or
// no matter of the rod.
func (t Teller) edit(step *catalogue.Step, e diffing.Edit) string {
	switch e.Group {
	case diffing.RingPattern:
		return t.counted("edits.ring pattern", e, func(ch diffing.Change) bool { return ch.Kind == diffing.Moved })
	case diffing.RingParts:
		return t.counted("edits.ring parts", e, func(ch diffing.Change) bool { return ch.Kind == diffing.Altered })
	case diffing.Joints:
		if sees(step, diffing.JointKind) {
			return ""
		}
		return t.Count("edits.joint", joints(e))
	case diffing.Handle:
		if sees(step, diffing.HandleLength, diffing.HandleShape) || !slices.ContainsFunc(e.Changes, ofGrips) {
			return ""
		}
		return t.Say("edits.handle")
	case diffing.Finish:
		if !slices.ContainsFunc(e.Changes, func(ch diffing.Change) bool { return !coloured(ch) }) {
			return ""
		}
		return t.Say("edits.finish")
	}
	switch {
	case e.Group.Kind == diffing.BlankKind:
		return t.Say("edits.blank", "section", e.Group.Of)
	case e.Group.Kind == diffing.SharedKind:
		return t.shared(step, e.Group.Of)
	case e.Group.Kind == diffing.TopKind:
		return t.Say("edits.top."+whole(e), "top", e.Group.Of)
	}
	return ""
}

// whole says whether an edit added or removed what its group is of, or changed it.
func whole(e diffing.Edit) string {
	if c := e.Changes[0]; len(c.Path) == 1 && (c.Kind == diffing.Added || c.Kind == diffing.Removed) {
		return string(c.Kind)
	}
	return "changed"
}

// coloured reports whether a change is one of colour, which is seen.
func coloured(c diffing.Change) bool {
	path := c.Path.String()
	return path == "finish.colour" || path == "finish.trim"
}

// joints is how many joints an edit is about.
func joints(e diffing.Edit) int {
	seen := map[string]bool{}
	for _, c := range e.Changes {
		if c.Path[0].Key == "joints" {
			seen[c.Path[0].Entry] = true
		}
	}
	return len(seen)
}

// counted says how many changes of an edit are of one kind.
func (t Teller) counted(path string, e diffing.Edit, is func(diffing.Change) bool) string {
	n := 0
	for _, c := range e.Changes {
		if is(c) {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return t.Count(path, n)
}

// ofGrips reports whether a change is one of grips, and not of how the rod is held.
func ofGrips(c diffing.Change) bool { return len(c.Path) > 1 && c.Path[1].Key == "grips" }

func sees(step *catalogue.Step, aspects ...diffing.Aspect) bool {
	return slices.ContainsFunc(step.Sights(), func(s diffing.Sight) bool { return slices.Contains(aspects, s.Aspect) })
}
