package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"sync"

	"rodlore/catalogue"
	"rodlore/catalogue/results"
)

// keepFigures lets a range take figures that were worked out before from the
// user's cache folder, unless RODLORE_CACHE says off.
func (p *program) keepFigures(r *catalogue.Range) {
	if p.env("RODLORE_CACHE") == "off" {
		return
	}
	dir, err := os.UserCacheDir()
	own, ownErr := os.UserConfigDir()
	if err != nil || ownErr != nil {
		return
	}
	secret, err := results.Secret(filepath.Join(own, "rodlore", "secret"))
	if err != nil {
		return // what is kept could be anybody's
	}
	r.Keep(results.Open(filepath.Join(dir, "rodlore"), secret), buildID())
}

// buildID names this build of the program, so that figures of another one are
// not taken for its own: what it was built from, and the size and date of
// its file, since a tree that was edited has no version.
var buildID = sync.OnceValue(func() string {
	id := ""
	if info, ok := debug.ReadBuildInfo(); ok {
		id = info.GoVersion + " " + info.Main.Version + " " + info.Main.Sum
		for _, s := range info.Settings {
			id += " " + s.Key + "=" + s.Value
		}
	}
	if path, err := os.Executable(); err == nil {
		if file, err := os.Stat(path); err == nil {
			id += fmt.Sprintf(" %d bytes of %d", file.Size(), file.ModTime().UnixNano())
		}
	}
	return id
})
