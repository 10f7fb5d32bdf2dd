package main

import (
	"bufio"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
)

// estimated is a view of two shares that were estimated, of which that of the
// weight is off by more than a digit shown.
func estimated(out *strings.Builder) shareView {
	shift := func(key, unit string, change float64) diffing.Shift {
		return diffing.Shift{Key: key, Unit: unit, Change: change,
			Old: &evaluate.Figure{Key: key, Value: 1, Unit: unit}, New: &evaluate.Figure{Key: key, Value: 1 + change, Unit: unit}}
	}
	share := func(group diffing.Group, weight, recovery float64) diffing.Share {
		return diffing.Share{
			Edit:           diffing.Edit{Group: group},
			Figures:        map[string]float64{"weight": weight, "recovery": recovery},
			StandardErrors: map[string]float64{"weight": 0.004, "recovery": 1e-6},
		}
	}
	return shareView{
		printer: &printer{out: bufio.NewWriter(out), env: func(string) string { return "" }},
		shifts:  []diffing.Shift{shift("weight", "kg", -0.05), shift("recovery", "Hz", 0.25), shift("settle", "s", 0)},
		list:    []diffing.Share{share(diffing.RingPattern, -0.06, 0.2), share(diffing.Handle, 0.01, 0.05)},
		Display: figures.Display{Units: "metric"},
	}
}

func TestEstimatedShares(t *testing.T) {
	for _, tt := range []struct {
		name string
		show func(shareView)
		want []string // lines
	}{
		{"all edits", shareView.show, []string{
			"edit           weight  recovery",
			"ring pattern  −60.0 g  +0.20 Hz",
			"handle        +10.0 g  +0.05 Hz",
			"together      −50.0 g  +0.25 Hz",
			"standard errors of the shares, at most: weight 4.0 g",
		}},
		{"one edit", shareView.showOnly, []string{
			"figure            by this    in all",
			"weight    −60.0 g ± 4.0 g   −50.0 g",
			"recovery         +0.20 Hz  +0.25 Hz",
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var out strings.Builder
			v := estimated(&out)
			tt.show(v)
			if err := v.out.Flush(); err != nil {
				t.Fatal(err)
			}
			got, _, _ := strings.Cut(out.String(), "\n\n")
			if d := cmp.Diff(tt.want, strings.Split(got, "\n")); d != "" {
				t.Errorf("lines (-want +got):\n%s", d)
			}
		})
	}
}
