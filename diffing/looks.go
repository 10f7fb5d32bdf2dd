package diffing

import "rodlore/models"

// Look is what is seen of a rod in one aspect.
type Look interface{ look() }

type (
	// Number is how many of a thing there are.
	Number struct {
		Of Thing
		N  int
	}
	// Distance is how long something is or how far away it stands, m.
	Distance float64
	// RingSize is how wide a ring is inside, m.
	RingSize float64
	// Taper is how thick a grip is at its back and at its front, m.
	Taper struct{ Back, Front float64 }
	// Joint is how two sections are joined.
	Joint models.JointKind
	// Solid is a tip that is no tube, of that material.
	Solid string
	// Name is a part, a material or a colour as the maker wrote it.
	Name string
	// Bare is what is seen where nothing of the kind is named.
	Bare string
)

// Thing is what is counted.
type Thing string

const (
	ThingRing    Thing = "ring"
	ThingSection Thing = "section"
	ThingSize    Thing = "size" // of rings, along those that there are
	ThingGrip    Thing = "grip"
)

const (
	None      Bare = "none"
	AsBought  Bare = "as bought" // the thickness of a bought grip
	NoButtCap Bare = "no butt cap"
	Hollow    Bare = "hollow" // a tip
)

func (Number) look()   {}
func (Distance) look() {}
func (RingSize) look() {}
func (Taper) look()    {}
func (Joint) look()    {}
func (Solid) look()    {}
func (Name) look()     {}
func (Bare) look()     {}
