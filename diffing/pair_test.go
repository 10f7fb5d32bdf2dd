package diffing

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestRingPairs(t *testing.T) {
	old := goodSource(t)
	tests := []struct {
		name     string
		old, new string
		want     []RingPair
	}{
		{"nothing changed", "", "", []RingPair{{0, 0}, {1, 1}, {2, 2}}},
		{"moved a little", "at: 95 mm", "at: 120 mm", []RingPair{{0, 0}, {1, 1}, {2, 2}}},
		{"one taken out", "  - {at: 95 mm, part: SL-6}\n", "", []RingPair{{0, 0}, {1, -1}, {2, 1}}},
		{"one put in", "  - {at: 1480 mm", "  - {at: 700 mm, part: SL-6}\n  - {at: 1480 mm", []RingPair{{0, 0}, {1, 1}, {-1, 2}, {2, 3}}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			now := old
			if test.old != "" {
				now = old.edit(t, test.old, test.new)
			}
			if diff := cmp.Diff(test.want, Compare(old.spec(t), now.spec(t)).RingPairs()); diff != "" {
				t.Errorf("pairs (-want +got):\n%s", diff)
			}
		})
	}
}
