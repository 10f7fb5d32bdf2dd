package evaluate

import (
	"testing"

	"rodlore/models"
)

// Of like rings every further one is weight, far from the hand: a rod with more of
// them is heavier, harder to swing and slower. Of the parts that there are this need
// not hold.
func TestEveryRingOfLikeOnesIsWeight(t *testing.T) {
	set := models.DefaultSettings()
	for _, name := range []string{"skerry-10", "wrack-9", "groyne-13"} {
		p, err := New(demoSpec(t, name), set).Patterns()
		if err != nil {
			t.Fatal(err)
		}
		var last *Figures
		for n := 5; n <= 12; n++ {
			s, err := p.Alike(n)
			if err != nil {
				t.Logf("%s: %v", name, err)
				continue
			}
			if len(s.Rings)-1 != n {
				t.Fatalf("%s has %d rings, not %d", name, len(s.Rings)-1, n)
			}
			figs, err := New(s, set).Figures()
			if err != nil {
				t.Fatal(err)
			}
			if last != nil {
				for key, way := range map[string]float64{"weight": 1, "swing": 1, "recovery": -1} {
					before, _ := last.Get(key)
					now, _ := figs.Get(key)
					if way*(now.Value-before.Value) <= 0 {
						t.Errorf("%s with %d rings: %s goes from %g to %g", name, n, key, before.Value, now.Value)
					}
				}
			}
			last = figs
		}
	}
}
