package models

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// lines is a text with where its lines begin, counted as YAML counts them.
type lines struct {
	src    []byte
	starts []int // byte offsets
}

func newLines(src []byte) *lines {
	first := 0
	if bytes.HasPrefix(src, []byte("\ufeff")) { // a mark of the encoding is no part of the text
		first = len("\ufeff")
	}
	l := &lines{src, []int{first}}
	for i := first; i < len(src); {
		n := breakAt(src[i:])
		if n > 0 {
			i += n
			l.starts = append(l.starts, i)
			continue
		}
		i++
	}
	return l
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

// breakBefore is the line break that ends at an offset; none at the start.
func (l *lines) breakBefore(offset int) []byte {
	for _, b := range lineBreaks {
		if bytes.HasSuffix(l.src[:offset], b) {
			return b
		}
	}
	return nil
}

// offset is where a node begins.
func (l *lines) offset(n *yaml.Node) int {
	at := l.starts[n.Line-1]
	for range n.Column - 1 {
		_, size := utf8.DecodeRune(l.src[at:])
		at += size
	}
	return at
}

// lineEnd is where the line that an offset lies in ends, before its break.
func (l *lines) lineEnd(offset int) int {
	for offset < len(l.src) && breakAt(l.src[offset:]) == 0 {
		offset++
	}
	return offset
}

// lastLine is where the last line ends of what stands under a key at the top.
func (l *lines) lastLine(root, value *yaml.Node) int {
	return l.contentBefore(behind(root, value, nil))
}

// contentBefore is where the last line ends of what stands before a node, or of
// all where it is nil.
func (l *lines) contentBefore(next *yaml.Node) int {
	if next == nil {
		return l.contentEnd(len(l.starts))
	}
	return l.contentEnd(next.Line - 1)
}

// contentEnd is where the last line before the one of that number, counted from
// zero, ends that is neither empty nor a comment.
func (l *lines) contentEnd(line int) int {
	for _, start := range slices.Backward(l.starts[:line]) {
		end := l.lineEnd(start)
		text := strings.TrimSpace(string(l.src[start:end]))
		if text != "" && text[0] != '#' {
			return end
		}
	}
	return len(l.src)
}

// columnOf is how many characters stand before an offset in its line.
func (l *lines) columnOf(offset int) int {
	start := l.starts[0]
	for _, s := range l.starts {
		if s <= offset {
			start = s
		}
	}
	return utf8.RuneCount(l.src[start:offset])
}

// scalarEnd is where the scalar that n is ends; ok is false for one that runs
// over several lines.
func (l *lines) scalarEnd(n *yaml.Node) (end int, ok bool) {
	text := l.src[l.offset(n):l.lineEnd(l.offset(n))]
	start := l.offset(n)
	switch n.Style &^ yaml.TaggedStyle {
	case 0:
		return start + len(n.Value), bytes.HasPrefix(text, []byte(n.Value))
	case yaml.SingleQuotedStyle, yaml.DoubleQuotedStyle:
		quote := text[0]
		for i := 1; i < len(text); i++ {
			switch {
			case text[i] == '\\' && quote == '"', text[i] == quote && quote == '\'' && i+1 < len(text) && text[i+1] == quote:
				i++
			case text[i] == quote:
				return start + i + 1, true
			}
		}
	}
	return 0, false
}

// openText opens a text that is to be edited, and has no faults.
func openText(file string, src []byte) (*lines, *yaml.Node, error) {
	doc := &document{file: file}
	root, ok := doc.open(src)
	if !ok || len(doc.faults) > 0 {
		return nil, nil, fmt.Errorf("%s: it has faults; put them right first", file)
	}
	return newLines(src), root, nil
}

// usualBreak is the line break of the text.
func (l *lines) usualBreak() string {
	if bytes.Contains(l.src, []byte("\r\n")) {
		return "\r\n"
	}
	return "\n"
}

// atEnd puts lines at the end of the text. Where its last line goes on without its
// end, so do they.
func (l *lines) atEnd(text string) []edit {
	end, eol := len(l.src), l.usualBreak()
	if end > l.starts[0] && l.breakBefore(end) == nil {
		return []edit{{end, end, eol + text}}
	}
	return []edit{{end, end, text + eol}}
}

// edit is a stretch of the text and what stands there instead.
type edit struct {
	from, to int
	text     string
}

// apply is what stands between two offsets with edits, which do not overlap.
func (l *lines) apply(from, to int, edits []edit) string {
	slices.SortStableFunc(edits, func(a, b edit) int { return a.from - b.from })
	var b strings.Builder
	for _, e := range edits {
		b.Write(l.src[from:e.from])
		b.WriteString(e.text)
		from = e.to
	}
	b.Write(l.src[from:to])
	return b.String()
}
