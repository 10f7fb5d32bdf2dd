package evaluate

import (
	"fmt"
	"math"
	"testing"

	"rodlore/evaluate/beam"
	"rodlore/models"
	"rodlore/models/units"
)

// arc is a layout of rings without height on a weightless uniform rod that is
// bent to a circle, the reel standing on the circle one spacing below the butt
// ring. Held at the butt, it is all of one section.
func arc(t *testing.T, count int, butt float64) *layout {
	t.Helper()
	const length, radius = 1.4, 1.0
	pieces := []beam.Piece{{
		From: 0, To: length,
		EI: func(float64) float64 { return 1 }, Mu: func(float64) float64 { return 0 },
	}}
	b, err := beam.NewRod(pieces, nil, 200)
	if err != nil {
		t.Fatal(err)
	}
	// A small force on a long arm, square to it in the end, bends with the same
	// moment everywhere.
	const arm = 1e6
	sh, err := beam.NewSolver(b).Bend(beam.Load{Force: 1 / radius / arm, Direction: length / radius, Offset: -arm})
	if err != nil {
		t.Fatal(err)
	}
	if turn := math.Abs(sh.Tip().Turn); math.Abs(turn-length/radius) > 1e-4 {
		t.Fatalf("the tip turns by %g rad; the test is not on a circle", turn)
	}
	ring := &models.Part{Name: "ring", Kind: models.RingPart}
	m := &models.Model{
		Sections: []models.Section{{Length: models.Given[units.Length]{Value: length}}},
		Rings:    make([]models.Ring, count+1),
	}
	for i := range m.Rings {
		m.Rings[i].Part.Text = ring.Name
	}
	spec := &models.Spec{Model: m, Parts: map[string]*models.Part{ring.Name: ring}}
	l := &layout{
		Patterns: &Patterns{spec: spec, set: models.DefaultSettings(), marks: divisionsOf(models.DefaultSettings())},
		at:       make([]float64, count), after: make([]int, count),
		rod:  &rod{spec: spec, length: length, pieces: []*piece{{span: span{0, length}, radius: lineThrough(0, 0, 1, 0)}}},
		bent: &beam.LineShape{Shape: sh},
	}
	for i := range l.at { // anything but even
		l.at[i] = butt * math.Pow(float64(i+1)/float64(count), 1.7)
	}
	reel := l.ringCentreAt(butt*(1+1/float64(count)), 0)
	l.bent.Reel = beam.RingLoad{X: reel.x, Y: reel.y}
	return l
}

// TestEvenOnACircle lays rings out on a rod of one curvature: equal chords of a
// circle turn by equal angles, so the spacings come out equal, and each ring
// turns the line by 2·asin(d/2R) for chords d of arcs s/R (Euclid, Elements III,
// propositions 26 to 29).
func TestEvenOnACircle(t *testing.T) {
	for _, count := range []int{2, 3, 5, 8, 13, 20} {
		t.Run(fmt.Sprint(count), func(t *testing.T) {
			const butt = 0.9
			l := arc(t, count, butt)
			if err := l.share(nil); err != nil {
				t.Fatal(err)
			}
			for i, at := range l.at {
				// The rod is a circle to 1e-4, and moving stops at 1e-5 m.
				if want := butt * float64(i+1) / float64(count); math.Abs(at-want) > 1e-4 {
					t.Errorf("ring %d is at %g m, want %g", i, at, want)
				}
			}
			for i, turn := range turnsIn(l.ringCentres(l.at)) {
				if want := butt / float64(count); math.Abs(math.Abs(turn.angle)-want) > 2e-4*want+1e-4 {
					t.Errorf("the line turns by %g rad in ring %d, want %g", turn.angle, i, want)
				}
			}
		})
	}
}

// bentLayout is a layout on the rod that package models is tested with, bent
// with its rings.
func bentLayout(t *testing.T, kind models.ReelKind, count int) *layout {
	t.Helper()
	s := goodSpec(t)
	s.Reel.Kind = kind
	p, err := New(s, models.DefaultSettings()).Patterns()
	if err != nil {
		t.Fatal(err)
	}
	l, err := newLayout(p, count, 0)
	if err == nil {
		err = l.bend()
	}
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// TestSlopes holds the derivatives of the turns and of the unevenness against
// differences.
func TestSlopes(t *testing.T) {
	for _, kind := range []models.ReelKind{models.FixedSpool, models.Multiplier} {
		t.Run(string(kind), func(t *testing.T) {
			l := bentLayout(t, kind, 6)
			const step = 1e-5
			u := l.objectiveAt(l.at)
			turns := turnsIn(l.ringCentres(l.at))
			for i := range len(l.at) - 1 {
				moved := append([]float64(nil), l.at...)
				moved[i] += step
				slope := (l.objectiveAt(moved).value - u.value) / step
				if got := u.slope.AtVec(i); math.Abs(got-slope) > 0.02*math.Abs(slope)+0.02 {
					t.Errorf("the unevenness rises by %g when ring %d moves, by differences %g", got, i, slope)
				}
				for j, after := range turnsIn(l.ringCentres(moved)) {
					want := (after.angle - turns[j].angle) / step
					got := 0.0
					if k := i - j + 1; k >= 0 && k < 3 {
						got = turns[j].rate[k]
					}
					if math.Abs(got-want) > 0.02*math.Abs(want)+0.01 {
						t.Errorf("the turn in ring %d rises by %g rad/m when ring %d moves, by differences %g", j, got, i, want)
					}
				}
			}
		})
	}
}

// TestCentresAreWhereTheLineRuns holds the rings' centres against the kernel's: the
// turns that are shared are those of the bent rod.
func TestCentresAreWhereTheLineRuns(t *testing.T) {
	l := bentLayout(t, models.FixedSpool, 6)
	for i, turn := range turnsIn(l.ringCentres(l.at)) {
		ring := l.bent.Rings[len(l.bent.Rings)-2-i]
		// Radii are interpolated along pieces, and read at the ring by the kernel.
		if math.Abs(math.Abs(turn.angle)-ring.Turn) > 1e-5 {
			t.Errorf("ring %d turns the line by %g rad, the kernel says %g", i, turn.angle, ring.Turn)
		}
	}
}

// TestRounded marks rings in whole millimetres, on a blank without joints.
func TestRounded(t *testing.T) {
	for _, row := range []struct {
		name     string
		at, want []float64 // mm
	}{
		{"to the nearest", []float64{100.4, 250.6, 500}, []float64{100, 251, 500}},
		{"equal ones grow", []float64{100.4, 200.8, 301.2, 401.6, 502}, []float64{100, 200, 300, 401, 502}},
		{"the last stays between", []float64{100.4, 200.8, 301.2}, []float64{100, 200, 301.2}},
		{"two", []float64{99.6, 400}, []float64{100, 400}},
		{"no room for whole ones", []float64{100.5, 201}, []float64{100, 201}},
	} {
		t.Run(row.name, func(t *testing.T) {
			l := &layout{Patterns: &Patterns{spec: &models.Spec{Model: &models.Model{}}, marks: divisionsOf(models.DefaultSettings())}}
			for _, s := range row.at {
				l.at = append(l.at, s*millimetre)
			}
			got, above, spacing := l.rounded(), 0.0, 0.0
			for i, s := range got {
				if i < len(row.want) && math.Abs(s/millimetre-row.want[i]) > 1e-9 {
					t.Errorf("ring %d is at %g mm, want %g", i, s/millimetre, row.want[i])
				}
				if s-above < spacing-1e-9 {
					t.Errorf("the spacing shrinks: %v", got)
				}
				above, spacing = s, s-above
			}
			if got[len(got)-1] != l.at[len(l.at)-1] {
				t.Errorf("the last ring moved to %g m", got[len(got)-1])
			}
		})
	}
}

// TestDivisions reads a place as it will be written: an imperial range has nothing in
// millimetres, and what is worked out is what the file says.
func TestDivisions(t *testing.T) {
	for _, row := range []struct{ units, want string }{
		{"metric", "176 mm"}, {"both", "176 mm"}, {"imperial", "6.9375 in"},
	} {
		place := divisionsOf(&models.Settings{Units: row.units}).place(0.17632)
		read := units.MustParse(place.Text, units.Of[units.Length]())
		if place.Text != row.want || float64(place.Value) != read {
			t.Errorf("%s: %q at %v m, want %s, which is read as %v m", row.units, place.Text, place.Value, row.want, read)
		}
	}
}
