package models

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// Pair is a key of an entry and the text that stands under it.
type Pair struct{ Key, Value string }

// Append gives src with one more entry, in braces, at the end of the list that
// stands under that name at the top of it. The list is begun where there is none
// yet, and an empty src is a file without any. Every other byte stays: comments,
// layout, line ends. Values are quoted where YAML needs it.
//
// The result is read again before it is given: it holds what src held and the
// new entry, and nothing else, or there is an error that says where it cannot be
// written. file names src in errors; it is not opened.
func Append(file string, src []byte, list string, entry []Pair) ([]byte, error) {
	doc := &document{file: file}
	root, ok := doc.open(src)
	if !ok || len(doc.faults) > 0 {
		return nil, fmt.Errorf("%s: it has faults; put them right first", file)
	}
	a := appending{lines: newLines(src), file: file, entry: flowEntry(entry)}
	var edits []edit
	var err error
	switch value := valueUnder(root, list); {
	case root != nil && (root.Kind != yaml.MappingNode || root.Style&yaml.FlowStyle != 0):
		err = a.refuse(root, "the whole file is no list of keys, each on a line of its own")
	case value == nil:
		edits = a.begin(root, list)
	default:
		edits, err = a.extend(root, value)
	}
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
		pairs[i] = plainOrQuoted(p.Key) + ": " + plainOrQuoted(p.Value)
	}
	return "{" + strings.Join(pairs, ", ") + "}"
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

// begin puts a list of the entry at the end.
func (a *appending) begin(root *yaml.Node, list string) []edit {
	indent, end, eol := "", len(a.src), a.usualBreak()
	if root != nil {
		indent = strings.Repeat(" ", root.Content[0].Column-1)
	}
	text := indent + list + ":" + eol + indent + dashIndent + "- " + a.entry
	if end > a.starts[0] && a.breakBefore(end) == nil {
		text = eol + text // the last line goes on without its end, as it did
	} else {
		text += eol
	}
	return []edit{{end, end, text}}
}

// extend puts the entry at the end of a list.
func (a *appending) extend(root, value *yaml.Node) ([]edit, error) {
	switch {
	case value.Kind == yaml.SequenceNode && value.Style&yaml.FlowStyle == 0:
		return a.newLine(a.lastLine(root, value), strings.Repeat(" ", value.Column-1)), nil
	case value.Kind == yaml.SequenceNode:
		return a.extendFlow(value)
	case value.Kind == yaml.ScalarNode && value.Value == "":
		key := root.Content[slices.Index(root.Content, value)-1]
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
	items := valueUnder(root, list)
	if items == nil || len(items.Content) == 0 || !isEntry(items.Content[len(items.Content)-1], entry) ||
		!sameWithout(before, root, list) {
		return fmt.Errorf("%s: the entry cannot be written into it without changing something else; put it in by hand: %s", file, flowEntry(entry))
	}
	return nil
}

// isEntry reports whether a node is an entry, to the letter.
func isEntry(n *yaml.Node, entry []Pair) bool {
	if n.Kind != yaml.MappingNode || len(n.Content) != 2*len(entry) {
		return false
	}
	for i, p := range entry {
		if n.Content[2*i].Value != p.Key || n.Content[2*i+1].Value != p.Value {
			return false
		}
	}
	return true
}

// sameWithout reports whether a file holds what it held before, but for the last
// entry of a list, and the list itself where that is all of it.
func sameWithout(before, after *yaml.Node, list string) bool {
	was := &yaml.Node{}
	if before != nil {
		was = before
	}
	i := 0
	for j := 0; j+1 < len(after.Content); j += 2 {
		key, value := after.Content[j], *after.Content[j+1]
		if key.Value == list {
			value.Content = value.Content[:len(value.Content)-1]
			if valueUnder(was, list) == nil && len(value.Content) == 0 {
				continue // begun
			}
			if old := valueUnder(was, list); old != nil && old.Kind == yaml.ScalarNode && len(value.Content) == 0 {
				value = *old // stood there empty
			}
		}
		if i+1 >= len(was.Content) || !sameNode(was.Content[i], key) || !sameNode(was.Content[i+1], &value) {
			return false
		}
		i += 2
	}
	return i == len(was.Content)
}

func sameNode(a, b *yaml.Node) bool {
	return a.Kind == b.Kind && a.Tag == b.Tag && a.Value == b.Value && slices.EqualFunc(a.Content, b.Content, sameNode)
}
