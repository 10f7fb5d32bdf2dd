package gitstore

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"

	"github.com/go-git/go-billy/v5/osfs"
	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/cache"
	"github.com/go-git/go-git/v5/storage/filesystem"
)

// A larger cache of objects is slower: its memory has to be fetched.
const objectCache = 8 * cache.MiByte

// errMissing is an object that the repository does not hold.
var errMissing = errors.New("is missing from the repository")

// objects reads commits, trees, blobs and tags, loose or packed, from the
// repository and from those that it borrows from.
type objects struct {
	mu     sync.Mutex
	stores []*filesystem.Storage
}

func openObjects(commonDir string) (*objects, error) {
	dirs, err := objectFolders(filepath.Join(commonDir, "objects"))
	if err != nil {
		return nil, err
	}
	o := &objects{}
	for _, dir := range dirs {
		o.stores = append(o.stores, filesystem.NewStorageWithOptions(
			osfs.New(filepath.Dir(dir)), cache.NewObjectLRU(objectCache), filesystem.Options{KeepDescriptors: true}))
	}
	return o, nil
}

// Close lets go of the pack files.
func (o *objects) Close() error {
	var errs []error
	for _, s := range o.stores {
		errs = append(errs, s.Close())
	}
	return errors.Join(errs...)
}

// read gives the content of an object, which must be of the kind wanted.
func (o *objects) read(id plumbing.Hash, want plumbing.ObjectType) ([]byte, error) {
	kind, content, err := o.readAny(id)
	if err != nil {
		return nil, err
	}
	if kind != want {
		return nil, fmt.Errorf("object %s is a %s and no %s", id, kind, want)
	}
	return content, nil
}

func (o *objects) readAny(id plumbing.Hash) (plumbing.ObjectType, []byte, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	obj, err := o.find(id)
	if err != nil {
		return 0, nil, err
	}
	r, err := obj.Reader()
	if err != nil {
		return 0, nil, fmt.Errorf("reading object %s: %w", id, err)
	}
	content := make([]byte, obj.Size())
	if _, err := io.ReadFull(r, content); err != nil {
		return 0, nil, errors.Join(fmt.Errorf("reading object %s: %w", id, err), r.Close())
	}
	return obj.Type(), content, r.Close()
}

func (o *objects) find(id plumbing.Hash) (plumbing.EncodedObject, error) {
	var errs []error
	for _, s := range o.stores {
		obj, err := s.EncodedObject(plumbing.AnyObject, id)
		if err == nil {
			return obj, nil
		}
		if !errors.Is(err, plumbing.ErrObjectNotFound) {
			errs = append(errs, err)
		}
	}
	if len(errs) > 0 {
		return nil, fmt.Errorf("reading object %s: %w", id, errors.Join(errs...))
	}
	return nil, fmt.Errorf("object %s %w", id, errMissing)
}

// objectFolders is the repository's folder of objects and all those it borrows
// from, as gitrepository-layout(5), objects/info/alternates, has it.
func objectFolders(dir string) ([]string, error) {
	dirs := []string{dir}
	for at := 0; at < len(dirs); at++ {
		borrowed, err := alternates(dirs[at])
		if err != nil {
			return nil, err
		}
		for _, b := range borrowed {
			if !slices.Contains(dirs, b) && isDir(b) {
				dirs = append(dirs, b)
			}
		}
	}
	return dirs, nil
}

func alternates(dir string) ([]string, error) {
	f, err := os.Open(filepath.Join(dir, "info", "alternates"))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var dirs []string
	for lines := bufio.NewScanner(f); lines.Scan(); {
		if line := lines.Text(); line != "" && line[0] != '#' {
			dirs = append(dirs, absolute(dir, line))
		}
	}
	return dirs, nil
}

// has reports whether the repository holds an object.
func (o *objects) has(id plumbing.Hash) bool {
	o.mu.Lock()
	defer o.mu.Unlock()
	_, err := o.find(id)
	return err == nil
}
