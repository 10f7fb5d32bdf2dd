package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"rodlore/catalogue/working"
)

// makeFolder makes a folder with what build puts into the one that it is given.
// A folder that is there already must be empty. Where build fails, or the
// program is killed, all is as it was.
func makeFolder(dir string, build func(dir string) error) error {
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return fmt.Errorf("%s is a file; name a folder that is new or empty", dir)
	}
	if err := hasPlace(dir); err != nil {
		return err
	}
	place, err := behindLinks(dir)
	if err != nil {
		return err
	}
	if err = working.FillFolder(place, build); errors.Is(err, fs.ErrExist) {
		return notEmpty(dir)
	}
	return err
}

func notEmpty(dir string) error {
	return fmt.Errorf("%s is not empty; name a folder that is new or empty", dir)
}

// writeFile writes a file of a folder in the making, whose folders are made
// where they are missing.
func writeFile(root, path string, content []byte) error {
	file := filepath.Join(root, filepath.FromSlash(path))
	if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
		return err
	}
	return os.WriteFile(file, content, 0o666)
}

// hasPlace refuses a file or folder that is to be made in a folder that is not
// there: a slip in its name would make folders.
func hasPlace(path string) error {
	dir := filepath.Dir(filepath.Clean(path))
	if _, err := os.Stat(dir); errors.Is(err, os.ErrNotExist) {
		return fmt.Errorf("%s cannot be written: there is no folder %s; make it first, or name another", path, dir)
	}
	return nil
}
