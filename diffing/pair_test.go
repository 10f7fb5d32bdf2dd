package diffing

import (
	"testing"

	"rodlore/models"

	"github.com/google/go-cmp/cmp"
)

func TestRingPairs(t *testing.T) {
	old := goodSource(t)
	tests := []struct {
		name     string
		old, new string
		want     []models.Match
	}{
		{"nothing changed", "", "", []models.Match{{Old: 0, New: 0}, {Old: 1, New: 1}, {Old: 2, New: 2}}},
		{"moved a little", "at: 95 mm", "at: 120 mm", []models.Match{{Old: 0, New: 0}, {Old: 1, New: 1}, {Old: 2, New: 2}}},
		{"one taken out", "  - {at: 95 mm, part: SL-6}\n", "", []models.Match{{Old: 0, New: 0}, {Old: 1, New: -1}, {Old: 2, New: 1}}},
		{"one put in", "  - {at: 1480 mm", "  - {at: 700 mm, part: SL-6}\n  - {at: 1480 mm", []models.Match{{Old: 0, New: 0}, {Old: 1, New: 1}, {Old: -1, New: 2}, {Old: 2, New: 3}}},
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
