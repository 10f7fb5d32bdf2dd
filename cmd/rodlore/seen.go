package main

import (
	"os"
	"path/filepath"
	"strings"

	"rodlore/catalogue"
	"rodlore/catalogue/gitstore"
	"rodlore/catalogue/seen"
)

// book opens what is remembered of releases that were seen on this computer, in the
// user's own folder; nil where RODLORE_MEMORY says off.
func (p *program) book() (*seen.Book, error) {
	if p.env("RODLORE_MEMORY") == "off" {
		return nil, nil
	}
	own, err := os.UserConfigDir()
	if err != nil {
		return nil, err
	}
	return seen.Open(filepath.Join(own, "rodlore", "releases"))
}

// recall has a range know which releases were seen of it before, and remembers those
// it has now. That it cannot stops nothing and is told by check.
func (p *program) recall(r *catalogue.Range, store *gitstore.Store) {
	book, err := p.book()
	if err == nil && book != nil {
		err = r.Recall(book, store.Root(), day(p.now()), p.made)
	}
	p.unremembered = err
}

// beginHere forgets what was seen of a range that was in a folder before the one that
// was made there just now.
func (p *program) beginHere(dir string) error {
	store, err := gitstore.Open(dir)
	if err != nil {
		return err
	}
	defer func() { _ = store.Close() }() // nothing was written
	if book, err := p.book(); err == nil && book != nil {
		_, _ = book.Forget(store.Root(), "") // check tells why nothing is remembered
	}
	return nil
}

// forget forgets what was seen here of one release, or of all, for who took them
// back on purpose or has another range in the folder now.
func (p *program) forget(arg string) error {
	store, err := gitstore.Open(p.at("."))
	if err != nil {
		return err
	}
	place := store.Root()
	if err := store.Close(); err != nil {
		return err
	}
	book, err := p.book()
	if err != nil {
		return err
	}
	if book == nil {
		return misuse("--forget: RODLORE_MEMORY is off, so that nothing is remembered")
	}
	tag := ""
	if arg != allReleases {
		model, label, ok := strings.Cut(arg, "@")
		if !ok {
			return misuse("--forget: %q is no release such as skerry-10@2026", arg)
		}
		tag = model + "/" + label
	}
	n, err := book.Forget(place, tag)
	if err != nil {
		return err
	}
	p.println("forgotten: " + count(n, "release") + " as seen here before; what there is now is seen anew")
	return nil
}

// allReleases stands for every release where --forget names none.
const allReleases = "all"
