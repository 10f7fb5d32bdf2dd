package drawing

import (
	"math"
	"testing"
)

// Okabe and Ito (2008), "Color Universal Design (CUD): how to make figures and
// presentations that are friendly to colorblind people", their table of RGB.
func TestColoursOfOkabeAndIto(t *testing.T) {
	for ink, want := range map[Ink]Colour{
		Orange: {230, 159, 0}, SkyBlue: {86, 180, 233}, BluishGreen: {0, 158, 115}, Yellow: {240, 228, 66},
		Blue: {0, 114, 178}, Vermillion: {213, 94, 0}, ReddishPurple: {204, 121, 167},
	} {
		if palette[ink].light != want || palette[ink].dark != want {
			t.Errorf("%s is %v and %v, want %v", palette[ink].name, palette[ink].light, palette[ink].dark, want)
		}
	}
	for i := range series {
		if s := palette[Series(i)]; s.light != palette[series[i].light].light || s.dark != palette[series[i].dark].dark {
			t.Errorf("series %d is %v and %v: not of the set", i, s.light, s.dark)
		}
	}
}

// The extremes of the formula, and grey #767676 on white, which is the lightest
// that passes for text (W3C, Understanding success criterion 1.4.3: #777777
// has 4.48 and fails).
func TestContrastFormula(t *testing.T) {
	white := Colour{255, 255, 255}
	for _, test := range []struct {
		c    Colour
		want float64
	}{{Colour{}, 21}, {white, 1}, {Colour{118, 118, 118}, 4.54}, {Colour{119, 119, 119}, 4.48}} {
		if got := contrast(test.c, white); math.Abs(got-test.want) > 0.005 { // as printed
			t.Errorf("%v on white: %.3f, want %.2f", test.c, got, test.want)
		}
	}
}

// WCAG 2.2 AA: 4.5 for text (1.4.3), 3 for lines that matter (1.4.11).
func TestInksStandOffTheirGround(t *testing.T) {
	type demand struct {
		ink, ground Ink
		least       float64
	}
	demands := []demand{
		{Strong, Paper, 7}, {Faint, Paper, 4.5}, {Hair, Paper, 3}, {Strong, Band, 4.5}, {Faint, Band, 4.5}, {Hair, Band, 3},
	}
	for i := range series {
		demands = append(demands, demand{Series(i), Paper, 3})
	}
	for _, d := range demands {
		ink, ground := palette[d.ink], palette[d.ground]
		if got := contrast(ink.light, ground.light); got < d.least {
			t.Errorf("%s on light %s: %.2f, want %g", ink.name, ground.name, got, d.least)
		}
		if got := contrast(ink.dark, ground.dark); got < d.least {
			t.Errorf("%s on dark %s: %.2f, want %g", ink.name, ground.name, got, d.least)
		}
	}
}

// A black blank shows on dark ground, and a colour that shows by itself stays.
func TestColoursShowInTheDark(t *testing.T) {
	for _, test := range []struct {
		name  string
		c     Colour
		stays bool
	}{
		{"black", Colour{}, false}, {"dark green", Colour{20, 64, 36}, false}, {"deep blue", Colour{10, 20, 90}, false},
		{"copper", Colour{184, 115, 51}, true}, {"white", Colour{255, 255, 255}, true},
	} {
		got := test.c.onDark()
		if ratio := contrast(got, palette[Paper].dark); ratio < 3 || (got == test.c) != test.stays {
			t.Errorf("%s becomes %v, which stands off dark ground by %.2f", test.name, got, ratio)
		}
	}
}

func TestInkRGB(t *testing.T) {
	if c, ok := RGB(1, 2, 3).RGB(); !ok || c != (Colour{1, 2, 3}) {
		t.Errorf("RGB(1, 2, 3) is %v, %v", c, ok)
	}
	if c, ok := RGB(0, 0, 0).RGB(); !ok || c != (Colour{}) {
		t.Errorf("black is %v, %v", c, ok)
	}
	if _, ok := None.RGB(); ok {
		t.Error("None has a colour")
	}
	if Series(0) != Series(len(series)) || Series(0) == Series(1) {
		t.Error("series do not go round")
	}
}
