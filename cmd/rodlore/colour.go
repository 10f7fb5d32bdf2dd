package main

import "rodlore/catalogue/visible"

// style is how text stands out on a terminal (ECMA-48, SGR). It only repeats
// what words and signs say already.
type style string

const (
	plain style = ""
	bold  style = "1"
	faint style = "2"
	blue  style = "34" // added; blue and yellow can be told apart by everyone
	amber style = "33" // removed
)

// paint gives text a style where the reader has a terminal that shows it and
// has not said otherwise (no-color.org).
func (p *printer) paint(s style, text string) string {
	if p.terminal == nil || p.env("NO_COLOR") != "" || p.env("TERM") == "dumb" || s == plain || text == "" {
		return text
	}
	return visible.Style(string(s)) + text + visible.Style("0")
}
