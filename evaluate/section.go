package evaluate

import (
	"math"

	"rodlore/models"
)

// newSection lays section i of the spec between from and to. Its stations run
// from the thin end, which is the end at to.
func (r *rod) newSection(i int, at span) (member, error) {
	s := r.spec.Sections[i]
	came := r.build.sections[i].beyond(r.fitted, s.Name.Text)
	m := member{span: at}
	switch {
	case s.OfOneMaterial():
		of := stuffOf(r.spec.Materials[s.Material.Text])
		of.modulus *= 1 + came.modulus[0]
		of.density *= 1 + came.density[0]
		of.hoop *= math.Exp(came.hoop)
		if len(s.Hexagon) > 0 {
			m.breaks, m.on = hexagonProfile(s.Hexagon, at.to, of, came)
			break
		}
		m.breaks, m.on = tubeProfile(s.Round(), at.to, of, came)
	case s.Bought != nil:
		h := r.build.sections[i].hidden
		if !r.build.raw {
			h = r.blank.of(i, r.build.known)
		}
		m.breaks, m.on = boughtProfile(s, at.to, h, came)
	case len(s.Stiffness) > 0:
		m.breaks, m.on = stiffnessProfile(s.Stiffness, at.to, came)
	default:
		var err error
		if m.breaks, m.on, err = rolledProfile(r.spec, s, at, came); err != nil {
			return m, err
		}
	}
	return m, nil
}

// thinnestWall is the share of its wall that a tube keeps whatever the error.
const thinnestWall = 0.1

// profile gives a member's cross-section over the piece around mid.
type profile func(mid float64) func(z float64) tube

// column is one quantity of stations.
func column[S any](stations []S, of func(S) float64) []float64 {
	list := make([]float64, len(stations))
	for i, s := range stations {
		list[i] = of(s)
	}
	return list
}

// tubeProfile is a tube whose outside and wall vary linearly between stations.
func tubeProfile(stations []models.TubeStation, thin float64, of stuff, came sectionBuild) ([]float64, profile) {
	at := column(stations, func(s models.TubeStation) float64 { return thin - float64(s.At.Value) })
	outside := column(stations, func(s models.TubeStation) float64 { return float64(s.Outside.Value) + came.outside })
	wall := column(stations, func(s models.TubeStation) float64 {
		return max(float64(s.Wall.Value)+came.wall, thinnestWall*float64(s.Wall.Value))
	})
	return append(solidFrom(at, outside, wall), at...), func(mid float64) func(float64) tube {
		o, w := lineAround(at, outside, mid), lineAround(at, wall, mid)
		return func(z float64) tube { return newTube(o.at(z), w.at(z), of) }
	}
}

// hexagonProfile is a hexagon whose flats and hollow vary linearly between stations.
func hexagonProfile(stations []models.HexagonStation, thin float64, of stuff, came sectionBuild) ([]float64, profile) {
	at := column(stations, func(s models.HexagonStation) float64 { return thin - float64(s.At.Value) })
	flats := column(stations, func(s models.HexagonStation) float64 { return float64(s.Flats.Value) + came.outside })
	hollow := column(stations, func(s models.HexagonStation) float64 { return float64(s.Hollow.Value) })
	return at, func(mid float64) func(float64) tube {
		f, h := lineAround(at, flats, mid), lineAround(at, hollow, mid)
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
func stiffnessProfile(stations []models.StiffnessStation, thin float64, came sectionBuild) ([]float64, profile) {
	at := column(stations, func(s models.StiffnessStation) float64 { return thin - float64(s.At.Value) })
	ei := column(stations, func(s models.StiffnessStation) float64 { return float64(s.EI.Value) * (1 + came.modulus[0]) })
	mu := column(stations, func(s models.StiffnessStation) float64 { return float64(s.Mass.Value) * (1 + came.density[0]) })
	outside := column(stations, func(s models.StiffnessStation) float64 { return float64(s.Outside.Value) })
	return at, func(mid float64) func(float64) tube {
		e, m, o := lineAround(at, ei, mid), lineAround(at, mu, mid), lineAround(at, outside, mid)
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
