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

// specText is the text of a spec, and what was read from it.
type specText struct {
	*text
	model  *Model
	values map[Pos]*yaml.Node // texts and maps, by where they stand
	leaves map[string][]Field // where two are mixed
}

func newSpecText(file string, src []byte) (*specText, error) {
	m, doc := readModel(file, src)
	if _, err := parsed(m, doc); err != nil {
		return nil, err
	}
	root := doc.root
	if root.Style&yaml.FlowStyle != 0 {
		return nil, fmt.Errorf("%s:%d:%d: the whole spec is in braces; write each key on a line of its own and try again",
			file, root.Line, root.Column)
	}
	t := &specText{text: &doc.text, model: m, values: map[Pos]*yaml.Node{}}
	t.gather(root)
	return t, nil
}

// gather notes where the values below a node stand.
func (t *specText) gather(n *yaml.Node) {
	if n.Kind != yaml.SequenceNode {
		t.values[Pos{t.file, n.Line, n.Column}] = n
	}
	for i, c := range n.Content {
		if n.Kind == yaml.SequenceNode || i%2 == 1 { // no key
			t.gather(c)
		}
	}
}

// Value is one value of a spec that can be replaced.
type Value struct {
	Path Path
	Text string
	Pos  Pos
}

// Values lists the values of a spec that can be replaced, in the order of the format.
func Values(file string, src []byte) ([]Value, error) {
	t, err := newSpecText(file, src)
	if err != nil {
		return nil, err
	}
	list, _ := t.settable()
	return list, nil
}

// SetValues gives the text of a spec with other values, by their paths. A key that is not
// there yet is added as the last of its map, unless its path leads through a list other
// than those of sections and plies. Every other byte stays. The result is not checked to
// be a sound spec.
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
		e, _ := t.set(nodes[i], text)
		edits = append(edits, e)
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
	if len(unknown) > 0 {
		return nil, errors.Join(unknown...)
	}
	return t.with(edits, "this", "edit it by hand", nil)
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

// nodeOf is the node in which a leaf is written, and the path of that node: two leaves
// written in one text, such as a least and a most, go by the key above them.
func (t *specText) nodeOf(f Field) (*yaml.Node, Path) {
	n, path := t.values[f.Pos], f.Path[len(f.Path.Entry()):]
	if n != nil && n.Kind == yaml.ScalarNode {
		if last := f.Path.Last(); last == "least" || last == "most" {
			return n, f.Path[:len(f.Path)-1]
		}
		return n, f.Path
	}
	// The position of a number, or of one of a few words, is that of the map around it.
	if n == nil || len(path) == len(f.Path) {
		n, path = t.root, f.Path
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
