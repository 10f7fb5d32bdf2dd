package main

import (
	"bufio"
	"fmt"
	"os"
	"strconv"

	"golang.org/x/term"

	"rodlore/catalogue/visible"
)

// printer is where a run prints its answer. What shows a value has it and no more: it
// knows nothing of ranges, folders and options.
type printer struct {
	out      *bufio.Writer
	terminal *os.File // standard output, where it is a terminal
	env      func(string) string
	page     *saidPage // of what is printed; nil where that is lines
}

// width is how many columns a line may have.
func (p *printer) width() int {
	const usual, least = 80, 40
	if p.page != nil {
		return pageWidth
	}
	if n, err := strconv.Atoi(p.env("COLUMNS")); err == nil && n > 0 {
		return max(n, least)
	}
	if p.terminal != nil {
		if n, _, err := term.GetSize(int(p.terminal.Fd())); err == nil && n > 0 {
			return max(n, least)
		}
	}
	return usual
}

// println writes one line of output. An error to write stays with the buffer
// and is told when it is flushed.
func (p *printer) println(words ...any) { fmt.Fprintln(p.out, words...) }

func (p *printer) printf(format string, args ...any) { fmt.Fprintf(p.out, format, args...) }

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
