package drawing

import "math"

// Ink is what a mark is painted in. Inks suit the ground they stand on.
type Ink uint32

const (
	None   Ink = iota // nothing is painted
	Strong            // text and the main lines
	Faint             // text of less weight
	Hair              // thin lines that matter: scales, dimensions
	Paper             // the ground
	Band              // a quiet area
	Grid              // lines that guide the eye and say nothing by themselves

	// The colours that Okabe and Ito (2008), "Color Universal Design", published
	// for people of every colour vision. All of them serve for areas; of lines
	// see Series.
	Orange
	SkyBlue
	BluishGreen
	Yellow
	Blue
	Vermillion
	ReddishPurple

	firstSeries
	themed = firstSeries + Ink(len(series)) // as many inks are themed
)

// own marks an ink made by RGB.
const own Ink = 1 << 24

// RGB is the ink of that very colour on light ground, and of one on dark ground
// that stands off it. Give it an outline in Strong, for it does not stand off
// light ground by itself.
func RGB(r, g, b uint8) Ink { return own | Ink(r)<<16 | Ink(g)<<8 | Ink(b) }

// Colour is red, green and blue of sRGB.
type Colour struct{ R, G, B uint8 }

// onDark is a colour that stands off dark ground by 3:1, as what matters in a
// picture has to (WCAG 2.2, 1.4.11): that one, or as much paler as it takes.
func (c Colour) onDark() Colour {
	const steps = 32
	for i := range steps {
		paler := func(v uint8) uint8 { return v + uint8(int(255-v)*i/steps) }
		if p := (Colour{paler(c.R), paler(c.G), paler(c.B)}); contrast(p, palette[Paper].dark) >= 3 {
			return p
		}
	}
	return Colour{255, 255, 255}
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

// series are the colours of Okabe and Ito for lines: on white those that stand
// off it by 3:1, on the dark ground their lighter kin where they need it.
var series = [...]struct {
	light, dark Ink
	dash        []float64
}{
	{Blue, SkyBlue, nil},
	{Vermillion, Orange, []float64{2.4, 1}},
	{BluishGreen, BluishGreen, []float64{0.8, 0.8}},
	{ReddishPurple, ReddishPurple, []float64{3.2, 0.9, 0.7, 0.9}},
}

// Series is the ink of the i-th of several lines, counted from 0. Lines have
// more than their colour to tell them by: see Dash.
func Series(i int) Ink { return firstSeries + Ink(i%len(series)) }

// Dash is how the i-th of several lines is dashed.
func Dash(i int) []float64 { return series[i%len(series)].dash }

// palette is every themed ink on light and on dark ground.
var palette = func() [themed]struct {
	name        string
	light, dark Colour
} {
	p := [themed]struct {
		name        string
		light, dark Colour
	}{
		Strong: {"strong", Colour{27, 31, 36}, Colour{236, 238, 240}},
		Faint:  {"faint", Colour{84, 92, 101}, Colour{168, 176, 184}},
		Hair:   {"hair", Colour{120, 128, 137}, Colour{132, 141, 150}},
		Paper:  {"paper", Colour{255, 255, 255}, Colour{20, 24, 28}},
		Band:   {"band", Colour{232, 236, 240}, Colour{43, 50, 57}},
		Grid:   {"grid", Colour{214, 219, 224}, Colour{62, 70, 78}},

		Orange:        {name: "orange", light: Colour{230, 159, 0}},
		SkyBlue:       {name: "sky-blue", light: Colour{86, 180, 233}},
		BluishGreen:   {name: "bluish-green", light: Colour{0, 158, 115}},
		Yellow:        {name: "yellow", light: Colour{240, 228, 66}},
		Blue:          {name: "blue", light: Colour{0, 114, 178}},
		Vermillion:    {name: "vermillion", light: Colour{213, 94, 0}},
		ReddishPurple: {name: "reddish-purple", light: Colour{204, 121, 167}},
	}
	for i := Orange; i <= ReddishPurple; i++ {
		p[i].dark = p[i].light
	}
	for i, s := range series {
		of := &p[firstSeries+Ink(i)]
		of.name = "series-" + string(rune('1'+i))
		of.light, of.dark = p[s.light].light, p[s.dark].light
	}
	return p
}()

// RGB is the ink's colour on light ground, as on paper; ok is false for None.
func (i Ink) RGB() (c Colour, ok bool) {
	switch {
	case i >= own:
		return Colour{uint8(i >> 16), uint8(i >> 8), uint8(i)}, true
	case i == None || i >= themed:
		return Colour{}, false
	}
	return palette[i].light, true
}
