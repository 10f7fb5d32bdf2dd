package evaluate

import (
	"math"

	"gonum.org/v1/gonum/floats"

	"rodlore/models"
)

// newSection lays section i of the spec between from and to. Its stations run
// from the thin end, which is the end at to.
func (r *rod) newSection(i int, at span) (member, error) {
	s := r.spec.Sections[i]
	came := r.build.sections[i].beyond(r.fitted, s.Name.Text)
	m := member{span: at, section: i}
	st := s.Stations()
	for k, from := range st.At {
		st.At[k] = at.to - from
	}
	switch {
	case s.OfOneMaterial():
		of := stuffOf(r.spec.Materials[s.Material.Text])
		of.modulus *= 1 + came.modulus[0]
		of.density *= 1 + came.density[0]
		of.hoop *= math.Exp(came.hoop)
		if len(s.Hexagon) > 0 {
			m.breaks, m.on = hexagonProfile(st, of, came)
			break
		}
		m.breaks, m.on = tubeProfile(st, of, came)
	case s.Bought != nil:
		h := r.build.sections[i].hidden
		if !r.build.raw {
			h = r.blank.of(i, r.build.known)
		}
		m.breaks, m.on = boughtProfile(s, at.to, h, came)
	case len(s.Stiffness) > 0:
		m.breaks, m.on = stiffnessProfile(st, came)
	default:
		var err error
		if m.breaks, m.on, err = rolledProfile(r.spec, s, st, at, came); err != nil {
			return m, err
		}
	}
	return m, nil
}

// thinnestWall is the share of its wall that a tube keeps whatever the error.
const thinnestWall = 0.1

// profile gives a member's cross-section over the piece around mid.
type profile func(mid float64) func(z float64) tube

// tubeProfile is a tube whose outside and wall vary linearly between stations, which
// are counted from the butt and its to change.
func tubeProfile(st models.Stations, of stuff, came sectionBuild) ([]float64, profile) {
	for i, wall := range st.Wall {
		st.Outside[i] += came.outside
		st.Wall[i] = max(wall+came.wall, thinnestWall*wall)
	}
	return append(solidFrom(st.At, st.Outside, st.Wall), st.At...), func(mid float64) func(float64) tube {
		o, w := lineAround(st.At, st.Outside, mid), lineAround(st.At, st.Wall, mid)
		return func(z float64) tube { return newTube(o.at(z), w.at(z), of) }
	}
}

// hexagonProfile is a hexagon whose flats and hollow vary linearly between stations.
func hexagonProfile(st models.Stations, of stuff, came sectionBuild) ([]float64, profile) {
	for i := range st.Outside {
		st.Outside[i] += came.outside
	}
	return st.At, func(mid float64) func(float64) tube {
		f, h := lineAround(st.At, st.Outside, mid), lineAround(st.At, st.Hollow, mid)
		return func(z float64) tube { return newHexagon(f.at(z), h.at(z), of) }
	}
}

// solidFrom are the places between stations where the bore of a tube begins or
// ends. Its stiffness has a corner there.
func solidFrom(at, outside, wall []float64) []float64 {
	var places []float64
	for i := 1; i < len(at); i++ {
		before, after := outside[i-1]-2*wall[i-1], outside[i]-2*wall[i]
		if before*after < 0 {
			places = append(places, at[i-1]+(at[i]-at[i-1])*before/(before-after))
		}
	}
	return places
}

// stiffnessProfile is a section of which only measurements exist. Its axial
// stiffness, which matters under a ring's foot alone, is that of a thin tube of
// its outside: EA = 8·EI/D².
func stiffnessProfile(st models.Stations, came sectionBuild) ([]float64, profile) {
	floats.Scale(1+came.modulus[0], st.EI)
	floats.Scale(1+came.density[0], st.Mass)
	return st.At, func(mid float64) func(float64) tube {
		e, m, o := lineAround(st.At, st.EI, mid), lineAround(st.At, st.Mass, mid), lineAround(st.At, st.Outside, mid)
		return func(z float64) tube {
			t := tube{EI: e.at(z), Mu: m.at(z), Outside: o.at(z)}
			t.EA = 8 * t.EI / (t.Outside * t.Outside)
			return t
		}
	}
}

// lineAround is the line through the two stations on either side of mid;
// stations run from the thin end, so at falls. Beyond the last station the last
// line goes on.
func lineAround(at, v []float64, mid float64) line {
	if len(at) == 1 {
		return line{v0: v[0]}
	}
	i := 1
	for i < len(at)-1 && at[i] > mid {
		i++
	}
	return lineThrough(at[i-1], v[i-1], at[i], v[i])
}
