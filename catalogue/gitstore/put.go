package gitstore

import (
	"bytes"
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/format/objfile"
)

// put writes an object unless the repository holds it already. It is written
// beside its place and moved there whole; what a crash leaves beside has a name
// that git's own cleaning knows.
func (s *Store) put(kind plumbing.ObjectType, content []byte) (plumbing.Hash, error) {
	id := plumbing.ComputeHash(kind, content)
	if s.objects.has(id) {
		return id, nil
	}
	packed, err := compress(kind, content)
	if err != nil {
		return id, err
	}
	for range folderTries {
		if err = s.putLoose(id, packed); !errors.Is(err, fs.ErrNotExist) {
			break
		}
	}
	if err != nil {
		err = fmt.Errorf("writing into the repository: %w", err)
	}
	return id, err
}

// folderTries is how often an object's folder is made again where git gc takes it
// away as an empty one.
const folderTries = 10

// putLoose puts a packed object into a file of its own. It is an fs.ErrNotExist
// where its folder went meanwhile.
func (s *Store) putLoose(id plumbing.Hash, packed []byte) error {
	dir := filepath.Join(s.commonDir, "objects", id.String()[:2])
	draft := filepath.Join(dir, "tmp_obj_"+rand.Text())
	if err := s.disk.mkdir(dir); err != nil {
		return err
	}
	// Nobody is to alter an object, so its file is for reading only.
	err := s.disk.create(draft, packed, 0o444)
	if err == nil {
		err = s.disk.flush(draft)
	}
	if err == nil {
		err = s.disk.rename(draft, filepath.Join(dir, id.String()[2:]))
	}
	if err != nil {
		return errors.Join(err, gone(s.disk.remove(draft)))
	}
	return nil
}

// compress is an object as it stands in its own file.
func compress(kind plumbing.ObjectType, content []byte) ([]byte, error) {
	var out bytes.Buffer
	w := objfile.NewWriter(&out)
	err := w.WriteHeader(kind, int64(len(content)))
	if err == nil {
		_, err = w.Write(content)
	}
	err = errors.Join(err, w.Close())
	return out.Bytes(), err
}
