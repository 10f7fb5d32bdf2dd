package gitstore

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue/working"
)

// Blob gives the content of a file as it was saved, by its identity.
func (s *Store) Blob(ctx context.Context, id string) ([]byte, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	h, ok := parseID(id)
	if !ok {
		return nil, fmt.Errorf("%q is no identity of a file", id)
	}
	content, err := s.objects.read(h, plumbing.BlobObject)
	if errors.Is(err, errMissing) && s.config.isPartial() {
		return nil, fmt.Errorf("%w, which is a partial clone: run `git fetch --refetch --no-filter` to have it all", err)
	}
	return content, err
}

// Working gives the content of a file of the range's folder as it stands now, at
// most one byte more than 1 MiB of it. It does not leave the folder, be it by
// the path or by a symbolic link.
func (s *Store) Working(path string) ([]byte, error) { return s.files().Read(path) }

// WorkingFiles lists the range's files as they stand now, sorted. A file that
// cannot be read is listed: whoever reads it will be told why.
func (s *Store) WorkingFiles() ([]string, error) {
	files, _, err := s.files().List()
	if err != nil {
		return nil, fmt.Errorf("listing the range's files: %w", err)
	}
	return files, nil
}

// Obstacles lists what stands in the place of the range's files, and of those
// that tell git how to treat them, and is none.
func (s *Store) Obstacles() ([]working.Obstacle, error) {
	_, obstacles, err := s.files().List()
	if err != nil {
		return nil, fmt.Errorf("listing the range's files: %w", err)
	}
	for _, folder := range append([]string{""}, working.Folders[:]...) {
		for _, name := range []string{AttributesFile, ignoreFile} {
			obstacles = append(obstacles, s.files().Blocked(path.Join(folder, name))...)
		}
	}
	return obstacles, nil
}

// files are those of the range's folder.
func (p place) files() working.Dir { return working.At(p.root) }

// tree is the whole working tree that the range is in.
func (p place) tree() working.Dir { return working.At(p.top) }

// readRules reads a file of the working tree that tells git how to treat others,
// as git does: what is no ordinary file says nothing.
func (p place) readRules(name string) ([]byte, error) {
	raw, err := p.tree().Read(name)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, working.ErrUnusable):
		return nil, nil
	case err == nil && len(raw) == working.MostBytes:
		return nil, fmt.Errorf("%s is over 1 MiB, which nobody wrote", p.tree().Within(name))
	}
	return raw, err
}
