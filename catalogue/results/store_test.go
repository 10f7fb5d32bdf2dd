package results_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"rodlore/catalogue/cache"
	"rodlore/catalogue/results"
	"rodlore/evaluate"
)

// kept are figures as they are kept.
type kept struct {
	*evaluate.Figures
	From *evaluate.Tolerances
}

// figures are made up, with everything in them that figures may have.
func figures(weight float64) *kept {
	tolerances := &evaluate.Tolerances{
		Inputs: []evaluate.Input{
			{ID: evaluate.InputID{Kind: evaluate.WallInput, Of: "tip", Item: "0a"}, Name: evaluate.NewNote("inputs.wall", "section", "tip √2"), Deviation: 4e-5, Unit: "m"},
			{ID: evaluate.InputID{Kind: evaluate.TurnInput}, Name: evaluate.NewNote("inputs.turn"), Deviation: 0.017, Unit: "rad"},
		},
		Spreads: map[string]*evaluate.Spread{"weight": {
			Effects: []float64{0.003, 0}, Rest: 1e-4,
			Parts: []evaluate.Part{{Value: weight, Minus: []float64{-0.25, 0}, Plus: []float64{0.5, 0}}},
			Curve: []evaluate.Knot{{Part: 0.1, Figure: weight}, {Part: 0.2, Figure: 0.3}},
		}},
	}
	return &kept{&evaluate.Figures{
		Method: "m/1", Wants: []float64{0.98, math.NaN()},
		List: []evaluate.Figure{
			{Key: "weight", Value: weight, Unit: "kg", Aside: evaluate.NewNote("asides.strain", "place", evaluate.Quantity{Unit: "m", Value: math.Sqrt2}), Error: 1e-9, Tolerance: 0.003, Sampled: true},
			{Key: "rings", Value: 8, Unit: "1"},
			{Key: "test-curve", Value: 6, Unit: "N", Tolerance: math.NaN()},
		},
		Notes: []evaluate.Note{{Figure: "weight", Key: "a note"}, evaluate.NewNote("another", "n", 2, "over", evaluate.Thickness(1e-3), "why", evaluate.NewNote("a third"))},
	}, tolerances}
}

// same reports how two figures differ.
func same(want, got *kept) string {
	return cmp.Diff(want, got, cmpopts.EquateNaNs(), cmpopts.EquateEmpty())
}

var secret = []byte("a secret of the tests")

// open gives the store in a folder as one build of the program has it.
func open(dir string) *results.Store { return results.In(cache.Open(dir, secret, "a build")) }

func key(i int) results.Key { return results.KeyOf("spec", fmt.Sprint(i)) }

func TestKeptFromRunToRun(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "not", "there yet")
	plain := &kept{Figures: &evaluate.Figures{Method: "m/1", List: []evaluate.Figure{}}}
	s := open(dir)
	results.Put(s, "skerry-10", key(1), figures(0.2))
	results.Put(s, "skerry-10", key(2), plain)
	results.Put(s, "../skerry", key(1), figures(0.3))
	for _, store := range []*results.Store{s, open(dir)} {
		for _, tc := range []struct {
			model string
			key   results.Key
			want  *kept
		}{
			{"skerry-10", key(1), figures(0.2)}, {"skerry-10", key(2), plain}, {"../skerry", key(1), figures(0.3)},
		} {
			got, ok := results.Get[*kept](store, tc.model, tc.key)
			if !ok {
				t.Fatalf("%s: nothing is kept", tc.model)
			}
			if diff := same(tc.want, got); diff != "" {
				t.Errorf("%s (-want +got):\n%s", tc.model, diff)
			}
		}
		if _, ok := results.Get[*kept](store, "skerry-10", key(3)); ok {
			t.Error("figures that were never kept are found")
		}
	}
}

func TestKeyTellsTextsApart(t *testing.T) {
	if results.KeyOf("ab", "c") == results.KeyOf("a", "bc") {
		t.Error("two lists of texts have one key")
	}
}

// theFile is the one file of the folder.
func theFile(t *testing.T, dir string) string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.kept"))
	if err != nil || len(files) != 1 {
		t.Fatalf("files %v, %v", files, err)
	}
	return files[0]
}

// TestDamage cuts the file short, changes bits of it and puts other things
// into it: what is found is right, and what comes after the damage is found
// where it is whole.
func TestDamage(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		dir, err := os.MkdirTemp(t.TempDir(), "")
		if err != nil {
			rt.Fatal(err)
		}
		s := open(dir)
		const n = 4
		for i := range n {
			results.Put(s, "skerry-10", key(i), figures(float64(i)))
		}
		file := theFile(t, dir)
		raw, err := os.ReadFile(file)
		if err != nil {
			rt.Fatal(err)
		}
		switch rapid.IntRange(0, 2).Draw(rt, "damage") {
		case 0:
			raw = raw[:rapid.IntRange(0, len(raw)-1).Draw(rt, "cut")]
		case 1:
			for range rapid.IntRange(1, 3).Draw(rt, "bits") {
				raw[rapid.IntRange(0, len(raw)-1).Draw(rt, "byte")] ^= 1 << rapid.IntRange(0, 7).Draw(rt, "bit")
			}
		case 2:
			at := rapid.IntRange(0, len(raw)).Draw(rt, "at")
			other := rapid.SliceOfN(rapid.Byte(), 1, 60).Draw(rt, "other")
			raw = append(append(append([]byte{}, raw[:at]...), other...), raw[at:]...)
		}
		if err := os.WriteFile(file, raw, 0o600); err != nil {
			rt.Fatal(err)
		}
		again := open(dir)
		found := 0
		for i := range n {
			if got, ok := results.Get[*kept](again, "skerry-10", key(i)); ok {
				found++
				if diff := same(figures(float64(i)), got); diff != "" {
					rt.Fatalf("result %d is another (-want +got):\n%s", i, diff)
				}
			}
		}
		results.Put(again, "skerry-10", key(n), figures(n))
		if got, ok := results.Get[*kept](open(dir), "skerry-10", key(n)); !ok || same(figures(n), got) != "" {
			rt.Fatal("what is kept after the damage is not found")
		}
	})
}

// TestOneBitCostsOneResult holds that damage in one frame leaves the others.
func TestOneBitCostsOneResult(t *testing.T) {
	dir := t.TempDir()
	s := open(dir)
	for i := range 3 {
		results.Put(s, "skerry-10", key(i), figures(float64(i)))
	}
	file := theFile(t, dir)
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	raw[len(raw)/2] ^= 4
	if err := os.WriteFile(file, raw, 0o600); err != nil {
		t.Fatal(err)
	}
	again := open(dir)
	for i, want := range []bool{true, false, true} {
		if _, ok := results.Get[*kept](again, "skerry-10", key(i)); ok != want {
			t.Errorf("result %d is found: %v", i, ok)
		}
	}
}

// TestForgedResult holds that figures which are whole and under the right key, but
// were not kept by this user, are not found, and cost nobody theirs.
func TestForgedResult(t *testing.T) {
	dir := t.TempDir()
	results.Put(open(dir), "skerry-10", key(1), figures(0.2))
	forger := results.In(cache.Open(dir, []byte("a guess"), "a build"))
	results.Put(forger, "skerry-10", key(1), figures(0.1))
	results.Put(forger, "skerry-10", key(2), figures(0.1))
	s := open(dir)
	if got, ok := results.Get[*kept](s, "skerry-10", key(1)); !ok || same(figures(0.2), got) != "" {
		t.Errorf("found %v, %+v", ok, got)
	}
	if _, ok := results.Get[*kept](s, "skerry-10", key(2)); ok {
		t.Error("forged figures are found")
	}
}

// TestFolderThatIsNone holds that nothing is kept, and nothing breaks, where
// the folder cannot be one.
func TestFolderThatIsNone(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	s := open(filepath.Join(file, "folder"))
	results.Put(s, "skerry-10", key(1), figures(1))
	if _, ok := results.Get[*kept](s, "skerry-10", key(1)); !ok {
		t.Error("the run itself forgets what it has worked out")
	}
	if _, ok := results.Get[*kept](open(filepath.Join(file, "folder")), "skerry-10", key(1)); ok {
		t.Error("something is kept nowhere")
	}
}

// TestAtOnce has several stores of one folder, as several programs have, write
// and read at the same time.
func TestAtOnce(t *testing.T) {
	dir := t.TempDir()
	const writers, each = 8, 25
	var all sync.WaitGroup
	for w := range writers {
		all.Go(func() {
			s := open(dir)
			for i := range each {
				results.Put(s, "skerry-10", key(w*each+i), figures(float64(w*each+i)))
				results.Get[*kept](open(dir), "skerry-10", key(i))
			}
		})
	}
	all.Wait()
	s := open(dir)
	for i := range writers * each {
		got, ok := results.Get[*kept](s, "skerry-10", key(i))
		if !ok || got.List[0].Value != float64(i) {
			t.Fatalf("result %d is found: %v", i, ok)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	dir := b.TempDir()
	s := open(dir)
	for i := range 40 {
		results.Put(s, "skerry-10", key(i), figures(float64(i)))
	}
	for b.Loop() {
		again := open(dir)
		for i := range 40 {
			results.Get[*kept](again, "skerry-10", key(i))
		}
	}
}
