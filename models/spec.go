package models

import "rodlore/models/units"

// Model is one model's spec as written in models/NAME.yaml, before the shared
// parts and materials it names are looked up.
type Model struct {
	File     string // as given to ParseModel
	Name     Word
	Was      Word // the file name (without .yaml) the model had before it was renamed
	Family   Word // of models that belong together
	Job      Word
	Bare     bool // a blank without reel, rings and handle
	Reel     Reel
	Casts    Range[units.Mass]
	Line     Line
	Length   Given[units.Length]
	Sections []Section // butt first
	Blank    BareBlank // what is known of a bought one as a whole
	Joints   []Joint   // butt first; one fewer than Sections
	Rings    []Ring    // from the tip
	Handle   Handle
	Held     Given[units.Length] // held from the butt to here; unset means the front of the handle
	Finish   Finish
	Wants    []Want
	// Tolerances holds standard deviations where this model differs from the
	// range's.
	Tolerances Tolerances
	Fitted     *Fitted // nil where the model was not fitted to a rod
	Tops       []Top   // others that go on the same butt
}

// Range is a span such as "10 g to 40 g", "at most 205 g" or "at least 2.3 Hz".
// A side that was not given is unset.
type Range[U ~float64] struct {
	Min, Max Given[U]
	Text     string
}

// ReelKind is how the line leaves the reel, and so on which side of the blank
// the rings stand.
type ReelKind string

const (
	FixedSpool ReelKind = "fixed-spool" // under the rod, rings inside the bend
	Multiplier ReelKind = "multiplier"  // on top, rings outside the bend
	Centrepin  ReelKind = "centrepin"   // under the rod
	Fly        ReelKind = "fly"         // under the rod
	NoReel     ReelKind = "none"        // a pole: the line is tied to the tip
)

// OnTop reports whether the rings stand on the outside of the bend.
func (k ReelKind) OnTop() bool { return k == Multiplier }

// Reel is the reel that the rod is made for. All but Kind may be unset.
type Reel struct {
	Kind   ReelKind
	Pos    Pos
	Mass   Given[units.Mass]
	Spool  Given[units.Length] // diameter of the spool's lip
	Height Given[units.Length] // spool axis from the axis of the blank
	At     Given[units.Length] // centre of the reel foot from the butt; unset means the seat
}

// Line is the line the rod is made for.
type Line struct {
	Class    int // of a fly line, from 1; 0 means none is given
	Diameter Given[units.Length]
	Breaks   Given[units.Force]
}

// Section is one piece of the blank. Exactly one of Tube, Hexagon, Solid, Rolled,
// Bought and Stiffness is given; all of their stations run from the section's thin end.
type Section struct {
	Name      Word
	Pos       Pos
	Length    Given[units.Length]
	Material  Word // of Tube, Hexagon and Solid
	Tube      []Station
	Hexagon   []Station // six strips of cane glued together
	Solid     []Station
	Rolled    *Rolled
	Bought    *Bought
	Stiffness []Station // as measured
}

// Rolled is a section as it is rolled: plies on a mandrel.
type Rolled struct {
	Pos     Pos
	Mandrel []Station
	Plies   []Ply // in the order they are rolled, innermost first
}

// Ply is one pattern of prepreg on the mandrel.
type Ply struct {
	Pos       Pos
	Material  Word
	Angle     Given[units.Angle]  // between the fibres and the rod's axis
	TipWraps  float64             // times round the mandrel at the ply's thin end
	ButtWraps float64             // and at its thick end
	From, To  Given[units.Length] // from the section's thin end; unset means the whole section
}

// JointKind is how two sections are put together.
type JointKind string

const (
	Overlap JointKind = "overlap" // the upper section is pushed over the lower
	Spigot  JointKind = "spigot"  // a plug glued into the lower section
	Ferrule JointKind = "ferrule" // a sleeve outside both sections
	PutIn   JointKind = "put-in"  // the upper section is pushed into the lower
	Splice  JointKind = "splice"  // the upper section is glued into the lower for good
)

// JointKinds lists every JointKind.
var JointKinds = []JointKind{Overlap, Spigot, Ferrule, PutIn, Splice}

// HasPart reports whether a joint has a plug or a sleeve; without, its sections go
// into one another.
func (k JointKind) HasPart() bool { return k == Spigot || k == Ferrule }

// GoesIn reports whether the upper section goes into the lower.
func (k JointKind) GoesIn() bool { return k == PutIn || k == Splice }

// Joint joins two neighbouring sections.
type Joint struct {
	Pos      Pos
	Between  [2]Word // names of the sections, butt side first
	Kind     JointKind
	Length   Given[units.Length] // over which one section is in the other; of the whole plug or sleeve
	Gap      Given[units.Length] // left between the sections for wear; spigots only
	Outside  Given[units.Length] // diameter of the plug or sleeve
	Wall     Given[units.Length] // of the plug or sleeve; unset means a solid plug
	Material Word                // of the plug or sleeve
	Mass     Given[units.Mass]   // of the plug or sleeve, or of the glue in a splice, where weighed
	Bonding  Given[units.Share]  // how much of the inner tube's stiffness takes part
	Whipping Given[units.Length] // at each of its mouths; unset means two diameters of the socket
}

// Ring is one ring on the rod; the tip ring is the one at 0 mm.
type Ring struct {
	Pos      Pos
	At       Given[units.Length] // from the tip, along the blank
	Part     Word
	Whipping Given[units.Length] // over each foot; unset means the foot and a margin
}

// Handle is everything held or held on to.
type Handle struct {
	Pos   Pos
	Seat  HandlePart
	Grips []Grip
	Cap   HandlePart // butt cap
}

// HandlePart is a bought part of the handle.
type HandlePart struct {
	Pos  Pos
	At   Given[units.Length] // its centre, from the butt; unset for a butt cap
	Part Word
}

// Grip is a turned grip, of a bought part or of a material and its diameter.
type Grip struct {
	Pos      Pos
	From, To Given[units.Length] // from the butt
	Diameter Given[units.Length] // outside
	Ends     Given[units.Length] // diameter at the front end where tapered; unset means Diameter
	Material Word
	Part     Word // a bought grip instead of Diameter and Material
}

// Finish is what the rod is whipped and varnished with. Thread and Varnish name
// entries of parts.yaml.
type Finish struct {
	Pos                           Pos
	Thread, Varnish, Colour, Trim Word
}

// Want is one limit the rod must meet to be fit for its job.
type Want struct {
	Figure   string // the figure's key, "test-curve"
	Pos      Pos
	Text     string  // as written, "1.5 lb to 1.8 lb"
	Min, Max float64 // SI, in the figure's unit; ±Inf where open
}

// Tolerances are the standard deviations of what a workshop can hold or buy.
// An unset one falls back to the range's, then to the built-in default.
type Tolerances struct {
	Pos          Pos
	Outside      Given[units.Length]
	Wall         Given[units.Length]
	Modulus      Given[units.Share]
	Density      Given[units.Share] // of tubes and plies
	RingPosition Given[units.Length]
	PartMass     Given[units.Share]
	Whipping     Given[units.Length]
	GripDensity  Given[units.Share]
}
