package evaluate

import (
	"math"
	"testing"
)

// TestHexagon holds a hexagon against the handbook (Machinery's Handbook, moments of
// inertia: A = 0.866f², I = 0.060f⁴, from memory), and its moment against the sum
// over thin strips parallel to a flat.
func TestHexagon(t *testing.T) {
	const flats, hollow = 8e-3, 3e-3
	of := stuff{modulus: 40e9, density: 1150}
	solid, built := newHexagon(flats, 0, of), newHexagon(flats, hollow, of)
	near := func(what string, got, want, share float64) {
		if math.Abs(got-want) > share*want {
			t.Errorf("%s is %v, want %v", what, got, want)
		}
	}
	near("area by the handbook", solid.EA, of.modulus*0.866*flats*flats, 1e-3)
	near("second moment by the handbook", solid.EI, of.modulus*0.060*math.Pow(flats, 4), 3e-3)
	strips := func(flats float64) (area, second float64) {
		const n = 20000
		for i := range n {
			y := flats * ((float64(i)+0.5)/n - 0.5)
			strip := (2*flats - 2*math.Abs(y)) / math.Sqrt(3) * flats / n
			area, second = area+strip, second+strip*y*y
		}
		return area, second
	}
	area, second := strips(flats)
	inside, off := strips(hollow)
	near("mass", built.Mu, of.density*(area-inside), 1e-7)
	near("second moment", built.EI, of.modulus*(second-off), 1e-7)
}
