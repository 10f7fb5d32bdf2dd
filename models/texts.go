package models

import (
	"strings"

	"gopkg.in/yaml.v3"
)

// Texts is a tree of texts, such as words.yaml, by the path of each:
// "figures.weight.up".
type Texts struct {
	All []Text // in file order
}

// Text is one of them. Line breaks in it are spaces.
type Text struct {
	Path string
	Word
}

// maxText is the longest text of a tree, in bytes: a paragraph.
const maxText = 2000

const textsExample = "names, each with a text or further names in it"

// ParseTexts reads a tree of texts; see ParseModel. Which texts there may be is
// the caller's matter. An empty src is a tree without texts.
func ParseTexts(file string, src []byte) (*Texts, error) {
	t := &Texts{}
	return parsed(t, opened(file, src).read(t.read))
}

// read reads the map v and all below it.
func (t *Texts) read(v value) {
	if v.node.Kind != yaml.MappingNode {
		v.fault("is %s; expected %s", describe(v.node), textsExample)
		return
	}
	for _, entry := range v.pairs(v.under) {
		if entry.node.Kind == yaml.MappingNode {
			t.read(entry)
			continue
		}
		if entry.refused() {
			continue
		}
		if text, ok := entry.textUpTo("a text", maxText); ok {
			text = strings.Join(strings.Fields(text), " ")
			t.All = append(t.All, Text{entry.path, Word{text, entry.pos()}})
		}
	}
}
