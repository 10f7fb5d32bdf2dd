package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"rodlore/catalogue"
)

// tickedJSON is what review prints of ticks.
type tickedJSON struct {
	schema
	Model    string       `json:"model"`
	Revision revisionJSON `json:"revision"`
	Ticked   []string     `json:"ticked"`
	File     string       `json:"file"`
}

// tick puts ticks into the file of reviews of a model, all of them or none.
func (p *program) tick(ctx context.Context, arg string, o reviewOptions) error {
	day, err := o.day(p.now())
	if err != nil {
		return err
	}
	return p.look(ctx, func(r *catalogue.Range) error {
		rev, err := r.FindArg(arg)
		if err != nil {
			return err
		}
		ticked, err := r.Tick(rev, o.ticks, o.by, day)
		if err != nil {
			return err
		}
		if err := p.replaceSeen(ticked.Path, ticked.Old, ticked.New); err != nil {
			return err
		}
		if p.json {
			return p.writeJSON(tickedJSON{schema1, rev.Model, revisionOf(rev), o.ticks, ticked.Path})
		}
		p.println("ticked " + count(len(o.ticks), "check") + " of revision " + rev.ShortID() + " in " + ticked.Path + "; save it:")
		p.println("  rodlore save " + rev.Model + " --why \"…\"")
		return nil
	})
}

// replaceSeen gives a file of the range another content, or makes it where it
// was nil. A file that is not as it was seen stays.
func (p *program) replaceSeen(path string, seen, content []byte) error {
	file := filepath.Join(p.root, filepath.FromSlash(path))
	now, err := os.ReadFile(file)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if !bytes.Equal(now, seen) {
		return fmt.Errorf("%s was altered meanwhile: give the command again", path)
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
		return err
	}
	return writeWhole(file, content)
}
