package models

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// edit is a stretch of a text and what stands there instead, and does the same to the
// tree that the text was read to.
type edit struct {
	from, to int
	text     string
	tree     func()
}

// with gives the text with edits, which do not overlap. All the rest is the same to the
// byte. The result is read before it is given: it says what the tree says with the
// same edits, and is what read takes, if anything must be; or there is an error that
// says what cannot be written and what to do instead.
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

// reads is a way to read, of which nothing but the error counts.
func reads[T any](parse func(string, []byte) (T, error), file string) func([]byte) error {
	return func(out []byte) error {
		_, err := parse(file, out)
		return err
	}
}

func sameNode(a, b *yaml.Node) bool {
	return a.Kind == b.Kind && a.Tag == b.Tag && a.Value == b.Value && slices.EqualFunc(a.Content, b.Content, sameNode)
}

// stretch is what stands between two offsets with edits.
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

// said is what a text of its own says: keys and their values, or entries of a list.
func said(text string) []*yaml.Node {
	root := opened("", []byte(text)).root
	if root == nil || len(root.Content) == 0 {
		return []*yaml.Node{{}} // which no text is read to
	}
	return root.Content
}

// set puts another value in the place of one, with the quotes that it has; ok is false
// where that runs over several lines.
func (t *text) set(n *yaml.Node, value string) (e edit, ok bool) {
	start := t.offset(n)
	end, ok := t.scalarEnd(n)
	quoted := t.asQuoted(start, value)
	return edit{start, end, quoted, func() { *n = *said("- " + quoted)[0] }}, ok
}

// add puts a key and its value, which may be lines, into a map as its i-th, or last.
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

// put puts lines of a key and its value at the top: in the place of those there are, or
// at the end.
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

// drop takes a key and its value out of a map: their lines, or where others stand in
// these, up to what follows.
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

// indexOf is where a key stands in a map; -1 where it does not.
func indexOf(m *yaml.Node, key string) int {
	for i := 0; m != nil && i+1 < len(m.Content); i += 2 {
		if m.Content[i].Value == key {
			return i
		}
	}
	return -1
}

// valueUnder is what stands in a map under a key; nil where nothing does.
func valueUnder(m *yaml.Node, key string) *yaml.Node {
	if i := indexOf(m, key); i >= 0 {
		return m.Content[i+1]
	}
	return nil
}

// insteadOf puts other lines in the place of those of an entry of a list.
func (t *text) insteadOf(n *yaml.Node, lines string) edit {
	return edit{t.starts[n.Line-1], t.lastLine(n), lines, func() { *n = *said(lines)[0] }}
}

// dropEntry takes the lines of an entry out of a list. A comment above it stays.
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

// cut takes whole lines out, with the break before them or, of the first, behind.
func (t *text) cut(from, to int) edit {
	if n := t.breakBefore(from); n > 0 {
		return edit{from: from - n, to: to}
	}
	return edit{from: from, to: to + breakAt(t.src[to:])}
}

// insert puts an entry behind another one of a list, on lines below those of like.
func (t *text) insert(list, behind, like *yaml.Node, lines string) (e edit, entry *yaml.Node) {
	entry = said(lines)[0]
	at := t.lastLine(like)
	return edit{at, at, t.usualBreak() + lines, func() {
		list.Content = slices.Insert(list.Content, slices.Index(list.Content, behind)+1, entry)
	}}, entry
}

// extend puts an entry at the end of a list, or what stands empty; ok is false where
// that ends in a value over several lines.
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

// dashIndent is how far a list that is begun stands in from its key.
const dashIndent = "  "

// extendFlow puts the entry into a list in brackets: on a line of its own where the
// closing bracket has one.
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
