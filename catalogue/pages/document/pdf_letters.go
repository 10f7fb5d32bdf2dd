package document

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"rodlore/catalogue/pages/drawing"
	"rodlore/catalogue/visible"
)

// printable is text in letters that the fonts have, which all have the same
// ones. What they lack is put into what it is made of where they have that (the
// compatibility decomposition of Unicode Standard Annex 15), else into its number
// in Unicode.
func printable(text string) string {
	text = visible.String(text)
	if strings.IndexFunc(text, func(r rune) bool { return !inFonts(r) }) < 0 {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		b.WriteString(letter(r))
	}
	return b.String()
}

func letter(r rune) string {
	switch {
	case inFonts(r):
		return string(r)
	case showsNothing(r):
		return ""
	case unicode.Is(unicode.Pd, r):
		return "-"
	}
	var b strings.Builder
	for _, part := range norm.NFKD.String(string(r)) {
		switch {
		case inFonts(part):
			b.WriteRune(part)
		case !unicode.Is(unicode.Mn, part): // a mark upon a letter can be spared
			return fmt.Sprintf("[U+%04X]", r)
		}
	}
	return b.String()
}

func showsNothing(r rune) bool {
	return unicode.In(r, unicode.Cf, unicode.Cc, unicode.Variation_Selector)
}

// inFonts reports whether the fonts show a letter.
func inFonts(r rune) bool {
	return r >= ' ' && r <= '~' || drawing.HasLetter(r) && !showsNothing(r)
}
