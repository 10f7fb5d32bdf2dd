package models

import (
	"iter"
	"strconv"
	"strings"

	"rodlore/models/spelling"

	"gopkg.in/yaml.v3"
)

// value is one YAML node and the path that leads to it.
type value struct {
	doc  *document
	node *yaml.Node
	path string
}

func (v value) pos() Pos { return v.doc.pos(v.node) }

// refused reports whether v had a fault that leaves nothing to read.
func (v value) refused() bool { return v.node.Kind == 0 }

func (v value) fault(format string, args ...any) {
	v.doc.fault(v.pos(), v.path, format, args...)
}

// at notes a fault of what stands under name in v, at pos.
func (v value) at(pos Pos, name, format string, args ...any) {
	v.doc.fault(pos, v.under(name), format, args...)
}

// under is the path of what stands in v under name.
func (v value) under(name string) string {
	if v.path == "" {
		return spelling.Shorten(name)
	}
	return v.path + "." + spelling.Shorten(name)
}

// text is v as a trimmed scalar. It notes a fault if v is something else, empty, or longer
// than any word or quantity.
func (v value) text(expected string) (string, bool) { return v.textUpTo(expected, maxWord) }

// maxWord is the longest piece of text, in bytes: a job in a sentence or two.
const maxWord = 300

// textUpTo is text for a scalar of at most so many bytes.
func (v value) textUpTo(expected string, most int) (string, bool) {
	if v.node.Kind != yaml.ScalarNode {
		v.fault("is %s; expected %s", kindName(v.node), expected)
		return "", false
	}
	text := strings.TrimSpace(v.node.Value)
	if text == "" || v.node.Tag == "!!null" {
		v.fault("is empty; expected %s", expected)
		return "", false
	}
	if len(text) > most {
		v.fault("%q is too long; the most is %d letters", spelling.Shorten(text), most)
	}
	return text, len(text) <= most
}

func kindName(n *yaml.Node) string {
	switch {
	case n.Kind == yaml.SequenceNode && len(n.Content) == 0:
		return "an empty list"
	case n.Kind == yaml.MappingNode:
		return "a map of keys"
	case n.Kind == yaml.SequenceNode:
		return "a list"
	case n.Value == "":
		return "empty"
	}
	return "text"
}

// need says whether a key may be left out.
type need bool

const (
	required need = true
	optional need = false
)

// key is one key of a map: its name, whether it may be left out, and how its
// value is read into a T.
type key[T any] struct {
	name string
	need need
	reader[T]
}

// reader reads a value into part of a T and describes what it reads.
type reader[T any] struct {
	expect string // for messages, "a length such as 25 mm"
	read   func(v value, into *T)
	walk   func(w *walk, path Path, from *T) // hands out what it has read, below path; nil for what is no part of a rod
	// mix sets into to the value a share of the way from a to b; nil if there is nothing
	// in between.
	mix func(into, a, b *T, way float64)
}

// table describes a map of fixed keys that is read into a T.
type table[T any] struct {
	example string // for messages, "{at: 95 mm, part: SL-6}"
	label   string // the key that tells entries of a list apart; "" counts them
	keys    []key[T]
	pos     func(*T) *Pos               // where T keeps its place; nil where it does not
	spares  func(t *T, key string) bool // whether t has no place for a key; may be nil
	check   func(v value, t *T)         // what can be checked within T; may be nil
	plain   reader[T]                   // of a T that is written as one value and not as a map; may be empty
	entry   func(*T) Segment            // what an entry of a list goes by in paths; nil where it goes by its number
}

// walk yields the leaves of t, whose path is given, in the order of the keys.
func (tab *table[T]) walk(w *walk, path Path, t *T) {
	outer := w.pos
	if tab.pos != nil {
		w.pos = *tab.pos(t)
	}
	for _, k := range tab.keys {
		if k.walk != nil && !w.done && (tab.spares == nil || !tab.spares(t, k.name)) {
			k.walk(w, path.To(k.name), t)
		}
	}
	w.pos = outer
}

// mix mixes what stands under the keys of the map.
func (tab *table[T]) mix(into, a, b *T, way float64) {
	for _, k := range tab.keys {
		if k.mix != nil {
			k.mix(into, a, b, way)
		}
	}
}

// walkList yields the leaves of every entry of a list.
func (tab *table[T]) walkList(w *walk, path Path, list []T) {
	for i := range list {
		name := entryNamed(strconv.Itoa(i + 1))
		if tab.entry != nil {
			name = tab.entry(&list[i])
		}
		tab.walk(w, path[:len(path)-1].In(path.Last(), name), &list[i])
	}
}

// read reads the map v into t.
func (tab *table[T]) read(v value, t *T) {
	plain := v.node.Kind == yaml.ScalarNode && tab.plain.read != nil
	if v.node.Kind != yaml.MappingNode && !plain {
		v.fault("is %s; expected %s", describe(v.node), tab.example)
		return
	}
	if tab.pos != nil {
		*tab.pos(t) = v.pos()
	}
	if plain {
		tab.plain.read(v, t)
		return
	}
	given := v.entries()
	for _, k := range tab.keys {
		spared := tab.spares != nil && tab.spares(t, k.name)
		switch e, ok := given[k.name]; {
		case ok && spared:
			v.at(v.doc.pos(e.key), k.name, "does not go with bare: true; take out one of them")
			delete(given, k.name)
		case ok && e.refused():
			delete(given, k.name)
		case ok:
			k.read(e.value, t)
			delete(given, k.name)
		case k.need == required && !spared:
			v.at(v.pos(), k.name, "is missing; expected %s", k.expect)
		}
	}
	for name, e := range given {
		v.at(v.doc.pos(e.key), name, "unknown key %q%s", spelling.Shorten(name), tab.suggest(name))
	}
	if tab.check != nil {
		tab.check(v, t)
	}
}

func (tab *table[T]) suggest(name string) string {
	names := make([]string, len(tab.keys))
	for i, k := range tab.keys {
		names[i] = k.name
	}
	if s := spelling.DidYouMean(name, names); s != "" {
		return s
	}
	return "; known here: " + strings.Join(names, ", ")
}

// describe names what n is, in the maker's words where it is text.
func describe(n *yaml.Node) string {
	if n.Kind == yaml.ScalarNode && n.Value != "" {
		return `"` + spelling.Shorten(n.Value) + `"`
	}
	return kindName(n)
}

// entry is a value and the key that it stands under.
type entry struct {
	key *yaml.Node
	value
}

// entries gives what stands in the map v, by key.
func (v value) entries() map[string]entry {
	m := make(map[string]entry, len(v.node.Content)/2)
	for k, e := range v.pairs(v.under) {
		m[k.Value] = entry{k, e}
	}
	return m
}

// maxEntries is how much a map or list may hold. It bounds the time that a garbage file
// takes; no small maker has a thousand rings.
const maxEntries = 1000

// crowded notes a map or list of more entries than most.
func (v value) crowded(entries, most int) bool {
	if entries > most {
		v.fault("has %d entries; the most is %d", entries, most)
	}
	return entries > most
}

// pairs yields the keys and values of the map v in file order; path gives the path of a
// value by its key. A key that is doubled, or is not text, is noted and left out.
func (v value) pairs(path func(key string) string) iter.Seq2[*yaml.Node, value] {
	return func(yield func(*yaml.Node, value) bool) {
		if v.crowded(len(v.node.Content)/2, maxEntries) {
			return
		}
		first := make(map[string]*yaml.Node, len(v.node.Content)/2)
		for i := 0; i+1 < len(v.node.Content); i += 2 {
			k := v.node.Content[i]
			switch {
			case k.Kind == 0: // an alias, already noted
			case k.Kind != yaml.ScalarNode:
				v.doc.fault(v.doc.pos(k), v.path, "a key is %s; expected a word", kindName(k))
			case first[k.Value] != nil:
				v.doc.fault(v.doc.pos(k), path(k.Value), "given twice; the first is in line %d", first[k.Value].Line)
			default:
				first[k.Value] = k
				if !yield(k, value{v.doc, v.node.Content[i+1], path(k.Value)}) {
					return
				}
			}
		}
	}
}
