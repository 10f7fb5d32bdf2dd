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
	file    string
	builtin bool       // not from a file, so nothing in it has a position
	lines   int        // of the file, counted as YAML counts them
	root    *yaml.Node // once it is open; nil where that is empty
	faults  Faults
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
	return Pos{File: d.file, Line: max(1, min(n.Line, d.lines)), Col: n.Column}
}

// open reads src as a single YAML document in UTF-8. root is nil where the
// document is empty; ok is false where faults make reading on senseless.
func (d *document) open(src []byte) (root *yaml.Node, ok bool) {
	src = bytes.TrimPrefix(src, []byte("\ufeff"))
	if len(src) > maxFile {
		d.fault(Pos{File: d.file, Line: 1, Col: 1}, "", "the file has %d bytes; the most is 1 MiB", len(src))
		return nil, false
	}
	if !d.checkText(src) || !d.checkMerged(src) {
		return nil, false
	}
	d.lines = 1 - 2*bytes.Count(src, []byte("\r\n")) // which are counted three times
	for _, b := range lineBreaks {
		d.lines += bytes.Count(src, b)
	}
	decoder := yaml.NewDecoder(bytes.NewReader(src))
	var doc yaml.Node
	switch err := decoder.Decode(&doc); {
	case errors.Is(err, io.EOF):
		return nil, true
	case err != nil:
		d.syntaxFaults(src, err)
		return nil, false
	}
	d.checkSingle(src, decoder)
	root = doc.Content[0]
	joinCommas(root)
	d.checkPlain(root, 0) // before it is taken for empty: "&z" alone is an anchor still
	if root.Kind == yaml.ScalarNode && root.Value == "" {
		return nil, true
	}
	d.root = root
	return root, root.Kind != 0
}

// checkText notes the first byte that is not UTF-8, or else the first control
// character, neither of which an editor shows.
func (d *document) checkText(src []byte) bool {
	line, start := 1, 0
	for i := 0; i < len(src); {
		r, size := rune(src[i]), 1
		if r >= utf8.RuneSelf {
			r, size = utf8.DecodeRune(src[i:])
		}
		if msg := refuseRune(r, size); msg != "" {
			col := 1 + utf8.RuneCount(src[start:i])
			d.fault(Pos{File: d.file, Line: line, Col: col}, "", "%s", msg)
			return false
		}
		i += size
		if r == '\n' {
			line, start = line+1, i
		}
	}
	return true
}

// checkMerged notes what git leaves in a file where two edits of the same lines met.
// No YAML begins a line like that.
func (d *document) checkMerged(src []byte) bool {
	sound := true
	for i, line := range bytes.Split(src, []byte("\n")) {
		line = bytes.TrimSuffix(line, []byte("\r"))
		switch mark, rest, _ := bytes.Cut(line, []byte(" ")); string(mark) {
		case "<<<<<<<":
			d.fault(Pos{File: d.file, Line: i + 1, Col: 1}, "", "a mark of a merge: the lines from here to ======= are one side's, from there to >>>>>>> the other's; keep those that hold and take the three marks out")
			sound = false
		case ">>>>>>>":
			if sound {
				d.fault(Pos{File: d.file, Line: i + 1, Col: 1}, "", "a mark that a merge left behind, with %q; take it out", rest)
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

// isUnseen reports whether a character is no text but for the ends of lines and
// tabs. Escapes in double quotes can put such into a value: "\e[2J".
func isUnseen(r rune) bool { return unicode.IsControl(r) && r != '\t' && r != '\n' }

// checkSingle notes a second document.
func (d *document) checkSingle(src []byte, decoder *yaml.Decoder) {
	var second yaml.Node
	switch err := decoder.Decode(&second); {
	case errors.Is(err, io.EOF):
	case err != nil:
		d.syntaxFaults(src, err)
	default:
		d.fault(d.pos(&second), "", "a second document begins here; a file holds one, so take out the ---")
	}
}

// checkPlain notes what YAML has and the format has not: anchors, aliases,
// tags, and nesting deeper than any spec. What cannot be read without an alias
// or below the deepest level is emptied, so that reading can go on around it.
func (d *document) checkPlain(n *yaml.Node, depth int) {
	switch {
	case depth > maxDepth:
		d.fault(d.pos(n), "", "nested more than %d levels deep", maxDepth)
		*n = yaml.Node{Line: n.Line, Column: n.Column}
	case n.Kind == yaml.AliasNode:
		d.fault(d.pos(n), "", "*%s is an alias; write the value out", n.Value)
		*n = yaml.Node{Line: n.Line, Column: n.Column}
	case n.Anchor != "":
		d.fault(d.pos(n), "", "&%s is an anchor; write the value out where it is needed", n.Anchor)
	case n.Style&yaml.TaggedStyle != 0:
		// A tag may have spelt out what no text may hold, as !%00.
		d.fault(d.pos(n), "", "%s is a tag; write the value without it", strings.Trim(strconv.Quote(n.Tag), `"`))
	case n.Kind == yaml.ScalarNode && strings.ContainsFunc(n.Value, isUnseen):
		d.fault(d.pos(n), "", "%q holds a character that does not show; write it without", spelling.Shorten(n.Value))
		n.Value = strings.Join(strings.FieldsFunc(n.Value, isUnseen), "")
	}
	for _, c := range n.Content {
		d.checkPlain(c, depth+1)
	}
}
