package models

import (
	"math"
)

// lineClasses are the masses of the first 30 ft of fly lines, without a level tip, by
// class from 1, in grains: the standard of the American Fishing Tackle Manufacturers
// Association of 1961 for lines of single-handed rods, kept by the American Fly
// Fishing Trade Association.
var lineClasses = [...]float64{60, 80, 100, 120, 140, 160, 185, 210, 240, 280, 330, 380, 450, 500, 550}

// HeaviestClass is the heaviest class of line.
const HeaviestClass = len(lineClasses)

// grain is the mass of one, kg (NIST Special Publication 811, appendix B.8).
const grain = 64.79891e-6

// ClassMass is the mass of the first 30 ft of a fly line of a class from 1 to 15, kg.
func ClassMass(class int) float64 { return grain * lineClasses[class-1] }

// NearestClass is the class of fly line whose mass is nearest.
func NearestClass(mass float64) int {
	nearest := 1
	for class := range lineClasses {
		if math.Abs(ClassMass(class+1)-mass) < math.Abs(ClassMass(nearest)-mass) {
			nearest = class + 1
		}
	}
	return nearest
}

// ForFly reports whether the rod casts a fly line and no lead.
func (m *Model) ForFly() bool { return m.Reel.Kind == Fly }

// CastMass is the mass that a rod casts, kg: of a fly rod that of its line's class,
// otherwise the middle of what it is said to cast; ok is false where neither is.
func (m *Model) CastMass() (mass float64, ok bool) {
	switch {
	case m.Line.Class > 0:
		return ClassMass(m.Line.Class), true
	case !m.Casts.Max.Set():
		return 0, false
	}
	return float64(m.Casts.Min.Or(m.Casts.Max.Value)+m.Casts.Max.Value) / 2, true
}

// checkLineClass checks that a class is that of a fly line, and the only word on what
// is cast.
func checkLineClass(v value, m *Model) {
	if m.Line.Class == 0 {
		return
	}
	at := v.doc.pos(v.entries()["line"].key)
	switch {
	case !m.ForFly() && m.Reel.Kind != "":
		v.at(at, "line.class", "is of a fly line; leave it out, or write reel: fly")
	case m.Casts.Max.Set():
		v.at(v.doc.pos(v.entries()["casts"].key), "casts", "does not go with a class of line, which says what is cast; take out one of them")
	}
}
