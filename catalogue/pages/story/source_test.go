package story_test

import (
	"context"
	"crypto/sha1"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"testing"

	"rodlore/catalogue"
	"rodlore/catalogue/working"
	"rodlore/cmd/rodlore/demo"
)

// saved is a Source of states that were saved one after the other.
type saved struct {
	log   catalogue.Log
	files map[string][]byte // as they stand
	blobs map[string][]byte
}

// demoSource is the demo, with other files put over it as they stand.
func demoSource(t testing.TB, over map[string][]byte) *saved {
	t.Helper()
	states, err := demo.States()
	if err != nil {
		t.Fatal(err)
	}
	s := &saved{files: map[string][]byte{}, blobs: map[string][]byte{}}
	for _, state := range states {
		s.save(state)
	}
	maps.Copy(s.files, over)
	return s
}

// save adds a state and its releases.
func (s *saved) save(d demo.State) {
	st := catalogue.State{
		ID: fmt.Sprintf("%040x", len(s.log.States)+1), When: d.When, Author: d.Author, Message: catalogue.Message(d.Why, d.Tell),
	}
	if s.log.Head != "" {
		st.Parents = []string{s.log.Head}
	}
	for _, path := range slices.Sorted(maps.Keys(d.Files)) {
		change := catalogue.Change{Path: path, Old: s.blob(s.files[path]), New: s.blob(d.Files[path])}
		if change.Old != change.New {
			st.Changes = append(st.Changes, change)
		}
		s.files[path] = d.Files[path]
	}
	maps.DeleteFunc(s.files, func(_ string, src []byte) bool { return src == nil })
	s.log.States = slices.Insert(s.log.States, 0, st)
	s.log.Head = st.ID
	for _, r := range d.Releases {
		s.log.Tags = append(s.log.Tags, catalogue.Tag{Name: r.Model + "/" + r.Label, State: st.ID, When: d.When, Author: d.Author})
	}
}

// blob keeps a content under its identity; "" for none.
func (s *saved) blob(src []byte) string {
	if src == nil {
		return ""
	}
	id := fmt.Sprintf("%x", sha1.Sum(src))
	s.blobs[id] = src
	return id
}

func (s *saved) Log(context.Context) (*catalogue.Log, error) { return &s.log, nil }

func (s *saved) Blob(_ context.Context, id string) ([]byte, error) { return s.blobs[id], nil }

func (s *saved) Working(path string) ([]byte, error) {
	if src, ok := s.files[path]; ok {
		return src, nil
	}
	return nil, fs.ErrNotExist
}

func (s *saved) WorkingFiles() ([]string, error) { return slices.Sorted(maps.Keys(s.files)), nil }

func (s *saved) Obstacles() ([]working.Obstacle, error) { return nil, nil }

func (s *saved) Ignored(string) (bool, error) { return false, nil }

func (s *saved) Refused(string) error { return nil }

func (s *saved) Save(context.Context, catalogue.Save) (string, error) {
	return "", catalogue.ErrNoHistory
}

func (s *saved) Tag(context.Context, catalogue.Tag) error { return catalogue.ErrNoHistory }

// open gives the range of a source.
func open(t testing.TB, s *saved) *catalogue.Range {
	t.Helper()
	r, err := catalogue.Open(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}
