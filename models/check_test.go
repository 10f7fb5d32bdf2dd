package models_test

import (
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/models"
	"rodlore/models/units"
)

func TestCheckPassesWhatWasRead(t *testing.T) {
	for _, name := range []string{"skerry-10", "long-drift"} {
		t.Run(name, func(t *testing.T) {
			spec := good(t, name)
			id := spec.ID()
			if err := spec.Check(); err != nil {
				t.Error(err)
			}
			if spec.ID() != id {
				t.Error("checking altered the model")
			}
		})
	}
}

// TestCheckFindsWhatReadingFinds alters a model in the program and in its file:
// both ways must find the same faults.
func TestCheckFindsWhatReadingFinds(t *testing.T) {
	mm := func(v float64) models.Given[units.Length] { return models.Millimetres(units.Length(v / 1e3)) }
	for _, tt := range []struct {
		name, old, bad string
		alter          func(*models.Model)
	}{
		{"length", "length: 10 ft", "length: 2900 mm", func(m *models.Model) { m.Length = mm(2900) }},
		{"wall", "wall: 1.05 mm", "wall: 5 mm", func(m *models.Model) { m.Sections[0].Tube[0].Wall = mm(5) }},
		{"station", "{at: 0 mm,    outside: 8.9 mm", "{at: 30 mm, outside: 8.9 mm", func(m *models.Model) { m.Sections[0].Tube[0].At = mm(30) }},
		{"overlap with a plug", "kind: overlap, length: 82 mm", "kind: overlap, length: 82 mm, outside: 6 mm", func(m *models.Model) { m.Joints[0].Outside = mm(6) }},
		{"overlap too long", "kind: overlap, length: 82 mm", "kind: overlap, length: 1600 mm", func(m *models.Model) { m.Joints[0].Length = mm(1600) }},
		{"grip the wrong way", "from: 0 mm, to: 120 mm", "from: 130 mm, to: 120 mm", func(m *models.Model) { m.Handle.Grips[0].From = mm(130) }},
		{"ring on the handle", "at: 1480 mm", "at: 2980 mm", func(m *models.Model) { m.Rings[2].At = mm(2980) }},
		{"no tip ring", "  - {at: 0 mm, part: T-6}\n", "", func(m *models.Model) { m.Rings = m.Rings[1:] }},
		{"seat beyond the tip", "at: 560 mm from butt", "at: 3100 mm from butt", func(m *models.Model) { m.Handle.Seat.At = mm(3100) }},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := good(t, "skerry-10").Model
			tt.alter(m)
			_, err := models.ParseModel("skerry-10.yaml", edited(t, "skerry-10.yaml", tt.old, tt.bad))
			if want, got := what(t, err), what(t, m.Check()); !cmp.Equal(want, got) {
				t.Errorf("reading found %q, checking %q", want, got)
			}
		})
	}
}

// what gives where in the model each fault is, for the place in the file and
// the words there are not the program's.
func what(t *testing.T, err error) []string {
	t.Helper()
	var faults models.Faults
	if !errors.As(err, &faults) {
		t.Fatalf("not refused: %v", err)
	}
	var paths []string
	for _, f := range faults {
		paths = append(paths, f.Path)
	}
	slices.Sort(paths)
	return paths
}

func TestCheckOrdersJoints(t *testing.T) {
	spec := good(t, "long-drift")
	m := *spec.Model
	m.Joints = slices.Clone(m.Joints)
	slices.Reverse(m.Joints)
	if err := m.Check(); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(spec.Joints, m.Joints); d != "" {
		t.Errorf("joints (-want +got):\n%s", d)
	}
}

func TestMillimetres(t *testing.T) {
	for _, tt := range []struct {
		name string
		l    units.Length
		text string
	}{
		{"whole", 1.565, "1565 mm"},
		{"micrometres", 0.0954321, "95.432 mm"},
		{"nothing", 1e-9, "0 mm"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := models.Millimetres(tt.l)
			parsed, err := units.ParseAs[units.Length](got.Text)
			if err != nil || got.Text != tt.text || got.Value != parsed {
				t.Errorf("got %q, %v m; want %q, which is %v m (%v)", got.Text, got.Value, tt.text, parsed, err)
			}
		})
	}
}
