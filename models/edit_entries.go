package models

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// AddEntry gives the text of a spec with one more ring, halfway between the one that path
// leads to and the next towards the butt, or with one more ply, a copy right after it.
// Every other byte stays. The result is not checked to be a sound spec.
func AddEntry(file string, src []byte, path string) ([]byte, error) {
	t, err := newSpecText(file, src)
	if err != nil {
		return nil, err
	}
	if i := t.ring(path); i >= 0 {
		rings := t.model.Rings
		on := min(i+1, len(rings)-1)
		one := rings[min(max(i, 1), len(rings)-1)] // a rod has one tip ring
		one.At = Millimetres((rings[max(on-1, 0)].At.Value + rings[on].At.Value) / 2)
		return SpliceRings(file, src, slices.Insert(slices.Clone(rings), on, one))
	}
	plies, ply, err := t.ply(path)
	if err != nil {
		return nil, err
	}
	end, ok := t.end(ply)
	if !ok {
		end = t.lastLine(ply)
	}
	e, _ := t.insert(plies, ply, ply, string(src[t.starts[ply.Line-1]:end]))
	return t.with([]edit{e}, "another ply", "write it in by hand", nil)
}

// RemoveEntry gives the text of a spec without a ring or a ply.
func RemoveEntry(file string, src []byte, path string) ([]byte, error) {
	t, err := newSpecText(file, src)
	if err != nil {
		return nil, err
	}
	if i := t.ring(path); i >= 0 {
		return SpliceRings(file, src, slices.Delete(slices.Clone(t.model.Rings), i, i+1))
	}
	plies, ply, err := t.ply(path)
	if err != nil {
		return nil, err
	}
	return t.with([]edit{t.dropEntry(plies, ply)}, "one ply fewer", "take it out by hand", nil)
}

// ring is the index of the ring that a path leads to; −1 where it leads to none.
func (t *specText) ring(path string) int {
	return slices.IndexFunc(t.model.Rings, func(r Ring) bool { return RingPath(r).String() == path })
}

// ply is the ply that a path leads to, and the list that it stands in.
func (t *specText) ply(path string) (plies, ply *yaml.Node, err error) {
	ply, rest := t.reached(path)
	list, _, _ := strings.Cut(path, ".plies[")
	if ply == nil || len(rest) > 0 || list == path {
		return nil, nil, fmt.Errorf("%s: it has no ring or ply %s", t.file, path)
	}
	if _, ok := t.dash(ply); !ok {
		return nil, nil, fmt.Errorf("%s:%d: write each ply on a line of its own behind a dash, and try again", t.file, ply.Line)
	}
	plies, _ = t.reached(list + ".plies")
	return plies, ply, nil
}

// absent is the edit that sets a value at a path that has none yet; ok is false if there
// can be no such key.
func (t *specText) absent(path, text string) (_ edit, ok bool) {
	above, keys := t.reached(path)
	if above == nil || above.Kind != yaml.MappingNode || len(keys) == 0 {
		return edit{}, false
	}
	pair := plainOrQuoted(text)
	for _, k := range slices.Backward(keys[1:]) {
		pair = "{" + k + ": " + pair + "}"
	}
	e := t.add(above, len(above.Content)/2, keys[0]+": "+pair)
	_, doc := readModel(t.file, []byte(t.stretch(0, len(t.src), []edit{e})))
	return e, !slices.ContainsFunc(doc.faults, func(f *Fault) bool { return strings.HasPrefix(f.Msg, "unknown key ") })
}

// segment is a key in a path, with the entry of its list.
var segment = regexp.MustCompile(`^([^.{}\[\]:#\r\n]+)(?:\[([^\]]+)\])?(?:\.|$)`)

// reached follows a path as far as it leads, and gives the remaining keys; n is nil if the
// path leads nowhere.
func (t *specText) reached(path string) (n *yaml.Node, rest []string) {
	if n = t.root; strings.HasSuffix(path, ".") {
		return nil, nil
	}
	for path != "" {
		step := segment.FindStringSubmatch(path)
		if step == nil || len(rest) > 0 && step[2] != "" {
			return nil, nil
		}
		path = path[len(step[0]):]
		below := valueUnder(n, step[1])
		switch {
		case len(rest) > 0, below == nil:
			rest = append(rest, step[1])
			continue
		case step[2] != "":
			below = entryOf(below, step[2])
		}
		if n = below; n == nil {
			return nil, nil
		}
	}
	return n, rest
}

// entryOf is the entry of a list that goes by a name in paths; nil where there is none.
func entryOf(list *yaml.Node, name string) *yaml.Node {
	for _, by := range []string{"name", "between", "at", "from", ""} {
		for i, n := range list.Content {
			if entryLabel(n, by, i) == name {
				return n
			}
		}
	}
	return nil
}
