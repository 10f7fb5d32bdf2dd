package main

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
)

// writeWhole writes a file that may be there already: all of it or, where that
// fails, nothing.
func writeWhole(file string, content []byte) error {
	if err := hasPlace(file); err != nil {
		return err
	}
	info, err := os.Stat(file)
	switch {
	case err != nil:
		return swapIn(file, content, func(*os.File) error { return nil })
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s is no file that can be written; name another", file)
	}
	return replaceFile(file, content)
}

// replaceFile gives a file another content: all of it or, where that fails, none.
func replaceFile(file string, content []byte) (err error) {
	// What a link points to is replaced, not the link.
	if file, err = filepath.EvalSymlinks(file); err != nil {
		return err
	}
	info, err := os.Stat(file)
	if err != nil {
		return err
	}
	// A file that may not be written to is not replaced either.
	f, err := os.OpenFile(file, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return swapIn(file, content, func(temp *os.File) error { return temp.Chmod(info.Mode().Perm()) })
}

// swapIn writes a file beside its place and puts it there once it is whole.
// settle makes it like the one that it is to stand for.
func swapIn(file string, content []byte, settle func(*os.File) error) (err error) {
	defer func() {
		if err != nil {
			err = fmt.Errorf("%s is left as it is: %w", file, err)
		}
	}()
	temp, err := os.OpenFile(passing(file), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = temp.Write(content)
	err = errors.Join(err, settle(temp), temp.Sync(), temp.Close())
	if err == nil {
		err = os.Rename(temp.Name(), file)
	}
	if err != nil {
		return errors.Join(err, os.Remove(temp.Name()))
	}
	return nil
}

// passing is a name beside a file or folder for what is to take its place.
func passing(file string) string {
	file = filepath.Clean(file) // "pages/" lies beside itself, not in itself
	return filepath.Join(filepath.Dir(file), fmt.Sprintf(".%s-%08x", filepath.Base(file), rand.Uint32()))
}

// dropPassing takes away what a program that was killed left in a folder in
// which no other is writing.
func dropPassing(dir string) error {
	left, err := fs.Glob(os.DirFS(dir), ".*.yaml-"+strings.Repeat("[0-9a-f]", 8))
	for _, name := range left {
		err = errors.Join(err, os.Remove(filepath.Join(dir, name)))
	}
	return err
}
