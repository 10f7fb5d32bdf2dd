package models

import (
	"bytes"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// syntaxMessage splits the YAML library's errors; the line is missing for the
// first one.
var syntaxMessage = regexp.MustCompile(`^yaml: (?:line (\d+): )?(.*)$`)

// plainWords gives the YAML library's messages in words that help a maker.
var plainWords = []struct{ has, say string }{
	{"mapping values are not allowed", "a second colon in one line, or a line indented too far; put text that has a colon in quotes"},
	{"found character that cannot start any token", "a character that may not begin a value here, such as a tab, @ or `; indent with spaces and put such text in quotes"},
	{"found a tab character", "a tab; indent with spaces"},
	{"did not find expected ',' or '}'", "a { is not closed, or a comma is missing between its entries"},
	{"did not find expected ',' or ']'", "a [ is not closed, or a comma is missing between its entries"},
	{"did not find expected '-' indicator", "a line of the list is not indented like the others"},
	{"did not find expected key", "a line is not indented like the others beside it"},
	{"could not find expected ':'", "a key without its colon"},
	{"found unexpected end of stream", "a quote is not closed"},
	{"found unknown escape character", "an unknown character after a backslash; put the text in single quotes"},
	{"unknown anchor", "an alias; write the value out"},
	{"exceeded max depth", "nested too deep"},
	{"did not find expected node content", "a value is missing or begins with a character that may not begin one"},
	{"control characters are not allowed", "a control character; retype the line"},
}

// syntaxFaults turns an error of the YAML library into faults with a place. A
// tab used to indent is the usual cause and breaks the file at many lines, so
// each such line is named instead.
func (d *document) syntaxFaults(src []byte, err error) {
	parts := syntaxMessage.FindStringSubmatch(err.Error())
	line, msg := 1, err.Error()
	if parts != nil {
		msg = parts[2]
		if n, err := strconv.Atoi(parts[1]); err == nil {
			line = n
		}
	}
	lines := bytes.Split(src, []byte("\n"))
	if d.tabFaults(lines) {
		return
	}
	line = min(line, len(lines))
	d.fault(Pos{File: d.file, Line: line, Col: firstColumn(lines[line-1])}, "", "not readable as YAML: %s", inPlainWords(msg))
}

func inPlainWords(msg string) string {
	for _, w := range plainWords {
		if strings.Contains(msg, w.has) {
			return w.say
		}
	}
	return msg
}

// tabFaults notes every line indented with a tab.
func (d *document) tabFaults(lines [][]byte) bool {
	found := false
	for i, line := range lines {
		indent := line[:len(line)-len(bytes.TrimLeft(line, " \t"))]
		if at := bytes.IndexByte(indent, '\t'); at >= 0 && len(bytes.TrimSpace(line)) > 0 {
			d.fault(Pos{File: d.file, Line: i + 1, Col: at + 1}, "", "indented with a tab; indent with spaces")
			found = true
		}
	}
	return found
}

// firstColumn is the column of the first character that is not a space.
func firstColumn(line []byte) int {
	return 1 + utf8.RuneCount(line) - utf8.RuneCount(bytes.TrimLeft(line, " "))
}
