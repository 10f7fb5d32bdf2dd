package pages

import (
	"strings"

	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/say"
)

// hues are colours of blanks and threads by the words that makers have for them.
// How each looks is common practice, no source.
var hues = map[string]drawing.Colour{
	"black": {R: 28, G: 28, B: 30}, "white": {R: 244, G: 244, B: 240}, "grey": {R: 128, G: 130, B: 133}, "gray": {R: 128, G: 130, B: 133},
	"silver": {R: 190, G: 194, B: 198}, "slate": {R: 84, G: 96, B: 108}, "graphite": {R: 62, G: 64, B: 68}, "carbon": {R: 40, G: 42, B: 45},
	"green": {R: 38, G: 118, B: 66}, "olive": {R: 104, G: 108, B: 48}, "moss": {R: 92, G: 110, B: 58}, "sage": {R: 140, G: 156, B: 128},
	"red": {R: 184, G: 36, B: 40}, "maroon": {R: 104, G: 28, B: 38}, "burgundy": {R: 104, G: 28, B: 48}, "wine": {R: 112, G: 30, B: 52},
	"rust": {R: 166, G: 76, B: 36}, "copper": {R: 184, G: 112, B: 66}, "bronze": {R: 146, G: 108, B: 58}, "gold": {R: 198, G: 158, B: 62},
	"brown": {R: 104, G: 70, B: 44}, "chestnut": {R: 122, G: 66, B: 42}, "amber": {R: 204, G: 136, B: 40}, "honey": {R: 212, G: 158, B: 76},
	"sand": {R: 206, G: 184, B: 142}, "cream": {R: 238, G: 228, B: 200}, "ivory": {R: 240, G: 234, B: 214},
	"blue": {R: 40, G: 84, B: 160}, "navy": {R: 28, G: 40, B: 84}, "turquoise": {R: 40, G: 160, B: 164}, "teal": {R: 22, G: 112, B: 116},
	"purple": {R: 104, G: 52, B: 128}, "violet": {R: 120, G: 72, B: 160}, "plum": {R: 102, G: 46, B: 84}, "pink": {R: 222, G: 130, B: 160},
	"orange": {R: 222, G: 118, B: 36}, "yellow": {R: 230, G: 200, B: 60},
}

// hueOf is the colour that free words name, such as "dark green" or "moss"; ok
// is false where they name none that is known.
func hueOf(text string) (drawing.Ink, bool) {
	fields := strings.Fields(strings.ToLower(text))
	if len(fields) == 0 {
		return drawing.None, false
	}
	c, ok := hues[fields[len(fields)-1]] // "bottle green" is a green
	if !ok {
		return drawing.None, false
	}
	switch fields[0] {
	case "dark", "deep":
		c = towards(c, drawing.Colour{}, 0.45)
	case "light", "pale":
		c = towards(c, drawing.Colour{R: 255, G: 255, B: 255}, 0.45)
	}
	return drawing.RGB(c.R, c.G, c.B), true
}

// towards mixes a share of another colour in.
func towards(c, other drawing.Colour, share float64) drawing.Colour {
	mix := func(a, b uint8) uint8 { return uint8(float64(a) + share*(float64(b)-float64(a))) }
	return drawing.Colour{R: mix(c.R, other.R), G: mix(c.G, other.G), B: mix(c.B, other.B)}
}

// stuffInks are what grips are painted in; how each looks is common practice, no
// source.
var stuffInks = map[string]drawing.Ink{
	"rubber": drawing.RGB(132, 98, 74), "cork": drawing.RGB(206, 170, 122), "foam": drawing.RGB(66, 68, 72), "wood": drawing.RGB(140, 96, 58),
}

// stuffInk is what a grip of that material is painted in.
func stuffInk(material string) drawing.Ink {
	if ink, ok := stuffInks[say.Stuff(material)]; ok {
		return ink
	}
	return drawing.Band
}

// What seats and butt caps are painted in: they are of metal, wood and rubber,
// which a spec does not say.
var (
	seatInk = drawing.RGB(122, 126, 132)
	capInk  = drawing.RGB(58, 60, 64)
)
