package models

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"rodlore/models/units"
)

// SpliceRings gives the text of a spec with other rings. The entry of a ring that stays
// keeps its order of keys, its layout and the comments at the ends of its lines, and new
// entries are written like their neighbours. Every other byte of the text stays.
//
// A text in which the rings are not a list of entries, each after a dash on lines of its
// own, is refused: the error says where and what to do. The result is parsed before it is
// returned, so it is the spec asked for or none.
func SpliceRings(file string, src []byte, rings []Ring) ([]byte, error) {
	t, err := newSpecText(file, src)
	if err != nil {
		return nil, err
	}
	edits, err := t.rings(rings)
	if err != nil {
		return nil, err
	}
	return t.with(edits, "these rings", "edit them by hand", reads(ParseModel, file))
}

// ringEntry is where one ring stands in a text.
type ringEntry struct {
	*yaml.Node
	start, last int // of its first line, and where it ends without its comment
}

// rings gives the edits that put other rings in the place of those there are.
func (t *specText) rings(rings []Ring) (edits []edit, err error) {
	list := valueUnder(t.root, "rings")
	switch {
	case list == nil && len(rings) > 0:
		return nil, fmt.Errorf("%s: it has no rings that others could be written like; write them in by hand", t.file)
	case list == nil:
		return nil, nil
	case list.Style&yaml.FlowStyle != 0:
		return nil, t.refuseRing(list, "the rings are in brackets")
	}
	entries := make([]ringEntry, len(list.Content))
	for i, n := range list.Content {
		if entries[i], err = t.ringEntry(n); err != nil {
			return nil, err
		}
	}
	old, column, next := t.model.Rings, t.lineUp(entries), 0
	drop := func(upTo int) {
		for ; next < upTo; next++ {
			edits = append(edits, t.dropEntry(list, entries[next].Node))
		}
	}
	before := list // what stands before the next ring
	for j, i := range matchRings(old, rings) {
		if i < 0 {
			like := max(0, next-1)
			e, n := t.insert(list, before, entries[like].Node, t.ringLike(entries[like], old[like], rings[j], column))
			edits, before = append(edits, e), n
			continue
		}
		drop(i)
		edits = append(edits, t.ringEdits(entries[i], old[i], rings[j], column)...)
		before, next = entries[i].Node, i+1
	}
	drop(len(entries))
	return edits, nil
}

// ringEntry finds an entry.
func (t *text) ringEntry(n *yaml.Node) (e ringEntry, err error) {
	if _, ok := t.dash(n); !ok {
		return e, t.refuseRing(n, "this ring does not stand behind its own dash")
	}
	for _, c := range n.Content {
		if _, ok := t.end(c); !ok {
			return e, t.refuseRing(c, "this runs over several lines")
		}
	}
	e = ringEntry{Node: n, start: t.starts[n.Line-1]}
	e.last, _ = t.end(n)
	if rest := bytes.TrimLeft(t.src[e.last:t.lineEnd(e.last)], " \t"); len(rest) > 0 && rest[0] != '#' {
		return e, t.refuseRing(n, "something else stands behind this ring")
	}
	return e, nil
}

// refuseRing says why a text is not edited.
func (t *text) refuseRing(n *yaml.Node, why string) error {
	return fmt.Errorf("%s:%d:%d: %s; write each ring on a line of its own, such as \"- %s\", and try again",
		t.file, n.Line, n.Column, why, ringTable.example)
}

// matchRings gives, for every new ring, the index of the old one that it is, or
// −1 for one that is new. The order stays; as many as can be are matched, tip
// ring with tip ring and butt ring with butt ring, else those nearest to each
// other and of the same part.
func matchRings(old, rings []Ring) []int {
	const certain, otherPart, far = -10, 0.1, 100 // m
	match := make([]int, 0, len(rings))
	for _, p := range Align(len(old), len(rings), func(i, j int) float64 {
		tip, butt := i == 0 && j == 0, i > 0 && j > 0 && i == len(old)-1 && j == len(rings)-1
		if tip || butt {
			return certain
		}
		away := math.Abs(float64(old[i].At.Value - rings[j].At.Value))
		if old[i].Part.Text != rings[j].Part.Text {
			away += otherPart
		}
		return away / far
	}) {
		if p.New >= 0 {
			match = append(match, p.Old)
		}
	}
	return match
}

// lineUp is the column at which the second keys of all entries stand, where that
// takes more than one space; else 0.
func (t *text) lineUp(entries []ringEntry) int {
	column, padded := 0, false
	for i, e := range entries {
		end, _ := t.end(e.Content[1])
		if e.Style&yaml.FlowStyle == 0 || len(e.Content) < 4 || t.src[end] != ',' {
			return 0
		}
		second := t.offset(e.Content[2])
		at := t.place(second).Col
		if i > 0 && at != column {
			return 0
		}
		column = at
		padded = padded || bytes.HasSuffix(t.src[end:second], []byte("  "))
	}
	if !padded {
		return 0
	}
	return column
}

// ringLike is a new entry, written as another one is but for its comments.
func (t *text) ringLike(e ringEntry, old, ring Ring, column int) string {
	var edits []edit
	for i := 0; i+2 < len(e.Content) && e.Style&yaml.FlowStyle == 0; i += 2 {
		if _, set := ringValue(ring, e.Content[i].Value); set {
			end, _ := t.end(e.Content[i+1])
			edits = append(edits, edit{from: end, to: t.lineEnd(end)})
		}
	}
	return t.stretch(e.start, e.last, append(edits, t.ringEdits(e, old, ring, column)...))
}

// ringEdits make another ring of an entry.
func (t *text) ringEdits(e ringEntry, old, ring Ring, column int) (edits []edit) {
	for i := 0; i < len(e.Content); i += 2 {
		key, value := e.Content[i].Value, e.Content[i+1]
		now, set := ringValue(ring, key)
		switch {
		case !set:
			edits = append(edits, t.drop(e.Node, key))
		case !sameValue(old, ring, key):
			is, _ := t.set(value, now)
			edits = append(edits, is)
			if i == 0 && column > 0 { // the second key stays in its column
				width := t.place(is.from).Col + utf8.RuneCountInString(is.text) + len(",")
				edits = append(edits, edit{is.to + len(","), t.offset(e.Content[2]), strings.Repeat(" ", max(1, column-width)), func() {}})
			}
		}
	}
	for _, k := range ringTable.keys {
		if said, set := ringValue(ring, k.name); set && indexOf(e.Node, k.name) < 0 {
			edits = append(edits, t.add(e.Node, len(e.Content)/2, k.name+": "+plainOrQuoted(said)))
		}
	}
	return edits
}

// ringValue is what stands under a key of a ring; set is false where it has
// none.
func ringValue(r Ring, key string) (text string, set bool) {
	switch key {
	case "at":
		return r.At.Text, r.At.Set()
	case "part":
		return r.Part.Text, true
	}
	return r.Whipping.Text, r.Whipping.Set()
}

// sameValue reports whether two rings have the same under a key, however it is
// written.
func sameValue(a, b Ring, key string) bool {
	switch key {
	case "at":
		return sameLength(a.At, b.At)
	case "part":
		return a.Part.Text == b.Part.Text
	}
	return sameLength(a.Whipping, b.Whipping)
}

func sameLength(a, b Given[units.Length]) bool {
	return a.Set() == b.Set() && math.Abs(float64(a.Value-b.Value)) < 1e-9
}
