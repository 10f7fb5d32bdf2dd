package evaluate_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/models/units"
)

func patternsOf(t testing.TB, s *models.Spec) *evaluate.Patterns {
	t.Helper()
	p, err := evaluate.New(s, models.DefaultSettings()).Patterns()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// lay lays out a pattern with the butt ring where it is.
func lay(t testing.TB, p *evaluate.Patterns, count int) *evaluate.Pattern {
	t.Helper()
	pattern, err := p.Lay(count, 0)
	if err != nil {
		t.Fatal(err)
	}
	return pattern
}

// onTop is a plain rod for a reel on top, with low rings.
func onTop(t testing.TB) *models.Spec {
	// The butt ring stands so near the reel that the line clears the blank there.
	s := plainRod(t, 100, 110, 250, 420, 620, 860, 1140, 1420, 1900)
	s.Reel.Kind = models.Multiplier
	s.Parts["ring"].Height.Value = 9e-3
	return s
}

// TestFiveAndTip holds that a long rod works with five rings and a tip ring: the
// line follows its bend, no ring bears much more than its share, and it is
// lighter, quicker and has fewer flat spots than with ten (common practice, no
// source).
func TestFiveAndTip(t *testing.T) {
	p := patternsOf(t, plainRod(t, 100, eight...))
	five, ten := lay(t, p, 5), lay(t, p, 10)
	// Between rings 14 mm high the line stands off by their height and by how
	// much a chord lies within the bend: less than a hundredth of the length.
	if gap := value(t, five.Figures, "line-gap"); gap > 14e-3+0.01*3 {
		t.Errorf("with five rings the line stands %.0f mm off the blank", 1e3*gap)
	}
	if spread := value(t, five.Figures, "ring-turn-spread"); spread > 1.2 {
		t.Errorf("of five rings one turns the line by %.2f times the mean", spread)
	}
	for _, key := range []string{"weight", "ring-weight", "whipping-weight", "flat-turn", "cast-mass", "parts-cost", "bench-time"} {
		if few, many := value(t, five.Figures, key), value(t, ten.Figures, key); few >= many {
			t.Errorf("%s is %g with five rings and %g with ten", key, few, many)
		}
	}
	for _, key := range []string{"recovery", "cast-share", "line-gap", "ring-load-worst"} {
		if few, many := value(t, five.Figures, key), value(t, ten.Figures, key); few <= many {
			t.Errorf("%s is %g with five rings and %g with ten", key, few, many)
		}
	}
}

// TestReelOnTopNeedsMoreRings holds that rings on the outside of the bend must
// stand closer to keep the line off the blank, and that rings inside it never
// let it touch (common practice, no source).
func TestReelOnTopNeedsMoreRings(t *testing.T) {
	under, top := patternsOf(t, plainRod(t, 100, eight...)), patternsOf(t, onTop(t))
	for _, count := range []int{3, 5, 8, 11} {
		if touch := value(t, lay(t, under, count).Figures, "line-touch"); touch != 0 {
			t.Errorf("under the rod, %d rings: the line lies on the blank over %g m", count, touch)
		}
	}
	few, many := value(t, lay(t, top, 4).Figures, "line-touch"), value(t, lay(t, top, 11).Figures, "line-touch")
	if few < 0.1 || many != 0 {
		t.Errorf("on top the line lies on the blank over %g m with four rings and %g m with eleven", few, many)
	}
}

// TestEvenness holds that a layout of as many rings as there are is more even
// than the one it began with, and says what is in its way.
func TestEvenness(t *testing.T) {
	for _, row := range []struct {
		name  string
		spec  *models.Spec
		count int
	}{
		{"inside the bend", plainRod(t, 100, 110, 250, 420, 620, 860, 1120, 1400, 1790), 8},
		{"inside the bend, few", plainRod(t, 100, five...), 5},
		{"on top", onTop(t), 8},
		{"crowded at the tip", plainRod(t, 100, 50, 100, 150, 200, 1500), 5},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := patternsOf(t, row.spec)
			present, err := p.Present()
			if err != nil {
				t.Fatal(err)
			}
			laid := lay(t, p, row.count)
			before, after := value(t, present.Figures, "ring-turn-spread"), value(t, laid.Figures, "ring-turn-spread")
			if after > before {
				t.Errorf("the worst turn goes from %.3f to %.3f times the mean", before, after)
			}
			if after > 1.1 && len(laid.Binding) == 0 {
				t.Errorf("nothing says why the worst turn is %.3f times the mean", after)
			}
		})
	}
}

// The butt ring stays unless another place is asked for, and its part stays.
func TestButtRing(t *testing.T) {
	p := patternsOf(t, plainRod(t, 100, five...))
	for _, at := range []float64{0, 1.5, 1.9} {
		pattern, err := p.Lay(6, at)
		if err != nil {
			t.Fatal(err)
		}
		want := at
		if at == 0 {
			want = 1.7
		}
		if got := pattern.Rings[6].At; math.Abs(got-want) > 1e-9 {
			t.Errorf("the butt ring stands at %g m, want %g", got, want)
		}
	}
}

// A rod with one ring gives its part to all of them.
func TestPatternsOfOneRing(t *testing.T) {
	p := patternsOf(t, plainRod(t, 100, 1500))
	if _, err := p.Present(); err != nil {
		t.Error(err)
	}
	for _, g := range lay(t, p, 4).Spec.Rings[1:] {
		if g.Part.Text != "ring" {
			t.Errorf("there is a %s at %g m", g.Part, g.At.Value)
		}
	}
}

func TestNoPattern(t *testing.T) {
	p := patternsOf(t, plainRod(t, 100, five...))
	for _, row := range []struct {
		name  string
		count int
		butt  float64
		want  string
	}{
		{"one ring", 1, 0, "1 rings: a pattern has 2 to 30"},
		{"too many", 31, 0, "31 rings: a pattern has 2 to 30"},
		{"on the handle", 5, 2.6, "5 rings: a butt ring 400 mm from the butt stands on the handle, which reaches to 498 mm"},
		{"on the tip", 5, 0.01, "5 rings: a butt ring 2990 mm from the butt stands on the tip"},
		{"no room", 25, 0.5, "25 rings: they do not fit between the tip and a butt ring 500 mm from it: there is no room for whippings that do not touch"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := p.Lay(row.count, row.butt)
			if err == nil || !strings.HasPrefix(err.Error(), row.want) {
				t.Errorf("got %v, want %s", err, row.want)
			}
		})
	}
	if _, err := evaluate.New(plainRod(t, 100), models.DefaultSettings()).Patterns(); err == nil {
		t.Error("a rod without running rings has patterns")
	}
}

// TestLike holds that a pattern like another rod's has its count and shares.
func TestLike(t *testing.T) {
	p := patternsOf(t, plainRod(t, 100, eight...))
	long := plainRod(t, 100, five...)
	for i := range long.Sections { // another length, the same shares
		long.Sections[i].Length.Value *= 1.1
		long.Sections[i].Tube[1].At.Value *= 1.1
	}
	long.Joints[0].Length.Value *= 1.1
	got, err := p.Like(long)
	if err != nil {
		t.Fatal(err)
	}
	var at []float64
	for _, g := range got.Rings[1:] {
		at = append(at, math.Round(1e3*g.At))
	}
	want := []float64{155, 364, 655, 1045, 1545} // five, over 1.1
	if diff := cmp.Diff(want, at); diff != "" {
		t.Errorf("places in mm (-want +got):\n%s", diff)
	}
	if !slices.ContainsFunc(got.Binding, func(n evaluate.Note) bool {
		place, ok := n.Args["place"].(evaluate.Quantity)
		return n.Key == "binding.on joint" && ok && math.Abs(place.Value-1.545) < 1e-9 && n.Args["lower"] == "butt"
	}) {
		t.Errorf("nothing says that the ring at 1545 mm stands on a joint: %v", got.Binding)
	}
}

// A layout does not depend on what was laid out before or goes on beside it.
func TestLayoutsAtOnce(t *testing.T) {
	p := patternsOf(t, onTop(t))
	alone := map[int][]evaluate.RingLoad{}
	for count := 3; count <= 12; count++ {
		alone[count] = lay(t, p, count).Rings
	}
	var all sync.WaitGroup
	for count := 3; count <= 12; count++ {
		all.Go(func() {
			pattern, err := p.Lay(count, 0)
			if err != nil {
				t.Error(err)
				return
			}
			if diff := cmp.Diff(alone[count], pattern.Rings); diff != "" {
				t.Errorf("%d rings are laid out otherwise (-alone +at once):\n%s", count, diff)
			}
		})
	}
	all.Wait()
}

// The picture shows the line in the rings, and the figures are those of the
// rod with the rings.
func TestPatternIsWhole(t *testing.T) {
	s := plainRod(t, 100, eight...)
	pattern := lay(t, patternsOf(t, s), 6)
	if diff := cmp.Diff(evaluated(t, pattern.Spec), pattern.Figures); diff != "" {
		t.Errorf("figures (-of the spec +of the pattern):\n%s", diff)
	}
	if len(pattern.Rings) != 7 || len(pattern.Line) != 8 || len(pattern.Spec.Rings) != 7 {
		t.Fatalf("%d ring loads, %d places of the line, %d rings", len(pattern.Rings), len(pattern.Line), len(pattern.Spec.Rings))
	}
	for i, place := range pattern.Line[:7] {
		// A ring stands off the blank by its height and the blank's radius.
		nearest := math.Inf(1)
		for _, pt := range pattern.Bent {
			nearest = min(nearest, math.Hypot(pt.X-place.X, pt.Y-place.Y))
		}
		if nearest > 14e-3+8e-3 {
			t.Errorf("the line runs %g m off the blank at ring %d", nearest, i)
		}
	}
	if len(s.Rings) != 9 {
		t.Error("the rod that it was made of changed")
	}
}

// TestPatternProperties lays patterns of any count out on rods of many kinds.
func TestPatternProperties(t *testing.T) {
	check := func(seed uint64, count int) {
		t.Run(fmt.Sprintf("rod %d with %d rings", seed, count), func(t *testing.T) {
			t.Parallel()
			s := varied(t, rand.New(rand.NewPCG(seed, 0)))
			checkPattern(t, s, lay(t, patternsOf(t, s), count), count)
		})
	}
	for seed := range uint64(24) {
		check(seed, 3+int(seed)%13)
	}
	// Equal spacings up to a joint and below it: whole millimetres take a ring
	// further off than elsewhere.
	check(497, 13)
}

// varied is a plain rod of some taper, power, joint and reel.
func varied(t *testing.T, r *rand.Rand) *models.Spec {
	between := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	var at []float64
	sum, spacing, growth := 0.0, between(60, 160), between(1.1, 1.35)
	butt := math.Round(between(1200, 2100))
	for ; sum+spacing < butt-60; spacing *= growth {
		sum += spacing
		at = append(at, math.Round(sum))
	}
	s := plainRod(t, between(70, 160), append(at, butt)...)
	s.Sections[1].Tube[0].Outside.Value = units.Length(between(1.4e-3, 4e-3))
	overlap := units.Length(between(40e-3, 200e-3))
	lower := &s.Sections[0]
	lower.Length.Value += overlap - s.Joints[0].Length.Value
	lower.Tube[1].At.Value = lower.Length.Value
	s.Joints[0].Length.Value = overlap
	if r.IntN(2) == 0 {
		s.Reel.Kind = models.Multiplier
	}
	return s
}

// checkPattern checks what holds of every pattern.
func checkPattern(t *testing.T, s *models.Spec, p *evaluate.Pattern, count int) {
	if got := len(p.Spec.Rings) - 1; got != count {
		t.Errorf("it has %d rings, want %d", got, count)
	}
	joint := s.JointSpans()[0]
	const reach, whipping = 13e-3 + 7.5e-3, 15e-3 // half the spread of the feet and half a whipping; a whipping
	before, spacing := 0.0, 0.0
	for i, g := range p.Spec.Rings[1:] {
		at := float64(g.At.Value)
		mm := at * 1e3
		if math.Abs(mm-math.Round(mm)) > 1e-6 {
			t.Errorf("ring %d at %g mm is in no whole millimetre", i, mm)
		}
		if next := at - before; next < spacing-1e-9 {
			t.Errorf("ring %d: the spacing shrinks from %g to %g m", i, spacing, next)
		} else {
			before, spacing = at, next
		}
		if at > joint.From-whipping-reach+1e-9 && at < joint.To+whipping+reach-1e-9 && i < count-1 {
			t.Errorf("ring %d at %g m stands on the joint from %g to %g m", i, at, joint.From, joint.To)
		}
		if !slices.ContainsFunc(s.Rings, func(old models.Ring) bool { return old.Part.Text == g.Part.Text }) {
			t.Errorf("ring %d is a %s, which the rod has not", i, g.Part)
		}
	}
	if last, was := p.Spec.Rings[count], s.Rings[len(s.Rings)-1]; last.At != was.At || last.Part != was.Part {
		t.Errorf("the butt ring went from %v to %v", was, last)
	}
	if got := fmt.Sprintf("%.0f mm", before*1e3); p.Spec.Rings[count].At.Text != got {
		t.Errorf("the place of the butt ring is written %q", p.Spec.Rings[count].At.Text)
	}
}
