package gitstore

import (
	"context"
	"fmt"
	"path"
	"slices"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue/working"
)

// Intact reads a saved state again, its tree down to the range and every file of
// the range in it, and holds each object against its identity: one that was
// replaced in its place has another. What was found whole once is not read again.
func (s *Store) Intact(ctx context.Context, state string) error {
	id, ok := parseID(state)
	if !ok {
		return fmt.Errorf("%q is no identity of a saved state", state)
	}
	raw, err := s.readWhole(id, plumbing.CommitObject)
	if err != nil {
		return err
	}
	c, err := parseCommit(id, raw)
	if err != nil {
		return fmt.Errorf("state %s: %w", id, err)
	}
	return s.intactTree(ctx, c.tree, "")
}

// intactTree looks at a tree, which lies at dir in the repository.
func (s *Store) intactTree(ctx context.Context, tree plumbing.Hash, dir string) error {
	if s.isWhole(tree) {
		return nil
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	raw, err := s.readWhole(tree, plumbing.TreeObject)
	if err != nil {
		return err
	}
	entries, err := parseTree(raw)
	if err != nil {
		return fmt.Errorf("tree %s: %w", tree, err)
	}
	for _, e := range entries {
		name := path.Join(dir, e.name)
		inRange, ok := strings.CutPrefix(name, s.prefix)
		switch {
		case e.isFolder() && (strings.HasPrefix(s.prefix, name+"/") || ok && slices.Contains(working.Folders[:], inRange)):
			err = s.intactTree(ctx, e.id, name)
		case e.isFile() && ok && working.IsRangeFile(inRange) && !s.isWhole(e.id):
			if _, err = s.readWhole(e.id, plumbing.BlobObject); err == nil {
				s.whole.Store(e.id, true)
			}
		}
		if err != nil {
			return err
		}
	}
	s.whole.Store(tree, true)
	return nil
}

func (s *Store) isWhole(id plumbing.Hash) bool { _, found := s.whole.Load(id); return found }

// readWhole reads an object that must be what its identity says.
func (s *Store) readWhole(id plumbing.Hash, kind plumbing.ObjectType) ([]byte, error) {
	content, err := s.objects.read(id, kind)
	if err != nil {
		return nil, err
	}
	if plumbing.ComputeHash(kind, content) != id {
		return nil, fmt.Errorf("%s %s was replaced in its place, or is damaged: run `git fsck`", kind, id)
	}
	return content, nil
}
