package diffing

import (
	"math"
	"slices"

	"rodlore/models"
	"rodlore/models/units"
)

// rack is two rods beside each other on the rack, and what is seen of them.
type rack struct {
	old, new *models.Spec
	limits   StepLimits
	sights   []Sight
}

// unseen is the largest difference of two lengths that nobody sees, m.
const unseen = 0.5e-3

// counted tells a number of things that differs.
func (r *rack) counted(a Aspect, thing Thing, of func(*models.Spec) int, most models.Count) {
	old, now := of(r.old), of(r.new)
	if old != now {
		r.see(a, Number{thing, old}, Number{thing, now}, float64(now-old), "1", float64(most.Value), most.Pos)
	}
}

// measured tells a length that differs, given in metres.
func (r *rack) measured(a Aspect, of func(*models.Spec) float64, most models.Given[units.Length]) {
	old, now := of(r.old), of(r.new)
	if math.Abs(now-old) >= unseen {
		r.see(a, Distance(old), Distance(now), now-old, "m", float64(most.Value), most.Pos)
	}
}

// see tells what changed by that size, against a limit and where that is written.
func (r *rack) see(a Aspect, old, now Look, size float64, unit string, limit float64, pos models.Pos) {
	r.sights = append(r.sights, Sight{
		Aspect: a, Old: []Look{old}, New: []Look{now}, Size: size, Unit: unit, Limit: limit, Own: pos != models.Pos{},
	})
}

// named tells what differs otherwise than by a number.
func (r *rack) named(a Aspect, old, now []Look, leave models.Leave) {
	if slices.Equal(old, now) {
		return
	}
	s := Sight{Aspect: a, Old: orNone(old), New: orNone(now), Size: 1, Limit: math.Inf(1), Own: leave.Pos != models.Pos{}}
	if leave.Word == models.Stays {
		s.Limit = 0
	}
	r.sights = append(r.sights, s)
}

func orNone(looks []Look) []Look {
	if len(looks) == 0 {
		return []Look{None}
	}
	return looks
}

// written is what the maker wrote, if anything.
func written(w models.Word) []Look {
	if w.Text == "" {
		return nil
	}
	return []Look{Name(w.Text)}
}

func ringCount(s *models.Spec) int { return len(s.Rings) - 1 }

// buttRings counts the rings on the butt section, joint included.
func buttRings(s *models.Spec) int {
	top := s.SectionSpans()[0].From
	n := 0
	for _, r := range s.Rings[1:] {
		if float64(r.At.Value) > top {
			n++
		}
	}
	return n
}

func buttRing(s *models.Spec) models.Ring { return s.Rings[len(s.Rings)-1] }

func buttRingPlace(s *models.Spec) float64 {
	return s.TotalLength() - float64(buttRing(s).At.Value)
}

// buttRingSize tells another size of the butt ring, in steps along the sizes
// there are.
func (r *rack) buttRingSize(most models.Count) {
	if ringCount(r.old) == 0 || ringCount(r.new) == 0 {
		return
	}
	old, now := r.old.Parts[buttRing(r.old).Part.Text].Size.Value, r.new.Parts[buttRing(r.new).Part.Text].Size.Value
	if by := r.sizeStep(now) - r.sizeStep(old); by != 0 {
		r.see(ButtRingSize, RingSize(old), RingSize(now), float64(by), "1", float64(most.Value), most.Pos)
	}
}

// sizeStep is the place of a size among those of all running rings there are.
func (r *rack) sizeStep(size units.Length) int {
	sizes := slices.Clone(r.limits.sizes)
	for _, s := range []*models.Spec{r.old, r.new} {
		for _, ring := range s.Rings[1:] {
			sizes = append(sizes, s.Parts[ring.Part.Text].Size.Value)
		}
	}
	slices.Sort(sizes)
	return slices.Index(slices.Compact(sizes), size)
}

// jointKinds tells joints of another kind, where their number is the same.
func (r *rack) jointKinds(leave models.Leave) {
	if len(r.old.Joints) != len(r.new.Joints) {
		return
	}
	var old, now []Look
	for i := range r.new.Joints {
		if a, b := r.old.Joints[i].Kind, r.new.Joints[i].Kind; a != b {
			old, now = append(old, Joint(a)), append(now, Joint(b))
		}
	}
	r.named(JointKind, slices.Compact(old), slices.Compact(now), leave)
}

// tip is what the thin end is.
func tip(s *models.Spec) []Look {
	if top := s.Sections[len(s.Sections)-1]; len(top.Solid) > 0 {
		return []Look{Solid(top.Material.Text)}
	}
	return []Look{Hollow}
}

// handleShape tells grips that are more or fewer, of another stuff, thicker or
// thinner, and another butt cap.
func (r *rack) handleShape(leave models.Leave) {
	var old, now []Look
	note := func(a, b Look) {
		if !lookAlike(a, b) && !(slices.Contains(old, a) && slices.Contains(now, b)) {
			old, now = append(old, a), append(now, b)
		}
	}
	a, b := r.old.Handle, r.new.Handle
	note(Number{ThingGrip, len(a.Grips)}, Number{ThingGrip, len(b.Grips)})
	if len(a.Grips) == len(b.Grips) {
		for i := range a.Grips {
			note(stuff(a.Grips[i]), stuff(b.Grips[i]))
			note(thickness(a.Grips[i]), thickness(b.Grips[i]))
		}
	}
	note(buttEnd(a), buttEnd(b))
	r.named(HandleShape, old, now, leave)
}

// stuff is what a grip is made of, or which it is where it is bought.
func stuff(g models.Grip) Look {
	if g.Part.Text != "" {
		return Name(g.Part.Text)
	}
	return Name(g.Material.Text)
}

// thickness is how thick a grip is. That of a bought one is its own.
func thickness(g models.Grip) Look {
	if g.Part.Text != "" {
		return AsBought
	}
	t := Taper{float64(g.Diameter.Value), float64(g.Diameter.Value)}
	if g.Ends.Set() {
		t.Front = float64(g.Ends.Value)
	}
	return t
}

// buttEnd is what closes the butt.
func buttEnd(h models.Handle) Look {
	if h.Cap.Part.Text == "" {
		return NoButtCap
	}
	return Name(h.Cap.Part.Text)
}

// lookAlike reports whether two looks are the same to the eye.
func lookAlike(a, b Look) bool {
	s, isTaper := a.(Taper)
	t, areTapers := b.(Taper)
	if isTaper && areTapers {
		return math.Abs(s.Back-t.Back) < unseen && math.Abs(s.Front-t.Front) < unseen
	}
	return a == b
}
