package catalogue

import (
	"sync"
	"testing"
)

// TestFiguresAtOnce holds that a range that was just opened may be asked for
// settings and figures by several goroutines; the race detector sees what is
// written twice.
func TestFiguresAtOnce(t *testing.T) {
	r := withRods(t).open(t)
	rev, err := r.Find("brook", "2021")
	if err != nil {
		t.Fatal(err)
	}
	want, err := withRods(t).open(t).FiguresOf(t.Context(), rev.Spec(), rev)
	if err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			figs, err := r.FiguresWithTolerances(t.Context(), rev)
			if err != nil {
				t.Error(err)
				return
			}
			weight, _ := figs.Get("weight")
			if told, _ := want.Get("weight"); told.Value != weight.Value || told.Tolerance != weight.Tolerance {
				t.Errorf("the weight is %+v, by itself %+v", weight, told)
			}
			other, err := r.FiguresOf(t.Context(), rev.Spec(), rev)
			if err != nil || len(other.List) != len(want.List) {
				t.Errorf("%v, %v", other, err)
			}
		})
	}
	all.Wait()
	revs, err := r.Revisions("ditch")
	if err != nil {
		t.Fatal(err)
	}
	if err := r.EvaluateAll(t.Context(), revs); err != nil {
		t.Error(err)
	}
}
