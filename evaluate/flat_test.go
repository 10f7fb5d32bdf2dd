package evaluate

import (
	"math"
	"testing"

	"rodlore/models"
)

// TestFlatFiguresOfRandomRods holds the flattest spot against a look at two
// thousand places of every piece, and the turn taken out against forty times as
// many places of the same bend.
func TestFlatFiguresOfRandomRods(t *testing.T) {
	for seed := range uint64(56) {
		s, set := randomRod(t, seed), models.DefaultSettings()
		m, err := New(s, set).mesh()
		if err != nil {
			t.Fatal(err)
		}
		p := newPass(m.rod, set, m.coarse)
		solved, _ := p.solve(nil)
		most, turn := 0.0, 0.0
		for piece := range m.stiffenedPieces() {
			const parts = 40
			for i := range 50*parts + 1 {
				c := piece.at(piece.from + float64(i)/(50*parts)*piece.length())
				most = max(most, 1-c.Plain/c.EI)
			}
			for i := range parts {
				for _, g := range gauss3 {
					z := piece.from + (float64(i)+0.5+g.x/2)*piece.length()/parts
					c := piece.at(z)
					turn += g.w / 2 * piece.length() / parts * solved.half.MomentAt(z-m.held) * (1/c.Plain - 1/c.EI)
				}
			}
		}
		worst, _ := m.flatWorst()
		if math.Abs(worst.share-most) > 1e-5*most { // the corner is found to a thousandth of a millimetre
			t.Errorf("rod %d: the flattest spot loses %.8g and %.8g is lost somewhere", seed, worst.share, most)
		}
		if all, _ := m.flatTurn(solved.half); math.Abs(all-turn) > 1e-5*turn {
			t.Errorf("rod %d: %.8g of turn is taken out, counted closely %.8g", seed, all, turn)
		}
	}
}
