package evaluate_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"rodlore/evaluate"
	"rodlore/models"
)

// onePiece is a one-piece rod whose only section is written as given.
func onePiece(t *testing.T, section string) *evaluate.Figures {
	t.Helper()
	return evaluated(t, onePieceSpec(t, section))
}

func onePieceSpec(t *testing.T, section string) *models.Spec {
	t.Helper()
	return resolve(t, fmt.Sprintf(`name: One
job: checks
reel: fixed-spool
length: 2400 mm
sections:
  - name: whole
    length: 2400 mm
%s
rings:
  - {at: 0 mm, part: tip}
  - {at: 700 mm, part: ring}
handle:
  seat: {at: 250 mm from butt, part: seat}
`, section), `
rings:
  tip: {size: 8 mm, height: 6 mm, feet: 0, mass: 0.7 g, frame: steel}
  ring: {size: 12 mm, height: 14 mm, feet: 1, mass: 1.4 g, frame: steel, foot: {length: 11 mm, width: 2.2 mm, thickness: 0.45 mm}}
seats:
  seat: {length: 95 mm, diameter: 22 mm, mass: 30 g}
`, `
uni: {modulus: 126 GPa, along: 126 GPa, across: 11 GPa, shear: 6.6 GPa, poisson: 0.28, thickness: 0.125 mm,
  density: 1590 kg/m3, resin: 32 %, strain: {compression: 0.8 %, tension: 1.1 %}}
`)
}

// TestGapsBetweenPlies holds what is said of gaps against a count, stretch by
// stretch, of those that no ply lies on: there are figures exactly where it finds none.
func TestGapsBetweenPlies(t *testing.T) {
	const ends, stretch = 8, 30 // cm
	random := rand.New(rand.NewPCG(3, 5))
	whole, broken := 0, 0
	for range 60 {
		var covered [ends]bool
		section := "    rolled:\n      mandrel: [{at: 0 mm, diameter: 1.4 mm}, {at: 2400 mm, diameter: 9 mm}]\n      plies:"
		for range 2 + random.IntN(4) {
			from := random.IntN(ends) * random.IntN(2)
			to := from + 1 + random.IntN(ends-from)
			keys := fmt.Sprintf(", to: %d cm", stretch*to)
			if to == ends {
				keys = ""
			}
			section += fmt.Sprintf("\n        - {material: uni, angle: 0, wraps: 3, from: %d cm%s}", stretch*from, keys)
			for i := from; i < to; i++ {
				covered[i] = true
			}
		}
		gaps := 0
		for i, on := range covered {
			if !on && (i == 0 || covered[i-1]) {
				gaps++
			}
		}
		_, err := evaluate.New(onePieceSpec(t, section), models.DefaultSettings()).Figures()
		var told models.Faults
		if errors.As(err, &told); len(told) != gaps || (err == nil) != (gaps == 0) {
			t.Errorf("%d gaps, and what is told is %v:\n%s", gaps, err, section)
		}
		if gaps == 0 {
			whole++
		} else {
			broken++
		}
	}
	if whole < 10 || broken < 10 {
		t.Errorf("%d rods are whole and %d are not", whole, broken)
	}
}

// TestRolledIsItsTube holds that plies along the rod, rolled on a mandrel, are
// the tube of the same build: what the plies make of the wall is then plain
// arithmetic.
func TestRolledIsItsTube(t *testing.T) {
	rolled := onePiece(t, `    rolled:
      mandrel: [{at: 0 mm, diameter: 1.4 mm}, {at: 2400 mm, diameter: 9 mm}]
      plies:
        - {material: uni, angle: 0, wraps: 4}
        - {material: uni, angle: 0, wraps: {tip: 0.8, butt: 3.2}}`)
	// 4.8 wraps of 0.125 mm make a wall of 0.6 mm at the tip, 7.2 one of
	// 0.9 mm at the butt.
	tube := onePiece(t, `    material: uni
    tube:
      - {at: 0 mm, outside: 2.6 mm, wall: 0.6 mm}
      - {at: 2400 mm, outside: 10.8 mm, wall: 0.9 mm}`)
	same(t, rolled, tube, 1e-7)
}

// TestStiffnessIsItsTube holds that measured stations of a tube that does not
// taper are that tube.
func TestStiffnessIsItsTube(t *testing.T) {
	const d, wall, modulus, density = 8e-3, 1e-3, 126e9, 1590
	in := d - 2*wall
	ei := modulus * math.Pi / 64 * (math.Pow(d, 4) - math.Pow(in, 4))
	mu := density * math.Pi / 4 * (d*d - in*in)
	station := fmt.Sprintf("ei: %.15g N·m2, mass: %.15g kg/m, outside: 8 mm", ei, mu)
	measured := onePiece(t, fmt.Sprintf(`    stiffness:
      - {at: 0 mm, %s}
      - {at: 2400 mm, %s}`, station, station))
	tube := onePiece(t, `    material: uni
    tube:
      - {at: 0 mm, outside: 8 mm, wall: 1 mm}
      - {at: 2400 mm, outside: 8 mm, wall: 1 mm}`)
	// A section measured so says nothing of its axial stiffness, which a
	// ring's foot leans on, nor of its strain limit.
	same(t, measured, tube, 1e-2)
}

// same holds two sets of figures against each other.
func same(t *testing.T, got, want *evaluate.Figures, rel float64) {
	t.Helper()
	for _, w := range want.List {
		g, ok := got.Get(w.Key)
		if !ok && w.Key == "load-limit" {
			continue
		}
		if !ok || math.Abs(g.Value-w.Value) > rel*math.Abs(w.Value)+w.Error {
			t.Errorf("%s is %.9g, want %.9g within %g", w.Key, g.Value, w.Value, rel)
		}
	}
}

// TestJoints holds what the kinds of joint do: an overlap and a sleeve stiffen
// the rod where they are, and weigh what they are made of.
func TestJoints(t *testing.T) {
	rod := func(joint, length string) *evaluate.Figures {
		return evaluated(t, resolve(t, fmt.Sprintf(`name: Two
job: checks
reel: fixed-spool
length: %s
sections:
  - {name: butt, length: 1200 mm, material: uni, tube: [{at: 0 mm, outside: 6 mm, wall: 0.8 mm}, {at: 1200 mm, outside: 10 mm, wall: 1 mm}]}
  - {name: tip, length: 1200 mm, material: uni, tube: [{at: 0 mm, outside: 2 mm, wall: 0.6 mm}, {at: 1200 mm, outside: 6 mm, wall: 0.8 mm}]}
joints:
  - {between: [butt, tip], %s}
rings: [{at: 0 mm, part: tip}]
handle:
  seat: {at: 250 mm from butt, part: seat}
`, length, joint), `
rings:
  tip: {size: 8 mm, height: 6 mm, feet: 0, mass: 0.7 g, frame: steel}
seats:
  seat: {length: 95 mm, diameter: 22 mm, mass: 30 g}
`, `
uni: {modulus: 126 GPa, density: 1590 kg/m3, strain: {compression: 0.8 %}}
`))
	}
	plug := rod("kind: spigot, length: 90 mm, outside: 4.4 mm, material: uni", "2400 mm")
	sleeve := rod("kind: ferrule, length: 90 mm, outside: 7.4 mm, wall: 0.7 mm, material: uni, mass: 5 g", "2400 mm")
	gap := rod("kind: spigot, length: 90 mm, gap: 4 mm, outside: 4.4 mm, material: uni", "2404 mm")

	bare := value(t, sleeve, "blank-weight") - 5e-3
	within(t, plug, "blank-weight", bare+1590*math.Pi/4*4.4e-3*4.4e-3*0.09, 1e-9)
	for name, f := range map[string]*evaluate.Figures{"plug": plug, "sleeve": sleeve, "gap": gap} {
		if v := value(t, f, "flat-turn"); v <= 0 {
			t.Errorf("%s: flat turn %g rad, want more than nothing", name, v)
		}
	}
	// A solid plug of diameter d in a tube D, wall w of the same material adds
	// d⁴/(D⁴−(D−2w)⁴) to the stiffness.
	added := math.Pow(4.4, 4) / (math.Pow(6, 4) - math.Pow(4.4, 4))
	if v := value(t, plug, "flat-worst"); math.Abs(v-(1-1/(1+added))) > 0.02 {
		t.Errorf("the plug takes %.3f of the curvature, want about %.3f", v, 1-1/(1+added))
	}
	worn := rod("kind: spigot, length: 90 mm, outside: 4.4 mm, material: uni, bonding: 30 %", "2400 mm")
	if a, b := value(t, worn, "flat-turn"), value(t, plug, "flat-turn"); a >= b {
		t.Errorf("a plug that takes part by 30 %% takes %g rad out, a tight one %g", a, b)
	}
}
