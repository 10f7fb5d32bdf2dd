package models

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// Pair is a key of an entry and the text that stands under it. Maps are what
// stands there instead of a text: a list of entries.
type Pair struct {
	Key, Value string
	Maps       [][]Pair
}

// Append gives src with one more entry, in braces, at the end of the list that
// stands under that name at the top of it, or under a name and that of a key of it,
// "blank.measured". The list is begun where there is none yet, and an empty src is
// a file without any. Every other byte stays: comments, layout, line ends. Values
// are quoted where YAML needs it.
//
// The result is read again before it is given: it holds what src held and the
// new entry, and nothing else, or there is an error that says where it cannot be
// written. file names src in errors; it is not opened.
func Append(file string, src []byte, list string, entry []Pair) ([]byte, error) {
	l, root, err := openText(file, src)
	if err != nil {
		return nil, err
	}
	a := appending{lines: l, file: file, entry: flowEntry(entry)}
	edits, err := a.edits(root, strings.Split(list, "."))
	if err != nil {
		return nil, err
	}
	out := []byte(a.apply(0, len(src), edits))
	if err := checkAppended(file, root, out, list, entry); err != nil {
		return nil, err
	}
	return out, nil
}

// Holds reports whether an entry stands in src just as Append writes it.
func Holds(src []byte, entry []Pair) bool { return bytes.Contains(src, []byte(flowEntry(entry))) }

// flowEntry writes an entry in braces.
func flowEntry(entry []Pair) string {
	pairs := make([]string, len(entry))
	for i, p := range entry {
		value := plainOrQuoted(p.Value)
		if p.Maps != nil {
			maps := make([]string, len(p.Maps))
			for k, m := range p.Maps {
				maps[k] = flowEntry(m)
			}
			value = "[" + strings.Join(maps, ", ") + "]"
		}
		pairs[i] = plainOrQuoted(p.Key) + ": " + value
	}
	return "{" + strings.Join(pairs, ", ") + "}"
}

// Begin is a file of those keys, each on a line of its own.
func Begin(keys []Pair) []byte {
	var text strings.Builder
	for _, p := range keys {
		text.WriteString(plainOrQuoted(p.Key) + ": " + plainOrQuoted(p.Value) + "\n")
	}
	return []byte(text.String())
}

// edits put the entry into the list that a way of keys leads to.
func (a *appending) edits(root *yaml.Node, way []string) ([]edit, error) {
	within, list := root, way[len(way)-1]
	var next *yaml.Node // what follows on the list in the file, if anything does
	for _, key := range way[:len(way)-1] {
		value := valueUnder(within, key)
		if value == nil {
			return nil, fmt.Errorf("%s: there is no %s in it to put this under; put it in by hand: %s", a.file, key, a.entry)
		}
		next, within = behind(within, value, next), value
	}
	if within != nil && (within.Kind != yaml.MappingNode || within.Style&yaml.FlowStyle != 0) {
		what := "the whole file"
		if within != root {
			what = way[len(way)-2]
		}
		return nil, a.refuse(within, what+" is no list of keys, each on a line of its own")
	}
	if value := valueUnder(within, list); value != nil {
		return a.extend(within, value, behind(within, value, next))
	}
	return a.begin(within, list, next), nil
}

// behind is the key that follows on a value of a map, otherwise what follows on the
// map.
func behind(n, value, next *yaml.Node) *yaml.Node {
	if i := slices.Index(n.Content, value) + 1; i < len(n.Content) {
		return n.Content[i]
	}
	return next
}

// valueUnder is what stands in a map under a key; nil where nothing does.
func valueUnder(n *yaml.Node, key string) *yaml.Node {
	for i := 0; n != nil && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// appending is a text that gets an entry.
type appending struct {
	*lines
	file, entry string
}

func (a *appending) refuse(n *yaml.Node, why string) error {
	return fmt.Errorf("%s:%d:%d: %s; write it so and try again, or put the entry in by hand: %s", a.file, n.Line, n.Column, why, a.entry)
}

// dashIndent is how far a list that is begun stands in from its key.
const dashIndent = "  "

// begin puts a list of the entry at the end of a map.
func (a *appending) begin(within *yaml.Node, list string, next *yaml.Node) []edit {
	indent, eol := "", a.usualBreak()
	if within != nil {
		indent = strings.Repeat(" ", within.Content[0].Column-1)
	}
	text := indent + list + ":" + eol + indent + dashIndent + "- " + a.entry
	if next == nil {
		return a.atEnd(text)
	}
	end := a.contentBefore(next)
	return []edit{{end, end, eol + text}}
}

// extend puts the entry at the end of a list, on which next follows.
func (a *appending) extend(within, value, next *yaml.Node) ([]edit, error) {
	switch {
	case value.Kind == yaml.SequenceNode && value.Style&yaml.FlowStyle == 0:
		return a.newLine(a.contentBefore(next), strings.Repeat(" ", value.Column-1)), nil
	case value.Kind == yaml.SequenceNode:
		return a.extendFlow(value)
	case value.Kind == yaml.ScalarNode && value.Value == "":
		key := within.Content[slices.Index(within.Content, value)-1]
		return a.newLine(a.lineEnd(a.offset(key)), strings.Repeat(" ", key.Column-1)+dashIndent), nil
	}
	return nil, a.refuse(value, "expected a list, each entry behind a dash on a line of its own")
}

// newLine puts the entry on a line behind the one that ends at an offset.
func (a *appending) newLine(end int, indent string) []edit {
	return []edit{{end, end, a.usualBreak() + indent + "- " + a.entry}}
}

// extendFlow puts the entry into a list in brackets: on a line of its own where
// the closing bracket has one.
func (a *appending) extendFlow(list *yaml.Node) ([]edit, error) {
	if len(list.Content) == 0 {
		at := a.offset(list) + len("[")
		return []edit{{at, at, a.entry}}, nil
	}
	last := list.Content[len(list.Content)-1]
	end, ok := a.flowEnd(last)
	if !ok {
		return nil, a.refuse(last, "the last entry ends in a text over several lines; expected each value on one line")
	}
	comma, bracket := a.closers(end)
	lineEnd := a.lineEnd(max(end, comma+1))
	switch {
	case bracket < lineEnd && comma < 0:
		return []edit{{end, end, ", " + a.entry}}, nil
	case bracket < lineEnd:
		return []edit{{comma + 1, comma + 1, " " + a.entry + ","}}, nil
	}
	line := a.usualBreak() + strings.Repeat(" ", last.Column-1) + a.entry
	if comma < 0 {
		return []edit{{end, end, ","}, {lineEnd, lineEnd, line}}, nil
	}
	return []edit{{lineEnd, lineEnd, line + ","}}, nil
}

// flowEnd is where an entry of a list in brackets ends.
func (a *appending) flowEnd(n *yaml.Node) (end int, ok bool) {
	if n.Kind == yaml.ScalarNode {
		return a.scalarEnd(n)
	}
	end = a.offset(n) + len("{")
	if len(n.Content) > 0 {
		if end, ok = a.flowEnd(n.Content[len(n.Content)-1]); !ok {
			return 0, false
		}
	}
	_, closer := a.closers(end)
	return closer + 1, closer < len(a.src)
}

// closers are where the next closing bracket or brace stands behind an offset,
// and a comma before it; -1 where there is none. Comments are passed over.
func (a *appending) closers(at int) (comma, closer int) {
	comma = -1
	for ; at < len(a.src); at++ {
		switch a.src[at] {
		case ']', '}':
			return comma, at
		case ',':
			comma = at
		case '#':
			at = a.lineEnd(at)
		}
	}
	return comma, at
}

// checkAppended checks that a text holds what it held before and the entry.
func checkAppended(file string, before *yaml.Node, out []byte, list string, entry []Pair) error {
	doc := &document{file: file}
	root, ok := doc.open(out)
	if err := doc.faults.err(); !ok || err != nil {
		return fmt.Errorf("%s: the entry cannot be written into it: %w", file, err)
	}
	items, way := root, strings.Split(list, ".")
	for _, key := range way {
		items = valueUnder(items, key)
	}
	if items == nil || len(items.Content) == 0 || !isEntry(items.Content[len(items.Content)-1], entry) ||
		!sameWithout(before, root, way) {
		return fmt.Errorf("%s: the entry cannot be written into it without changing something else; put it in by hand: %s", file, flowEntry(entry))
	}
	return nil
}

// isEntry reports whether a node is an entry, to the letter.
func isEntry(n *yaml.Node, entry []Pair) bool {
	var want yaml.Node
	return yaml.Unmarshal([]byte(flowEntry(entry)), &want) == nil && sameNode(n, want.Content[0])
}

// sameWithout reports whether a file holds what it held before, but for the last
// entry of a list that a way of keys leads to, and the list itself where that is
// all of it.
func sameWithout(before, after *yaml.Node, way []string) bool {
	was := &yaml.Node{}
	if before != nil {
		was = before
	}
	i := 0
	for j := 0; j+1 < len(after.Content); j += 2 {
		key, value := after.Content[j], *after.Content[j+1]
		within := key.Value == way[0] && len(way) > 1
		if key.Value == way[0] && !within {
			value.Content = value.Content[:len(value.Content)-1]
			old := valueUnder(was, way[0])
			if old == nil && len(value.Content) == 0 {
				continue // begun
			}
			if old != nil && old.Kind == yaml.ScalarNode && len(value.Content) == 0 {
				value = *old // stood there empty
			}
		}
		if i+1 >= len(was.Content) || !sameNode(was.Content[i], key) {
			return false
		}
		if within && !sameWithout(was.Content[i+1], &value, way[1:]) || !within && !sameNode(was.Content[i+1], &value) {
			return false
		}
		i += 2
	}
	return i == len(was.Content)
}

func sameNode(a, b *yaml.Node) bool {
	return a.Kind == b.Kind && a.Tag == b.Tag && a.Value == b.Value && slices.EqualFunc(a.Content, b.Content, sameNode)
}
