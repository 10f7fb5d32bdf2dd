package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/mattn/go-runewidth"
)

// wrap breaks text into lines of at most width columns, at spaces, but not
// between a number and its unit. Line ends in the text stay; a word wider than
// a line is left whole.
func wrap(text string, width int) []string {
	var lines []string
	for paragraph := range strings.SplitSeq(text, "\n") {
		lines = append(lines, fill(wordsOf(paragraph), " ", width)...)
	}
	return lines
}

// words parts text at its spaces, and leaves a number and what follows it
// together.
func wordsOf(text string) []string {
	var list []string
	glue := false
	for _, w := range strings.Fields(text) {
		if glue {
			list[len(list)-1] += " " + w
		} else {
			list = append(list, w)
		}
		_, err := strconv.ParseFloat(strings.TrimLeft(w, "(+−-±<"), 64)
		glue = err == nil
	}
	return list
}

// fill puts words, joined by sep, into lines of at most width columns. It gives
// one empty line for no words.
func fill(words []string, sep string, width int) []string {
	if len(words) == 0 {
		return []string{""}
	}
	broken := strings.TrimRight(sep, " ") // what stays of sep at the end of a line
	lines := []string{words[0]}
	for i, w := range words[1:] {
		last := &lines[len(lines)-1]
		longer, end := *last+sep+w, broken
		if i+2 == len(words) {
			end = ""
		}
		if runewidth.StringWidth(longer+end) <= width {
			*last = longer
			continue
		}
		*last += broken
		lines = append(lines, w)
	}
	return lines
}

// reflow joins the lines of each paragraph, which were broken for another
// width. Paragraphs are parted by empty lines, which go; a line that begins an
// item of a list or is indented stays a line.
func reflow(text string) string {
	var b strings.Builder
	parted := true
	for line := range strings.SplitSeq(text, "\n") {
		switch {
		case strings.TrimSpace(line) == "":
			parted = true
			continue
		case b.Len() == 0:
		case parted || strings.ContainsAny(line[:1], " \t-*"):
			b.WriteByte('\n')
		default:
			b.WriteByte(' ')
		}
		parted = false
		b.WriteString(line)
	}
	return b.String()
}

// wrapped prints a text behind an indent, broken to the width there is.
func (p *printer) wrapped(indent, text string) {
	p.indented(indent, wrap(text, p.width()-len(indent)))
}

// indented prints lines behind an indent.
func (p *printer) indented(indent string, lines []string) {
	for _, l := range lines {
		p.println(strings.TrimRight(indent+l, " "))
	}
}

// paragraph prints a text after an empty line.
func (p *printer) paragraph(format string, args ...any) {
	p.println()
	p.wrapped("", fmt.Sprintf(format, args...))
}
