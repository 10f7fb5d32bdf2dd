package gitstore

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
)

// AttributesFile tells git how to treat files; ownAttributes is what Init puts
// there, so that a spec has the same identity whatever machine saved it.
const (
	AttributesFile = ".gitattributes"
	ownAttributes  = "*.yaml text eol=lf\n"
)

// createRepository puts an empty repository into dir. It is made beside its
// place and moved there whole, so that none is left half made.
func createRepository(dir string) (err error) {
	draft, err := os.MkdirTemp(dir, ".git-new-")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.RemoveAll(draft))
		}
	}()
	for _, sub := range []string{"objects/info", "objects/pack", "refs/heads", "refs/tags", "info"} {
		if err := os.MkdirAll(filepath.Join(draft, filepath.FromSlash(sub)), 0o777); err != nil {
			return err
		}
	}
	for name, content := range map[string]string{"HEAD": "ref: refs/heads/main\n", "config": newConfig()} {
		if err := (osDisk{}).create(filepath.Join(draft, name), []byte(content), 0o666); err != nil {
			return err
		}
	}
	// A folder made by MkdirTemp is closed to others; a repository is as open
	// as the folder it is in.
	if info, err := os.Stat(filepath.Join(draft, "refs")); err == nil {
		if err := os.Chmod(draft, info.Mode().Perm()); err != nil {
			return err
		}
	}
	return os.Rename(draft, filepath.Join(dir, ".git"))
}

// newConfig is what git init writes into config.
func newConfig() string {
	return fmt.Sprintf("[core]\n\trepositoryformatversion = 0\n\tfilemode = %t\n\tbare = false\n\tlogallrefupdates = true\n",
		runtime.GOOS != "windows")
}
