package models

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rodlore/models/spelling"
	"rodlore/models/units"

	"gopkg.in/yaml.v3"
)

// list reads a list of maps, of at least one entry.
func list[T, U any](get func(*T) *[]U, tab *table[U]) reader[T] {
	return listUpTo(maxEntries, get, tab)
}

// listUpTo reads a list of maps, of one entry to most.
func listUpTo[T, U any](most int, get func(*T) *[]U, tab *table[U]) reader[T] {
	expect := "a list of entries such as " + tab.example
	return reader[T]{
		expect: expect,
		read: func(v value, into *T) {
			listed := v.listed(expect, most)
			if listed == nil {
				return
			}
			items := make([]U, len(listed))
			for i, n := range listed {
				path := fmt.Sprintf("%s[%s]", v.path, entryLabel(n, tab.label, i))
				if entry := (value{v.doc, n, path}); !entry.refused() {
					tab.read(entry, &items[i])
				}
			}
			*get(into) = items
		},
		walk: func(w *walk, path Path, from *T) { tab.walkList(w, path, *get(from)) },
		mix: func(into, a, b *T, way float64) {
			if *get(into) = slices.Clone(*get(a)); len(*get(a)) == len(*get(b)) {
				for i := range *get(into) {
					tab.mix(&(*get(into))[i], &(*get(a))[i], &(*get(b))[i], way)
				}
			}
		},
	}
}

// listed gives the entries of the list v, from one to most of them. Otherwise it notes a
// fault and gives none.
func (v value) listed(expect string, most int) []*yaml.Node {
	switch {
	case v.node.Kind != yaml.SequenceNode || len(v.node.Content) == 0:
		v.fault("is %s; expected %s", describe(v.node), expect)
	case !v.crowded(len(v.node.Content), most):
		return v.node.Content
	}
	return nil
}

// entryLabel names one entry of a list: by its own name or serial number, by what it
// joins, by its place on the rod, or, if it has none of these, by its place in the list.
func entryLabel(n *yaml.Node, by string, i int) string {
	switch text := textUnder(n, by); by {
	case "":
		return strconv.Itoa(i + 1)
	case "name", "between", "serial":
		if text != "" {
			return spelling.Shorten(text)
		}
	case "at", "from":
		text, _, _ = strings.Cut(text, " from ")
		if at, err := units.ParseAs[units.Length](text); err == nil {
			return atLabel(at)
		}
	}
	return fmt.Sprintf("#%d", i+1)
}

// textUnder is the text that stands under name in the map n, or "". Texts in a
// list are joined by plus signs.
func textUnder(n *yaml.Node, name string) string {
	if n.Kind != yaml.MappingNode {
		return ""
	}
	under := valueUnder(n, name)
	if under == nil || under.Kind != yaml.SequenceNode {
		return strings.TrimSpace(cmp.Or(under, &yaml.Node{}).Value)
	}
	var texts []string
	for _, c := range under.Content {
		texts = append(texts, strings.TrimSpace(c.Value))
	}
	return strings.Join(texts, "+")
}
