package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"sync"

	"rodlore/catalogue/cache"
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
