package diffing

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/evaluate"
	"rodlore/models"
)

// settings are the built-in ones.
func settings(t testing.TB) *models.Settings {
	t.Helper()
	set, err := models.ParseSettings("range.yaml", nil)
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// evaluator works out figures by the built-in settings.
func evaluator(t testing.TB) func(*models.Spec) (*evaluate.Figures, error) {
	set := settings(t)
	return func(s *models.Spec) (*evaluate.Figures, error) { return evaluate.New(s, set).Figures() }
}

// shareOut shares out the way between two sources.
func shareOut(t *testing.T, old, now source) *Shares {
	t.Helper()
	s, err := Compare(old.spec(t), now.spec(t)).ShareOut(t.Context(), evaluator(t))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// of is the share of a group in a figure.
func (s *Shares) of(t *testing.T, g Group, key string) float64 {
	t.Helper()
	for _, share := range s.List {
		if v, ok := share.Figures[key]; ok && share.Group == g {
			return v
		}
	}
	t.Fatalf("%s has no share of %s; without %q", g, key, s.Without)
	return 0
}

// TestSharesOfWeight shares out weights that a maker can add up by hand.
func TestSharesOfWeight(t *testing.T) {
	const gram = 1e-3
	base := goodSource(t)
	const ring = oneRing
	for _, row := range []struct {
		name     string
		old, new source
		key      string
		want     map[Group]float64
	}{
		{"rings of their own weight", base, base.edits(t, ring, ring+"  - {at: 300 mm, part: SL-6}\n  - {at: 600 mm, part: SL-6}\n", "mass: 28 g", "mass: 30 g"),
			"ring-weight", map[Group]float64{RingPattern: 0.64 * gram, SharedBy("seat-16"): 0}},
		{"handle of its own weight", base, base.edits(t, ring, ring+"  - {at: 300 mm, part: SL-6}\n", "mass: 28 g", "mass: 30 g"),
			"handle-weight", map[Group]float64{RingPattern: 0, SharedBy("seat-16"): 2 * gram}},
		// A DL-16 of 2.4 g becomes a DL-20 of 3.6 g, whatever the pattern. Two
		// rings more are 0.64 g with the old parts too, since the nearest old
		// ring is an SL-6.
		{"pattern and parts apart", base, base.edits(t, ring, ring+"  - {at: 300 mm, part: SL-6}\n  - {at: 600 mm, part: SL-6}\n", "1480 mm, part: DL-16", "1480 mm, part: DL-20"),
			"ring-weight", map[Group]float64{RingPattern: 0.64 * gram, RingParts: 1.2 * gram}},
		// The ring more weighs 2.4 g or, of the heavier part, 2.6 g; the part is
		// heavier by 0.2 g on one ring or on two.
		{"a heavier part on one ring more", base, base.edits(t, ring, ring+"  - {at: 900 mm, part: DL-16}\n", "mass: 2.4 g", "mass: 2.6 g"),
			"ring-weight", map[Group]float64{RingPattern: 2.5 * gram, SharedBy("DL-16"): 0.3 * gram}},
	} {
		t.Run(row.name, func(t *testing.T) {
			s := shareOut(t, row.old, row.new)
			for g, want := range row.want {
				// Masses are sums of a few parts; only rounding counts.
				if got := s.of(t, g, row.key); math.Abs(got-want) > 1e-9*gram {
					t.Errorf("%s brings %v kg, want %v", g, got, want)
				}
			}
		})
	}
}

// TestSharesAddUp checks every figure of a rod of which nearly everything
// changed: the shares add up to the change, those of the way back are the
// opposite, and every edit is told.
func TestSharesAddUp(t *testing.T) {
	old := goodSource(t)
	now := old.edits(t, oneRing, fourRings, "1480 mm, part: DL-16, whipping: 24 mm", "1500 mm, part: DL-20, whipping: 26 mm",
		"diameter: 27 mm", "diameter: 25 mm", "length: 82 mm", "length: 84 mm", "wall: 1.05 mm", "wall: 1 mm",
		"mass: 0.32 g", "mass: 0.3 g", "casts: 10 g to 40 g", "casts: 20 g to 50 g", "name: Skerry 10", "name: Skerry X")
	there, back := shareOut(t, old, now), shareOut(t, now, old)
	work := evaluator(t)
	a, errA := work(old.spec(t))
	b, errB := work(now.spec(t))
	if err := errors.Join(errA, errB); err != nil {
		t.Fatal(err)
	}
	if len(there.Without) > 0 || len(b.List) < 25 {
		t.Fatalf("%d figures, without %q", len(b.List), there.Without)
	}
	for _, f := range b.List {
		was, _ := a.Get(f.Key)
		sum := 0.0
		for i, share := range there.List {
			v, w := share.Figures[f.Key], back.List[i].Figures[f.Key]
			sum += v
			if math.Abs(v+w) > 1e-9*math.Abs(f.Value) {
				t.Errorf("%s brings %v of %s, and %v on the way back", share.Group, v, f.Key, w)
			}
		}
		if change := f.Value - was.Value; math.Abs(sum-change) > 1e-9*math.Abs(change) && math.Abs(change) > f.Error {
			t.Errorf("%s: the shares add up to %v, the change is %v", f.Key, sum, change)
		}
	}
	var told []Group
	for _, share := range there.List {
		told = append(told, share.Group)
	}
	want := []Group{Settings, BlankOf("butt"), Joints, RingPattern, RingParts, Finish, Handle, SharedBy("SL-6")}
	if d := cmp.Diff(want, told); d != "" {
		t.Errorf("edits (-want +got):\n%s", d)
	}
}

func TestSharesOfNothing(t *testing.T) {
	base := goodSource(t)
	for _, row := range []struct {
		name string
		new  source
	}{
		{"the same rod", base},
		{"another spelling", base.edit(t, "length: 10 ft", "length: 3048 mm")},
		{"the length as stated", base.edit(t, "length: 10 ft", "length: 3050 mm")},
		{"words, colours and limits", base.edits(t, "name: Skerry 10", "name: Skerry", "colour: moss", "colour: rust", "at most 205 g", "at most 200 g", "wall: 0.04 mm", "wall: 0.05 mm")},
	} {
		t.Run(row.name, func(t *testing.T) {
			if s := shareOut(t, base, row.new); len(s.List)+len(s.Without) > 0 {
				t.Errorf("shares %+v", s)
			}
		})
	}
}

// weighing gives one figure, which worth works out.
func weighing(worth func(*models.Spec) (float64, error)) func(*models.Spec) (*evaluate.Figures, error) {
	return func(s *models.Spec) (*evaluate.Figures, error) {
		v, err := worth(s)
		figs := &evaluate.Figures{List: []evaluate.Figure{{Key: "rings", Value: float64(len(s.Rings) - 1)}}}
		if !math.IsNaN(v) {
			figs.List = append(figs.List, evaluate.Figure{Key: "weight", Value: v, Unit: "kg"})
		}
		return figs, err
	}
}

// hasOnly reports whether the spec has the heavier cork and not the longer
// joint.
func hasOnly(s *models.Spec) bool {
	return s.Materials["cork"].Density.Value > 215 && s.Joints[0].Length.Value < 83e-3
}

func TestSharesMissing(t *testing.T) {
	old := goodSource(t)
	now := old.edits(t, "density: 210 kg/m3", "density: 220 kg/m3", "length: 82 mm", "length: 84 mm", oneRing, "")
	t.Run("a figure that a combination lacks", func(t *testing.T) {
		s, err := Compare(old.spec(t), now.spec(t)).ShareOut(t.Context(), weighing(func(s *models.Spec) (float64, error) {
			if hasOnly(s) {
				return math.NaN(), nil
			}
			return 1, nil
		}))
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(s.Without, []string{"weight"}) {
			t.Errorf("without %q", s.Without)
		}
		for _, share := range s.List {
			if _, ok := share.Figures["weight"]; ok {
				t.Errorf("%s has a share of weight", share.Group)
			}
		}
		if got := s.of(t, RingPattern, "rings"); got != -1 {
			t.Errorf("the ring pattern brings %v rings, want -1", got)
		}
	})
	t.Run("a combination that is no rod", func(t *testing.T) {
		_, err := Compare(old.spec(t), now.spec(t)).ShareOut(t.Context(), weighing(func(s *models.Spec) (float64, error) {
			if hasOnly(s) {
				return 0, errors.New("nothing is free to bend")
			}
			return 1, nil
		}))
		if err == nil || !strings.Contains(err.Error(), "with shared cork changed alone there is no rod: nothing is free") {
			t.Errorf("error %v", err)
		}
	})
	t.Run("a combination that fails the checks", func(t *testing.T) {
		held := old.edit(t, "finish: {", "held: {to: 2.6 m}\nfinish: {")
		_, err := Compare(held.spec(t), shortened(t).spec(t)).ShareOut(t.Context(), weighing(func(*models.Spec) (float64, error) { return 1, nil }))
		var faults models.Faults
		if err == nil || errors.As(err, &faults) || !strings.Contains(err.Error(), "changed alone there is no rod: held.to: ") {
			t.Errorf("error %v", err)
		}
	})
	t.Run("an end that is no rod", func(t *testing.T) {
		broken := errors.New("broken")
		_, err := Compare(old.spec(t), now.spec(t)).ShareOut(t.Context(), func(*models.Spec) (*evaluate.Figures, error) { return nil, broken })
		if !errors.Is(err, broken) {
			t.Errorf("error %v", err)
		}
	})
}

func TestSharesWorkOutEveryRodOnce(t *testing.T) {
	old := goodSource(t)
	now := old.edits(t, "density: 210 kg/m3", "density: 220 kg/m3", "length: 82 mm", "length: 84 mm", oneRing, "", "name: Skerry 10", "name: Skerry")
	var rods atomic.Int64
	_, err := Compare(old.spec(t), now.spec(t)).ShareOut(t.Context(), weighing(func(*models.Spec) (float64, error) {
		rods.Add(1)
		return 1, nil
	}))
	if err != nil {
		t.Fatal(err)
	}
	if n := rods.Load(); n != 8 {
		t.Errorf("three edits took %d rods, want 8", n)
	}
}

// TestSharesSampled makes more edits than are worked out exactly. Weights of
// parts add up, so every order gives the same shares and the standard errors
// are those of rounding.
func TestSharesSampled(t *testing.T) {
	const parts = 12
	old := goodSource(t)
	var rings, lines strings.Builder
	for i := range parts {
		fmt.Fprintf(&rings, "  - {at: %d mm, part: R-%d}\n", 100+50*i, i)
		fmt.Fprintf(&lines, "  R-%d: {size: 6 mm, height: 7 mm, feet: 1, foot: {length: 9 mm, width: 1.6 mm, thickness: 0.35 mm}, frame: steel, mass: 0.5%02d g}\n", i, i)
	}
	old = old.edits(t, oneRing, rings.String(), "seats:", lines.String()+"seats:")
	now := old
	for i := range parts {
		now = now.edit(t, fmt.Sprintf("mass: 0.5%02d g", i), fmt.Sprintf("mass: 0.6%02d g", i))
	}
	light := func(s *models.Spec) (*evaluate.Figures, error) { // one figure is enough to sum
		weight := 0.0
		for _, r := range s.Rings {
			weight += float64(s.Parts[r.Part.Text].Mass.Value)
		}
		return &evaluate.Figures{List: []evaluate.Figure{{Key: "ring-weight", Value: weight, Unit: "kg"}}}, nil
	}
	s, err := Compare(old.spec(t), now.spec(t)).ShareOut(t.Context(), light)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.List) != parts || s.Orders == 0 {
		t.Fatalf("%d shares, %d orders", len(s.List), s.Orders)
	}
	for _, share := range s.List {
		if got := share.Figures["ring-weight"]; math.Abs(got-0.1e-3) > 1e-12 || share.StandardErrors["ring-weight"] > 1e-12 {
			t.Errorf("%s brings %v ± %v kg, want 0.1 g", share.Group, got, share.StandardErrors["ring-weight"])
		}
	}
	again, err := Compare(old.spec(t), now.spec(t)).ShareOut(t.Context(), light)
	if err != nil || !cmp.Equal(s, again) {
		t.Errorf("the second time the shares are others: %v", err)
	}
}
