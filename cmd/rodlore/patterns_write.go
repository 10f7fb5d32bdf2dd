package main

import (
	"bytes"

	"rodlore/catalogue/visible"
	"rodlore/catalogue/working"
	"rodlore/models"
)

// writePattern puts the one pattern there is into the draft.
func (p *program) writePattern(s subject, arg string, list *laidOut) error {
	o := list.others[0]
	read := func() ([]byte, error) { return p.files().Read(s.File) }
	write := func(content []byte) error { return p.files().Put(s.File, content) }
	if isPath(arg) {
		read = func() ([]byte, error) { return working.ReadFile(p.at(arg)) }
		write = func(content []byte) error { return replaceFile(p.at(arg), content) }
	}
	src, err := read()
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
		if err := write(spliced); err != nil {
			return err
		}
	}
	if p.json {
		file := ""
		if written {
			file = s.File
		}
		return p.writeJSON(patternsOf(s, list, file))
	}
	if !written {
		p.println(s.File + " has this pattern already; nothing written")
		return nil
	}
	p.println("wrote " + count(o.count, "ring") + " into " + s.File + "; look at it and save it:")
	if isPath(arg) {
		p.println("  rodlore figures " + visible.Arg(arg))
		return nil
	}
	p.println("  rodlore compare " + visible.Arg(s.Model))
	p.println("  rodlore save " + visible.Arg(s.Model) + " --why \"…\"")
	return nil
}
