package gitstore

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"github.com/go-git/go-git/v5/plumbing"
)

// Files are read up to one byte over what a spec may have, so that the parser
// can tell that it is too long.
const maxFile = 1<<20 + 1

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
	if err != nil {
		return nil, err
	}
	if plumbing.ComputeHash(plumbing.BlobObject, content) != h {
		return nil, fmt.Errorf("file %s is damaged: run `git fsck`", id)
	}
	return slices.Clone(content), nil
}

// Working gives the content of a file of the range's folder as it stands now, at
// most one byte more than 1 MiB of it. It does not leave the folder, be it by
// the path or by a symbolic link. A file that is itself a link is refused, since
// what was saved of one is where it leads and not what stands there.
func (s *Store) Working(path string) ([]byte, error) {
	root, err := os.OpenRoot(s.root)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	name := filepath.FromSlash(path)
	info, err := root.Lstat(name)
	if err != nil {
		return nil, err
	}
	switch {
	case info.Mode()&fs.ModeSymlink != 0:
		return nil, fmt.Errorf("%s is a symbolic link, which no history follows: put the file itself in its place", path)
	case !info.Mode().IsRegular(): // opening a pipe would wait for somebody to write into it
		return nil, fmt.Errorf("%s is no file", path)
	}
	f, err := root.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, maxFile))
}

// WorkingFiles lists the range's files as they stand now, sorted. A file that
// cannot be read is listed: whoever reads it will be told why. Symbolic links
// among the specs are left out, as they are in the history.
func (s *Store) WorkingFiles() ([]string, error) {
	var files []string
	for _, name := range rootFiles {
		if exists(filepath.Join(s.root, name)) && !isDir(filepath.Join(s.root, name)) {
			files = append(files, name)
		}
	}
	for _, folder := range folders {
		dir := filepath.Join(s.root, folder)
		entries, err := os.ReadDir(dir)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("listing the range's files: %w", err)
		}
		for _, e := range entries {
			if isSpec(e.Name()) && !e.IsDir() && e.Type()&fs.ModeSymlink == 0 {
				files = append(files, folder+"/"+e.Name())
			}
		}
	}
	slices.Sort(files)
	return files, nil
}
