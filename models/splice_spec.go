package models

import (
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// SpliceSpec gives the text of a spec that lies between two others of the same
// rod, from their texts. Of the two the one that has more keys at the top as they
// are wanted stays to the byte but for what is not so. A key at the top, or a
// section, that is as in the other one is taken from there with its comments. Of
// what is in neither, single values are put in the place of those that stand
// there, and rings as SpliceRings does it.
//
// The result is read again before it is given, so it is the spec asked for or
// none; the error says what cannot be written. file names all texts in errors.
func SpliceSpec(file string, a, b []byte, want *Model) ([]byte, error) {
	base, err := newSpecText(file, a)
	if err != nil {
		return nil, err
	}
	from, err := newSpecText(file, b)
	if err != nil {
		return nil, err
	}
	base.leaves, from.leaves = leavesByKey(base.model), leavesByKey(from.model)
	w := mixture{base: base, from: from, want: want, leaves: leavesByKey(want)}
	if w.alike(from) > w.alike(base) {
		w.base, w.from = from, base
	}
	var edits []edit
	for _, k := range modelTable.keys {
		e, err := w.key(k.name)
		if err != nil {
			return nil, err
		}
		edits = append(edits, e...)
	}
	out := []byte(w.base.apply(0, len(w.base.src), edits))
	return out, w.check(out)
}

// alike is how many keys are in a text as they are wanted.
func (w *mixture) alike(t *specText) int {
	n := 0
	for key, leaves := range t.leaves {
		if sameLeaves(leaves, w.leaves[key]) {
			n++
		}
	}
	return n
}

// check checks that a text is the spec that is wanted.
func (w *mixture) check(out []byte) error {
	got, err := ParseModel(w.base.file, out)
	if err != nil {
		return fmt.Errorf("%s: this spec cannot be written into it: %w", w.base.file, err)
	}
	for key, leaves := range leavesByKey(got) {
		if !sameLeaves(leaves, w.leaves[key]) {
			return w.refuse(key)
		}
	}
	return nil
}

// leavesByKey are the leaves of a spec by the key at the top that they stand
// under. Every key is there.
func leavesByKey(m *Model) map[string][]Field {
	leaves := map[string][]Field{}
	for _, k := range modelTable.keys {
		leaves[k.name] = nil
	}
	for f := range (&Spec{Model: m}).Fields() {
		key := f.Path[0].Key
		leaves[key] = append(leaves[key], f)
	}
	return leaves
}

// sameLeaves reports whether leaves say the same, in any order and spelling.
func sameLeaves(a, b []Field) bool {
	canonical := func(leaves []Field) []string {
		list := make([]string, len(leaves))
		for i, f := range leaves {
			list[i] = f.canonical()
		}
		slices.Sort(list)
		return list
	}
	return slices.Equal(canonical(a), canonical(b))
}

// sameShape reports whether leaves are the same ones in the same order, whatever
// they say and wherever along the rod their entries stand.
func sameShape(a, b []Field) bool {
	return slices.EqualFunc(a, b, func(x, y Field) bool {
		return slices.EqualFunc(x.Path, y.Path, func(a, b Segment) bool {
			return a.Key == b.Key && (a.Entry == b.Entry || a.Placed && b.Placed)
		})
	})
}

// specText is the text of a spec, and what was read from it.
type specText struct {
	*lines
	file   string
	root   *yaml.Node
	model  *Model
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
	return &specText{lines: newLines(src), file: file, root: root, model: m}, nil
}

// block is where the lines of a key begin, and where the last of them ends; ok
// is false where the key is not there. Comments above it and empty lines behind
// it are no part of it.
func (t *specText) block(key string) (start, end int, ok bool) {
	value := valueUnder(t.root, key)
	if value == nil {
		return 0, 0, false
	}
	name := t.root.Content[slices.Index(t.root.Content, value)-1]
	return t.starts[name.Line-1], t.lastLine(t.root, value), true
}

// mixture makes a spec out of two texts of a rod.
type mixture struct {
	base, from *specText
	want       *Model
	leaves     map[string][]Field // of want
}

func (w *mixture) refuse(key string) error {
	return fmt.Errorf("%s: its %s cannot be rewritten without changing something else; edit it by hand", w.base.file, key)
}

// key gives the edits of the base that bring one key to what is wanted.
func (w *mixture) key(key string) ([]edit, error) {
	want := w.leaves[key]
	switch {
	case sameLeaves(want, w.base.leaves[key]):
		return nil, nil
	case len(want) == 0:
		start, end, _ := w.base.block(key)
		return []edit{{start, end + breakAt(w.base.src[end:]), ""}}, nil
	case sameLeaves(want, w.from.leaves[key]):
		return w.take(key, nil), nil
	}
	if edits, ok := w.inPlace(w.base, w.from, key); ok {
		return edits, nil
	}
	if edits, ok := w.inPlace(w.from, w.base, key); ok {
		return w.take(key, edits), nil
	}
	return nil, w.refuse(key)
}

// take takes a key over from the other text, where it has some edits.
func (w *mixture) take(key string, edits []edit) []edit {
	start, end, _ := w.from.block(key)
	text := w.base.withBreaks(w.from.apply(start, end, edits))
	if start, end, ok := w.base.block(key); ok {
		return []edit{{start, end, text}}
	}
	return w.base.atEnd(text)
}

// withBreaks is text with the line breaks that are usual here.
func (l *lines) withBreaks(text string) string {
	return strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\n", l.usualBreak())
}

// inPlace gives the edits of a text that bring a key to what is wanted, value by
// value; ok is false where it takes more.
func (w *mixture) inPlace(t, other *specText, key string) (edits []edit, ok bool) {
	switch {
	case len(t.leaves[key]) == 0:
		return nil, false
	case key == "rings":
		return w.rings(t)
	case key == "sections":
		return w.sections(t, other)
	}
	return t.values(t.leaves[key], w.leaves[key])
}

// rings rewrites the rings.
func (w *mixture) rings(t *specText) ([]edit, bool) {
	r, err := newRingText(t.file, t.src)
	if err != nil {
		return nil, false
	}
	start, end, _ := t.block("rings")
	out := r.splice(t.model.Rings, w.want.Rings)
	return []edit{{start, end, string(out[start : len(out)-len(t.src)+end])}}, true
}

// sections rewrites the sections one by one, where they are those of the text.
func (w *mixture) sections(t, other *specText) (edits []edit, ok bool) {
	if !slices.EqualFunc(t.model.Sections, w.want.Sections, func(a, b Section) bool { return a.Name.Text == b.Name.Text }) {
		return nil, false
	}
	for i, s := range w.want.Sections {
		want := sectionLeaves(w.leaves, s)
		have := sectionLeaves(t.leaves, s)
		if sameLeaves(want, have) {
			continue
		}
		if sameLeaves(want, sectionLeaves(other.leaves, s)) {
			if e, ok := t.takeSection(i, other, s.Name.Text); ok {
				edits = append(edits, e)
				continue
			}
		}
		e, ok := t.values(have, want)
		if !ok {
			return nil, false
		}
		edits = append(edits, e...)
	}
	return edits, true
}

func sectionLeaves(leaves map[string][]Field, s Section) []Field {
	var list []Field
	for _, f := range leaves["sections"] {
		if SectionPath(s).Leads(f.Path) {
			list = append(list, f)
		}
	}
	return list
}

// takeSection takes the section of that name over from another text, in place of
// the i-th.
func (t *specText) takeSection(i int, other *specText, name string) (edit, bool) {
	j := other.model.SectionIndex(name)
	if j < 0 {
		return edit{}, false
	}
	start, end, column, ok := t.section(i)
	from, to, was, found := other.section(j)
	if !ok || !found {
		return edit{}, false
	}
	return edit{start, end, t.withBreaks(shifted(string(other.src[from:to]), column-was))}, true
}

// section is where the i-th section stands, from the start of its first line to
// the end of its last, and the column of its dash; ok is false where it does not
// stand behind a dash on lines of its own.
func (t *specText) section(i int) (start, end, column int, ok bool) {
	list := valueUnder(t.root, "sections")
	if list.Style&yaml.FlowStyle != 0 {
		return 0, 0, 0, false
	}
	n := list.Content[i]
	start = t.starts[n.Line-1]
	dash := string(t.src[start:t.offset(n)])
	_, end, _ = t.block("sections")
	if i+1 < len(list.Content) {
		end = t.contentEnd(list.Content[i+1].Line - 1)
	}
	return start, end, strings.IndexByte(dash, '-'), ownDash.MatchString(dash)
}

// shifted is text with each of its lines so many columns further in.
func shifted(text string, by int) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		switch bare := strings.TrimLeft(line, " "); {
		case strings.TrimSpace(line) == "":
		case by >= 0:
			b.WriteString(strings.Repeat(" ", by))
		default:
			line = line[min(-by, len(line)-len(bare)):]
		}
		b.WriteString(line)
	}
	return b.String()
}

// values puts the values of other leaves in the place of some; ok is false where
// they are not the same leaves or one does not stand alone in its place.
func (t *specText) values(have, want []Field) (edits []edit, ok bool) {
	if !sameShape(have, want) {
		return nil, false
	}
	for i, f := range have {
		if f.CanonicalValue() == want[i].CanonicalValue() {
			continue
		}
		n := nodeAt(t.root, f.Pos)
		if n == nil || n.Value != f.Text {
			return nil, false
		}
		start := t.offset(n)
		end, whole := t.scalarEnd(n)
		if !whole {
			return nil, false
		}
		edits = append(edits, edit{start, end, t.asQuoted(start, want[i].Text)})
	}
	return edits, true
}

// nodeAt is the value at a place; nil where there is none.
func nodeAt(n *yaml.Node, pos Pos) *yaml.Node {
	if n.Kind == yaml.ScalarNode && n.Line == pos.Line && n.Column == pos.Col {
		return n
	}
	for _, c := range n.Content {
		if found := nodeAt(c, pos); found != nil {
			return found
		}
	}
	return nil
}
