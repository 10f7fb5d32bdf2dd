package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// makeFolder makes a folder with what build puts into it. A folder that is
// there already must be empty. Where build fails, all is as it was.
func makeFolder(dir string, build func() error) error {
	entries, err := os.ReadDir(dir)
	made := errors.Is(err, os.ErrNotExist)
	if made {
		err = os.Mkdir(dir, 0o777)
	}
	switch {
	case err != nil:
		return err
	case len(entries) > 0:
		return fmt.Errorf("%s is not empty; name a folder that is new or empty", dir)
	}
	if err := build(); err != nil {
		return errors.Join(err, unmake(dir, made))
	}
	return nil
}

// unmake empties a folder, and takes it away too if it was made for this.
func unmake(dir string, made bool) error {
	if made {
		return os.RemoveAll(dir)
	}
	entries, err := os.ReadDir(dir)
	for _, e := range entries {
		err = errors.Join(err, os.RemoveAll(filepath.Join(dir, e.Name())))
	}
	return err
}

// writeFile writes a file of a range, whose folder is made where it is missing.
func writeFile(root, path string, content []byte) error {
	file := filepath.Join(root, filepath.FromSlash(path))
	if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
		return err
	}
	return os.WriteFile(file, content, 0o666)
}
