package say

import (
	"testing"

	"rodlore/diffing"
)

func TestGroup(t *testing.T) {
	tests := map[diffing.Group]string{
		diffing.RingPattern: "ring pattern", diffing.RingParts: "ring parts", diffing.Sections: "sections", diffing.Joints: "joint",
		diffing.Handle: "handle", diffing.Finish: "whipping and finish", diffing.StatedLength: "stated length",
		diffing.Mounted: "what is mounted on the blank", diffing.Wording: "wording", diffing.Settings: "limits and habits", diffing.Fitted: "fitted to a rod",
		diffing.BlankRead:               "what was read of the blank",
		diffing.BlankOf("lower middle"): "blank of the lower middle", diffing.CutOf("tip"): "blank cut of the tip", diffing.SharedBy("SL-8"): "SL-8 itself",
	}
	for group, want := range tests {
		if got := English().Group(group); got != want {
			t.Errorf("%s is called %q, want %q", group, got, want)
		}
	}
}
