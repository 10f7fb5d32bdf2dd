package models

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"rodlore/models/units"

	"gopkg.in/yaml.v3"
)

// SpliceRings gives src, the text that m was read from, with other rings. Only
// what a ring is changes: entries keep their order of keys, their layout and the
// comments at the ends of their lines as long as their ring stays, and all the
// rest of the text is the same to the byte. New entries are written as their
// neighbours are.
//
// A text whose rings are not written one entry after the other, each behind a
// dash on lines of its own, is refused: the error says where and what to do. The
// result is read again before it is given, so it is the spec asked for or none.
func SpliceRings(src []byte, m *Model, rings []Ring) ([]byte, error) {
	t, err := newRingText(m.File, src)
	if err != nil {
		return nil, err
	}
	out := t.splice(m.Rings, rings)
	if err := spliced(m, out, rings); err != nil {
		return nil, err
	}
	return out, nil
}

// spliced checks that a text is the spec of m with those rings.
func spliced(m *Model, src []byte, rings []Ring) error {
	got, err := ParseModel(m.File, src)
	if err != nil {
		return fmt.Errorf("%s: these rings cannot be written into it: %w", m.File, err)
	}
	same := len(got.Rings) == len(rings)
	for i := 0; same && i < len(rings); i++ {
		same = sameRing(got.Rings[i], rings[i])
	}
	if !same || !sameBut(got, m) {
		return fmt.Errorf("%s: its rings cannot be rewritten without changing something else; edit them by hand", m.File)
	}
	return nil
}

// sameRing reports whether two rings are one, however they are written.
func sameRing(a, b Ring) bool {
	return sameLength(a.At, b.At) && a.Part.Text == b.Part.Text && sameLength(a.Whipping, b.Whipping)
}

func sameLength(a, b Given[units.Length]) bool {
	return a.Set() == b.Set() && math.Abs(float64(a.Value-b.Value)) < 1e-9
}

// sameBut reports whether two models are the same but for their rings.
func sameBut(a, b *Model) bool {
	leaves := func(m *Model) string {
		bare := *m
		bare.Rings = nil
		var b strings.Builder
		for f := range (&Spec{Model: &bare}).Fields() {
			b.WriteString(f.canonical() + "\n")
		}
		return b.String()
	}
	return leaves(a) == leaves(b)
}

// ringText is the text of a spec and where its rings stand in it.
type ringText struct {
	*lines
	file    string
	entries []ringEntry
	column  int // at which the second keys line up; 0 where they do not
}

// newRingText finds the rings in a text that has been read without faults.
func newRingText(file string, src []byte) (*ringText, error) {
	l, root, err := openText(file, src)
	if err != nil {
		return nil, err
	}
	t := &ringText{lines: l, file: file}
	if list := valueUnder(root, "rings"); list != nil {
		if list.Style&yaml.FlowStyle != 0 {
			return nil, t.refuse(list, "the rings are in brackets")
		}
		for _, n := range list.Content {
			e, err := t.entry(n)
			if err != nil {
				return nil, err
			}
			t.entries = append(t.entries, e)
		}
	}
	t.column = t.lineUp()
	return t, nil
}

// refuse says why a text is not edited.
func (t *ringText) refuse(n *yaml.Node, why string) error {
	return fmt.Errorf("%s:%d:%d: %s; write each ring on a line of its own, such as \"- %s\", and try again",
		t.file, n.Line, n.Column, why, ringTable.example)
}

// splice puts the text together: what stands before, between and behind the
// entries as it is, and the entries as the rings now are.
func (t *ringText) splice(old, rings []Ring) []byte {
	var out bytes.Buffer
	from := 0 // what has been written up to
	keep := func(to int) { out.Write(t.src[from:to]); from = to }
	next := 0
	drop := func(upTo int) { // entries whose rings are gone
		for ; next < upTo; next++ {
			// The line's end before it goes with it; a comment above it stays.
			out.Write(bytes.TrimSuffix(t.src[from:t.entries[next].start], t.breakBefore(t.entries[next].start)))
			from = t.entries[next].end
		}
	}
	for j, i := range matchRings(old, rings) {
		if i < 0 {
			like := max(0, next-1)
			out.WriteString(t.usualBreak() + t.like(&t.entries[like], old[like], rings[j]))
			continue
		}
		drop(i)
		keep(t.entries[i].start)
		out.WriteString(t.apply(t.entries[i].start, t.entries[i].end, t.edits(&t.entries[i], old[i], rings[j])))
		from, next = t.entries[i].end, i+1
	}
	drop(len(t.entries))
	keep(len(t.src))
	return out.Bytes()
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
