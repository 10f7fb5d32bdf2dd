package evaluate

import (
	"math"
	"testing"

	"rodlore/evaluate/figures"
	"rodlore/models"
)

// TestBoundsHold holds the bound on the numerical error of every figure of random
// rods against a mesh eight times finer than that which it is read from.
func TestBoundsHold(t *testing.T) {
	for seed := range uint64(56) {
		s, set := randomRod(t, seed), models.DefaultSettings()
		if seed%4 == 0 {
			s.Rings[1].At.Value = 8e-3 // hard by the tip ring
		}
		f, err := New(s, set).Figures()
		if err != nil {
			t.Fatal(err)
		}
		m, err := New(s, set).mesh()
		if err != nil {
			t.Fatal(err)
		}
		mesh := m.coarse
		for range 4 {
			mesh = mesh.Refined()
		}
		p := newPass(m.rod, set, mesh)
		solved, _ := p.solve(nil)
		finest, err := p.read(solved)
		if err != nil {
			t.Fatal(err)
		}
		for _, fig := range f.List {
			want, ok := finest[fig.Key]
			if !ok || figures.Of(fig.Key).Exact {
				continue
			}
			if off := math.Abs(fig.Value - want); off > fig.Error {
				t.Errorf("rod %d: %s is off by %.3g, %.1f times its bound (a share of %.1g)", seed, fig.Key, off, off/fig.Error, off/math.Abs(want))
			}
		}
	}
}
