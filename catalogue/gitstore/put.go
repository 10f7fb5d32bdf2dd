package gitstore

import (
	"bytes"
	"compress/zlib"
	"crypto/rand"
	"errors"
	"fmt"
	"path/filepath"

	"github.com/go-git/go-git/v5/plumbing"
)

// put writes an object unless the repository holds it already. It is written
// beside its place and moved there whole; what a crash leaves beside has a name
// that git's own cleaning knows.
func (s *Store) put(kind plumbing.ObjectType, content []byte) (plumbing.Hash, error) {
	id := plumbing.ComputeHash(kind, content)
	if s.objects.has(id) {
		return id, nil
	}
	dir := filepath.Join(s.commonDir, "objects", id.String()[:2])
	draft := filepath.Join(dir, "tmp_obj_"+rand.Text())
	if err := s.disk.mkdir(dir); err != nil {
		return id, fmt.Errorf("writing into the repository: %w", err)
	}
	packed, err := compress(kind, content)
	if err != nil {
		return id, err
	}
	// Nobody is to alter an object, so its file is for reading only.
	err = s.disk.create(draft, packed, 0o444)
	if err == nil {
		err = s.disk.flush(draft)
	}
	if err == nil {
		err = s.disk.rename(draft, filepath.Join(dir, id.String()[2:]))
	}
	if err != nil {
		return id, errors.Join(fmt.Errorf("writing into the repository: %w", err), gone(s.disk.remove(draft)))
	}
	return id, nil
}

// compress is an object as it stands in its own file.
func compress(kind plumbing.ObjectType, content []byte) ([]byte, error) {
	var out bytes.Buffer
	z := zlib.NewWriter(&out)
	if _, err := fmt.Fprintf(z, "%s %d\x00", kind, len(content)); err != nil {
		return nil, err
	}
	if _, err := z.Write(content); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}
