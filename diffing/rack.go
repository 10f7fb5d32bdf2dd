package diffing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rodlore/models"
	"rodlore/models/units"
)

// rack is two rods beside each other on the rack, and what is seen of them.
type rack struct {
	old, new *models.Spec
	limits   Limits
	sights   []Sight
}

// counted tells a number of things that differs.
func (r *rack) counted(a Aspect, thing string, of func(*models.Spec) int, most models.Count) {
	old, new := of(r.old), of(r.new)
	if old == new {
		return
	}
	r.sights = append(r.sights, Sight{
		Aspect: a, Old: r.limits.say.Things(thing, old), New: r.limits.say.Things(thing, new),
		Size: float64(new - old), Unit: "1", By: signed(new - old),
		Limit: float64(most.Value), Most: r.limits.say.Things(thing, most.Value), Own: most.Pos != models.Pos{},
	})
}

// signed writes a whole number with its sign, the minus as a minus.
func signed(n int) string {
	return strings.Replace(fmt.Sprintf("%+d", n), "-", "−", 1)
}

// measured tells a length that differs, given in metres.
func (r *rack) measured(a Aspect, of func(*models.Spec) float64, most models.Given[units.Length]) {
	const unseen = 0.5e-3
	old, new := of(r.old), of(r.new)
	if math.Abs(new-old) < unseen {
		return
	}
	d := r.limits.display
	r.sights = append(r.sights, Sight{
		Aspect: a, Old: d.Value("", "m", old), New: d.Value("", "m", new),
		Size: new - old, Unit: "m", By: d.Change("", "m", new-old, new),
		Limit: float64(most.Value), Most: d.Value("", "m", float64(most.Value)), Own: most.Pos != models.Pos{},
	})
}

// named tells what differs in words.
func (r *rack) named(a Aspect, old, new string, leave models.Leave) {
	if old == new {
		return
	}
	none := r.limits.say.Look("none")
	s := Sight{
		Aspect: a, Old: old, New: new, Size: 1,
		Limit: math.Inf(1), Own: leave.Pos != models.Pos{},
	}
	if old == "" {
		s.Old = none
	}
	if new == "" {
		s.New = none
	}
	if leave.Word == models.Stays {
		s.Limit, s.Most = 0, r.limits.say.Look(models.Stays)
	}
	r.sights = append(r.sights, s)
}

func ringCount(s *models.Spec) int { return len(s.Rings) - 1 }

func sections(s *models.Spec) int { return len(s.Sections) }

func totalLength(s *models.Spec) float64 { return s.TotalLength() }

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
	old, new := r.old.Parts[buttRing(r.old).Part.Text].Size.Value, r.new.Parts[buttRing(r.new).Part.Text].Size.Value
	by := r.sizeStep(new) - r.sizeStep(old)
	if by == 0 {
		return
	}
	d, say, sign := r.limits.display, r.limits.say, "+"
	if by < 0 {
		sign = "−"
	}
	r.sights = append(r.sights, Sight{
		Aspect: ButtRingSize, Old: d.Value("butt-ring-size", "m", float64(old)), New: d.Value("butt-ring-size", "m", float64(new)),
		Size: float64(by), Unit: "1", By: sign + say.Things("size", max(by, -by)),
		Limit: float64(most.Value), Most: say.Things("size", most.Value), Own: most.Pos != models.Pos{},
	})
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
	var old, new []string
	for i := range r.new.Joints {
		if a, b := string(r.old.Joints[i].Kind), string(r.new.Joints[i].Kind); a != b {
			old, new = append(old, r.limits.say.Look(a)), append(new, r.limits.say.Look(b))
		}
	}
	r.named(JointKind, strings.Join(slices.Compact(old), ", "), strings.Join(slices.Compact(new), ", "), leave)
}

// handleShape tells grips that are more or fewer, of another stuff, thicker or
// thinner, and another butt cap.
func (r *rack) handleShape(leave models.Leave) {
	var old, new []string
	note := func(a, b string) {
		if a != b && !(slices.Contains(old, a) && slices.Contains(new, b)) {
			old, new = append(old, a), append(new, b)
		}
	}
	a, b := r.old.Handle, r.new.Handle
	note(r.limits.say.Things("grip", len(a.Grips)), r.limits.say.Things("grip", len(b.Grips)))
	if len(a.Grips) == len(b.Grips) {
		for i := range a.Grips {
			note(stuff(a.Grips[i]), stuff(b.Grips[i]))
			note(r.thickness(a.Grips[i]), r.thickness(b.Grips[i]))
		}
	}
	note(r.butt(a), r.butt(b))
	r.named(HandleShape, strings.Join(old, ", "), strings.Join(new, ", "), leave)
}

// stuff says what a grip is made of, or which it is where it is bought.
func stuff(g models.Grip) string {
	if g.Part.Text != "" {
		return g.Part.Text
	}
	return g.Material.Text
}

// thickness says how thick a grip is: "27 mm", "26 mm to 18 mm". That of a
// bought one is its own.
func (r *rack) thickness(g models.Grip) string {
	if g.Part.Text != "" {
		return r.limits.say.Look("as bought")
	}
	d := r.limits.display
	back := d.Value("", "m", float64(g.Diameter.Value))
	if !g.Ends.Set() {
		return back
	}
	return r.limits.say.Taper(back, d.Value("", "m", float64(g.Ends.Value)))
}

// butt says what closes the butt.
func (r *rack) butt(h models.Handle) string {
	if h.Cap.Part.Text == "" {
		return r.limits.say.Look("no butt cap")
	}
	return h.Cap.Part.Text
}
