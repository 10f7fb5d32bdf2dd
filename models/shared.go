package models

import (
	"rodlore/evaluate/figures"
	"rodlore/models/units"
)

// Parts is the content of parts.yaml: everything bought, by the maker's own
// name for it. Names are unique across all kinds.
type Parts struct {
	File string
	All  []*Part // in file order
}

// PartKind is the heading of parts.yaml that a part stands under.
type PartKind string

const (
	RingPart    PartKind = "rings" // running and tip rings
	SeatPart    PartKind = "seats"
	GripPart    PartKind = "grips"
	CapPart     PartKind = "caps"
	ThreadPart  PartKind = "threads"
	VarnishPart PartKind = "varnishes"
)

// Part is one bought part. Fields that do not apply to its kind are unset.
type Part struct {
	Name  string
	Kind  PartKind
	Pos   Pos
	Mass  Given[units.Mass] // of one; for threads and varnishes unset
	Price Given[units.Money]

	// Rings. Size is the inner diameter; Height from the blank's surface to
	// the ring's centre; Feet 1 or 2 (0 for a tip ring, which sits in a tube).
	Size   Given[units.Length]
	Height Given[units.Length]
	Feet   int
	Foot   Foot
	Frame  Word // material of the frame and feet, of materials.yaml

	// Seats, grips, caps.
	Length   Given[units.Length]
	Diameter Given[units.Length]

	// Threads and varnishes: Thickness of the layer on the blank, and what it
	// is made of.
	Thickness Given[units.Length]
	Density   Given[units.Density]
	Modulus   Given[units.Stress]
}

// Foot is the part of a ring that lies under the whipping.
type Foot struct {
	Pos                      Pos
	Length, Width, Thickness Given[units.Length]
	// Spread is the distance between the middles of the two feet of a
	// two-footed ring, whose centre stands midway. A single foot lies from its
	// ring towards the tip.
	Spread  Given[units.Length]
	Bonding Given[units.Share] // how much of the foot's stiffness takes part; unset means 0.4
}

// Materials is the content of materials.yaml together with the built-in table.
type Materials struct {
	All []*Material
}

// Material is what tubes, plies, grips, plugs and feet are made of. Fields that
// were not given and are not built in are unset.
type Material struct {
	Name    string
	Pos     Pos
	Source  string // where a built-in value was published
	Builtin bool
	Modulus Given[units.Stress] // along the rod (tubes, plugs, feet)
	Hoop    Given[units.Stress] // of a tube of it, round the rod; what its wall folds by
	Density Given[units.Density]
	// Allowable outer-fibre strains before the range's factor.
	StrainCompression, StrainTension Given[units.Share]
	// Plies: the lamina.
	E1, E2, G12 Given[units.Stress]
	Nu12        Given[units.Share]
	Thickness   Given[units.Length] // cured, of one ply
	// By mass. It tells plies apart, and so revisions; no figure needs it, since all else
	// is of the cured ply.
	Resin Given[units.Share]
}

// Settings is the content of range.yaml.
type Settings struct {
	Maker        Maker
	Signers      []Word // who may put rods on sale: addresses, names or keys of signatures; none means anybody
	Units        string // metric, imperial or both
	Currency     Word
	TestCurve    TestCurve
	BenchLoad    Given[units.Force] // for tip-drop; unset means 100 g hung
	StrainFactor float64            // the strain limits are divided by it; 0 means not given
	Damping      Given[units.Share] // share of critical damping, first mode
	FootBonding  Given[units.Share] // of ring feet whose part gives none
	Tolerances   Tolerances
	Steps        StepLimits
	Noticed      map[string]figures.Noticed // by figure, what the maker's anglers notice; others are common practice
	BenchTimes   BenchTimes
	ByHand       []HandCheck // those of common practice and the range's own
}

// TestCurve is the range's convention for the test curve: the direction of the
// pull to the butt, the turn of the tip that counts as square, and whether the
// line runs through the rings.
type TestCurve struct {
	Pos        Pos
	Pull, Turn Given[units.Angle]
	Line       string // "through rings" or "from tip ring"
}

// StepLimits are the largest changes from one release to the next that the
// maker's customers accept; zero allows none. What the maker did not limit is
// common practice and has no position.
type StepLimits struct {
	Pos            Pos
	Rings          Count // without the tip ring
	ButtRings      Count // on the butt section
	ButtRingSizes  Count // steps in the maker's ring sizes
	ButtRingMoves  Given[units.Length]
	Length         Given[units.Length]
	Sections       Count
	Handle         Given[units.Length] // its length, and the place of the reel seat
	JointKind      Leave
	HandleShape    Leave
	ReelSeat       Leave
	BlankColour    Leave
	WhippingColour Leave
}

// Count is a whole number and where it was written.
type Count struct {
	Value int
	Pos   Pos
}

// Leave says whether something may change, and where that was written.
type Leave struct {
	Word string // MayChange or Stays
	Pos  Pos
}

// What a Leave may say.
const (
	MayChange = "may change"
	Stays     = "stays"
)

// BenchTimes are what the maker's hands need for one of each, without the time
// that varnish and glue take to cure.
type BenchTimes struct {
	Pos     Pos
	Ring    Given[units.Duration] // a running ring: feet ground, set in line
	Foot    Given[units.Duration] // a whipping, with its varnish
	TipRing Given[units.Duration] // glued and set in line
	Joint   Given[units.Duration] // fitted and whipped
	Grip    Given[units.Duration]
	Seat    Given[units.Duration]
	Cap     Given[units.Duration] // butt cap
	Varnish Given[units.Duration] // of a varnished rod, whatever its whippings: mixing, turning, cleaning
}

// NoticedOf is the least change of a figure of that value that an angler notices,
// in its unit. Settings may be nil.
func (s *Settings) NoticedOf(key string, value float64) float64 {
	if s != nil {
		if own, ok := s.Noticed[key]; ok {
			return own.Of(value)
		}
	}
	return figures.Of(key).Noticed.Of(value)
}

// Display is how figures are written for people in this range.
func (s *Settings) Display() figures.Display {
	return figures.Display{Units: s.Units, Currency: s.Currency.Text}
}
