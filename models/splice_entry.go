package models

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// ringEntry is where one ring stands in a text, from the start of its first line
// to the end of its last, comment included.
type ringEntry struct {
	start, end int
	last       int    // where it ends without its comment
	dash       string // what stands before the first key or the brace
	flow       bool   // in braces
	pairs      []ringPair
}

// ringPair is a key with its value.
type ringPair struct {
	key        string
	start      int // of the key
	value, end int // of the value
}

// entry finds an entry.
func (t *ringText) entry(n *yaml.Node) (e ringEntry, err error) {
	at := t.offset(n)
	e = ringEntry{start: t.starts[n.Line-1], flow: n.Style&yaml.FlowStyle != 0}
	e.dash = string(t.src[e.start:at])
	if !ownDash.MatchString(e.dash) {
		return e, t.refuse(n, "this ring does not stand behind its own dash")
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		end, ok := t.scalarEnd(value)
		if !ok {
			return e, t.refuse(value, "this runs over several lines")
		}
		e.pairs = append(e.pairs, ringPair{key.Value, t.offset(key), t.offset(value), end})
	}
	e.last = e.pairs[len(e.pairs)-1].end
	if e.flow {
		e.last = t.afterBrace(e.last)
	}
	e.end = t.lineEnd(e.last)
	if rest := bytes.TrimLeft(t.src[e.last:e.end], " \t"); len(rest) > 0 && rest[0] != '#' {
		return e, t.refuse(n, "something else stands behind this ring")
	}
	return e, nil
}

var ownDash = regexp.MustCompile(`^ *-[ \t]+$`)

// afterBrace is behind the brace that closes an entry, from the end of its last
// value on.
func (t *ringText) afterBrace(at int) int {
	for at < len(t.src) {
		switch t.src[at] {
		case '}':
			return at + 1
		case '#':
			at = t.lineEnd(at)
		default:
			at++
		}
	}
	return at
}

// lineUp is the column at which the second keys of all entries stand, where that
// takes more than one space; else 0.
func (t *ringText) lineUp() int {
	column, padded := 0, false
	for i, e := range t.entries {
		if !e.flow || len(e.pairs) < 2 || t.src[e.pairs[0].end] != ',' {
			return 0
		}
		c := t.columnOf(e.pairs[1].start)
		if i > 0 && c != column {
			return 0
		}
		column = c
		padded = padded || strings.HasSuffix(string(t.src[e.pairs[0].end:e.pairs[1].start]), "  ")
	}
	if !padded {
		return 0
	}
	return column
}

// like is a new entry, written as another one is but for its comments.
func (t *ringText) like(e *ringEntry, old, ring Ring) string {
	edits := t.edits(e, old, ring)
	for _, p := range e.pairs[:len(e.pairs)-1] {
		if _, set := ringValue(ring, p.key); set && !e.flow {
			edits = append(edits, edit{p.end, t.lineEnd(p.end), ""})
		}
	}
	return t.apply(e.start, e.last, edits)
}

// edits make another ring of an entry.
func (t *ringText) edits(e *ringEntry, old, ring Ring) (edits []edit) {
	for i, p := range e.pairs {
		now, set := ringValue(ring, p.key)
		switch {
		case !set:
			edits = append(edits, t.without(e, i))
		case !sameValue(old, ring, p.key):
			text := t.asQuoted(p.value, now)
			edits = append(edits, edit{p.value, p.end, text})
			if i == 0 && t.column > 0 {
				edits = append(edits, t.padded(e, text))
			}
		}
	}
	for _, key := range ringKeys {
		if text, set := ringValue(ring, key); set && !e.has(key) {
			edits = append(edits, t.with(e, key, text))
		}
	}
	return edits
}

// padded keeps the second key in its column behind a new first value.
func (t *ringText) padded(e *ringEntry, first string) edit {
	from, to := e.pairs[0].end+1, e.pairs[1].start // behind the comma
	width := t.columnOf(e.pairs[0].value) + utf8.RuneCountInString(first) + 1
	return edit{from, to, strings.Repeat(" ", max(1, t.column-width))}
}

// without takes a pair out: up to the next one, or from the end of the one
// before.
func (t *ringText) without(e *ringEntry, i int) edit {
	if i+1 < len(e.pairs) {
		return edit{e.pairs[i].start, e.pairs[i+1].start, ""}
	}
	if e.flow {
		return edit{e.pairs[i-1].end, e.pairs[i].end, ""}
	}
	// Its whole line, with the break before it.
	line := e.pairs[i].start - t.columnOf(e.pairs[i].start)
	return edit{line - len(t.breakBefore(line)), t.lineEnd(e.pairs[i].end), ""}
}

// with puts a pair behind the last one.
func (t *ringText) with(e *ringEntry, key, text string) edit {
	last := e.pairs[len(e.pairs)-1]
	pair := key + ": " + plainOrQuoted(text)
	if e.flow {
		return edit{last.end, last.end, ", " + pair}
	}
	at := t.lineEnd(last.end)
	return edit{at, at, t.usualBreak() + strings.Repeat(" ", utf8.RuneCountInString(e.dash)) + pair}
}

// ringKeys are the keys of a ring in the order of the format.
var ringKeys = []string{"at", "part", "whipping"}

func (e *ringEntry) has(key string) bool {
	return slices.ContainsFunc(e.pairs, func(p ringPair) bool { return p.key == key })
}

// ringValue is what stands under a key of a ring; set is false where it has
// none.
func ringValue(r Ring, key string) (text string, set bool) {
	switch key {
	case "at":
		return r.At.Text, r.At.Set()
	case "part":
		return r.Part.Text, true
	}
	return r.Whipping.Text, r.Whipping.Set()
}

// sameValue reports whether two rings have the same under a key, however it is
// written.
func sameValue(a, b Ring, key string) bool {
	switch key {
	case "at":
		return sameLength(a.At, b.At)
	case "part":
		return a.Part.Text == b.Part.Text
	}
	return sameLength(a.Whipping, b.Whipping)
}

// asQuoted writes a text with the quotes that the value at an offset has.
func (l *lines) asQuoted(at int, text string) string {
	switch l.src[at] {
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
