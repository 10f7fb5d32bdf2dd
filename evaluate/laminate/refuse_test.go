package laminate_test

import (
	"math"
	"strings"
	"testing"

	"rodlore/evaluate/laminate"
)

func TestPlyRefuses(t *testing.T) {
	for _, c := range []struct {
		name  string
		angle float64
		spoil func(*laminate.Lamina)
		want  string
	}{
		{"no E1", 0, func(l *laminate.Lamina) { l.E1 = 0 }, "modulus along the fibres is 0"},
		{"negative E2", 0, func(l *laminate.Lamina) { l.E2 = -1 }, "modulus across the fibres is -1"},
		{"infinite G12", 0, func(l *laminate.Lamina) { l.G12 = math.Inf(1) }, "shear modulus is +Inf"},
		{"no density", 0, func(l *laminate.Lamina) { l.Density = 0 }, "density is 0"},
		{"thickness not a number", 0, func(l *laminate.Lamina) { l.Thickness = math.NaN() }, "thickness is NaN"},
		{"no limit in compression", 0, func(l *laminate.Lamina) { l.StrainCompression = 0 }, "strain limits are 0 in compression"},
		{"compression given as negative", 0, func(l *laminate.Lamina) { l.StrainCompression = -0.01 }, "give both above zero"},
		{"limit in tension not a number", 0, func(l *laminate.Lamina) { l.StrainTension = math.NaN() }, "NaN in tension"},
		{"poisson beyond the possible", 0, func(l *laminate.Lamina) { l.Nu12 = 3.5 }, "within ±3.38"},
		{"poisson not a number", 0, func(l *laminate.Lamina) { l.Nu12 = math.NaN() }, "poisson's ratio is NaN"},
		{"angle not a number", math.NaN(), func(*laminate.Lamina) {}, "ply angle is NaN"},
		{"endless angle", math.Inf(-1), func(*laminate.Lamina) {}, "ply angle is -Inf"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := as4
			c.spoil(&l)
			_, err := l.Ply(c.angle)
			refused(t, err, c.want)
		})
	}
}

func TestRollRefuses(t *testing.T) {
	good := func(wraps float64) []laminate.Ply {
		return []laminate.Ply{lay(t, as4, 0, 1), lay(t, my750, 1, wraps)}
	}
	for _, c := range []struct {
		name    string
		mandrel float64
		plies   []laminate.Ply
		want    string
	}{
		{"no mandrel", 0, good(1), "mandrel diameter is 0 m"},
		{"negative mandrel", -1e-3, good(1), "mandrel diameter is -0.001 m"},
		{"mandrel not a number", math.NaN(), good(1), "mandrel diameter is NaN m"},
		{"endless mandrel", math.Inf(1), good(1), "mandrel diameter is +Inf m"},
		{"negative wraps", 5e-3, good(-0.5), "wraps of ply 2 are -0.5"},
		{"wraps not a number", 5e-3, good(math.NaN()), "wraps of ply 2 are NaN"},
		{"endless wraps", 5e-3, good(math.Inf(1)), "wraps of ply 2 are +Inf"},
		{"zero ply", 5e-3, append(good(1), laminate.Ply{Wraps: 1}), "ply 3 has no lamina"},
		{"no plies", 5e-3, nil, "no ply has any wraps"},
		{"no wraps", 5e-3, []laminate.Ply{lay(t, as4, 0, 0)}, "no ply has any wraps"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := laminate.Roll(c.mandrel, c.plies)
			refused(t, err, c.want)
			if s != (laminate.Section{}) {
				t.Errorf("section beside the error is %+v, want none", s)
			}
		})
	}
}

func refused(t *testing.T, err error, want string) {
	t.Helper()
	if err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("error is %v, want one with %q", err, want)
	}
}
