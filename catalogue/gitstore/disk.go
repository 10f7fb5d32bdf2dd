package gitstore

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// disk is every way in which saving alters files. It stands in one place so
// that the tests can make each of them fail.
type disk interface {
	// create makes a new file; it is an fs.ErrExist if there is one. A file
	// that cannot be written whole is taken away again.
	create(path string, content []byte, perm fs.FileMode) error
	// fill replaces the content of a file that is there.
	fill(path string, content []byte) error
	// extend adds to the end of a file, which it makes if need be; what could
	// be added only in part is cut off again.
	extend(path string, content []byte) error
	// cut shortens a file.
	cut(path string, size int64) error
	rename(from, to string) error
	remove(path string) error
	mkdir(path string) error
}

// osDisk alters the real files and waits until the machine has put them down.
type osDisk struct{}

func (osDisk) create(path string, content []byte, perm fs.FileMode) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
	if err != nil {
		return err
	}
	if err := putDown(f, content); err != nil {
		return errors.Join(err, os.Remove(path))
	}
	return nil
}

func (osDisk) fill(path string, content []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_TRUNC, 0)
	if err != nil {
		return err
	}
	return putDown(f, content)
}

func (osDisk) extend(path string, content []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o666)
	if err != nil {
		return err
	}
	info, err := f.Stat()
	if err != nil {
		return errors.Join(err, f.Close())
	}
	if err := putDown(f, content); err != nil {
		return errors.Join(err, os.Truncate(path, info.Size()))
	}
	return nil
}

func (osDisk) cut(path string, size int64) error { return os.Truncate(path, size) }

func (osDisk) rename(from, to string) error {
	if err := os.Rename(from, to); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(to))
}

func (osDisk) remove(path string) error { return os.Remove(path) }

func (osDisk) mkdir(path string) error { return os.MkdirAll(path, 0o777) }

// putDown writes content to f and closes it once it is on the disk.
func putDown(f *os.File, content []byte) error {
	_, err := f.Write(content)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// syncFolder makes a rename last. Some systems cannot flush a folder; there the
// rename is as lasting as the system makes it.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return nil
	}
	_ = d.Sync()
	return d.Close()
}
