package gitstore

import (
	"errors"
	"io/fs"
	"os"
)

// disk is every way in which saving alters files. It stands in one place so
// that the tests can make each of them fail.
type disk interface {
	// create makes a new file; it is an fs.ErrExist if there is one. A file
	// that cannot be written whole is taken away again.
	create(path string, content []byte, perm fs.FileMode) error
	// extend adds to the end of a file, which it makes if need be; what could
	// be added only in part is cut off again.
	extend(path string, content []byte) error
	// cut shortens a file.
	cut(path string, size int64) error
	// flush waits until a file or the names in a folder would outlast a loss
	// of power.
	flush(path string) error
	rename(from, to string) error
	// link gives a file a second name; it is an fs.ErrExist if there is such a
	// file.
	link(from, to string) error
	remove(path string) error
	mkdir(path string) error
}

// osDisk alters the real files.
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

// putDown writes content to f and closes it.
func putDown(f *os.File, content []byte) error {
	_, err := f.Write(content)
	return errors.Join(err, f.Close())
}

func (osDisk) flush(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

func (osDisk) cut(path string, size int64) error { return os.Truncate(path, size) }

func (osDisk) rename(from, to string) error { return os.Rename(from, to) }

func (osDisk) link(from, to string) error { return os.Link(from, to) }

func (osDisk) remove(path string) error { return os.Remove(path) }

func (osDisk) mkdir(path string) error { return os.MkdirAll(path, 0o777) }

// gone is err unless it says that the file is not there any more.
func gone(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}
