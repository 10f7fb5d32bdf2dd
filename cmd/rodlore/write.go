package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"rodlore/catalogue/working"
)

// files are those of the range.
func (p *program) files() working.Dir { return working.At(p.root) }

// writeWhole writes a file that was named on the command line and may be there
// already: all of it or, where that fails, nothing.
func writeWhole(file string, content []byte) error {
	if err := hasPlace(file); err != nil {
		return err
	}
	file, err := behindLinks(file)
	if err != nil {
		return err
	}
	return working.At(filepath.Dir(file)).Put(filepath.Base(file), content)
}

// replaceFile gives a file that was named on the command line, and is there,
// another content: all of it or, where that fails, none.
func replaceFile(file string, content []byte) error {
	if _, err := os.Stat(file); err != nil {
		return err
	}
	return writeWhole(file, content)
}

// behindLinks is where a file or folder to be written is to stand: what a link
// points to is replaced, not the link. One that leads out of a range is refused.
// It may have come with a clone.
func behindLinks(path string) (string, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	dir, err := filepath.EvalSymlinks(filepath.Dir(path))
	if err != nil {
		return "", err
	}
	place := filepath.Join(dir, filepath.Base(path))
	switch linked, err := filepath.EvalSymlinks(place); {
	case err == nil:
		place = linked
	case !errors.Is(err, fs.ErrNotExist):
		return "", err
	default:
		if _, err := os.Lstat(place); err == nil {
			return "", fmt.Errorf("%s is a symbolic link to nothing; take it out, or name another", path)
		}
	}
	return place, staysInRange(path, place)
}

// staysInRange refuses a path in a range that leads out of it.
func staysInRange(path, place string) error {
	for at := filepath.Dir(path); ; at = filepath.Dir(at) {
		if _, err := os.Lstat(filepath.Join(at, "range.yaml")); err == nil {
			root, err := filepath.EvalSymlinks(at)
			if err != nil {
				return err
			}
			if rel, err := filepath.Rel(root, place); err != nil || rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
				return fmt.Errorf("%s leads out of the range by a symbolic link, to %s; take the link out, or name that", path, place)
			}
		}
		if at == filepath.Dir(at) {
			return nil
		}
	}
}
