package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"rodlore/models"
)

// writePattern puts the one pattern there is into the draft.
func (p *program) writePattern(s subject, arg string, list *laidOut) error {
	o := list.others[0]
	file := filepath.Join(p.root, filepath.FromSlash(s.File))
	if isPath(arg) {
		file = p.at(arg)
	}
	src, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	m, err := models.ParseModel(s.File, src)
	if err != nil {
		return err
	}
	spliced, err := models.SpliceRings(src, m, o.Spec.Rings)
	if err != nil {
		return err
	}
	written := !bytes.Equal(src, spliced)
	if written {
		if err := replaceFile(file, spliced); err != nil {
			return err
		}
	}
	if p.json {
		doc := newPatternsJSON(s, list)
		if written {
			doc.Written = &s.File
		}
		return p.writeJSON(doc)
	}
	if !written {
		p.println(s.File + " has this pattern already; nothing written")
		return nil
	}
	p.println("wrote " + count(o.count, "ring") + " into " + s.File + "; look at it and save it:")
	if isPath(arg) {
		p.println("  rodlore figures " + arg)
		return nil
	}
	p.println("  rodlore compare " + s.Model)
	p.println("  rodlore save " + s.Model + " --why \"…\"")
	return nil
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
	temp, err := os.CreateTemp(filepath.Dir(file), "."+filepath.Base(file)+"-*")
	if err != nil {
		return fmt.Errorf("%s is left as it is: %w", file, err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(fmt.Errorf("%s is left as it is: %w", file, err), os.Remove(temp.Name()))
		}
	}()
	_, err = temp.Write(content)
	err = errors.Join(err, temp.Chmod(info.Mode().Perm()), temp.Sync(), temp.Close())
	if err != nil {
		return err
	}
	return os.Rename(temp.Name(), file)
}
