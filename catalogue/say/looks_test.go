package say

import (
	"testing"

	"rodlore/diffing"
	"rodlore/models"
)

// In English what is seen is called on pages what it is called elsewhere.
func TestLooks(t *testing.T) {
	for _, name := range []string{"none", "stays", "as bought", "no butt cap", string(models.Overlap), string(models.Spigot), string(models.Ferrule)} {
		if got := English().Look(name); got != name {
			t.Errorf("%s is called %q", name, got)
		}
	}
	for _, thing := range []string{"ring", "section", "size", "grip"} {
		for n, want := range map[int]string{0: "0 " + thing + "s", 1: "1 " + thing, 2: "2 " + thing + "s"} {
			if got := English().Things(thing, n); got != want {
				t.Errorf("%d of %s are %q", n, thing, got)
			}
		}
	}
	if got := English().Taper("27 mm", "20 mm"); got != "27 mm to 20 mm" {
		t.Errorf("a taper is %q", got)
	}
	for _, a := range []diffing.Aspect{
		diffing.RingCount, diffing.ButtRingCount, diffing.ButtRingSize, diffing.ButtRingPlace, diffing.RodLength, diffing.SectionCount,
		diffing.JointKind, diffing.HandleLength, diffing.HandleShape, diffing.ReelSeat, diffing.ReelSeatPlace, diffing.BlankColour, diffing.WhippingColour,
	} {
		if got := English().Aspect(a); got != string(a) {
			t.Errorf("%s is called %q", a, got)
		}
	}
}
