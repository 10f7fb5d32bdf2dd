package beam_test

import (
	"fmt"
	"testing"
)

// BenchmarkCast is a whole cast, from rest to the end of the tip's swing. With
// a joint and eight rings a rod has no fewer elements than the first.
func BenchmarkCast(b *testing.B) {
	for _, elements := range []int{24, 48} {
		rod := castRod(b, elements)
		b.Run(fmt.Sprintf("%d elements", len(rod.Nodes())-1), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				thrown(b, rod, overhead)
			}
		})
	}
}
