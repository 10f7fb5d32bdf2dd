package evaluate

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"rodlore/evaluate/beam"
	"rodlore/evaluate/figures"
	"rodlore/models"
	"rodlore/models/units"
)

// throughRings is the range's word for a test curve pulled by the line.
const throughRings = "through rings"

// Where a spec gives no reel height, the line leaves the reel this far from the
// middle of the blank, m (common practice, no source).
var usualReelHeight = map[models.ReelKind]float64{
	models.FixedSpool: 60e-3, models.Centrepin: 60e-3, models.Fly: 45e-3, models.Multiplier: 35e-3,
}

// side is +1 where the rings stand on the inside of the bend and −1 where they
// stand on its outside, the reel being on top.
func (r *rod) side() float64 {
	if r.spec.Reel.Kind.OnTop() {
		return -1
	}
	return 1
}

// ringless says that the rod has no ring but the tip ring: that of a pole, to
// which the line is tied.
func (r *rod) ringless() bool { return len(r.rings) < 2 }

// threaded is a line of that tension through the rings, pulled in that
// direction. It lies on the blank where it comes to that; a line inside the
// bend never does.
func (r *rod) threaded(tension, direction float64, weight bool) beam.Line {
	reel := r.spec.Reel
	height := float64(reel.Height.Or(units.Length(usualReelHeight[reel.Kind])))
	l := beam.Line{
		Tension:   tension,
		Direction: direction,
		Weight:    weight,
		Reel:      beam.LineRing{S: r.spec.ReelAt() - r.held, Offset: r.side() * height},
	}
	if r.side() < 0 {
		l.Radius, l.Surface = r.surface, r
	}
	for _, g := range r.rings {
		l.Rings = append(l.Rings, beam.LineRing{S: min(g.z, r.length) - r.held, Offset: g.offset})
	}
	return l
}

// surface is the radius of the blank at s from the front of the hold.
func (r *rod) surface(s float64) float64 {
	z := r.held + s
	return r.pieceAt(z).radius.at(z)
}

// readLine reads the figures of the line through the rings from the bend at
// half the test curve.
func readLine(v values, sh *beam.LineShape) {
	v["line-gap"], v["line-touch"] = sh.Gap, sh.Touch
	v["ring-load-worst"] = slices.Max(ringLoads(sh))
	if turns := wrapAngles(sh); len(turns) > 0 {
		v["ring-turn-spread"] = figures.Of("ring-turn-spread").Compose(turns, nil)
	}
}

func ringLoads(sh *beam.LineShape) []float64 {
	loads := make([]float64, len(sh.Rings))
	for i, g := range sh.Rings {
		loads[i] = g.Force
	}
	return loads
}

// wrapAngles are those of the line in the running rings: how far it turns in
// the tip ring is up to the pull.
func wrapAngles(sh *beam.LineShape) []float64 {
	turns := make([]float64, len(sh.Rings)-1)
	for i := range turns {
		turns[i] = sh.Rings[i].Turn
	}
	return turns
}

// lipPoints is how many points of the spool's lip the line is taken to leave
// from.
const lipPoints = 24

// lineAngleSum is the angle that the line turns through on the straight rod, in
// rad, from the spool's lip through the middles of the rings. Off a fixed spool
// the line runs round the lip, so it is the mean of a turn of it.
func (r *rod) lineAngleSum() float64 {
	reel := r.spec.Reel
	height := float64(reel.Height.Or(units.Length(usualReelHeight[reel.Kind])))
	lip := 0.0
	if reel.Kind == models.FixedSpool {
		lip = float64(reel.Spool.Value) / 2
	}
	if lip == 0 {
		return r.turning(r3.Vec{X: r.spec.ReelAt(), Y: height})
	}
	var sum float64
	for i := range lipPoints {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / lipPoints)
		sum += r.turning(r3.Vec{X: r.spec.ReelAt(), Y: height + lip*cos, Z: lip * sin})
	}
	return sum / lipPoints
}

// turning is the angle that the line turns through from a place beside the straight
// rod through the rings: along it, away from it on the rings' side, across.
func (r *rod) turning(from r3.Vec) float64 {
	at, before, sum := from, r3.Vec{}, 0.0
	for i, g := range r.rings {
		next := r3.Vec{X: g.z, Y: math.Abs(g.offset)}
		way := r3.Sub(next, at)
		if i > 0 {
			sum += math.Atan2(math.Sqrt(r3.Norm2(r3.Cross(before, way))), r3.Dot(before, way))
		}
		at, before = next, way
	}
	return sum
}
