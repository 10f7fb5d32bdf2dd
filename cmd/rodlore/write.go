package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"rodlore/catalogue/working"
)

// files are those of the range.
func (p *program) files() working.Dir { return working.At(p.root) }

// writeWhole writes a file that was named on the command line and may be there
// already: all of it or, where that fails, nothing.
func writeWhole(file string, content []byte) error {
	file, err := behindLinks(file)
	if err != nil {
		return err
	}
	return working.At(filepath.Dir(file)).Put(filepath.Base(file), content)
}

// behindLinks is where a file or folder to be written is to stand: what a link
// points to is replaced, not the link. One that leads out of a range is refused, for
// it may have come with a clone, and so is a folder that is not there, since a slip in
// its name would make folders.
func behindLinks(given string) (string, error) {
	path, err := filepath.Abs(given)
	if err != nil {
		return "", err
	}
	dir, err := filepath.EvalSymlinks(filepath.Dir(path))
	if errors.Is(err, fs.ErrNotExist) {
		return "", fmt.Errorf("%s cannot be written: there is no folder %s; make it first, or name another", given, filepath.Dir(filepath.Clean(given)))
	}
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

// makeFolder makes a folder with what build puts into the one that it is given.
// A folder that is there already must be empty. Where build fails, or the
// program is killed, all is as it was.
func makeFolder(dir string, build func(dir string) error) error {
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return fmt.Errorf("%s is a file; name a folder that is new or empty", dir)
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

// putFiles writes the files of a folder in the making, and takes away those without
// content.
func putFiles(root string, files map[string][]byte) error {
	for path, content := range files {
		file := filepath.Join(root, filepath.FromSlash(path))
		if content == nil {
			if err := os.Remove(file); err != nil {
				return err
			}
			continue
		}
		if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
			return err
		}
		if err := os.WriteFile(file, content, 0o666); err != nil {
			return err
		}
	}
	return nil
}

// splice puts what a function makes of a spec in the spec's place, and reports whether
// that is another text.
func splice(dir working.Dir, name string, edit func(src []byte) ([]byte, error)) (written bool, err error) {
	src, err := dir.Read(name)
	if err != nil {
		return false, err
	}
	made, err := edit(src)
	if err != nil || bytes.Equal(src, made) {
		return false, err
	}
	return true, dir.Put(name, made)
}

// pageList is the file by which a folder of pages is known again: it lists all
// others in it, one a line.
const pageList = "pages.txt"

// writePages puts pages into a folder in place of all that it holds: every page
// or, where that fails, none. The folder may be new, empty or one of such pages;
// one that holds anything else is refused.
func writePages(dir string, pages map[string][]byte) error {
	place, err := behindLinks(dir)
	if err != nil {
		return err
	}
	if err := mayReplace(dir); err != nil {
		return err
	}
	files := maps.Clone(pages)
	files[pageList] = []byte(strings.Join(slices.Sorted(maps.Keys(pages)), "\n") + "\n")
	return working.PutFolder(place, func(dir string) error { return putFiles(dir, files) })
}

// mayReplace refuses a folder with files that are not pages of ours.
func mayReplace(dir string) error {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, os.ErrNotExist) || err == nil && len(entries) == 0 {
		return nil
	}
	if err != nil {
		return err
	}
	list, err := working.At(dir).Read(pageList)
	if err != nil && !errors.Is(err, os.ErrNotExist) && !errors.Is(err, working.ErrUnusable) {
		return err
	}
	listed := strings.Split(strings.TrimSpace(string(list)), "\n")
	for _, e := range entries {
		name := e.Name()
		ours := name == pageList || slices.Contains(listed, name) && slices.Contains([]string{".html", ".css"}, filepath.Ext(name))
		if !ours || !e.Type().IsRegular() {
			return fmt.Errorf("%s holds %s, which is no page of rodlore's; take it out, or name another folder", dir, e.Name())
		}
	}
	return nil
}
