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
	made, err := vacant(dir)
	if err == nil && made {
		err = os.Mkdir(dir, 0o777)
	}
	if err != nil {
		return err
	}
	if err := build(); err != nil {
		return errors.Join(err, unmake(dir, made))
	}
	return nil
}

// vacant says whether a folder is still to be made. One that holds anything is an
// error, and so is a file in its place.
func vacant(dir string) (missing bool, err error) {
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return false, fmt.Errorf("%s is a file; name a folder that is new or empty", dir)
	}
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return true, hasPlace(dir)
	case len(entries) > 0:
		err = fmt.Errorf("%s is not empty; name a folder that is new or empty", dir)
	}
	return false, err
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

// putFolder puts a folder in the place of dir with what fill puts into it: all of
// that, even if the program is killed, or nothing. What dir held goes.
func putFolder(dir string, fill func(dir string) error) error {
	temp := passing(dir)
	if err := os.Mkdir(temp, 0o777); err != nil {
		return fmt.Errorf("%s is left as it is: %w", dir, err)
	}
	err := fill(temp)
	if err == nil {
		err = swapFolder(temp, dir)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("%s is left as it is: %w", dir, err), os.RemoveAll(temp))
	}
	return nil
}

// swapFolder puts a folder in the place of another, which may not be there.
func swapFolder(temp, dir string) error {
	old := passing(dir)
	err := os.Rename(dir, old)
	if errors.Is(err, os.ErrNotExist) {
		return os.Rename(temp, dir)
	}
	if err != nil {
		return err
	}
	if err := os.Rename(temp, dir); err != nil {
		return errors.Join(err, os.Rename(old, dir))
	}
	return os.RemoveAll(old)
}

// writeFile writes a file of a range, whose folder is made where it is missing.
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
