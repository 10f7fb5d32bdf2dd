package working

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
)

// Put gives a file content: all of it or, where that fails, none. The file may
// be new; one that is there keeps its permissions, and one that may not be
// written to is not replaced either. A folder that is missing is made.
func (d Dir) Put(name string, content []byte) error {
	return d.write(name, func(root *os.Root) error {
		info, err := regular(root, name)
		if errors.Is(err, fs.ErrNotExist) {
			return passBy(root, name, content, nil, root.Rename)
		}
		if err != nil {
			return err
		}
		f, err := root.OpenFile(filepath.FromSlash(name), os.O_WRONLY, 0)
		if err != nil {
			return err
		}
		if err := f.Close(); err != nil {
			return err
		}
		return passBy(root, name, content, info, root.Rename)
	})
}

// Create makes a file: all of it or, where that fails, none. It is an fs.ErrExist
// where there is one already.
func (d Dir) Create(name string, content []byte) error {
	return d.write(name, func(root *os.Root) error {
		if _, err := root.Lstat(filepath.FromSlash(name)); err == nil {
			return fmt.Errorf("%s: %w", name, fs.ErrExist)
		}
		return passBy(root, name, content, nil, func(temp, to string) error {
			err := root.Link(temp, to)
			if err == nil || errors.Is(err, fs.ErrExist) {
				return errors.Join(err, root.Remove(temp))
			}
			return root.Rename(temp, to) // not every file system gives a file two names
		})
	})
}

// makeFolder makes a folder where it is missing.
func (d Dir) makeFolder(folder string) error {
	return d.open(folder+"/.", func(root *os.Root) error { return root.MkdirAll(filepath.FromSlash(folder), 0o777) })
}

// write makes the folder of a file, takes away what killed programs left in it,
// and lets do write.
func (d Dir) write(name string, do func(*os.Root) error) error {
	err := d.open(name, func(root *os.Root) error {
		folder := path.Dir(name)
		if err := root.MkdirAll(filepath.FromSlash(folder), 0o777); err != nil {
			return err
		}
		if err := sweep(root, folder); err != nil {
			return err
		}
		return do(root)
	})
	if err != nil {
		return fmt.Errorf("%s is left as it is: %w", d.Within(name), err)
	}
	return nil
}

// passBy writes a file beside its place, like the one it is to stand for where
// there is one, and puts it there once it is whole.
func passBy(root *os.Root, name string, content []byte, like fs.FileInfo, place func(temp, to string) error) error {
	name = filepath.FromSlash(name)
	temp := passing(name)
	f, err := root.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	if like != nil {
		err = errors.Join(err, f.Chmod(like.Mode().Perm()))
	}
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = place(temp, name)
	}
	if err != nil {
		if left := root.Remove(temp); !errors.Is(left, fs.ErrNotExist) {
			err = errors.Join(err, left)
		}
	}
	return err
}
