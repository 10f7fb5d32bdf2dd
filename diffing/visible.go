package diffing

import (
	"math"

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
	TipKind        Aspect = "tip"
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
	Old, New []Look  // one or more beside each other
	Size     float64 // signed, in Unit; 1 for what is not measured
	Unit     string  // "m"; "1" for rings, sections and ring sizes; "" for what is not measured
	Limit    float64 // the largest |Size| for one release, +Inf where there is none
	// Own says that the limit is the maker's own; otherwise it is common
	// practice, no source.
	Own bool
}

// Over reports whether the change is larger than one release allows.
func (s Sight) Over() bool {
	const rounding = 1e-6
	return math.Abs(s.Size) > s.Limit+rounding
}

// StepLimits are how much of what a customer sees may change in one release.
type StepLimits struct {
	steps models.StepLimits
	sizes []units.Length // of the rings that the maker has
}

// NewStepLimits are the limits of a range. parts may be nil: then ring sizes are
// counted along those that the two specs compared use, and a size in between
// that neither uses does not count.
func NewStepLimits(set *models.Settings, parts *models.Parts) StepLimits {
	l := StepLimits{steps: set.Steps}
	if parts != nil {
		for _, p := range parts.All {
			if p.Kind == models.RingPart && p.Feet > 0 {
				l.sizes = append(l.sizes, p.Size.Value)
			}
		}
	}
	return l
}

// Visible lists what a customer who knows the old rod sees changed on the new
// one, each against its limit. Lengths that differ by less than half a
// millimetre look the same.
func Visible(old, now *models.Spec, l StepLimits) []Sight {
	r := rack{old: old, new: now, limits: l}
	r.counted(RingCount, ThingRing, ringCount, l.steps.Rings)
	r.counted(ButtRingCount, ThingRing, buttRings, l.steps.ButtRings)
	r.buttRingSize(l.steps.ButtRingSizes)
	if ringCount(old) > 0 && ringCount(now) > 0 {
		r.measured(ButtRingPlace, buttRingPlace, l.steps.ButtRingMoves)
	}
	r.measured(RodLength, (*models.Spec).TotalLength, l.steps.Length)
	r.counted(SectionCount, ThingSection, (*models.Spec).Pieces, l.steps.Sections)
	r.jointKinds(l.steps.JointKind)
	r.named(TipKind, tip(old), tip(now), models.Leave{})
	r.measured(HandleLength, (*models.Spec).HandleFront, l.steps.Handle)
	r.handleShape(l.steps.HandleShape)
	r.named(ReelSeat, written(old.Handle.Seat.Part), written(now.Handle.Seat.Part), l.steps.ReelSeat)
	r.measured(ReelSeatPlace, (*models.Spec).ReelAt, l.steps.Handle)
	r.named(BlankColour, written(old.Finish.Colour), written(now.Finish.Colour), l.steps.BlankColour)
	r.named(WhippingColour, written(old.Finish.Trim), written(now.Finish.Trim), l.steps.WhippingColour)
	return r.sights
}
