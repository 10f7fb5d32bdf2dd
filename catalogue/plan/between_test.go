package plan

import (
	"os"
	"strings"
	"testing"

	"rodlore/models"
)

// drift is a range of one rod with tube, stiffness and plies, a ferrule and a
// spigot, and numbers in every unit.
func drift(t *testing.T) (s *shared, text string) {
	t.Helper()
	read := func(file string) []byte {
		src, err := os.ReadFile("../../models/testdata/good/" + file)
		if err != nil {
			t.Fatal(err)
		}
		return src
	}
	s = &shared{}
	var err error
	if s.parts, err = models.ParseParts("parts.yaml", read("parts.yaml")); err != nil {
		t.Fatal(err)
	}
	if s.materials, err = models.ParseMaterials("materials.yaml", read("materials.yaml")); err != nil {
		t.Fatal(err)
	}
	alone, _, _ := strings.Cut(string(read("long-drift.yaml")), "\ntops:") // other tops would have to fit too
	return s, alone + "\n"
}

// A blank and a handle over their limits are divided in every number that they
// have, and each rod in between can be written.
func TestBlankAndHandleInParts(t *testing.T) {
	s, start := drift(t)
	goal := edited(t, start,
		"length: 3006 mm", "length: 3136 mm",
		"  - name: butt\n    length: 1000 mm", "  - name: butt\n    length: 1120 mm",
		"{at: 1 m, outside: 12.5 mm, wall: 1.1 mm}", "{at: 1120 mm, outside: 13.1 mm, wall: 1.25 mm}",
		"ei: 4 N·m2, mass: 28 g/m, outside: 6 mm", "ei: 4.6 N·m2, mass: 31 g/m, outside: 6.3 mm",
		"ei: 14 Nm², mass: 0.04 kg/m", "ei: 15.5 Nm², mass: 43 g/m",
		"{at: 1200 mm, diameter: 5 mm}", "{at: 1200 mm, diameter: 5.3 mm}",
		"from: 100 mm, to: 900 mm", "from: 130 mm, to: 960 mm",
		"length: 60 mm, outside: 7 mm", "length: 66 mm, outside: 7.2 mm",
		"length: 120 mm, gap: 6 mm", "length: 120 mm, gap: 16 mm",
		"to: 250 mm, diameter: 28 mm, ends: 24 mm", "to: 280 mm, diameter: 27 mm, ends: 22.5 mm",
		"from: 350 mm, to: 440 mm", "from: 420 mm, to: 510 mm",
		"at: 300 mm from butt", "at: 350 mm from butt", "held: {to: 400 mm}", "held: {to: 470 mm}")
	task := s.task(t, start, goal, "{length: 50 mm, handle: 30 mm, butt ring moves: 150 mm}", 3)
	p, err := Make(t.Context(), task)
	if err != nil {
		t.Fatal(err)
	}
	checkPlan(t, task, p)
	s.checkWritten(t, start, goal, p)
	lengths := [3]float64{3.049, 3.093, 3.136} // thirds of 130 mm, to a millimetre
	for i, r := range p.Releases {
		if got := r.Spec.TotalLength(); got < lengths[i]-2e-3 || got > lengths[i]+2e-3 {
			t.Errorf("release %d is %.4f m long, want %.3f", i+1, got, lengths[i])
		}
	}
	if text := p.Releases[0].Spec.Reel.At.Text; text != "317 mm from butt" {
		t.Errorf("the reel of the first release stands at %q", text)
	}
}

// What is made of other pieces has nothing in between.
func TestAlike(t *testing.T) {
	_, start := drift(t)
	for _, row := range []struct {
		name     string
		kind     kind
		old, new string
		want     bool
	}{
		{"the same", blank, "name: Long Drift", "name: Long Drift", true},
		{"another outside", blank, "outside: 12.5 mm", "outside: 13 mm", true},
		{"a station fewer", blank, "      - {at: 400 mm, outside: 11 mm, wall: 1 mm}\n", "", false},
		{"another wrap", blank, "angle: 10 deg, wraps: 2", "angle: 10 deg, wraps: 2.5", false},
		{"another joint", blank, "kind: ferrule, length: 60 mm, outside: 7 mm, wall: 0.5 mm", "kind: spigot, length: 60 mm, outside: 4 mm", false},
		{"a longer grip", handle, "to: 250 mm", "to: 270 mm", true},
		{"a straight grip", handle, ", ends: 24 mm", "", false},
		{"a grip fewer", handle, "    - {from: 350 mm, to: 440 mm, part: fore-90}\n", "", false},
		{"another blank is the same handle", handle, "outside: 12.5 mm", "outside: 13 mm", true},
	} {
		t.Run(row.name, func(t *testing.T) {
			parse := func(text string) *models.Model {
				m, err := models.ParseModel("rod.yaml", []byte(text))
				if err != nil {
					t.Fatal(err)
				}
				return m
			}
			if got := alike(row.kind, parse(start), parse(edited(t, start, row.old, row.new))); got != row.want {
				t.Errorf("alike: %v, want %v", got, row.want)
			}
		})
	}
}
