package control_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"rodlore/evaluate/control"
)

// TestFlowrate works the example of the individuals chart in the NIST/SEMATECH
// e-Handbook of Statistical Methods, 6.3.2.2: the flowrate of ten batches. Held
// to the digits that are printed there.
func TestFlowrate(t *testing.T) {
	flowrate := []float64{49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}
	c, err := control.Individuals(flowrate)
	if err != nil {
		t.Fatal(err)
	}
	printed := func(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }
	for _, row := range []struct {
		name     string
		got      float64
		decimals int
		want     string
	}{
		{"mean", c.Mean, 2, "50.81"},
		{"mean moving range", c.MeanRange, 4, "1.8778"},
		{"upper limit", c.Upper, 4, "55.8041"},
		{"lower limit", c.Lower, 4, "45.8159"},
	} {
		t.Run(row.name, func(t *testing.T) {
			if got := printed(row.got, row.decimals); got != row.want {
				t.Errorf("got %s, want %s", got, row.want)
			}
		})
	}
	var ranges []string
	for _, r := range c.Ranges {
		ranges = append(ranges, printed(r, 1))
	}
	if diff := cmp.Diff([]string{"2.0", "2.3", "1.4", "3.5", "3.4", "1.4", "0.2", "1.2", "1.5"}, ranges); diff != "" {
		t.Errorf("moving ranges (-want +got):\n%s", diff)
	}
	if c.Signals != nil {
		t.Errorf("signals %v, want none: the handbook finds the process in control", c.Signals)
	}
}

// TestConstants holds d2 and D4 against integrals over the range of two normal
// values, whose difference has the deviation √2. Half a digit of the three
// decimals printed.
func TestConstants(t *testing.T) {
	difference := distuv.Normal{Mu: 0, Sigma: math.Sqrt2}
	moment := func(power float64) float64 {
		// Beyond ten deviations less than 1e-22 is left.
		return quad.Fixed(func(r float64) float64 { return 2 * math.Pow(r, power) * difference.Prob(r) }, 0, 10*math.Sqrt2, 200, nil, 0)
	}
	d2 := moment(1)
	d3 := math.Sqrt(moment(2) - d2*d2)
	if math.Abs(control.D2-d2) > 0.0005 || math.Abs(d2-2/math.Sqrt(math.Pi)) > 1e-9 {
		t.Errorf("d2 is %v, by integration %v", control.D2, d2)
	}
	if D4 := 1 + 3*d3/d2; math.Abs(control.D4-D4) > 0.0005 {
		t.Errorf("D4 is %v, by integration %v", control.D4, D4)
	}
}

func TestSignals(t *testing.T) {
	for _, row := range []struct {
		name   string
		values []float64
		want   []control.Signal
	}{
		{"steady", []float64{1, -1, 1, -1, 1, -1, 1, -1, 1, -1}, nil},
		{"all alike", []float64{2, 2, 2, 2, 2, 2, 2, 2, 2, 2}, nil},
		{"one far up", []float64{0, 2, 0, 2, 0, 2, 0, 2, 0, 14, 0, 2, 0, 2, 0, 2}, []control.Signal{
			{control.Jump, 8, 9, true}, {control.Jump, 9, 10, false}, {control.Beyond, 9, 9, true},
		}},
		{"eight in a row", []float64{-3, -1, -3, -1, -3, -1, -3, 2, 1, 3, 2, 3, 1, 2, 1, -3}, []control.Signal{{control.Run, 7, 14, true}}},
		{"seven in a row", []float64{-3, -1, -3, -1, -3, -1, -1, 2, 1, 3, 2, 3, 1, 2, -3}, nil},
		{"below, at the end", []float64{8, 12, 8, 12, 8, 12, 8, 5, 4, 5, 4, 5, 4, 5, 4}, []control.Signal{{control.Run, 7, 14, false}}},
	} {
		t.Run(row.name, func(t *testing.T) {
			c, err := control.Individuals(row.values)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(row.want, c.Signals); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

func TestTooFew(t *testing.T) {
	if _, err := control.Individuals([]float64{1, 2}); err == nil || err.Error() != "a control chart takes 3 values at least, not 2" {
		t.Errorf("got %v", err)
	}
}

// TestProperties holds what any chart must do: shifted and scaled values give a
// shifted and scaled chart, mirrored ones the same signals on the other side, and
// no value within the limits is told as beyond them.
func TestProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Whole numbers, so that sums are exact and no value crosses the mean by
		// rounding.
		values := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) float64 {
			return float64(rapid.IntRange(-50, 50).Draw(t, "value"))
		}), control.Least, 60).Draw(t, "values")
		mirrored := make([]float64, len(values))
		for i, v := range values {
			mirrored[i] = -v
		}
		c, err := control.Individuals(values)
		if err != nil {
			t.Fatal(err)
		}
		m, err := control.Individuals(mirrored)
		if err != nil {
			t.Fatal(err)
		}
		if m.Upper != -c.Lower || m.Mean != -c.Mean || m.RangeLimit != c.RangeLimit {
			t.Errorf("mirrored it is %+v, from %+v", m, c)
		}
		want := slices.Clone(c.Signals)
		for i := range want {
			want[i].Above = !want[i].Above
		}
		if diff := cmp.Diff(want, m.Signals); diff != "" {
			t.Errorf("signals mirrored (-want +got):\n%s", diff)
		}
		for _, s := range c.Signals {
			if s.Rule == control.Beyond && c.Values[s.From] <= c.Upper && c.Values[s.From] >= c.Lower {
				t.Errorf("%v is within %v to %v", c.Values[s.From], c.Lower, c.Upper)
			}
		}
	})
}

func ExampleIndividuals() {
	c, err := control.Individuals([]float64{165.2, 166.0, 164.9, 165.7, 166.3, 165.1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f g to %.1f g\n", c.Lower, c.Upper)
	// Output: 163.1 g to 167.9 g
}
