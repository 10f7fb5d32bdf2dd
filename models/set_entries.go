package models

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// AddEntry gives the text of a spec with one more ring, halfway from the one that path
// leads to towards the butt, or with one more ply, which is a copy behind it. All the
// rest of the text is the same to the byte. Whether it is a spec then is for who reads
// it to say.
func AddEntry(file string, src []byte, path string) ([]byte, error) {
	t, err := newSpecText(file, src)
	if err != nil {
		return nil, err
	}
	if i := t.ring(path); i >= 0 {
		rings := t.model.Rings
		on := min(i+1, len(rings)-1)
		one := rings[max(i, on-1)] // of the last two, where it is the last
		one.At = Millimetres((rings[max(on-1, 0)].At.Value + rings[on].At.Value) / 2)
		return SpliceRings(src, t.model, slices.Insert(slices.Clone(rings), on, one))
	}
	start, end, last, err := t.ply(path)
	if err != nil {
		return nil, err
	}
	return []byte(t.apply(0, len(src), []edit{{end, end, t.usualBreak() + string(src[start:last])}})), nil
}

// RemoveEntry gives the text of a spec without a ring or a ply.
func RemoveEntry(file string, src []byte, path string) ([]byte, error) {
	t, err := newSpecText(file, src)
	if err != nil {
		return nil, err
	}
	if i := t.ring(path); i >= 0 {
		return SpliceRings(src, t.model, slices.Delete(slices.Clone(t.model.Rings), i, i+1))
	}
	start, end, _, err := t.ply(path)
	if err != nil {
		return nil, err
	}
	return []byte(t.apply(0, len(src), []edit{{start - len(t.breakBefore(start)), end, ""}})), nil
}

// ring is the index of the ring that a path leads to; −1 where it leads to none.
func (t *specText) ring(path string) int {
	return slices.IndexFunc(t.model.Rings, func(r Ring) bool { return RingPath(r).String() == path })
}

// ply is where the ply that a path leads to stands: from the start of its first line to
// the end of its last, and where it ends itself, before a comment.
func (t *specText) ply(path string) (start, end, last int, err error) {
	list, _ := t.settable()
	for _, v := range list {
		entry := v.Path.Entry()
		if entry.Last() != "plies" || entry.String() != path {
			continue
		}
		n := t.at(entry)
		if n == nil || !ownDash.Match(t.src[t.starts[n.Line-1]:t.offset(n)]) {
			return 0, 0, 0, fmt.Errorf("%s:%d: write each ply on a line of its own behind a dash, and try again", t.file, v.Pos.Line)
		}
		last = t.endOf(n)
		return t.starts[n.Line-1], t.lineEnd(last), last, nil
	}
	return 0, 0, 0, fmt.Errorf("%s: it has no ring or ply %s", t.file, path)
}

// at is what a path leads to by keys, sections and plies; nil where it leads elsewhere.
func (t *specText) at(path Path) *yaml.Node {
	n := t.root
	for _, step := range path {
		n = valueUnder(n, step.Key)
		if step.Entry == "" || n == nil {
			continue
		}
		i := -1
		switch step.Key {
		case "sections":
			i = t.model.SectionIndex(step.Entry)
		case "plies":
			i, _ = strconv.Atoi(step.Entry)
			i--
		}
		if i < 0 || i >= len(n.Content) {
			return nil
		}
		n = n.Content[i]
	}
	return n
}

// endOf is where a node ends, with the braces around it.
func (t *specText) endOf(n *yaml.Node) int {
	if len(n.Content) == 0 {
		end, _ := t.scalarEnd(n)
		return end
	}
	end := t.endOf(n.Content[len(n.Content)-1])
	if n.Style&yaml.FlowStyle != 0 {
		end += bytes.IndexAny(t.src[end:], "}]") + 1
	}
	return end
}

// absent is the edit that gives a spec a value at a path at which it has none; ok is
// false where no key is known there.
func (t *specText) absent(path, text string) (_ edit, ok bool) {
	above, key, nested := t.above(path)
	if above == nil {
		return edit{}, false
	}
	pair := plainOrQuoted(text)
	for _, k := range slices.Backward(nested) {
		pair = "{" + k + ": " + pair + "}"
	}
	pair = key + ": " + pair
	var e edit
	switch end := t.endOf(above); {
	case above.Style&yaml.FlowStyle != 0:
		end = t.endOf(above.Content[len(above.Content)-1])
		e = edit{end, end, ", " + pair}
	case above == t.root:
		e = t.atEnd(pair)[0]
	default:
		at := t.lineEnd(end)
		e = edit{at, at, t.usualBreak() + strings.Repeat(" ", above.Content[0].Column-1) + pair}
	}
	_, doc := readModel(t.file, []byte(t.apply(0, len(t.src), []edit{e})))
	return e, !slices.ContainsFunc(doc.faults, func(f *Fault) bool { return strings.HasPrefix(f.Msg, "unknown key ") })
}

// above is the map that a path leads into, the key that it lacks, and what is to stand
// below that; nil where there is no such map.
func (t *specText) above(path string) (above *yaml.Node, key string, nested []string) {
	if strings.ContainsAny(path, "{}:#\r\n") {
		return nil, "", nil
	}
	above, rest := t.root, path
	list, _ := t.settable()
	for _, v := range list {
		for n := range v.Path {
			within := v.Path[:n].String() + "."
			if below, ok := strings.CutPrefix(path, within); ok && len(below) < len(rest) {
				above, rest = t.at(v.Path[:n]), below
			}
		}
	}
	keys := strings.Split(rest, ".")
	if above == nil || above.Kind != yaml.MappingNode || valueUnder(above, keys[0]) != nil || strings.ContainsAny(rest, "[]") || slices.Contains(keys, "") {
		return nil, "", nil
	}
	return above, keys[0], keys[1:]
}
