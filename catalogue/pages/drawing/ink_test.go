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

// contrast is that of two colours by W3C (2023), Web Content Accessibility
// Guidelines 2.2, "contrast ratio" and "relative luminance".
func contrast(a, b Colour) float64 {
	light, dark := luminance(a), luminance(b)
	if light < dark {
		light, dark = dark, light
	}
	return (light + 0.05) / (dark + 0.05)
}

func luminance(c Colour) float64 {
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
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
