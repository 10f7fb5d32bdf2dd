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
// the range in it. Whatever is read is held against its identity: an object that
// was replaced in its place has another. What was found whole once is not read
// again.
func (s *Store) Intact(ctx context.Context, state string) error {
	id, ok := parseID(state)
	if !ok {
		return fmt.Errorf("%q is no identity of a saved state", state)
	}
	s.wholeLock.Lock()
	defer s.wholeLock.Unlock()
	c, err := s.readCommit(id)
	if err == nil {
		err = s.intactTree(ctx, c.tree, "")
	}
	if err != nil && ctx.Err() == nil {
		return fmt.Errorf("%w: run `git fsck`", err)
	}
	return err
}

// intactTree looks at a tree, which lies at dir in the repository.
func (s *Store) intactTree(ctx context.Context, tree plumbing.Hash, dir string) error {
	if s.whole[tree] {
		return nil
	}
	raw, err := s.objects.read(tree, plumbing.TreeObject)
	if err != nil {
		return err
	}
	entries, err := parseTree(raw)
	if err != nil {
		return fmt.Errorf("tree %s: %w", tree, err)
	}
	for _, e := range entries {
		if s.whole[e.id] {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		name := path.Join(dir, e.name)
		inRange, ok := strings.CutPrefix(name, s.prefix)
		switch {
		case e.isFolder() && (strings.HasPrefix(s.prefix, name+"/") || ok && slices.Contains(working.Folders[:], inRange)):
			err = s.intactTree(ctx, e.id, name)
		case e.isFile() && ok && working.IsRangeFile(inRange):
			if _, err = s.objects.read(e.id, plumbing.BlobObject); err == nil {
				s.whole[e.id] = true
			}
		}
		if err != nil {
			return err
		}
	}
	s.whole[tree] = true
	return nil
}
