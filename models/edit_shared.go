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
	return addShared(file, src, string(p.Kind), name, p, reads(ParseParts, file))
}

// AddMaterial does with materials.yaml what AddPart does with parts.yaml.
func AddMaterial(file string, src []byte, m *Material, name string) ([]byte, error) {
	return addShared(file, src, "", name, m, reads(ParseMaterials, file))
}

// addShared adds an entry at the end of a heading, or of the file if heading is "".
func addShared(file string, src []byte, heading, name string, entry SharedEntry, read func(out []byte) error) ([]byte, error) {
	t, err := openText(file, src)
	if err != nil {
		return nil, err
	}
	line := plainOrQuoted(name) + ": " + flowMap(entry.Fields())
	under := t.root
	if heading != "" {
		under = valueUnder(t.root, heading)
	}
	switch {
	case under == nil:
		under, line = t.root, heading+":\n"+dashIndent+line
	case len(under.Content) == 0 && under != t.root:
		return nil, fmt.Errorf("%s:%d:%d: nothing stands under %s; put this there by hand: %s", file, under.Line, under.Column, heading, line)
	}
	if under.Kind != yaml.MappingNode || under.Style&yaml.FlowStyle != 0 {
		return nil, fmt.Errorf("%s:%d:%d: expected each entry on a line of its own; put this in by hand: %s", file, under.Line, under.Column, line)
	}
	return t.with([]edit{t.add(under, len(under.Content)/2, line)}, name, "put it in by hand: "+line, read)
}

// flowMap writes a part or a material in braces, without the kind of a part, which is a
// heading in the file.
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

// RenameUsed gives the text of a spec that uses shared parts and materials under
// other names. Every other byte stays.
func RenameUsed(file string, src []byte, names map[string]string) ([]byte, error) {
	t, err := newSpecText(file, src)
	if err != nil {
		return nil, err
	}
	var edits []edit
	for f := range (&Spec{Model: t.model}).Fields() {
		name, ok := names[f.Text]
		if !ok || !slices.Contains([]string{"part", "material", "thread", "varnish"}, f.Path.Last()) {
			continue
		}
		n := t.values[f.Pos]
		if n.Kind != yaml.ScalarNode { // what a blank was bought as is no material of the range
			continue
		}
		e, whole := t.set(n, name)
		if !whole {
			return nil, fmt.Errorf("%s: write %s in the place of %s by hand", f.Pos, name, f.Text)
		}
		edits = append(edits, e)
	}
	return t.with(edits, "another name", "edit it by hand", reads(ParseModel, file))
}
