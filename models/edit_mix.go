package models

import (
	"fmt"
	"slices"
)

// SpliceSpec writes a spec that lies between two others of the same rod, from their
// texts. It starts from the text in which more of the keys at the top are as wanted and
// changes only the others. A key at the top, or a section, that is as wanted in the other
// text is taken from there with its comments. Where neither has what is wanted, single
// values are replaced, and rings as SpliceRings does.
//
// The result is parsed before it is returned, so it is the spec asked for; otherwise the
// error says what cannot be written. file names all texts in errors.
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
	return w.base.with(edits, "this spec", "edit it by hand", w.check)
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
		return err
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
		return []edit{w.base.drop(w.base.root, key)}, nil
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
	i := indexOf(w.from.root, key)
	name, value := w.from.root.Content[i], w.from.root.Content[i+1]
	text := w.from.stretch(w.from.starts[name.Line-1], w.from.lastLine(value), edits)
	return []edit{w.base.put(key, shifted(text, 1-name.Column))}
}

// inPlace gives the edits of a text that bring a key to what is wanted, value by
// value; ok is false where it takes more.
func (w *mixture) inPlace(t, other *specText, key string) (edits []edit, ok bool) {
	switch {
	case len(t.leaves[key]) == 0:
		return nil, false
	case key == "rings":
		edits, err := t.rings(w.want.Rings)
		return edits, err == nil
	case key == "sections":
		return w.sections(t, other)
	}
	return t.instead(t.leaves[key], w.leaves[key])
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
		e, ok := t.instead(have, want)
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
	is, from := valueUnder(t.root, "sections").Content[i], valueUnder(other.root, "sections").Content[j]
	column, ok := t.dash(is)
	was, found := other.dash(from)
	if !ok || !found {
		return edit{}, false
	}
	text := string(other.src[other.starts[from.Line-1]:other.lastLine(from)])
	return t.insteadOf(is, t.withBreaks(shifted(text, column-was))), true
}

// instead puts the values of other leaves in the place of some; ok is false where
// they are not the same leaves or one does not stand alone in its place.
func (t *specText) instead(have, want []Field) (edits []edit, ok bool) {
	if !sameShape(have, want) {
		return nil, false
	}
	for i, f := range have {
		if f.CanonicalValue() == want[i].CanonicalValue() {
			continue
		}
		n, _ := t.nodeOf(f)
		if n == nil || n.Value != f.Text {
			return nil, false
		}
		e, whole := t.set(n, want[i].Text)
		twice := slices.ContainsFunc(edits, func(other edit) bool { return other.from == e.from })
		if !whole || twice {
			return nil, false
		}
		edits = append(edits, e)
	}
	return edits, true
}
