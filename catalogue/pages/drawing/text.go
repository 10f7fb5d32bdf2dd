package drawing

import (
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// TextWidth is the room that text needs in letters of that size, mm, whatever
// the font. It is measured in the Go fonts, in which PDFs are set, and widened to
// the widest that a browser falls back to, DejaVu Sans: where a reader has a
// narrower one, room is left.
func TextWidth(text string, size float64, bold bool) float64 {
	// Digits and small letters of DejaVu Sans are up to 1.18 times as wide as those of
	// the Go fonts, in bold 1.25 times, by the tables of widths (hmtx) of both;
	// signs are wider still and stand alone.
	f, widened := regular(), 1.18
	if bold {
		f, widened = heavy(), 1.26
	}
	var width float64
	for _, r := range text {
		width += f.advance(r)
	}
	return width * size * widened
}

// Wrapped breaks a text into lines of at most that width, mm; a word that is
// wider has one of its own.
func Wrapped(text string, size, width float64) []string {
	var lines []string
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' }) {
		last := len(lines) - 1
		if last >= 0 && TextWidth(lines[last]+" "+word, size, false) <= width {
			lines[last] += " " + word
			continue
		}
		lines = append(lines, word)
	}
	return lines
}

// Cut is a text that is cut where it is wider, with a sign for the rest.
func Cut(text string, size, width float64) string {
	const rest = "…"
	if TextWidth(text, size, false) <= width {
		return text
	}
	letters := []rune(text)
	for len(letters) > 0 && TextWidth(string(letters)+rest, size, false) > width {
		letters = letters[:len(letters)-1]
	}
	return strings.TrimRight(string(letters), " ") + rest
}

var (
	regular = sync.OnceValue(func() *face { return newFace(goregular.TTF) })
	heavy   = sync.OnceValue(func() *face { return newFace(gobold.TTF) })
)

// face measures the letters of a font.
type face struct {
	font *sfnt.Font
	mu   sync.Mutex
	buf  sfnt.Buffer
	wide map[rune]float64 // by letter, in sizes
}

func newFace(ttf []byte) *face {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic("drawing: the font that comes with the program: " + err.Error())
	}
	return &face{font: f, wide: map[rune]float64{}}
}

// HasLetter reports whether the Go fonts, which all have the same letters, have one.
func HasLetter(r rune) bool {
	f := regular()
	f.mu.Lock()
	defer f.mu.Unlock()
	glyph, err := f.font.GlyphIndex(&f.buf, r)
	return err == nil && glyph != 0
}

// advance is the width of a letter in sizes; one that the font lacks is taken to
// be as wide as the sign for that.
func (f *face) advance(r rune) float64 {
	f.mu.Lock()
	defer f.mu.Unlock()
	if w, ok := f.wide[r]; ok {
		return w
	}
	const size = 1 << 16 // in 26.6 fixed point, so 1024 pixels
	glyph, err := f.font.GlyphIndex(&f.buf, r)
	var w fixed.Int26_6
	if err == nil {
		w, err = f.font.GlyphAdvance(&f.buf, glyph, size, font.HintingNone)
	}
	if err != nil {
		w = size / 2
	}
	f.wide[r] = float64(w) / size
	return f.wide[r]
}
