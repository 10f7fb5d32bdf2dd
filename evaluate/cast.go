package evaluate

import (
	"fmt"
	"math"

	"rodlore/evaluate/beam"
	"rodlore/models/units"
)

// CastCase is an overhead cast: the hand turns the butt through an arc, the
// lead hangs on a drop from the tip and is let go when its flight has come down
// to the launch angle. Angles count upwards from the horizontal in the
// direction of the cast, so a rod held upright is at π/2.
type CastCase struct {
	From   float64 `json:"from"`   // rad, of the butt before
	To     float64 `json:"to"`     // rad, of the butt after
	Time   float64 `json:"time"`   // s from the one to the other
	Lead   float64 `json:"-"`      // kg, of a fly rod that of the line; 0 takes what the model casts (models.CastMass)
	Drop   float64 `json:"drop"`   // m of line between tip and lead
	Launch float64 `json:"launch"` // rad
}

// UsualCast is the cast that revisions are compared by where nobody asks for
// another: laid back to the horizontal, brought forward to 45° (common
// practice, no source).
func UsualCast() CastCase {
	deg := units.Size("deg")
	return CastCase{From: 180 * deg, To: 45 * deg, Time: 0.7, Drop: 0.7, Launch: 40 * deg}
}

// Cast is what came of a cast. It serves to compare revisions at the same cast
// and promises no distance.
type Cast struct {
	Lead     float64     // kg, as cast
	Free     float64     // m of rod beyond the hold
	Flight   beam.Flight // lengths from the hand, x forwards and y up
	LeadPart float64     // share of the hand's work that flies away with the lead
}

// castElements is the mesh of a cast: its error is far below that of the steps
// in time (see package beam).
const castElements = 12

// Nylon's modulus and the drop's diameter where a spec gives no line: 2 GPa and
// 0.35 mm (usual values, from memory). The drop stretches little beside the
// rod's bend, so they hardly matter.
const (
	lineModulus  = 2e9
	lineDiameter = 0.35e-3
)

// Cast works a cast through in time. The error says why the cast does not come off
// and what to change.
func (on *Rod) Cast(c CastCase) (*Cast, error) {
	s, set := on.spec, on.set
	if c.Lead == 0 {
		var ok bool
		switch c.Lead, ok = s.CastMass(); {
		case !ok && s.ForFly():
			return nil, fmt.Errorf("%s: the spec does not say what it casts; write the class of its line, as in line: {class: 5}", s.Name)
		case !ok:
			return nil, fmt.Errorf("%s: the spec does not say what it casts; give a lead, or write casts: 10 g to 40 g", s.Name)
		}
	}
	r, err := on.lay()
	if err != nil {
		return nil, err
	}
	b, err := r.free(castElements)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	if arm := r.held - r.seat; arm < 0 {
		show := set.Display()
		return nil, fmt.Errorf("%s: the hand, at the reel %s from the butt, is beyond the front of the hold at %s; let held: {to: …} reach to the hand or further",
			s.Name, show.Value("", "m", r.seat), show.Value("", "m", r.held))
	}
	d := float64(s.Line.Diameter.Or(lineDiameter))
	flight, err := b.Cast(beam.Cast{
		Arm: r.held - r.seat, From: c.From, To: c.To, Time: c.Time,
		Lead: c.Lead, Drop: c.Drop, LineStiffness: lineModulus * math.Pi / 4 * d * d,
		Launch: c.Launch, Damping: float64(set.Damping.Value) * s.Fitted.DampingRatio(),
	})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", s.Name, err)
	}
	account := flight.Release.Account
	return &Cast{Lead: c.Lead, Free: b.Length(), Flight: *flight, LeadPart: account.Lead / account.Work}, nil
}
