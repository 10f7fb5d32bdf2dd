package gitstore

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue"
)

const tagPrefix = "refs/tags/"

// A tag on a tag on a tag ... is followed so far.
const maxTagDepth = 10

// tag is a name put on a commit.
type tag struct {
	name string
	id   plumbing.Hash // of the tag itself; of the commit for a plain one
	on   plumbing.Hash
	text *tagText // nil for a plain tag
}

// tagText is what an annotated tag says.
type tagText struct {
	name    string // that it was given
	target  plumbing.Hash
	author  string
	when    stamp
	message string
}

// readTags reads all tags by name, each followed to the commit it is on. What is
// not on a commit or cannot be read is left out with a note.
func (s *Store) readTags(refs *refs) ([]tag, []error) {
	var tags []tag
	var notes []error
	for _, ref := range slices.Sorted(maps.Keys(refs.ids)) {
		name, ok := strings.CutPrefix(ref, tagPrefix)
		if !ok {
			continue
		}
		t, err := s.readTag(name, refs.ids[ref])
		if err != nil {
			notes = append(notes, &catalogue.LostTag{Name: name, Why: err})
			continue
		}
		tags = append(tags, t)
	}
	return tags, notes
}

// readTag follows a tag to its commit. A tag on a tag speaks for itself: its
// text is that of the outer one.
func (s *Store) readTag(name string, id plumbing.Hash) (tag, error) {
	t := tag{name: name, id: id}
	for range maxTagDepth {
		kind, raw, err := s.objects.readAny(id)
		if err != nil {
			return t, err
		}
		switch kind {
		case plumbing.CommitObject:
			t.on = id
			return t, nil
		case plumbing.TagObject:
			text := parseTag(raw)
			if t.text == nil {
				t.text = text
			}
			id = text.target
		default:
			return t, fmt.Errorf("it is on a %s and no saved state", kind)
		}
	}
	return t, fmt.Errorf("it is a tag on more than %d other tags", maxTagDepth)
}

// parseTag reads the content of an annotated tag; what is missing stays empty.
// A signature at the end belongs to the check of the tag and not to its message.
func parseTag(raw []byte) *tagText {
	t := &tagText{}
	text, _, _ := splitSignature(raw)
	header, message := splitHeader(text)
	for line := range bytes.Lines(header) {
		key, value, _ := strings.Cut(string(bytes.TrimRight(line, "\n")), " ")
		switch key {
		case "object":
			t.target, _ = parseID(value)
		case "tag":
			t.name = value
		case "tagger":
			t.author, t.when = parseSignature(value)
		}
	}
	t.author = decode("", t.author)
	t.message = decode("", string(message))
	return t
}

// placeTags gives the tags whose states are in the graph; the others add a note
// to notes.
func (g *graph) placeTags(tags []tag, notes []error) ([]catalogue.Tag, []error) {
	var placed []catalogue.Tag
	for _, t := range tags {
		if g.nodes[t.on] == nil {
			notes = append(notes, &catalogue.LostTag{Name: t.name, Why: fmt.Errorf("its saved state %s cannot be read", t.on)})
			continue
		}
		out := catalogue.Tag{Name: t.name, ID: t.id.String(), State: t.on.String()}
		if t.text != nil {
			out.Named = t.text.name
			out.When, out.Author, out.Message = t.text.when.time(), t.text.author, t.text.message
		}
		placed = append(placed, out)
	}
	return placed, notes
}
