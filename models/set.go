package models

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"rodlore/models/spelling"

	"gopkg.in/yaml.v3"
)

// Value is one value that a spec says, which another can be put in the place of.
type Value struct {
	Path Path
	Text string
	Pos  Pos
}

// Values lists the values in the text of a spec that stand alone in their places, in
// the order of the format.
func Values(file string, src []byte) ([]Value, error) {
	t, err := newSpecText(file, src)
	if err != nil {
		return nil, err
	}
	list, _ := t.settable()
	return list, nil
}

// SetValues gives the text of a spec with other values, by the paths that Values gives
// them, or that a value could have: then its key is put in, last in its map, unless the
// path leads through another list than those of sections and plies. All the rest of it
// is the same to the byte. Whether it is a spec then is for
// who reads it to say: a value may be refused for another one.
func SetValues(file string, src []byte, texts map[string]string) ([]byte, error) {
	t, err := newSpecText(file, src)
	if err != nil {
		return nil, err
	}
	list, nodes := t.settable()
	var edits []edit
	known := make([]string, len(list))
	for i, v := range list {
		known[i] = v.Path.String()
		text, ok := texts[known[i]]
		if !ok || text == v.Text {
			continue
		}
		if strings.ContainsAny(text, "\r\n") {
			return nil, fmt.Errorf("%s: %s: a value is one line", file, known[i])
		}
		start := t.offset(nodes[i])
		end, _ := t.scalarEnd(nodes[i])
		edits = append(edits, edit{start, end, t.asQuoted(start, text)})
	}
	var unknown []error
	for _, path := range slices.Sorted(maps.Keys(texts)) {
		if slices.Contains(known, path) {
			continue
		}
		if strings.ContainsAny(texts[path], "\r\n") {
			return nil, fmt.Errorf("%s: %s: a value is one line", file, path)
		}
		if e, ok := t.absent(path, texts[path]); ok {
			edits = append(edits, e)
		} else {
			unknown = append(unknown, fmt.Errorf("%s: it has no %s that could be set%s", file, path, spelling.DidYouMean(path, known)))
		}
	}
	return []byte(t.apply(0, len(t.src), edits)), errors.Join(unknown...)
}

// settable are the values that can be set, and where each stands.
func (t *specText) settable() (list []Value, nodes []*yaml.Node) {
	for f := range (&Spec{Model: t.model}).Fields() {
		n, path := t.nodeOf(f)
		if n == nil || slices.Contains(nodes, n) {
			continue
		}
		if _, ok := t.scalarEnd(n); !ok || n.Line == 0 {
			continue
		}
		list = append(list, Value{path, n.Value, Pos{t.file, n.Line, n.Column}})
		nodes = append(nodes, n)
	}
	return list, nodes
}

// nodeOf is the value that says a leaf, with the path that names it: two leaves that
// one text says, as a least and a most, go by what is above them.
func (t *specText) nodeOf(f Field) (*yaml.Node, Path) {
	if n := nodeAt(t.root, f.Pos); n != nil && n.Value == f.Text && !isBound(f.Path) {
		return n, f.Path
	} else if n != nil && isBound(f.Path) {
		return n, f.Path[:len(f.Path)-1]
	}
	// A number, or a word of a few, has the place of the map that it stands in.
	n, path := t.root, f.Path[len(f.Path.Entry()):]
	if len(path) < len(f.Path) {
		n = mapAt(t.root, f.Pos)
	}
	for i, step := range path {
		if n == nil {
			return nil, nil
		}
		if n.Kind == yaml.ScalarNode { // it says all that could stand below
			return n, f.Path[:len(f.Path)-len(path)+i]
		}
		n = valueUnder(n, step.Key)
	}
	if n == nil || n.Kind != yaml.ScalarNode {
		return nil, nil
	}
	return n, f.Path
}

func isBound(p Path) bool { return p.Last() == "least" || p.Last() == "most" }

// mapAt is the map at a place; nil where there is none.
func mapAt(n *yaml.Node, pos Pos) *yaml.Node {
	if n.Kind == yaml.MappingNode && n.Line == pos.Line && n.Column == pos.Col {
		return n
	}
	for _, c := range n.Content {
		if found := mapAt(c, pos); found != nil {
			return found
		}
	}
	return nil
}
