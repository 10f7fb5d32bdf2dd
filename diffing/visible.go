package diffing

import (
	"math"

	"rodlore/evaluate/figures"
	"rodlore/models"
	"rodlore/models/units"
)

// Aspect is what of a rod a customer looks at.
type Aspect string

const (
	RingCount      Aspect = "ring count" // without the tip ring
	ButtRingCount  Aspect = "butt rings" // on the butt section
	ButtRingSize   Aspect = "butt ring size"
	ButtRingPlace  Aspect = "butt ring place" // from the butt, on which rods stand on the rack
	RodLength      Aspect = "length"
	SectionCount   Aspect = "sections"
	JointKind      Aspect = "joint kind"
	HandleLength   Aspect = "handle length"
	HandleShape    Aspect = "handle shape"
	ReelSeat       Aspect = "reel seat"
	ReelSeatPlace  Aspect = "reel seat place" // from the butt
	BlankColour    Aspect = "blank colour"
	WhippingColour Aspect = "whipping colour"
)

// Sight is one thing that a customer sees changed on the rack.
type Sight struct {
	Aspect   Aspect
	Old, New string  // in words, with units
	Size     float64 // signed, in Unit; 1 for what is told in words only
	Unit     string  // "m"; "1" for rings, sections and ring sizes; "" for words
	By       string  // Size in words, "−1", "+90 mm"; "" for what is told in words only
	Limit    float64 // the largest |Size| for one release, +Inf where there is none
	Most     string  // Limit in words, "100 mm"; "" where there is none
	// Own says that the limit is the maker's own; otherwise it is common
	// practice, no source.
	Own bool
}

// Over reports whether the change is larger than one release allows.
func (s Sight) Over() bool {
	const rounding = 1e-6
	return math.Abs(s.Size) > s.Limit+rounding
}

// Limits are how much of what a customer sees may change in one release, and
// what it takes to say so.
type Limits struct {
	steps   models.StepLimits
	display figures.Display
	say     Phrases
	sizes   []units.Length // of the rings that the maker has
}

// NewLimits are the limits of a range. parts may be nil: then ring sizes are
// counted along those that the two specs compared use, and a size in between
// that neither uses does not count.
func NewLimits(set *models.Settings, parts *models.Parts) Limits {
	l := Limits{steps: set.Steps, display: set.Display(), say: english{}}
	if parts != nil {
		for _, p := range parts.All {
			l.sizes = appendSize(l.sizes, p)
		}
	}
	return l
}

// In gives the same limits, to tell what is seen in other words and digits.
func (l Limits) In(say Phrases, display figures.Display) Limits {
	l.say, l.display = say, display
	return l
}

// appendSize appends the size of a part that is a running ring.
func appendSize(sizes []units.Length, p *models.Part) []units.Length {
	if p == nil || p.Kind != models.RingPart || p.Feet == 0 {
		return sizes
	}
	return append(sizes, p.Size.Value)
}

// Visible lists what a customer who knows the old rod sees changed on the new
// one, each against its limit. Lengths that differ by less than half a
// millimetre look the same.
func Visible(old, new *models.Spec, l Limits) []Sight {
	r := rack{old: old, new: new, limits: l}
	r.counted(RingCount, "ring", ringCount, l.steps.Rings)
	r.counted(ButtRingCount, "ring", buttRings, l.steps.ButtRings)
	r.buttRingSize(l.steps.ButtRingSizes)
	if ringCount(old) > 0 && ringCount(new) > 0 {
		r.measured(ButtRingPlace, buttRingPlace, l.steps.ButtRingMoves)
	}
	r.measured(RodLength, totalLength, l.steps.Length)
	r.counted(SectionCount, "section", sections, l.steps.Sections)
	r.jointKinds(l.steps.JointKind)
	r.measured(HandleLength, (*models.Spec).HandleFront, l.steps.Handle)
	r.handleShape(l.steps.HandleShape)
	r.named(ReelSeat, old.Handle.Seat.Part.Text, new.Handle.Seat.Part.Text, l.steps.ReelSeat)
	r.measured(ReelSeatPlace, (*models.Spec).ReelAt, l.steps.Handle)
	r.named(BlankColour, old.Finish.Colour.Text, new.Finish.Colour.Text, l.steps.BlankColour)
	r.named(WhippingColour, old.Finish.Trim.Text, new.Finish.Trim.Text, l.steps.WhippingColour)
	return r.sights
}
