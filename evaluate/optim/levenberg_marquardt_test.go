package optim

import (
	"errors"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats"
)

// regression is a data set of testdata/reference/regression.
type regression struct {
	starts               [][]float64
	certified, deviation []float64
	squares              float64
	y, x                 []float64
}

func readRegression(t *testing.T, name string) regression {
	t.Helper()
	src, err := os.ReadFile("../../testdata/reference/regression/" + name + ".txt")
	if err != nil {
		t.Fatal(err)
	}
	var r regression
	for line := range strings.Lines(string(src)) {
		words := strings.Fields(line)
		if words[0] == "#" {
			continue
		}
		var numbers []float64
		for _, w := range words {
			if n, err := strconv.ParseFloat(w, 64); err == nil {
				numbers = append(numbers, n)
			}
		}
		switch words[0] {
		case "start":
			r.starts = append(r.starts, numbers)
		case "certified":
			r.certified = numbers
		case "deviation":
			r.deviation = numbers
		case "squares":
			r.squares = numbers[0]
		default:
			r.y, r.x = append(r.y, numbers[0]), append(r.x, numbers[1])
		}
	}
	return r
}

// Certified values of the NIST/ITL Statistical Reference Datasets; the files say
// where each came from.
func TestLevenbergMarquardtAgainstCertifiedValues(t *testing.T) {
	for _, tt := range []struct {
		name  string
		model func(b []float64, x float64) float64
	}{
		{"roszman1", func(b []float64, x float64) float64 { return b[0] - b[1]*x - math.Atan(b[2]/(x-b[3]))/math.Pi }},
		{"mgh17", func(b []float64, x float64) float64 { return b[0] + b[1]*math.Exp(-x*b[3]) + b[2]*math.Exp(-x*b[4]) }},
	} {
		data := readRegression(t, tt.name)
		for i, start := range data.starts {
			t.Run(tt.name+" from start "+strconv.Itoa(i+1), func(t *testing.T) {
				ones := slices.Repeat([]float64{1}, len(start)) // of each start, so that one step suits all
				got, err := LevenbergMarquardt(func(times []float64) ([]float64, error) {
					b, r := slices.Clone(start), make([]float64, len(data.y))
					floats.Mul(b, times)
					for k, x := range data.x {
						r[k] = tt.model(b, x) - data.y[k]
					}
					return r, nil
				}, ones, 6e-6, 0) // ∛ε
				if err != nil {
					t.Fatal(err)
				}
				const sixDigits = 5e-7
				for k, want := range data.certified {
					if found := got.X[k] * start[k]; math.Abs(found-want) > sixDigits*math.Abs(want) {
						t.Errorf("b%d is %.9g, certified %.9g", k+1, found, want)
					}
				}
				if math.Abs(got.Squares()-data.squares) > sixDigits*data.squares {
					t.Errorf("sum of squares %.9g, certified %.9g", got.Squares(), data.squares)
				}
				checkDeviations(t, got, start, data)
			})
		}
	}
}

// checkDeviations holds the parameters' standard deviations, which scale with
// that of the residuals. Central differences leave them fewer digits.
func checkDeviations(t *testing.T, got *Minimum, start []float64, data regression) {
	t.Helper()
	c, err := got.Covariance()
	if err != nil {
		t.Fatal(err)
	}
	scatter := got.Squares() / float64(len(data.y)-len(data.certified))
	for k, want := range data.deviation {
		if d := math.Sqrt(scatter*c.At(k, k)) * math.Abs(start[k]); math.Abs(d-want) > 1e-5*want {
			t.Errorf("deviation of b%d is %.9g, certified %.9g", k+1, d, want)
		}
	}
}

// TestLevenbergMarquardtGoesRoundHoles holds that a place without residuals is
// stepped back from: the first step from 0.1, of 1.9, leads beyond 1.5.
func TestLevenbergMarquardtGoesRoundHoles(t *testing.T) {
	got, err := LevenbergMarquardt(func(x []float64) ([]float64, error) {
		if x[0] > 1.5 {
			return nil, errors.New("no such rod")
		}
		return []float64{x[0]*x[0]*x[0] - 1}, nil
	}, []float64{0.1}, 1e-5, 0)
	if err != nil {
		t.Fatal(err)
	}
	// Of a cubic, to what the step of 1e-5 leaves of its derivative.
	if math.Abs(got.X[0]-1) > 1e-9 {
		t.Errorf("got %v, want 1", got.X[0])
	}
}

func TestCovarianceOfWhatIsNotTold(t *testing.T) {
	got, err := LevenbergMarquardt(func(x []float64) ([]float64, error) {
		return []float64{x[0] + x[1] - 2, 2 * (x[0] + x[1] - 2)}, nil
	}, []float64{0, 0}, 1e-3, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := got.Covariance(); err == nil {
		t.Error("one sum has told two unknowns apart")
	}
}
