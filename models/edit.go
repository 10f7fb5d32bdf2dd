package models

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// edit replaces a stretch of a text and makes the same change to the tree that was parsed
// from the text.
type edit struct {
	from, to int
	text     string
	tree     func()
}

// with applies edits, which must not overlap, and leaves every other byte as it is. It
// parses the result before returning it: the result must have the same tree as the edited
// one and satisfy read, unless that is nil. Otherwise the error says what cannot be
// written and what to do instead.
func (t *text) with(edits []edit, what, instead string, read func(out []byte) error) ([]byte, error) {
	out := []byte(t.stretch(0, len(t.src), edits))
	for _, e := range edits {
		e.tree()
	}
	doc := opened(t.file, out)
	err := doc.faults.err()
	if doc.root != nil && sameNode(doc.root, t.root) {
		if err = nil; read != nil {
			err = read(out)
		}
	} else if err == nil {
		return nil, fmt.Errorf("%s: %s cannot be written into it without changing something else; %s", t.file, what, instead)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %s cannot be written into it: %w", t.file, what, err)
	}
	return out, nil
}

// reads is parse for callers who need only the error.
func reads[T any](parse func(string, []byte) (T, error), file string) func([]byte) error {
	return func(out []byte) error {
		_, err := parse(file, out)
		return err
	}
}

func sameNode(a, b *yaml.Node) bool {
	return a.Kind == b.Kind && a.Tag == b.Tag && a.Value == b.Value && slices.EqualFunc(a.Content, b.Content, sameNode)
}

// stretch is the text between two offsets with edits applied.
func (t *text) stretch(from, to int, edits []edit) string {
	edits = slices.Clone(edits)
	slices.SortStableFunc(edits, func(a, b edit) int { return a.from - b.from })
	var b strings.Builder
	for _, e := range edits {
		b.Write(t.src[from:e.from])
		b.WriteString(e.text)
		from = e.to
	}
	b.Write(t.src[min(from, to):to])
	return b.String()
}

// said parses a fragment into its keys and values or its list entries.
func said(text string) []*yaml.Node {
	root := opened("", []byte(text)).root
	if root == nil || len(root.Content) == 0 {
		return []*yaml.Node{{}} // equal to no parsed node
	}
	return root.Content
}

// set replaces a value and keeps its style of quotes; ok is false if the old value spans
// several lines.
func (t *text) set(n *yaml.Node, value string) (e edit, ok bool) {
	start := t.offset(n)
	end, ok := t.scalarEnd(n)
	quoted := t.asQuoted(start, value)
	return edit{start, end, quoted, func() { *n = *said("- " + quoted)[0] }}, ok
}

// add inserts a key and its value, possibly of several lines, as the i-th pair of a map.
func (t *text) add(m *yaml.Node, i int, pair string) edit {
	last := 2*i == len(m.Content)
	e := edit{tree: func() {
		at := 2 * i
		if last { // of several, behind the others
			at = len(m.Content)
		}
		m.Content = slices.Insert(m.Content, at, said(pair)...)
	}}
	if m.Style&yaml.FlowStyle != 0 {
		e.from, e.text = t.offset(m)+len("{"), pair
		if i > 0 {
			e.from, _ = t.end(m.Content[2*i-1])
			e.text = ", " + pair
		}
		e.to = e.from
		return e
	}
	if len(m.Content) > 0 {
		pair = shifted(pair, m.Content[0].Column-1)
	}
	e.from, e.text = len(t.src), t.usualBreak()+t.withBreaks(pair)
	switch bare := len(t.src) == t.starts[0]; {
	case m != t.root || !last:
		e.from = t.lastLine(m.Content[2*i-1])
	case bare || t.breakBefore(e.from) > 0: // the last line has its end, and so has the new one
		e.text = t.withBreaks(pair) + t.usualBreak()
	}
	e.to = e.from
	return e
}

// put sets a key at the top level, given as lines: it replaces the lines of the key, or
// is added at the end.
func (t *text) put(key, pair string) edit {
	i := indexOf(t.root, key)
	if i < 0 {
		return t.add(t.root, len(t.root.Content)/2, pair)
	}
	name, value := t.root.Content[i], t.root.Content[i+1]
	lines := t.withBreaks(shifted(pair, name.Column-1))
	return edit{t.starts[name.Line-1], t.lastLine(value), lines, func() {
		i := slices.Index(t.root.Content, name)
		t.root.Content = slices.Replace(t.root.Content, i, i+2, said(pair)...)
	}}
}

// drop removes a key and its value from a map: whole lines, or, where other keys share
// them, the text up to the next key.
func (t *text) drop(m *yaml.Node, key string) edit {
	i := indexOf(m, key)
	name, value, last := m.Content[i], m.Content[i+1], i+2 == len(m.Content)
	start, line := t.offset(name), t.starts[name.Line-1]
	e := t.cut(line, t.lastLine(value))
	switch {
	case m.Style&yaml.FlowStyle != 0 && last:
		e.from, _ = t.end(m.Content[i-1])
		e.to, _ = t.end(value)
	case len(bytes.TrimSpace(t.src[line:start])) > 0:
		e.from, e.to = start, t.offset(m.Content[i+2])
	}
	e.tree = func() {
		i := slices.Index(m.Content, name)
		m.Content = slices.Delete(m.Content, i, i+2)
	}
	return e
}

// indexOf is the index of a key among the contents of a map; -1 if it is not there.
func indexOf(m *yaml.Node, key string) int {
	for i := 0; m != nil && i+1 < len(m.Content); i += 2 {
		if m.Content[i].Value == key {
			return i
		}
	}
	return -1
}

// valueUnder is the value of a key in a map; nil if the key is not there.
func valueUnder(m *yaml.Node, key string) *yaml.Node {
	if i := indexOf(m, key); i >= 0 {
		return m.Content[i+1]
	}
	return nil
}

// insteadOf replaces the lines of a list entry.
func (t *text) insteadOf(n *yaml.Node, lines string) edit {
	return edit{t.starts[n.Line-1], t.lastLine(n), lines, func() { *n = *said(lines)[0] }}
}

// dropEntry removes the lines of a list entry. A comment above it stays.
func (t *text) dropEntry(list, n *yaml.Node) edit {
	e := t.cut(t.starts[n.Line-1], t.lastLine(n))
	e.tree = func() {
		i := slices.Index(list.Content, n)
		list.Content = slices.Delete(list.Content, i, i+1)
		if len(list.Content) == 0 { // a key with nothing behind it
			*list = yaml.Node{Kind: yaml.ScalarNode, Tag: "!!null"}
		}
	}
	return e
}

// cut removes whole lines together with the line break before them, or after them if
// they are the first.
func (t *text) cut(from, to int) edit {
	if n := t.breakBefore(from); n > 0 {
		return edit{from: from - n, to: to}
	}
	return edit{from: from, to: to + breakAt(t.src[to:])}
}

// insert adds an entry after another one of a list; its lines go below those of like.
func (t *text) insert(list, behind, like *yaml.Node, lines string) (e edit, entry *yaml.Node) {
	entry = said(lines)[0]
	at := t.lastLine(like)
	return edit{at, at, t.usualBreak() + lines, func() {
		list.Content = slices.Insert(list.Content, slices.Index(list.Content, behind)+1, entry)
	}}, entry
}

// extend appends an entry to a list, or to a key without a value; ok is false if the list
// ends in a value that spans several lines.
func (t *text) extend(list, key *yaml.Node, entry string) (edits []edit, ok bool) {
	tree := func() {
		*list = yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Content: append(list.Content, said("- "+entry)...)}
	}
	at, column := 0, list.Column
	switch {
	case list.Kind == yaml.ScalarNode:
		at, column = t.lineEnd(t.offset(key)), key.Column+len(dashIndent)
	case list.Style&yaml.FlowStyle != 0:
		return t.extendFlow(list, entry, tree)
	default:
		at = t.lastLine(list)
	}
	return []edit{{at, at, t.usualBreak() + strings.Repeat(" ", column-1) + "- " + entry, tree}}, true
}

// dashIndent is the indentation of a new list below its key.
const dashIndent = "  "

// extendFlow appends the entry to a list in brackets, on a line of its own if the closing
// bracket has one.
func (t *text) extendFlow(list *yaml.Node, entry string, tree func()) (edits []edit, ok bool) {
	if len(list.Content) == 0 {
		at := t.offset(list) + len("[")
		return []edit{{at, at, entry, tree}}, true
	}
	last := list.Content[len(list.Content)-1]
	end, ok := t.end(last)
	if !ok {
		return nil, false
	}
	comma, bracket := t.closers(end)
	lineEnd := t.lineEnd(max(end, comma+1))
	switch {
	case bracket < lineEnd && comma < 0:
		return []edit{{end, end, ", " + entry, tree}}, true
	case bracket < lineEnd:
		return []edit{{comma + 1, comma + 1, " " + entry + ",", tree}}, true
	}
	line := t.usualBreak() + strings.Repeat(" ", last.Column-1) + entry
	if comma < 0 {
		return []edit{{end, end, ",", func() {}}, {lineEnd, lineEnd, line, tree}}, true
	}
	return []edit{{lineEnd, lineEnd, line + ",", tree}}, true
}
