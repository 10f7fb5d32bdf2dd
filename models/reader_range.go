package models

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"rodlore/models/spelling"
	"rodlore/models/units"
)

// span reads a Range.
func span[T any, U ~float64](get func(*T) *Range[U], l interval) reader[T] {
	d := units.Of[U]()
	b := l.in(d)
	expect := fmt.Sprintf("%s, or two as in at least A, at most B or A to B", d.Expected())
	return scalar(expect, func(v value, text string, into *T) {
		low, high, ok := v.spanned(text, b, d)
		if !ok {
			return
		}
		r := Range[U]{Text: text}
		least, most := splitRange(text)
		if least != "" {
			r.Min = Given[U]{U(low), least, v.pos()}
		}
		if most != "" {
			r.Max = Given[U]{U(high), most, v.pos()}
		}
		*get(into) = r
	}).walked(func(w *walk, path Path, from *T) {
		given(w, path.To("least"), get(from).Min)
		given(w, path.To("most"), get(from).Max)
	})
}

// spanned reads both sides of a span; one that is open is infinite.
func (v value) spanned(text string, b bounds, d *units.Dimension) (low, high float64, ok bool) {
	if !v.wellSpanned(text) {
		return 0, 0, false
	}
	low, high, ok = math.Inf(-1), math.Inf(1), true
	least, most := splitRange(text)
	if least != "" {
		low, ok = v.measure(least, b, d, "")
	}
	if ok && most != "" {
		high, ok = v.measure(most, b, d, "")
	}
	if ok && low > high {
		v.fault("%q runs from more to less; write the smaller first", text)
	}
	return low, high, ok && low <= high
}

// Other ways of writing a span: 10-35 g, or max 5 oz, up to 5 oz, <5 oz.
var (
	dashed   = regexp.MustCompile(`^\S*\d\s*[a-zA-Z]*\s*[-–—]\s*\d[^/]*$`)
	bounding = regexp.MustCompile(`(?i)^(max(imum)?|min(imum)?|up to|under|below|over|above|less than|more than|[<>]=?|≤|≥)[\s.]*(.*)$`)
)

// wellSpanned notes a span that is not written in our way and says how to write it.
func (v value) wellSpanned(text string) bool {
	if m := bounding.FindStringSubmatch(text); m != nil {
		limit := spelling.Shorten(m[4])
		v.fault("%q: write a limit as at most %s or at least %s", text, limit, limit)
		return false
	}
	if dashed.MatchString(text) {
		v.fault("%q: write a span with to, as in 10 g to 35 g", text)
		return false
	}
	return true
}

// splitRange splits "at most X", "at least X", "X to Y" and "X", which is both
// sides; an open side is "".
func splitRange(text string) (low, high string) {
	if most, ok := strings.CutPrefix(text, "at most "); ok {
		return "", strings.TrimSpace(most)
	}
	if least, ok := strings.CutPrefix(text, "at least "); ok {
		return strings.TrimSpace(least), ""
	}
	if low, high, ok := strings.Cut(text, " to "); ok {
		return strings.TrimSpace(low), strings.TrimSpace(high)
	}
	return text, text
}
