package evaluate

import (
	"fmt"
	"math"
	"os"
	"testing"

	"rodlore/models"
)

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if math.Abs(got-want) > rel*math.Abs(want) {
		t.Errorf("%s is %.9g, want %.9g within %g", what, got, want, rel)
	}
}

// TestTube holds the section properties of a round tube against the handbook
// formulas for a thin one, I = πr³t and A = 2πrt (Young and Budynas 2002,
// Roark's Formulas for Stress and Strain, table A.1, from memory), which are
// good to (t/2r)².
func TestTube(t *testing.T) {
	const r, wall = 5e-3, 0.05e-3
	thin := newTube(2*r+wall, wall, stuff{modulus: 1, density: 1})
	near(t, "EI", thin.EI, math.Pi*r*r*r*wall, 1e-4)
	near(t, "EA", thin.EA, 2*math.Pi*r*wall, 1e-9)
	solid := newTube(2*r, r, stuff{modulus: 1})
	near(t, "EI of a solid rod", solid.EI, math.Pi/4*r*r*r*r, 1e-12)
	if newTube(2*r, 2*r, stuff{modulus: 1}) != solid {
		t.Error("a wall beyond the middle adds something")
	}
}

// TestFootIsACompositeBeam works a blank with a strip on it out from first
// principles: find the neutral axis of the two, then sum both parts about it.
func TestFootIsACompositeBeam(t *testing.T) {
	blank := newTube(9e-3, 1e-3, stuff{modulus: 100e9})
	f := foot{width: 2.5e-3, thickness: 0.5e-3, modulus: 193e9, bonding: 1}
	ef := f.modulus * f.width * f.thickness
	arm := (blank.Outside + f.thickness) / 2
	axis := ef * arm / (ef + blank.EA)
	want := blank.EI + blank.EA*axis*axis + ef*(arm-axis)*(arm-axis) + f.modulus*f.width*math.Pow(f.thickness, 3)/12
	near(t, "EI", blank.EI+f.stiffness(blank.Outside, blank.EA), want, 1e-12)
	f.bonding = 0
	near(t, "what a loose foot adds", f.stiffness(blank.Outside, blank.EA), f.modulus*f.width*math.Pow(f.thickness, 3)/12, 1e-12)
}

// TestTubesInAJoint holds that concentric tubes add their stiffness as far as
// they are bonded.
func TestTubesInAJoint(t *testing.T) {
	outer, inner := newTube(10e-3, 1e-3, stuff{modulus: 100e9}), newTube(8e-3, 1e-3, stuff{modulus: 100e9})
	for _, bonding := range []float64{0, 0.5, 1} {
		p := piece{bonding: bonding, members: []func(float64) tube{
			func(float64) tube { return inner }, func(float64) tube { return outer },
		}}
		c := p.at(0)
		near(t, "EI", c.EI, outer.EI+bonding*inner.EI, 1e-12)
		near(t, "plain EI", c.Plain, outer.EI, 0)
		near(t, "outside", c.Outside, 10e-3, 0)
	}
}

// goodSpec is the rod that package models is tested with.
func goodSpec(t testing.TB) *models.Spec {
	t.Helper()
	return goodSpecOf(t, "skerry-10")
}

// goodSpecOf is one of the rods that package models is tested with.
func goodSpecOf(t testing.TB, name string) *models.Spec {
	t.Helper()
	read := func(file string) []byte {
		src, err := os.ReadFile("../models/testdata/good/" + file)
		if err != nil {
			t.Fatal(err)
		}
		return src
	}
	m, err := models.ParseModel(name+".yaml", read(name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	parts, err := models.ParseParts("parts.yaml", read("parts.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	materials, err := models.ParseMaterials("materials.yaml", read("materials.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := models.Resolve(m, parts, materials)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestErrorBounds holds the stated numerical errors against a mesh eight times
// as fine: each must cover the difference and be small enough to be of use.
func TestErrorBounds(t *testing.T) {
	s, set := goodSpec(t), models.DefaultSettings()
	f, err := New(s, set).Figures()
	if err != nil {
		t.Fatal(err)
	}
	r, err := assemble(s, set)
	if err != nil {
		t.Fatal(err)
	}
	b, err := r.free(8 * coarseElements)
	if err != nil {
		t.Fatal(err)
	}
	p := newPass(r, set, b)
	solved, _ := p.solve(nil)
	best, err := p.read(solved)
	if err != nil {
		t.Fatal(err)
	}
	for key, want := range best {
		fig, ok := f.Get(key)
		if !ok {
			t.Errorf("no figure %s", key)
			continue
		}
		if off := math.Abs(fig.Value - want); off > fig.Error+1e-8*math.Abs(want) {
			t.Errorf("%s is off by %.2g, more than the %.2g it states", key, off, fig.Error)
		}
		if fig.Error > 2e-4*math.Abs(want) {
			t.Errorf("%s states an error of %.2g of %.4g", key, fig.Error, want)
		}
	}
}

// TestRingsStandOnTheBlank holds that the line runs through a ring at its
// height above the blank's surface, also where a rolled section or one of its
// plies ends.
func TestRingsStandOnTheBlank(t *testing.T) {
	s := goodSpec(t) // its tip is rolled
	r, err := assemble(s, models.DefaultSettings())
	if err != nil {
		t.Fatal(err)
	}
	for i, g := range r.rings {
		part := s.Parts[s.Rings[len(r.rings)-1-i].Part.Text]
		near(t, fmt.Sprintf("offset of the ring at %g m", g.z), g.offset, r.surface(g.z-r.held)+float64(part.Height.Value), 1e-3)
	}
}

// TestHandWithoutSeat holds that a rod without a seat is swung about its reel.
func TestHandWithoutSeat(t *testing.T) {
	s, set := goodSpec(t), models.DefaultSettings()
	with, err := assemble(s, set)
	if err != nil {
		t.Fatal(err)
	}
	s.Reel.At = s.Handle.Seat.At
	s.Handle.Seat = models.HandlePart{}
	without, err := assemble(s, set)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "the hand's place", without.seat, with.seat, 0)
}
