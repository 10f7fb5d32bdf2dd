package say

import (
	"math"
	"testing"

	"rodlore/diffing"
	"rodlore/evaluate/figures"
)

// In English what is seen is called on pages what it is called elsewhere.
func TestLooks(t *testing.T) {
	teller := Teller{Words: English()}
	for want, l := range map[string]diffing.Look{
		"none": diffing.None, "as bought": diffing.AsBought, "no butt cap": diffing.NoButtCap, "overlap": diffing.Joint("overlap"),
		"spigot": diffing.Joint("spigot"), "hollow": diffing.Hollow, "solid glass": diffing.Solid("glass"), "ferrule": diffing.Joint("ferrule"), "moss": diffing.Name("moss"), "1568 mm": diffing.Distance(1.568),
		"16 mm": diffing.RingSize(0.016), "27 mm to 20 mm": diffing.Taper{Back: 0.027, Front: 0.020}, "27 mm": diffing.Taper{Back: 0.027, Front: 0.027},
		"1 ring": diffing.Number{Of: diffing.ThingRing, N: 1}, "0 sections": diffing.Number{Of: diffing.ThingSection},
		"2 sizes": diffing.Number{Of: diffing.ThingSize, N: 2}, "1 grip": diffing.Number{Of: diffing.ThingGrip, N: 1},
	} {
		if got := teller.Looks([]diffing.Look{l}); got != want {
			t.Errorf("%#v is %q, want %q", l, got, want)
		}
	}
	for _, a := range []diffing.Aspect{
		diffing.RingCount, diffing.ButtRingCount, diffing.ButtRingSize, diffing.ButtRingPlace, diffing.RodLength, diffing.SectionCount,
		diffing.JointKind, diffing.TipKind, diffing.HandleLength, diffing.HandleShape, diffing.ReelSeat, diffing.ReelSeatPlace, diffing.BlankColour, diffing.WhippingColour,
	} {
		if got := teller.Aspect(a); got != string(a) {
			t.Errorf("%s is called %q", a, got)
		}
	}
}

// What is seen is told in other words and digits where they are given, all of it
// but the maker's own names.
func TestSights(t *testing.T) {
	rings := func(n int) []diffing.Look { return []diffing.Look{diffing.Number{Of: diffing.ThingRing, N: n}} }
	place := diffing.Sight{
		Aspect: diffing.ButtRingPlace, Old: []diffing.Look{diffing.Distance(1.568)}, New: []diffing.Look{diffing.Distance(1.468)},
		Size: -0.1, Unit: "m", Limit: 0.1016,
	}
	size := diffing.Sight{
		Aspect: diffing.ButtRingSize, Old: []diffing.Look{diffing.RingSize(0.020)}, New: []diffing.Look{diffing.RingSize(0.006)},
		Size: -2, Unit: "1", Limit: 1,
	}
	colour := diffing.Sight{
		Aspect: diffing.WhippingColour, Old: []diffing.Look{diffing.Name("copper")}, New: []diffing.Look{diffing.None}, Size: 1,
	}
	handle := func(old, now string) diffing.Sight {
		return diffing.Sight{Aspect: diffing.HandleShape, Old: []diffing.Look{diffing.Name(old)}, New: []diffing.Look{diffing.Name(now)}, Size: 1, Limit: math.Inf(1)}
	}
	free := colour
	free.Limit = math.Inf(1)
	metric, shouted := Teller{Words: English()}, Teller{
		Words:   mustRead(t, "looks: {none: NONE, stays: STAYS}\n"),
		Display: figures.Display{Units: "imperial", Comma: true},
	}
	for _, test := range []struct {
		name              string
		teller            Teller
		sight             diffing.Sight
		change, by, limit string
		sentence          string
	}{
		{"rings", metric, diffing.Sight{Aspect: diffing.RingCount, Old: rings(2), New: rings(3), Size: 1, Unit: "1", Limit: 1},
			"2 rings → 3 rings", "+1", "1 ring", "One more ring."},
		{"a place", metric, place, "1568 mm → 1468 mm", "−100 mm", "102 mm", "The butt ring stands 100 mm nearer the butt: 1468 mm instead of 1568 mm."},
		{"a place in inches", shouted, place, "61,7 in → 57,8 in", "−3,9 in", "4,0 in", "The butt ring stands 3,9 in nearer the butt: 57,8 in instead of 61,7 in."},
		{"a size", shouted, size, "20 mm → 6 mm", "−2 sizes", "1 size", "A butt ring of 6 mm instead of 20 mm."},
		{"another cork", metric, handle("cork-flor", "Cork-fine"), "cork-flor → Cork-fine", "", "", "The cork of the handle is different."},
		{"another stuff", metric, handle("cork-flor", "EVA foam"), "cork-flor → EVA foam", "", "", "A different handle: foam instead of cork."},
		{"a part of the workshop's", metric, handle("cap-24", "cap-22"), "cap-24 → cap-22", "", "", "The handle is made differently."},
		{"a colour that stays", shouted, colour, "copper → NONE", "", "STAYS", "The whippings are no longer copper."},
		{"a colour that may change", metric, free, "copper → none", "", "", "The whippings are no longer copper."},
	} {
		t.Run(test.name, func(t *testing.T) {
			got := []string{test.teller.FromTo(test.sight), test.teller.By(test.sight), test.teller.Limit(test.sight), test.teller.Sight(test.sight)}
			for i, want := range []string{test.change, test.by, test.limit, test.sentence} {
				if got[i] != want {
					t.Errorf("got %q, want %q", got[i], want)
				}
			}
		})
	}
}
