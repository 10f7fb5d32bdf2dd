package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"sync"

	"rodlore/catalogue"
	"rodlore/catalogue/cache"
	"rodlore/catalogue/gitstore"
	"rodlore/catalogue/seen"
)

// cached is what is kept in the user's cache folder in one scope; nil, which keeps
// nothing, where RODLORE_CACHE says off.
func (p *program) cached(scope string) *cache.Folder {
	if p.env("RODLORE_CACHE") == "off" {
		return nil
	}
	dir, err := os.UserCacheDir()
	own, ownErr := os.UserConfigDir()
	if err != nil || ownErr != nil {
		return nil
	}
	secret, err := cache.Secret(filepath.Join(own, "rodlore", "secret"))
	if err != nil {
		return nil // what is kept could be anybody's
	}
	return cache.Open(filepath.Join(dir, "rodlore"), secret, scope)
}

// buildID names what figures follow from beside the range: the code that works them out.
// The version stands for it, so that whoever installs the same one again keeps them; of
// a tree that was edited, or has no version, the size and date of the program's file do.
var buildID = sync.OnceValue(func() string {
	id := ""
	info, ok := debug.ReadBuildInfo()
	if ok {
		id = info.String() // with the versions of all libraries
	}
	if ok && strings.HasPrefix(info.Main.Version, "v") && !strings.HasSuffix(info.Main.Version, "+dirty") && !strings.Contains(id, "=>") {
		return id
	}
	if path, err := os.Executable(); err == nil {
		if file, err := os.Stat(path); err == nil {
			id += fmt.Sprintf(" %d bytes of %d", file.Size(), file.ModTime().UnixNano())
		}
	}
	return id
})

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

// forget forgets what was seen here of one release, or of all, for who took them
// back on purpose or has another range in the folder now.
func (p *program) forget(arg string) error {
	store, err := gitstore.Open(p.at("."))
	if err != nil {
		return err
	}
	defer func() { _ = store.Close() }() // nothing is written
	book, err := p.book()
	if err != nil {
		return err
	}
	if book == nil {
		return misuseOf("forget", "RODLORE_MEMORY is off, so that nothing is remembered")
	}
	tag := ""
	if arg != allReleases {
		model, label, ok := strings.Cut(arg, "@")
		if !ok {
			return misuseOf("forget", "%q is no release such as skerry-10@2026", arg)
		}
		tag = model + "/" + label
	}
	n, err := book.Forget(store.Root(), tag)
	if err != nil {
		return err
	}
	return p.show(func() object { return object{{"forgotten", n}} }, func() {
		p.println("forgotten: " + count(n, "release") + " as seen here before; what there is now is seen anew")
	})
}

// allReleases stands for every release where --forget names none.
const allReleases = "all"
