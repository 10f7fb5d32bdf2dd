package models

import (
	"fmt"
	"iter"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// AddPart gives the text of parts.yaml with one more part under a name of its own.
// Every other byte stays. The error says where it cannot be written.
func AddPart(file string, src []byte, p *Part, name string) ([]byte, error) {
	return addShared(file, src, string(p.Kind), name, p, func(out []byte) (*Part, error) {
		read, err := ParseParts(file, out)
		if err != nil {
			return nil, err
		}
		return read.Get(name), nil
	})
}

// AddMaterial does with materials.yaml what AddPart does with parts.yaml.
func AddMaterial(file string, src []byte, m *Material, name string) ([]byte, error) {
	return addShared(file, src, "", name, m, func(out []byte) (*Material, error) {
		read, err := ParseMaterials(file, out)
		if err != nil {
			return nil, err
		}
		return read.Get(name), nil
	})
}

// addShared adds an entry under a heading, and reads it again before it gives the
// text.
func addShared[T any, E interface {
	*T
	Fields() iter.Seq[Field]
}](file string, src []byte, heading, name string, entry E, read func(out []byte) (E, error)) ([]byte, error) {
	text := flowMap(entry.Fields())
	out, err := addEntry(file, src, heading, name, text)
	if err != nil {
		return nil, err
	}
	switch added, err := read(out); {
	case err != nil:
		return nil, fmt.Errorf("%s: %s cannot be written into it: %w", file, name, err)
	case added == nil || flowMap(added.Fields()) != text:
		return nil, fmt.Errorf("%s: %s cannot be written into it without changing something else; put it in by hand: %s", file, name, text)
	}
	return out, nil
}

// flowMap writes the leaves of a part or a material as they would stand in braces.
// What is a heading in the file, the kind of a part, is left out.
func flowMap(leaves iter.Seq[Field]) string {
	var pairs []string
	nested := map[string]int{} // where in pairs the braces of a key are
	for f := range leaves {
		key := f.Path[1:].String()
		value := plainOrQuoted(f.Text)
		if !f.IsText() {
			value = f.Text
		}
		outer, inner, within := strings.Cut(key, ".")
		at, begun := nested[outer]
		switch {
		case key == "kind":
		case !within:
			pairs = append(pairs, key+": "+value)
		case begun:
			pairs[at] = strings.TrimSuffix(pairs[at], "}") + ", " + inner + ": " + value + "}"
		default:
			nested[outer] = len(pairs)
			pairs = append(pairs, outer+": {"+inner+": "+value+"}")
		}
	}
	return "{" + strings.Join(pairs, ", ") + "}"
}

// addEntry puts a line at the end of what stands under a heading, or at the end of
// the file where heading is "".
func addEntry(file string, src []byte, heading, name, text string) ([]byte, error) {
	l, root, err := openText(file, src)
	if err != nil {
		return nil, err
	}
	line := plainOrQuoted(name) + ": " + text
	under := root
	if heading != "" {
		under = valueUnder(root, heading)
	}
	if under == nil || len(under.Content) == 0 {
		if under != nil && heading != "" {
			return nil, fmt.Errorf("%s:%d:%d: nothing stands under %s; put this there by hand: %s", file, under.Line, under.Column, heading, line)
		}
		if heading != "" {
			line = heading + ":" + l.usualBreak() + "  " + line
		}
		return []byte(l.apply(0, len(src), l.atEnd(line))), nil
	}
	if under.Kind != yaml.MappingNode || under.Style&yaml.FlowStyle != 0 {
		return nil, fmt.Errorf("%s:%d:%d: expected each entry on a line of its own; put this in by hand: %s", file, under.Line, under.Column, line)
	}
	end := l.lastLine(root, under)
	indent := strings.Repeat(" ", under.Content[0].Column-1)
	return []byte(l.apply(0, len(src), []edit{{end, end, l.usualBreak() + indent + line}})), nil
}

// RenameUsed gives the text of a spec that uses shared parts and materials under
// other names. Every other byte stays.
func RenameUsed(file string, src []byte, names map[string]string) ([]byte, error) {
	t, err := newSpecText(file, src)
	if err != nil {
		return nil, err
	}
	var edits []edit
	for _, w := range t.model.used() {
		name, ok := names[w.Text]
		if !ok {
			continue
		}
		n := nodeAt(t.root, w.Pos)
		if n == nil {
			return nil, fmt.Errorf("%s: write %s in the place of %s by hand", w.Pos, name, w.Text)
		}
		start := t.offset(n)
		end, whole := t.scalarEnd(n)
		if !whole {
			return nil, fmt.Errorf("%s: write %s in the place of %s by hand", w.Pos, name, w.Text)
		}
		edits = append(edits, edit{start, end, t.asQuoted(start, name)})
	}
	slices.SortFunc(edits, func(a, b edit) int { return a.from - b.from })
	return []byte(t.apply(0, len(src), edits)), nil
}

// used are the names of parts and materials that stand in the spec.
func (m *Model) used() []Word {
	words := []Word{m.Handle.Seat.Part, m.Handle.Cap.Part, m.Finish.Thread, m.Finish.Varnish}
	for _, s := range m.Sections {
		words = append(words, s.Material)
		if s.Rolled != nil {
			for _, p := range s.Rolled.Plies {
				words = append(words, p.Material)
			}
		}
	}
	for _, j := range m.Joints {
		words = append(words, j.Material)
	}
	for _, r := range m.Rings {
		words = append(words, r.Part)
	}
	for _, g := range m.Handle.Grips {
		words = append(words, g.Material, g.Part)
	}
	return slices.DeleteFunc(words, func(w Word) bool { return w.Text == "" })
}
