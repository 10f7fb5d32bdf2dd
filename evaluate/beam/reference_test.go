package beam_test

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"rodlore/evaluate/beam"
)

// The values under testdata/reference were worked out by other methods and
// other tools; its README.md says how, and how many digits can be trusted.
const reference = "../../testdata/reference"

const degree = math.Pi / 180

// referenceRod is a tapered tube as rods.json describes it.
type referenceRod struct {
	Length   float64      `json:"length_m"`
	E        float64      `json:"E_Pa"`
	Density  float64      `json:"density_kgm3"`
	Outside  [][2]float64 `json:"outside_s_D_m"`
	Wall     [][2]float64 `json:"wall_s_t_m"`
	Stiffer  [][3]float64 `json:"stiffened_s0_s1_factor"`
	Rings    [][2]float64 `json:"ring_masses_s_m_kg"`
	TipExtra float64      `json:"-"` // kg at the tip

	Layouts map[string][][2]float64 `json:"ring_layouts_s_h_m"`
	Reel    [2]float64              `json:"reel_s_h_m"`
}

func readJSON[T any](t testing.TB, name string) T {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(reference, name))
	if err != nil {
		t.Fatal(err)
	}
	var value T
	if err := json.Unmarshal(text, &value); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return value
}

// readCSV gives the rows of a file by column, numbers parsed; words are NaN
// but "true", which is 1, and "false", which is 0, and stand in names.
func readCSV(t testing.TB, name string) (rows []map[string]float64, names []string) {
	t.Helper()
	file, err := os.Open(filepath.Join(reference, name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	for _, record := range records[1:] {
		row := map[string]float64{}
		for i, field := range record {
			row[records[0][i]] = parse(field)
		}
		rows, names = append(rows, row), append(names, record[0])
	}
	if len(rows) == 0 {
		t.Fatalf("%s has no rows", name)
	}
	return rows, names
}

func parse(field string) float64 {
	switch v, err := strconv.ParseFloat(field, 64); {
	case err == nil:
		return v
	case field == "true":
		return 1
	case field == "false":
		return 0
	}
	return math.NaN()
}

// linear is the value at s of what varies linearly between the knots.
func linear(knots [][2]float64, s float64) float64 {
	i := 1
	for i < len(knots)-1 && s > knots[i][0] {
		i++
	}
	a, b := knots[i-1], knots[i]
	return a[1] + (b[1]-a[1])*(s-a[0])/(b[0]-a[0])
}

// pieces are cut at every knot and at the ends of the stiffened stretches.
func (r referenceRod) pieces() []beam.Piece {
	cuts := []float64{0, r.Length}
	for _, k := range slices.Concat(r.Outside, r.Wall) {
		cuts = append(cuts, k[0])
	}
	for _, k := range r.Stiffer {
		cuts = append(cuts, k[0], k[1])
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	pieces := make([]beam.Piece, len(cuts)-1)
	for i := range pieces {
		pieces[i] = r.piece(cuts[i], cuts[i+1])
	}
	return pieces
}

func (r referenceRod) piece(from, to float64) beam.Piece {
	factor := 1.0
	for _, k := range r.Stiffer {
		if k[0] <= from && to <= k[1] {
			factor = k[2]
		}
	}
	tube := func(s float64) (outside, wall float64) { return linear(r.Outside, s), linear(r.Wall, s) }
	return beam.Piece{
		From: from, To: to,
		EI: func(s float64) float64 {
			d, w := tube(s)
			return factor * r.E * math.Pi / 64 * (math.Pow(d, 4) - math.Pow(d-2*w, 4))
		},
		Mu: func(s float64) float64 {
			d, w := tube(s)
			return r.Density * math.Pi * w * (d - w)
		},
	}
}

func (r referenceRod) mesh(t testing.TB, rings bool, elements int) *beam.Rod {
	t.Helper()
	var masses []beam.PointMass
	if rings {
		for _, ring := range r.Rings {
			masses = append(masses, beam.PointMass{S: ring[0], Mass: ring[1]})
		}
	}
	if r.TipExtra > 0 {
		masses = append(masses, beam.PointMass{S: r.Length, Mass: r.TipExtra})
	}
	return newRod(t, r.pieces(), masses, elements)
}

func newRod(t testing.TB, pieces []beam.Piece, masses []beam.PointMass, elements int) *beam.Rod {
	t.Helper()
	rod, err := beam.NewRod(pieces, masses, elements)
	if err != nil {
		t.Fatal(err)
	}
	return rod
}

// within fails the test where got is further from want than tolerance.
func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.12g, want %.12g within %g (off by %.3g)", what, got, want, tolerance, got-want)
	}
}
