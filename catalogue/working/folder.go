package working

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// PutFolder puts a folder in the place of dir with what fill puts into the one
// that it is given: all of that, even if the program is killed, or nothing. What
// dir held goes; its permissions stay.
func PutFolder(dir string, fill func(dir string) error) error {
	if err := At(filepath.Dir(dir)).sweep("."); err != nil {
		return err
	}
	err := aside(passing(dir), fill, func(temp string) error { return putInPlace(temp, dir) })
	if err != nil {
		return fmt.Errorf("%s is left as it is: %w", dir, err)
	}
	return nil
}

// aside makes a folder, fills it and puts it in place. It leaves none where that fails.
func aside(temp string, fill, put func(dir string) error) error {
	err := os.Mkdir(temp, 0o777)
	if err != nil {
		return err
	}
	if err = fill(temp); err == nil {
		err = put(temp)
	}
	if err != nil {
		return errors.Join(err, os.RemoveAll(temp))
	}
	return nil
}

// putInPlace puts a folder in the place of another, which may not be there.
func putInPlace(temp, dir string) error {
	info, err := os.Stat(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return os.Rename(temp, dir)
	}
	if err != nil {
		return err
	}
	if err := os.Chmod(temp, info.Mode().Perm()); err != nil {
		return err
	}
	if exchange(temp, dir) == nil {
		return os.RemoveAll(temp)
	}
	// Not every system can do it in one step. Where this is cut short in
	// between, the next program that writes here puts the old folder back.
	old := passing(dir + beforeSuffix)
	if err := os.Rename(dir, old); err != nil {
		return err
	}
	if err := os.Rename(temp, dir); err != nil {
		return errors.Join(err, os.Rename(old, dir))
	}
	return os.RemoveAll(old)
}

// beforeSuffix marks what is out of its place only until another is in it.
const beforeSuffix = ".before"

// broughtBack puts back what left, a name in a folder, was before a killed
// program put it aside, unless something is in its place.
func broughtBack(root *os.Root, folder, left string) bool {
	end := strings.LastIndex(left, beforeSuffix+"-")
	if end < 1 {
		return false
	}
	was := filepath.Join(filepath.FromSlash(folder), left[1:end])
	if _, err := root.Lstat(was); !errors.Is(err, fs.ErrNotExist) {
		return false
	}
	return root.Rename(filepath.Join(filepath.FromSlash(folder), left), was) == nil
}

// FillFolder makes the folder dir, or takes one that is there and holds nothing,
// with what fill puts into the one that it is given. It is whole or, where that
// fails or the program is killed, as it was. An error that is an fs.ErrExist says
// that dir holds something.
func FillFolder(dir string, fill func(dir string) error) error {
	entries, err := readIfThere(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return newFolder(dir, fill)
	case err != nil:
		return err
	case len(entries) > 0:
		return fmt.Errorf("%s: %w", dir, fs.ErrExist)
	}
	// A folder that somebody stands in, or that has an owner, stays that one.
	return aside(passing(filepath.Join(dir, filepath.Base(dir))), fill, func(temp string) error {
		if err := moveUp(temp, dir); err != nil {
			return errors.Join(err, moveBack(temp, dir))
		}
		return os.RemoveAll(temp)
	})
}

func newFolder(dir string, fill func(dir string) error) error {
	if err := At(filepath.Dir(dir)).sweep("."); err != nil {
		return err
	}
	return aside(passing(dir), fill, func(temp string) error { return os.Rename(temp, dir) })
}

// readIfThere lists a folder, once what killed programs left in it is gone.
func readIfThere(dir string) ([]fs.DirEntry, error) {
	entries, err := os.ReadDir(dir)
	for _, e := range entries {
		if left := filepath.Join(dir, e.Name()); e.IsDir() && isLeft(e) {
			if err := moveBack(left, dir); err != nil {
				return nil, err
			}
			if err := os.RemoveAll(left); err != nil {
				return nil, err
			}
		}
	}
	if err != nil {
		return nil, err
	}
	return os.ReadDir(dir)
}

// movingFile lists, in a folder whose content is being moved up, all of it.
const movingFile = ".moving"

// moveUp moves all that a folder holds into the one above it.
func moveUp(temp, dir string) error {
	entries, err := os.ReadDir(temp)
	if err != nil {
		return err
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if err := os.WriteFile(filepath.Join(temp, movingFile), []byte(strings.Join(names, "\n")), 0o666); err != nil {
		return err
	}
	for _, name := range names {
		if err := os.Rename(filepath.Join(temp, name), filepath.Join(dir, name)); err != nil {
			return err
		}
	}
	return nil
}

// moveBack undoes what moveUp has done.
func moveBack(temp, dir string) error {
	list, err := ReadFile(filepath.Join(temp, movingFile))
	if err != nil {
		return nil //nolint:nilerr // nothing was moved
	}
	var moved []string
	for name := range strings.SplitSeq(string(list), "\n") {
		if filepath.IsLocal(name) && filepath.Base(name) == name {
			moved = append(moved, name)
		}
	}
	for _, name := range slices.Backward(moved) {
		from, to := filepath.Join(dir, name), filepath.Join(temp, name)
		if _, err := os.Lstat(to); err == nil {
			continue // it never left
		}
		if err := os.Rename(from, to); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}
