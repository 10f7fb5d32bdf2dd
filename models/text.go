package models

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// text is a file with its lines and its parsed tree.
type text struct {
	file   string
	src    []byte
	starts []int      // where the lines begin, counted as YAML counts them: byte offsets
	root   *yaml.Node // nil where the file says nothing
}

func newText(file string, src []byte) text {
	t := text{file: file, src: src, starts: []int{0}}
	if bytes.HasPrefix(src, []byte("\ufeff")) { // a mark of the encoding is no part of the text
		t.starts[0] = len("\ufeff")
	}
	for i := t.starts[0]; i < len(src); {
		n := breakAt(src[i:])
		if i += max(1, n); n > 0 {
			t.starts = append(t.starts, i)
		}
	}
	return t
}

// openText opens a file for editing; it must have no faults. An empty file becomes a map
// without keys.
func openText(file string, src []byte) (*text, error) {
	doc := opened(file, src)
	if len(doc.faults) > 0 {
		return nil, fmt.Errorf("%s: it has faults; put them right first", file)
	}
	if doc.root == nil {
		doc.root = &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"}
	}
	return &doc.text, nil
}

// line is the line of that number, from 1, without its break.
func (t *text) line(number int) []byte {
	start := t.starts[number-1]
	return t.src[start:t.lineEnd(start)]
}

// place is the position of a byte offset.
func (t *text) place(offset int) Pos {
	line, _ := slices.BinarySearch(t.starts, offset+1)
	return Pos{t.file, line, 1 + utf8.RuneCount(t.src[t.starts[line-1]:offset])}
}

// lineBreaks are the line breaks of YAML 1.1, section 4.2, but for the one that
// is a control character, which no spec may have.
var lineBreaks = [][]byte{[]byte("\r\n"), []byte("\n"), []byte("\r"), []byte("\u2028"), []byte("\u2029")}

// breakAt is the length of the line break that text begins with, 0 for none.
func breakAt(text []byte) int {
	for _, b := range lineBreaks {
		if bytes.HasPrefix(text, b) {
			return len(b)
		}
	}
	return 0
}

// breakBefore is the length of the line break that ends at an offset, 0 for none.
func (t *text) breakBefore(offset int) int {
	for _, b := range lineBreaks {
		if bytes.HasSuffix(t.src[:offset], b) {
			return len(b)
		}
	}
	return 0
}

// usualBreak is the line break for new lines.
func (t *text) usualBreak() string {
	if bytes.Contains(t.src, []byte("\r\n")) {
		return "\r\n"
	}
	return "\n"
}

// offset is where a node begins.
func (t *text) offset(n *yaml.Node) int {
	at := t.starts[n.Line-1]
	for range n.Column - 1 {
		_, size := utf8.DecodeRune(t.src[at:])
		at += size
	}
	return at
}

// end is where a node ends, including its closing bracket; ok is false if a value in it
// spans several lines.
func (t *text) end(n *yaml.Node) (end int, ok bool) {
	if n.Kind == yaml.ScalarNode {
		return t.scalarEnd(n)
	}
	end, ok = t.offset(n)+1, true
	if k := len(n.Content); k > 0 {
		end, ok = t.end(n.Content[k-1])
	}
	if n.Style&yaml.FlowStyle != 0 {
		_, closer := t.closers(end)
		end = closer + 1
	}
	return end, ok
}

// scalarEnd is where a scalar ends; ok is false if it spans several lines.
func (t *text) scalarEnd(n *yaml.Node) (end int, ok bool) {
	start := t.offset(n)
	line := t.src[start:t.lineEnd(start)]
	switch n.Style &^ yaml.TaggedStyle {
	case 0:
		return start + len(n.Value), bytes.HasPrefix(line, []byte(n.Value))
	case yaml.SingleQuotedStyle, yaml.DoubleQuotedStyle:
		quote := line[0]
		for i := 1; i < len(line); i++ {
			switch {
			case line[i] == '\\' && quote == '"', line[i] == quote && quote == '\'' && i+1 < len(line) && line[i+1] == quote:
				i++
			case line[i] == quote:
				return start + i + 1, true
			}
		}
	}
	return 0, false
}

// closers finds the next closing bracket or brace after an offset, and a comma before it;
// comma is -1 if there is none. Comments are skipped.
func (t *text) closers(at int) (comma, closer int) {
	comma = -1
	for ; at < len(t.src); at++ {
		switch t.src[at] {
		case ']', '}':
			return comma, at
		case ',':
			comma = at
		case '#':
			at = t.lineEnd(at)
		}
	}
	return comma, at
}

// lineEnd is where the line around an offset ends, before its line break.
func (t *text) lineEnd(offset int) int {
	for offset < len(t.src) && breakAt(t.src[offset:]) == 0 {
		offset++
	}
	return offset
}

// lastLine is where the last line of a node ends. Comments and empty lines after it do
// not belong to it.
func (t *text) lastLine(n *yaml.Node) int {
	line := len(t.starts)
	if next, _ := behind(t.root, n, nil); next != nil {
		line = next.Line - 1
	}
	for _, start := range slices.Backward(t.starts[:line]) {
		end := t.lineEnd(start)
		said := strings.TrimSpace(string(t.src[start:end]))
		if said != "" && said[0] != '#' {
			return end
		}
	}
	return len(t.src)
}

// behind is the node that follows n in a tree; next if n is the last one.
func behind(tree, n, next *yaml.Node) (follows *yaml.Node, found bool) {
	if tree == n {
		return next, true
	}
	for i, c := range tree.Content {
		after := next
		if i+1 < len(tree.Content) {
			after = tree.Content[i+1]
		}
		if follows, found := behind(c, n, after); found {
			return follows, true
		}
	}
	return nil, false
}

// dash is the column of the dash before a list entry; ok is false if anything but the
// dash stands before the entry.
func (t *text) dash(n *yaml.Node) (column int, ok bool) {
	before := t.src[t.starts[n.Line-1]:t.offset(n)]
	return bytes.IndexByte(before, '-'), ownDash.Match(before)
}

var ownDash = regexp.MustCompile(`^ *-[ \t]+$`)

// shifted indents every line of a text by so many more columns.
func shifted(text string, by int) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		switch bare := strings.TrimLeft(line, " "); {
		case strings.TrimSpace(line) == "":
		case by >= 0:
			b.WriteString(strings.Repeat(" ", by))
		default:
			line = line[min(-by, len(line)-len(bare)):]
		}
		b.WriteString(line)
	}
	return b.String()
}

// withBreaks gives text the line breaks of the file.
func (t *text) withBreaks(text string) string {
	return strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\n", t.usualBreak())
}

// asQuoted writes a text in the style of quotes of the value at an offset.
func (t *text) asQuoted(at int, text string) string {
	switch t.src[at] {
	case '\'':
		return "'" + strings.ReplaceAll(text, "'", "''") + "'"
	case '"':
		return doubleQuoted(text)
	}
	return plainOrQuoted(text)
}

// plain text needs no quotes in braces or out of them.
var plainText = regexp.MustCompile(`^[\p{L}\p{N}]([\p{L}\p{N} ./_-]*[\p{L}\p{N}])?$`)

func plainOrQuoted(text string) string {
	if plainText.MatchString(text) && !strings.EqualFold(text, "null") {
		return text
	}
	return doubleQuoted(text)
}

// doubleQuoted leaves the quoting to the library.
func doubleQuoted(text string) string {
	out, err := yaml.Marshal(&yaml.Node{Kind: yaml.ScalarNode, Style: yaml.DoubleQuotedStyle, Value: text})
	if err != nil {
		panic("models: " + err.Error())
	}
	return strings.TrimSuffix(string(out), "\n")
}
