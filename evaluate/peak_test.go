package evaluate

import (
	"math"
	"testing"

	"rodlore/models"
)

// TestPeakIsTheHighest holds the largest share of what is allowed against all of a bent
// rod, millimetre by millimetre and ten times as closely where it is high.
func TestPeakIsTheHighest(t *testing.T) {
	for _, model := range []string{"skerry-10", "groyne-13", "stack-10", "overfall-11"} {
		s, set := demoSpec(t, model), models.DefaultSettings()
		w, err := New(s, set).workOut()
		if err != nil {
			t.Fatal(err)
		}
		p, sh := w.pass, w.fine.limit.Shape
		at := func(on *piece, z float64) float64 {
			c := on.walledAt(z)
			return math.Abs(sh.MomentAt(z-p.rod.held)) / c.EI * p.share(&c)
		}
		most := 0.0
		for _, on := range p.rod.pieces[p.rod.firstFree():] {
			for n, i := int(math.Ceil(on.length()/1e-4)), 0; i <= n; i++ {
				most = max(most, at(on, on.from+on.length()*float64(i)/float64(n)))
			}
		}
		peak := p.peak(sh, p.share)
		near(t, model+": the highest share", peak.value, most, 1e-7)
		near(t, model+": that at its place", at(peak.piece, peak.z), peak.value, 1e-12)
	}
}
