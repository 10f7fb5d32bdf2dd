package laminate

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

var graphite = Lamina{E1: 181e9, E2: 10.3e9, G12: 7.17e9, Nu12: 0.28, Density: 1600, Thickness: 0.125e-3,
	StrainCompression: 0.008, StrainTension: 0.008}

// Stiffness of a 60° lamina of T300/5208 in GPa: Kaw 2006, "Mechanics of
// Composite Materials", 2nd ed., example 2.6 or near it; from memory.
func TestRotatedHandbook(t *testing.T) {
	q := graphite.reduced().rotated(math.Cos(math.Pi/3), math.Sin(math.Pi/3))
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"xx", q.xx, 23.65}, {"xh", q.xh, 32.46}, {"hh", q.hh, 109.4},
		{"xs", q.xs, 20.05}, {"hs", q.hs, 54.19}, {"ss", q.ss, 36.74},
	} {
		if math.Abs(c.got/1e9-c.want) > 6e-4*c.want { // four digits are printed
			t.Errorf("%s is %.5g GPa, want %v", c.name, c.got/1e9, c.want)
		}
	}
}

// Invariants of T300/5208 in GPa: Tsai and Hahn 1980, table of lamina
// invariants; from memory.
func TestInvariantsHandbook(t *testing.T) {
	q := graphite.reduced()
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"U1", (3*q.xx + 3*q.hh + 2*q.xh + 4*q.ss) / 8, 76.37},
		{"U2", (q.xx - q.hh) / 2, 85.73},
		{"U3", (q.xx + q.hh - 2*q.xh - 4*q.ss) / 8, 19.71},
		{"U4", (q.xx + q.hh + 6*q.xh - 4*q.ss) / 8, 22.61},
		{"U5", (q.xx + q.hh - 2*q.xh + 4*q.ss) / 8, 26.88},
	} {
		if math.Abs(c.got/1e9-c.want) > 0.0051 { // printed to 0.01
			t.Errorf("%s is %.5g GPa, want %v", c.name, c.got/1e9, c.want)
		}
	}
}

// What does not depend on the axes: Q11 + Q22 + 2·Q12 and Q66 − Q12 (Tsai and
// Hahn 1980; from memory), and the determinant.
func TestRotationInvariants(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		l := drawLamina(rt)
		angle := rapid.Float64Range(-10, 10).Draw(rt, "angle")
		q := l.reduced()
		p := q.rotated(math.Cos(angle), math.Sin(angle))
		scale := q.xx + q.hh + q.ss
		for _, c := range []struct {
			name      string
			got, want float64
		}{
			{"Q11 + Q22 + 2·Q12", p.xx + p.hh + 2*p.xh, q.xx + q.hh + 2*q.xh},
			{"Q66 − Q12", p.ss - p.xh, q.ss - q.xh},
			{"determinant", det(p) / scale / scale, det(q) / scale / scale},
		} {
			if math.Abs(c.got-c.want) > 1e-12*scale {
				rt.Errorf("%s is %v, want %v", c.name, c.got, c.want)
			}
		}
	})
}

func drawLamina(rt *rapid.T) Lamina {
	e1 := rapid.Float64Range(1e9, 500e9).Draw(rt, "e1")
	e2 := rapid.Float64Range(1e9, 500e9).Draw(rt, "e2")
	return Lamina{
		E1: e1, E2: e2,
		G12:  rapid.Float64Range(0.5e9, 200e9).Draw(rt, "g12"),
		Nu12: rapid.Float64Range(-0.9, 0.9).Draw(rt, "nu share") * math.Sqrt(e1/e2),
	}
}

func det(q stiffness) float64 {
	return q.xx*(q.hh*q.ss-q.hs*q.hs) - q.xh*(q.xh*q.ss-q.hs*q.xs) + q.xs*(q.xh*q.hs-q.hh*q.xs)
}

// The rotation by its definition: C'ijkl = a_ip a_jq a_kr a_ls C_pqrs.
func TestRotatedIsTensorRotation(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		q := drawLamina(rt).reduced()
		angle := rapid.Float64Range(-4, 4).Draw(rt, "angle")
		sin, cos := math.Sincos(angle)
		a := [2][2]float64{{cos, -sin}, {sin, cos}}
		own := func(p, q2, r, s int) float64 {
			switch {
			case p == q2 && r == s && p == r:
				return [2]float64{q.xx, q.hh}[p]
			case p == q2 && r == s:
				return q.xh
			case p != q2 && r != s:
				return q.ss
			}
			return 0
		}
		turned := func(i, j, k, l int) (sum float64) {
			for n := range 16 {
				p, q2, r, s := n&1, n>>1&1, n>>2&1, n>>3&1
				sum += a[i][p] * a[j][q2] * a[k][r] * a[l][s] * own(p, q2, r, s)
			}
			return sum
		}
		got := q.rotated(cos, sin)
		want := stiffness{xx: turned(0, 0, 0, 0), xh: turned(0, 0, 1, 1), xs: turned(0, 0, 0, 1),
			hh: turned(1, 1, 1, 1), hs: turned(1, 1, 0, 1), ss: turned(0, 1, 0, 1)}
		scale := q.xx + q.hh + q.ss
		for _, c := range [][2]float64{{got.xx, want.xx}, {got.xh, want.xh}, {got.xs, want.xs},
			{got.hh, want.hh}, {got.hs, want.hs}, {got.ss, want.ss}} {
			if math.Abs(c[0]-c[1]) > 1e-12*scale {
				rt.Fatalf("rotated gives %+v, the tensor %+v", got, want)
			}
		}
	})
}
