package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
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
