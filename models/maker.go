package models

import (
	"math"
	"regexp"
	"strconv"

	"rodlore/models/spelling"
)

// Maker is who makes the range, as pages show them.
type Maker struct {
	Word                     // the name
	Address          []Word  // line by line
	Phone, Mail, Web Word    // unset where the maker gives none
	Logo             Word    // a file of pictures/
	Colour           *Accent // nil where the maker gives none
}

// Accent is a colour of the maker's own in which pages set what stands out.
type Accent struct{ R, G, B uint8 }

var makerTable = table[Maker]{
	example: "a name such as Saltmarsh Rods, or {name: Saltmarsh Rods, phone: 01234 567890}",
	plain:   word(func(m *Maker) *Word { return &m.Word }),
	keys: []key[Maker]{
		{"name", required, word(func(m *Maker) *Word { return &m.Word })},
		{"address", optional, words(func(m *Maker) *[]Word { return &m.Address }, "a list of lines such as [The Old Net Loft, Saltmarsh]")},
		{"phone", optional, word(func(m *Maker) *Word { return &m.Phone })},
		{"mail", optional, matching(func(m *Maker) *Word { return &m.Mail }, `^[^\s@]+@[^\s@]+$`, "an address such as rods@saltmarsh.example")},
		{"web", optional, matching(func(m *Maker) *Word { return &m.Web }, `^(https?://)?[\w.-]+\.\w+(/\S*)?$`, "an address such as saltmarsh.example")},
		{"logo", optional, pictureFile(func(m *Maker) *Word { return &m.Logo })},
		{"colour", optional, scalar(accentExample, readAccent)},
	},
}

// matching reads a Word of a certain form.
func matching[T any](get func(*T) *Word, form, expect string) reader[T] {
	of := regexp.MustCompile(form)
	read := word(get).read
	return scalar(expect, func(v value, text string, into *T) {
		if !of.MatchString(text) {
			v.fault("%q is not %s", spelling.Shorten(text), expect)
			return
		}
		read(v, into)
	}).walked(word(get).walk)
}

// pictureFile reads the name of a file of pictures/.
func pictureFile[T any](get func(*T) *Word) reader[T] {
	return matching(get, `(?i)^[^/\\]+\.(jpe?g|png|svg)$`, `the name of a file in pictures/ that ends in ".jpg", ".png" or ".svg"`)
}

const accentExample = `a colour as six digits in quotes such as "#1f5c4a"`

var accentForm = regexp.MustCompile(`^#?([0-9a-fA-F]{6})$`)

// readAccent reads a colour in which letters can be read on white paper.
func readAccent(v value, text string, m *Maker) {
	const least = 4.5 // of letters to their ground (W3C, Web Content Accessibility Guidelines 2.2, 1.4.3)
	found := accentForm.FindStringSubmatch(text)
	if found == nil {
		v.fault("%q is not %s", spelling.Shorten(text), accentExample)
		return
	}
	rgb, _ := strconv.ParseUint(found[1], 16, 32) // which the form makes sure of
	a := Accent{uint8(rgb >> 16), uint8(rgb >> 8), uint8(rgb)}
	white := Accent{255, 255, 255}
	if ratio := a.Contrast(white); ratio < least {
		v.fault("%q is too light to be read on white: its contrast is %.1f : 1 and has to be %g : 1; %s would do", text, ratio, least, a.Until(Accent{}, white, least))
		return
	}
	m.Colour = &a
}

// String is the colour as pages and makers write it.
func (a Accent) String() string {
	return "#" + strconv.FormatUint(1<<24|uint64(a.R)<<16|uint64(a.G)<<8|uint64(a.B), 16)[1:]
}

// Until is the colour, mixed with another only as far as it takes to stand out from a
// ground with a contrast of at least so much.
func (a Accent) Until(towards, ground Accent, least float64) Accent {
	mixed := a
	for share := 0.; mixed.Contrast(ground) < least && share <= 1; share += 0.02 {
		mix := func(from, to uint8) uint8 {
			return uint8(math.Round(float64(from) + share*(float64(to)-float64(from))))
		}
		mixed = Accent{mix(a.R, towards.R), mix(a.G, towards.G), mix(a.B, towards.B)}
	}
	return mixed
}

// Contrast is the contrast ratio of two colours, 1 to 21 (W3C, Web Content
// Accessibility Guidelines 2.2, "contrast ratio" and "relative luminance").
func (a Accent) Contrast(b Accent) float64 {
	x, y := a.luminance(), b.luminance()
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func (a Accent) luminance() float64 {
	linear := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(a.R) + 0.7152*linear(a.G) + 0.0722*linear(a.B)
}
