package models

import (
	"bytes"
	"regexp"
	"strconv"
	"strings"

	"rodlore/models/spelling"
)

// syntaxMessage splits the YAML library's errors. The line is missing where it
// is the first.
var syntaxMessage = regexp.MustCompile(`^yaml: (?:line (\d+): )?(.*)$`)

// syntaxFault is one of the YAML library's complaints in words that help a
// maker.
type syntaxFault struct {
	has, say string
	// early says that the library counts the lines of this one from 0.
	early bool
	// mark finds the culprit in its line, as the first group, since the library
	// gives no column.
	mark *regexp.Regexp
}

var syntaxFaults = []syntaxFault{
	{has: "mapping values are not allowed", mark: regexp.MustCompile(`: .*?(:)(?:\s|$)`),
		say: "a second colon in one line, or a line indented too far; put text that has a colon in quotes"},
	{has: "found character that cannot start any token", mark: regexp.MustCompile("(?:^|[\\s\\[{,])([@`%\t])"),
		say: "a character that may not begin a value, such as a tab, @ or `; indent with spaces and put such text in quotes"},
	{has: "found a tab character", mark: regexp.MustCompile(`(\t)`),
		say: "a tab; indent with spaces"},
	{has: "did not find expected ',' or '}'", early: true, mark: regexp.MustCompile(`(\{)`),
		say: "a { is not closed, or a comma is missing between its entries"},
	{has: "did not find expected ',' or ']'", early: true, mark: regexp.MustCompile(`(\[)`),
		say: "a [ is not closed, or a comma is missing between its entries"},
	{has: "did not find expected '-' indicator", early: true,
		say: "a line of this list is not indented like the others"},
	{has: "did not find expected key", early: true,
		say: "a line that does not fit in here: indented other than those beside it, or more text after a closing quote or bracket"},
	{has: "did not find expected node content", early: true,
		say: "a value is missing, or begins with a character that may not begin one"},
	{has: "did not find expected <document start>", early: true,
		say: "text after the end of the document; take out the line with the three dots"},
	{has: "could not find expected ':'",
		say: "a key without its colon"},
	{has: "found unexpected end of stream", mark: regexp.MustCompile(`(["'])`),
		say: "a quote is not closed"},
	{has: "found unknown escape character", mark: regexp.MustCompile(`(\\)`),
		say: "an unknown character after a backslash; put the text in single quotes"},
	{has: "exceeded max depth",
		say: "nested too deep"},
}

// unknownAnchor is an alias to nothing, of which the library gives no line.
var unknownAnchor = regexp.MustCompile(`^yaml: unknown anchor '(.*)' referenced$`)

// syntaxFaults turns an error of the YAML library into faults with a place. A
// tab used to indent is a usual cause and breaks the file at many lines, so
// each such line is named instead.
func (d *document) syntaxFaults(err error) {
	if d.tabFaults() {
		return
	}
	if alias := unknownAnchor.FindStringSubmatch(err.Error()); alias != nil {
		mark := regexp.MustCompile(`(\*` + regexp.QuoteMeta(alias[1]) + `)`)
		d.fault(d.find(len(d.starts), mark), "", "*%s is an alias; write the value out", spelling.Shorten(alias[1]))
		return
	}
	line, msg := 0, err.Error()
	if parts := syntaxMessage.FindStringSubmatch(msg); parts != nil {
		line, _ = strconv.Atoi(parts[1])
		msg = parts[2]
	}
	known := syntaxFault{say: msg}
	for _, f := range syntaxFaults {
		if strings.Contains(msg, f.has) {
			known = f
			break
		}
	}
	if known.early {
		line++
	}
	d.fault(d.find(line, known.mark), "", "not readable as YAML: %s", known.say)
}

// find gives the place of mark in the line of that number or, failing that, in
// the nearest line above that has it.
func (t *text) find(number int, mark *regexp.Regexp) Pos {
	number = max(1, min(number, len(t.starts)))
	for n := number; mark != nil && n > 0; n-- {
		if at := mark.FindSubmatchIndex(t.line(n)); at != nil {
			return t.place(t.starts[n-1] + at[2])
		}
	}
	line := t.line(number)
	return Pos{t.file, number, 1 + len(line) - len(bytes.TrimLeft(line, " "))}
}

// tabFaults notes every line indented with a tab.
func (d *document) tabFaults() bool {
	found := false
	for i := range d.starts {
		line := d.line(i + 1)
		indent := line[:len(line)-len(bytes.TrimLeft(line, " \t"))]
		if at := bytes.IndexByte(indent, '\t'); at >= 0 && len(bytes.TrimSpace(line)) > 0 {
			d.fault(Pos{d.file, i + 1, at + 1}, "", "indented with a tab; indent with spaces")
			found = true
		}
	}
	return found
}
