package models

import (
	"bytes"
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"
)

// Pair is a key of an entry and the text that stands under it. Maps are what
// stands there instead of a text: a list of entries.
type Pair struct {
	Key, Value string
	Maps       [][]Pair
}

// Append gives src with one more entry, in braces, at the end of a list. The list is named
// by its key at the top, or by several keys, as in "blank.measured"; a list that is not
// there yet is begun, also in an empty src. Every other byte stays: comments, layout, line
// breaks. Values are quoted where YAML needs it.
//
// The result is parsed before it is returned: it holds what src held and the new entry,
// and nothing else; otherwise the error says where the entry cannot be written. file
// names src in errors; it is not opened.
func Append(file string, src []byte, list string, entry []Pair) ([]byte, error) {
	t, err := openText(file, src)
	if err != nil {
		return nil, err
	}
	edits, err := t.append(strings.Split(list, "."), flowEntry(entry))
	if err != nil {
		return nil, err
	}
	return t.with(edits, "the entry", "put it in by hand: "+flowEntry(entry), reads(openText, file))
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

// append adds an entry to the list to which keys lead, one below the other.
func (t *text) append(way []string, entry string) ([]edit, error) {
	within, list := t.root, way[len(way)-1]
	refuse := func(n *yaml.Node, why string) error {
		return fmt.Errorf("%s:%d:%d: %s; write it so and try again, or put the entry in by hand: %s", t.file, n.Line, n.Column, why, entry)
	}
	what := "the whole file"
	for _, what = range way[:len(way)-1] {
		if within = valueUnder(within, what); within == nil {
			return nil, fmt.Errorf("%s: there is no %s in it to put this under; put it in by hand: %s", t.file, what, entry)
		}
	}
	if within.Kind != yaml.MappingNode || within.Style&yaml.FlowStyle != 0 {
		return nil, refuse(within, what+" is no list of keys, each on a line of its own")
	}
	i := indexOf(within, list)
	if i < 0 {
		return []edit{t.add(within, len(within.Content)/2, list+":\n"+dashIndent+"- "+entry)}, nil
	}
	key, value := within.Content[i], within.Content[i+1]
	if value.Kind != yaml.SequenceNode && value.Value != "" || value.Kind == yaml.MappingNode {
		return nil, refuse(value, "expected a list, each entry behind a dash on a line of its own")
	}
	edits, ok := t.extend(value, key, entry)
	if !ok {
		return nil, refuse(value.Content[len(value.Content)-1], "the last entry ends in a text over several lines; expected each value on one line")
	}
	return edits, nil
}
