package working

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
)

// MostBytes is how much is read of a file: one byte over what a spec may have,
// so that the parser can tell that it is too long.
const MostBytes = 1<<20 + 1

// ErrUnusable is given, wrapped with the path and what to do, for what stands
// where a file or a folder should: a symbolic link, a pipe, a device.
var ErrUnusable = errors.New("is no ordinary file")

// Dir is a folder whose files are read and written. Paths in it use slashes.
type Dir struct{ path string }

// At is the folder of that path, which may itself be reached by links.
func At(path string) Dir { return Dir{path} }

// Within is the path in the system of a file of the folder.
func (d Dir) Within(name string) string { return filepath.Join(d.path, filepath.FromSlash(name)) }

// Read gives the content of a file, at most MostBytes of it.
func (d Dir) Read(name string) (content []byte, err error) {
	err = d.open(name, func(root *os.Root) error {
		if _, err := regular(root, name); err != nil {
			return err
		}
		f, err := root.Open(filepath.FromSlash(name))
		if err != nil {
			return err
		}
		defer f.Close()
		content, err = io.ReadAll(io.LimitReader(f, MostBytes))
		return err
	})
	return content, err
}

// Stat describes a file, which must be an ordinary one.
func (d Dir) Stat(name string) (info fs.FileInfo, err error) {
	err = d.open(name, func(root *os.Root) error {
		info, err = regular(root, name)
		return err
	})
	return info, err
}

// ReadFile gives the content of a file that somebody named, be it by a link, at
// most MostBytes of it.
func ReadFile(file string) ([]byte, error) {
	info, err := os.Stat(file)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() { // opening a pipe would wait for somebody to write into it
		return nil, fmt.Errorf("%s %w", file, ErrUnusable)
	}
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, MostBytes))
}

// open opens the folder for as long as do takes, once all that leads to name in
// it are folders and no links.
func (d Dir) open(name string, do func(*os.Root) error) (err error) {
	root, err := os.OpenRoot(d.path)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, root.Close()) }()
	if err := plainFolders(root, path.Dir(name)); err != nil {
		return err
	}
	return do(root)
}

// plainFolders refuses a path through a symbolic link, even to where it leads
// within the root: what was saved of a link is where it leads and not what
// stands there. It takes a folder that is missing for a plain one.
func plainFolders(root *os.Root, dir string) error {
	at := ""
	for part := range strings.SplitSeq(dir, "/") {
		at = path.Join(at, part)
		info, err := root.Lstat(filepath.FromSlash(at))
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err != nil {
			return err
		}
		if why := unusableFolder(info); why != "" {
			return unusable(at, why)
		}
	}
	return nil
}

// regular describes a file, and refuses what is none.
func regular(root *os.Root, name string) (fs.FileInfo, error) {
	info, err := root.Lstat(filepath.FromSlash(name))
	if err != nil {
		return nil, err
	}
	if why := unusableFile(info); why != "" {
		return nil, unusable(name, why)
	}
	return info, nil
}

func unusable(name, why string) error { return &unusableError{name, why} }

// unusableError is an ErrUnusable with words of its own.
type unusableError struct{ path, why string }

func (e *unusableError) Error() string { return e.path + " " + e.why }

func (e *unusableError) Unwrap() error { return ErrUnusable }

// unusableFile says why something is no file, "" for a file.
func unusableFile(info fs.FileInfo) string { return unless(info.Mode().IsRegular(), info, "file") }

// unusableFolder says why something is no folder, "" for a folder.
func unusableFolder(info fs.FileInfo) string { return unless(info.IsDir(), info, "folder") }

// unless says why something is none of its kind, "" where it is one.
func unless(is bool, info fs.FileInfo, kind string) string {
	switch {
	case is:
		return ""
	case info.Mode()&fs.ModeSymlink != 0:
		return "is a symbolic link, which no history follows: put the " + kind + " itself in its place"
	}
	return "is no " + kind + ": take it out, or put a " + kind + " in its place"
}
