package diffing

import "testing"

// TestComparerForgets compares one trial after the other with the same spec: the pair
// that was compared last is there still, and what is remembered has a bound.
func TestComparerForgets(t *testing.T) {
	c, old := NewComparer(StepLimits{}), goodSource(t).spec(t)
	for range 10 * mostPairs {
		trial := *old
		now := &trial
		one := c.Compare(old, now)
		if got := len(one.Changes()); got != 0 {
			t.Fatalf("%d changes between two specs that say the same", got)
		}
		if c.Compare(old, now) != one {
			t.Fatal("the pair compared last is compared again")
		}
		if len(c.pairs) > mostPairs || len(c.read) > mostPairs+1 {
			t.Fatalf("%d pairs and the leaves of %d specs are remembered", len(c.pairs), len(c.read))
		}
	}
}
