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
	catalogue.Tag
	on plumbing.Hash
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
	t := tag{Tag: catalogue.Tag{Name: name, ID: id.String()}}
	for depth := range maxTagDepth {
		kind, raw, err := s.objects.readAny(id)
		if err != nil {
			return t, err
		}
		switch kind {
		case plumbing.CommitObject:
			t.on, t.State = id, id.String()
			return t, nil
		case plumbing.TagObject:
			said := &t.Tag
			if depth > 0 {
				said = &catalogue.Tag{}
			}
			id = parseTag(raw, said)
		default:
			return t, fmt.Errorf("it is on a %s and no saved state", kind)
		}
	}
	return t, fmt.Errorf("it is a tag on more than %d other tags", maxTagDepth)
}

// parseTag reads the content of an annotated tag into t and gives what it is on; what is
// missing stays empty. A signature at the end belongs to the check of the tag and not to
// its message.
func parseTag(raw []byte, t *catalogue.Tag) (target plumbing.Hash) {
	text, _, _ := splitSignature(raw)
	header, message := splitHeader(text)
	var when stamp
	for line := range bytes.Lines(header) {
		key, value, _ := strings.Cut(string(bytes.TrimRight(line, "\n")), " ")
		switch key {
		case "object":
			target, _ = parseID(value)
		case "tag":
			t.Named = value
		case "tagger":
			t.Author, when = parseSignature(value)
		}
	}
	t.When, t.Author, t.Message = when.time(), decode("", t.Author), decode("", string(message))
	return target
}

// placeTags gives the tags whose states are in the graph; the others add a note
// to notes.
func (g *graph) placeTags(tags []tag, notes []error) ([]catalogue.Tag, []error) {
	var placed []catalogue.Tag
	for _, t := range tags {
		if g.nodes[t.on] == nil {
			notes = append(notes, &catalogue.LostTag{Name: t.Name, Why: fmt.Errorf("its saved state %s cannot be read", t.on)})
			continue
		}
		placed = append(placed, t.Tag)
	}
	return placed, notes
}
