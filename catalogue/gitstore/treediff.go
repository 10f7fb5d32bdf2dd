package gitstore

import (
	"bytes"
	"cmp"
	"errors"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"
)

// treeEntry is one line of a tree.
type treeEntry struct {
	mode string // octal, "100644"
	name string
	id   plumbing.Hash
}

const (
	modeFile       = "100644"
	modeExecutable = "100755"
	modeSymlink    = "120000"
	modeFolder     = "40000"
)

// isFile tells files from folders, symbolic links and submodules. Git of long
// ago wrote other permissions.
func (e treeEntry) isFile() bool { return strings.HasPrefix(e.mode, "100") }

func (e treeEntry) isFolder() bool { return e.mode == modeFolder || e.mode == "040000" }

// compareEntries puts entries in the order of a tree, in which a folder stands
// as if its name ended in a slash.
func compareEntries(a, b treeEntry) int { return cmp.Compare(a.sortKey(), b.sortKey()) }

func (e treeEntry) sortKey() string {
	if e.isFolder() {
		return e.name + "/"
	}
	return e.name
}

var errTree = errors.New("a tree is damaged")

// cutEntry parts the first entry from a raw tree: "mode name\0" and 20 bytes.
func cutEntry(raw []byte) (entry, rest []byte, err error) {
	nul := bytes.IndexByte(raw, 0)
	end := nul + 1 + len(plumbing.ZeroHash)
	if nul < 0 || end > len(raw) {
		return nil, nil, errTree
	}
	return raw[:end], raw[end:], nil
}

func parseEntry(raw []byte) (treeEntry, error) {
	line, id := raw[:len(raw)-len(plumbing.ZeroHash)-1], raw[len(raw)-len(plumbing.ZeroHash):]
	mode, name, ok := strings.Cut(string(line), " ")
	if !ok || name == "" {
		return treeEntry{}, errTree
	}
	return treeEntry{mode: mode, name: name, id: plumbing.Hash(id)}, nil
}

// parseTree reads a raw tree.
func parseTree(raw []byte) ([]treeEntry, error) {
	var entries []treeEntry
	for len(raw) > 0 {
		line, rest, err := cutEntry(raw)
		if err != nil {
			return nil, err
		}
		entry, err := parseEntry(line)
		if err != nil {
			return nil, err
		}
		entries, raw = append(entries, entry), rest
	}
	return entries, nil
}

// formatTree is the raw tree of entries in order.
func formatTree(entries []treeEntry) []byte {
	var raw []byte
	for _, e := range entries {
		raw = append(raw, e.mode...)
		raw = append(raw, ' ')
		raw = append(raw, e.name...)
		raw = append(raw, 0)
		raw = append(raw, e.id[:]...)
	}
	return raw
}

// specChange is one spec of a folder that differs; a zero identity is a file
// that is not there.
type specChange struct {
	name     string
	old, new plumbing.Hash
}

// diffSpecs compares two raw trees of the same folder. Entries that are the
// same on both sides are stepped over without being read.
func diffSpecs(old, now []byte) ([]specChange, error) {
	var changes []specChange
	for len(old) > 0 || len(now) > 0 {
		if n := sameEntry(old, now); n > 0 {
			old, now = old[n:], now[n:]
			continue
		}
		a, restOld, err := firstEntry(old)
		if err != nil {
			return nil, err
		}
		b, restNew, err := firstEntry(now)
		if err != nil {
			return nil, err
		}
		order := compareEntries(a, b)
		if len(now) == 0 || len(old) > 0 && order < 0 {
			b, restNew = treeEntry{}, now
		} else if len(old) == 0 || order > 0 {
			a, restOld = treeEntry{}, old
		}
		if c, ok := specChangeOf(a, b); ok {
			changes = append(changes, c)
		}
		old, now = restOld, restNew
	}
	return changes, nil
}

// sameEntry is the length of the first entry of both trees if it is the same.
func sameEntry(old, now []byte) int {
	entry, _, err := cutEntry(old)
	if err != nil || len(now) < len(entry) || !bytes.Equal(entry, now[:len(entry)]) {
		return 0
	}
	return len(entry)
}

// firstEntry is the zero entry at the end of a tree.
func firstEntry(raw []byte) (entry treeEntry, rest []byte, err error) {
	if len(raw) == 0 {
		return entry, nil, nil
	}
	line, rest, err := cutEntry(raw)
	if err != nil {
		return entry, nil, err
	}
	entry, err = parseEntry(line)
	return entry, rest, err
}

// specChangeOf is the change from entry a to b, which have the same name or of
// which one is the zero entry.
func specChangeOf(a, b treeEntry) (specChange, bool) {
	c := specChange{name: cmp.Or(a.name, b.name)}
	if a.isFile() {
		c.old = a.id
	}
	if b.isFile() {
		c.new = b.id
	}
	return c, c.old != c.new
}
