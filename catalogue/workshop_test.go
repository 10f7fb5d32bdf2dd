package catalogue

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/evaluate/control"
)

// weightOf is what a model of the test range works out to, kg, with its
// tolerance.
func weightOf(t *testing.T, r *Range, model string) (value, tolerance float64) {
	t.Helper()
	rev, err := r.Find(model, "2021")
	if err != nil {
		t.Fatal(err)
	}
	figs, err := r.FiguresWithTolerances(t.Context(), rev)
	if err != nil {
		t.Fatal(err)
	}
	f, _ := figs.Get("weight")
	return f.Value, f.Tolerance
}

// withWeights is a range whose rods, one a month, are off by so many tolerances,
// in turn of either model.
func withWeights(t *testing.T, off ...float64) *memory {
	t.Helper()
	m := withRods(t)
	r := m.open(t)
	var b strings.Builder
	b.WriteString("built:\n")
	for i, off := range off {
		model := []string{"brook", "ditch"}[i%2]
		value, tolerance := weightOf(t, r, model)
		fmt.Fprintf(&b, "  - {serial: %03d, model: %s, release: 2021, date: 2022-%02d-01, weight: %.6f g}\n",
			i+1, model, i+1, 1e3*(value+off*tolerance))
	}
	delete(m.working, "builds/2021.yaml")
	m.working["builds/2022.yaml"] = b.String()
	return m
}

func TestChartWeights(t *testing.T) {
	off := []float64{0.3, -0.7, 0.5, 1.2, 1.9, 1.1, 1.8, 1.2, 2.0, 1.3, 1.7, 0.1}
	r := withWeights(t, off...).open(t)
	c, err := r.ChartWeights(t.Context(), "")
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range c.Values {
		// The balance's tenth of a gram and the digits of the file.
		if math.Abs(v-off[i]) > 0.02*math.Abs(off[i]) {
			t.Errorf("rod %d is off by %v, want %v", i+1, v, off[i])
		}
	}
	if diff := cmp.Diff([]control.Signal{{Rule: control.Run, From: 3, To: 10, Above: true}}, c.Control.Signals); diff != "" {
		t.Errorf("signals (-want +got):\n%s", diff)
	}
	one, err := r.ChartWeights(t.Context(), "ditch")
	if err != nil {
		t.Fatal(err)
	}
	_, tolerance := weightOf(t, r, "ditch")
	if len(one.Values) != 6 || one.InDeviations || math.Abs(one.Values[0]-off[1]*tolerance) > 1e-8 {
		t.Errorf("got %v kg, want first %v", one.Values, off[1]*tolerance)
	}
}

func TestChartLeavesOutWhatIsNoWeight(t *testing.T) {
	m := withWeights(t, 0.1, 0.2)
	value, _ := weightOf(t, m.open(t), "brook")
	m.working["builds/2022.yaml"] += fmt.Sprintf(`  - {serial: 0200, model: brook, release: 2021, date: 2022-07-01, weight: %.1f kg}
  - {serial: 0201, model: brook, release: 2021, date: 2022-07-02}
  - {serial: 0202, model: brook, release: 1900, date: 2022-07-03, weight: 90 g}
`, 100*value)
	c, err := m.open(t).ChartWeights(t.Context(), "")
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Values) != 2 || c.Control != nil || len(c.Notes) != 2 {
		t.Errorf("got %v, %+v and %q", c.Values, c.Control, c.Notes)
	}
	for i, want := range []string{"notes.left out rod=0202 why=builds/2022.yaml:6:43: rod 0202: brook@1900: not found", "notes.cannot weigh place=builds/2022.yaml:4:75 rod=0200 "} {
		if !strings.HasPrefix(told(c.Notes[i]), want) {
			t.Errorf("note %q, want %q", c.Notes[i], want)
		}
	}
}

func TestBuildNotes(t *testing.T) {
	m := withRods(t)
	m.working["builds/2022.yaml"] = strings.Replace(m.working["builds/2022.yaml"], "91 g", "91 mg", 1)
	m.working["builds/2019.yaml"] = "built:\n  - {serial: 0099, model: brook, release: 2021, date: 2019-02-01}\n"
	notes, err := m.open(t).BuildNotes(t.Context(), "", "2022-03-15")
	if err != nil {
		t.Fatal(err)
	}
	var starts []string
	for _, n := range notes {
		starts = append(starts, told(n))
	}
	want := []string{
		"notes.built early day=2019-02-01 place=builds/2019.yaml:2:55 rod=0099 saved=2021-03-01",
		"notes.mended to come day=2022-07-01 place=builds/2022.yaml:4:26 rod=0103",
		"notes.cannot weigh place=builds/2022.yaml:2:75 rod=0102 weight=91 mg worked=97.0 g",
	}
	if diff := cmp.Diff(want, starts); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestRebuild(t *testing.T) {
	for _, tt := range []struct {
		name, old, new string
		gone           []string
		changes        int
		lighter        bool
		fault          string
	}{
		{name: "as it was", old: "price", new: "price"},
		{name: "a part it does not use", old: "mass: 2.4 g", new: "mass: 3 g"},
		{name: "a lighter part", old: "mass: 0.9 g", new: "mass: 0.5 g", changes: 1, lighter: true},
		{name: "a part that is gone", old: "low-12:", new: "low-13:", gone: []string{"low-12"}},
		{name: "a part of another kind", old: "feet: 1, foot: {length: 11 mm, width: 2 mm, thickness: 0.4 mm}", new: "feet: 0", fault: "is a tip ring"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := withRods(t)
			m.working[partsFile] = strings.Replace(testParts, tt.old, tt.new, 1)
			r := m.open(t)
			rev, err := r.Find("brook", "2021")
			if err != nil {
				t.Fatal(err)
			}
			got, err := r.Rebuild(rev)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.gone, got.Gone); diff != "" {
				t.Errorf("gone (-want +got):\n%s", diff)
			}
			if tt.fault != "" {
				if got.Fault() == nil || !strings.Contains(got.Fault().Error(), tt.fault) {
					t.Errorf("fault %v, want %s", got.Fault(), tt.fault)
				}
				return
			}
			if got.Fault() != nil || len(got.Changes) != tt.changes || (got.ID == rev.ID) != (tt.changes == 0) {
				t.Errorf("got %+v, changes %v", got.Revision, got.Changes)
			}
			step, err := r.Compare(t.Context(), rev, got.Revision)
			if err != nil {
				t.Fatal(err)
			}
			if change := step.Shifts[0].Change; (change < 0) != tt.lighter {
				t.Errorf("its weight changes by %v kg", change)
			}
		})
	}
}
