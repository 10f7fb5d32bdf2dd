package models

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"rodlore/models/spelling"

	"gopkg.in/yaml.v3"
)

const (
	maxFile  = 1 << 20 // bytes; a model is a few thousand
	maxDepth = 20      // levels; the format has six
)

// document is one YAML file being read, and what was found wrong with it.
type document struct {
	text
	builtin bool // not from a file, so nothing in it has a position
	empty   bool // no content, and no fault that hides it
	faults  Faults
}

// opened opens a file.
func opened(file string, src []byte) *document {
	doc := &document{text: text{file: file}}
	doc.open(src)
	return doc
}

// read calls read with the root, if there is one.
func (d *document) read(read func(v value)) *document {
	if d.root != nil {
		read(value{doc: d, node: d.root})
	}
	return d
}

// fault notes what is wrong at pos.
func (d *document) fault(pos Pos, path, format string, args ...any) {
	d.faults = append(d.faults, &Fault{Pos: pos, Path: path, Msg: fmt.Sprintf(format, args...)})
}

func (d *document) pos(n *yaml.Node) Pos {
	if d.builtin {
		return Pos{}
	}
	// What is missing at the end of a file stands below its last line.
	return Pos{File: d.file, Line: min(n.Line, len(d.starts)), Col: n.Column}
}

// open parses src as a single YAML document in UTF-8. The root stays nil if the document
// is empty, or if its faults leave nothing to read.
func (d *document) open(src []byte) {
	if size := len(bytes.TrimPrefix(src, []byte("\ufeff"))); size > maxFile {
		d.fault(Pos{File: d.file, Line: 1, Col: 1}, "", "the file has %d bytes; the most is 1 MiB", size)
		return
	}
	d.text = newText(d.file, src)
	if !d.checkText() || !d.checkMerged() {
		return
	}
	decoder := yaml.NewDecoder(bytes.NewReader(src[d.starts[0]:]))
	var doc yaml.Node
	switch err := decoder.Decode(&doc); {
	case errors.Is(err, io.EOF):
		d.empty = true
		return
	case err != nil:
		d.syntaxFaults(err)
		return
	}
	d.checkSingle(decoder)
	root := doc.Content[0]
	joinCommas(root)
	d.checkPlain(root, 0) // before it is taken for empty: "&z" alone is an anchor still
	d.empty = root.Kind == yaml.ScalarNode && root.Value == ""
	if !d.empty && root.Kind != 0 {
		d.root = root
	}
}

// checkText notes the first byte that is not UTF-8, or else the first control
// character, neither of which an editor shows.
func (d *document) checkText() bool {
	for i := d.starts[0]; i < len(d.src); {
		r, size := rune(d.src[i]), 1
		if r >= utf8.RuneSelf {
			r, size = utf8.DecodeRune(d.src[i:])
		}
		if msg := refuseRune(r, size); msg != "" {
			d.fault(d.place(i), "", "%s", msg)
			return false
		}
		i += size
	}
	return true
}

// checkMerged notes the marks that git leaves in a file when two edits of the same lines
// collide. No line of YAML begins like that.
func (d *document) checkMerged() bool {
	sound := true
	for _, start := range d.starts {
		line := d.src[start:d.lineEnd(start)]
		switch mark, rest, _ := bytes.Cut(line, []byte(" ")); string(mark) {
		case "<<<<<<<":
			d.fault(d.place(start), "", "a mark of a merge: the lines from here to ======= are one side's, from there to >>>>>>> the other's; keep those that hold and take the three marks out")
			sound = false
		case ">>>>>>>":
			if sound {
				d.fault(d.place(start), "", "a mark that a merge left behind, with %q; take it out", rest)
			}
			sound = false
		}
	}
	return sound
}

func refuseRune(r rune, size int) string {
	switch {
	case r == utf8.RuneError && size == 1:
		return "the file is not UTF-8 text; save it as UTF-8"
	case isUnseen(r) && r != '\r':
		return "a control character that does not show; retype the line"
	}
	return ""
}

// isUnseen reports whether a character is a control character other than a line feed or
// a tab. Escapes in double quotes can put one into a value: "\e[2J".
func isUnseen(r rune) bool { return unicode.IsControl(r) && r != '\t' && r != '\n' }

// checkSingle notes a second document.
func (d *document) checkSingle(decoder *yaml.Decoder) {
	var second yaml.Node
	switch err := decoder.Decode(&second); {
	case errors.Is(err, io.EOF):
	case err != nil:
		d.syntaxFaults(err)
	default:
		d.fault(d.pos(&second), "", "a second document begins here; a file holds one, so take out the ---")
	}
}

// checkPlain notes what YAML has and the format does not: anchors, aliases, tags, and
// nesting deeper than in any spec. Aliases, and whatever is too deep, are emptied so that
// reading can go on around them.
func (d *document) checkPlain(n *yaml.Node, depth int) {
	switch {
	case depth > maxDepth:
		d.fault(d.pos(n), "", "nested more than %d levels deep", maxDepth)
		*n = yaml.Node{Line: n.Line, Column: n.Column}
	case n.Kind == yaml.AliasNode:
		d.fault(d.pos(n), "", "*%s is an alias; write the value out", spelling.Shorten(n.Value))
		*n = yaml.Node{Line: n.Line, Column: n.Column}
	case n.Anchor != "":
		d.fault(d.pos(n), "", "&%s is an anchor; write the value out where it is needed", spelling.Shorten(n.Anchor))
	case n.Style&yaml.TaggedStyle != 0:
		// A tag may spell out control characters, as !%00 does.
		d.fault(d.pos(n), "", "%s is a tag; write the value without it", strings.Trim(strconv.Quote(spelling.Shorten(n.Tag)), `"`))
	}
	if n.Kind == yaml.ScalarNode && strings.ContainsFunc(n.Value, isUnseen) {
		d.fault(d.pos(n), "", "%q holds a character that does not show; write it without", spelling.Shorten(n.Value))
		n.Value = strings.Join(strings.FieldsFunc(n.Value, isUnseen), "")
	}
	for _, c := range n.Content {
		d.checkPlain(c, depth+1)
	}
}
