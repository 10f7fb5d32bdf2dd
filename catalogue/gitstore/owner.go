package gitstore

import (
	"fmt"
	"path/filepath"
	"strings"

	"rodlore/catalogue/visible"
)

// checkOwner refuses a repository of somebody else, as git does: its settings
// and programs would be theirs and the hands ours. What is named under
// safe.directory in the system's or the user's own settings is let in; the
// repository's say nothing here. See git-config(1), safe.directory.
func (p place) checkOwner() error {
	foreign := ""
	for _, path := range []string{filepath.Join(p.top, ".git"), p.top, p.gitDir, p.commonDir} {
		if !isOwn(path) {
			foreign = path
			break
		}
	}
	if foreign == "" {
		return nil
	}
	own, err := readUserSettings(p)
	if err != nil {
		return err
	}
	if own.isSafe(p.top) {
		return nil
	}
	return fmt.Errorf("%w: %s belongs to another user, who could have it run programs of theirs as you; if you trust them, run %s",
		errForeign, foreign, "`git config --global --add safe.directory "+visible.Arg(filepath.ToSlash(p.top))+"`")
}

// isSafe reports whether the folder is one that the user trusts: an empty value
// takes back those before it, * is all, and DIR/* all below a folder.
func (s settings) isSafe(top string) bool {
	safe := false
	top = filepath.ToSlash(top)
	for _, value := range s["safe.directory"] {
		below, isFolder := strings.CutSuffix(value, "/*")
		switch {
		case value == "":
			safe = false
		case value == "*":
			safe = true
		case isFolder:
			safe = safe || strings.HasPrefix(top, trusted(below)+"/")
		default:
			safe = safe || top == trusted(value)
		}
	}
	return safe
}

// trusted is a folder as the settings name it, as it is compared.
func trusted(path string) string {
	path = expandHome(path)
	if place, err := filepath.EvalSymlinks(path); err == nil {
		path = place
	}
	return filepath.ToSlash(path)
}
