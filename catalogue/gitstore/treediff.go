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

// entryLength is how long the first entry of a raw tree is, "mode name\0" and 20 bytes;
// ok is false where it is cut short.
func entryLength(raw []byte) (n int, ok bool) {
	nul := bytes.IndexByte(raw, 0)
	n = nul + 1 + len(plumbing.ZeroHash)
	return n, nul >= 0 && n <= len(raw)
}

// cutEntry takes the first entry off a raw tree. It is the zero entry at the end.
func cutEntry(raw []byte) (e treeEntry, rest []byte, err error) {
	if len(raw) == 0 {
		return e, nil, nil
	}
	n, ok := entryLength(raw)
	if !ok {
		return e, nil, errTree
	}
	line, id := raw[:n-len(e.id)-1], raw[n-len(e.id):n]
	e.mode, e.name, ok = strings.Cut(string(line), " ")
	if !ok || e.name == "" {
		return e, nil, errTree
	}
	copy(e.id[:], id)
	return e, raw[n:], nil
}

// parseTree reads a raw tree.
func parseTree(raw []byte) (entries []treeEntry, err error) {
	for len(raw) > 0 {
		var e treeEntry
		if e, raw, err = cutEntry(raw); err != nil {
			return nil, err
		}
		entries = append(entries, e)
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

// diffFiles compares two raw trees of the same folder and gives each file that differs,
// with the zero identity where it is not there. Entries that are the same on both sides
// are stepped over without being read.
func diffFiles(old, now []byte, differs func(name string, old, now plumbing.Hash)) error {
	for len(old) > 0 || len(now) > 0 {
		if n, ok := entryLength(old); ok && len(now) >= n && bytes.Equal(old[:n], now[:n]) {
			old, now = old[n:], now[n:]
			continue
		}
		a, restOld, err := cutEntry(old)
		if err != nil {
			return err
		}
		b, restNow, err := cutEntry(now)
		if err != nil {
			return err
		}
		order := compareEntries(a, b)
		if len(now) == 0 || len(old) > 0 && order < 0 {
			b, restNow = treeEntry{}, now
		} else if len(old) == 0 || order > 0 {
			a, restOld = treeEntry{}, old
		}
		if was, is := a.file(), b.file(); was != is {
			differs(cmp.Or(a.name, b.name), was, is)
		}
		old, now = restOld, restNow
	}
	return nil
}

// file is the content of a file; the zero identity of what is none.
func (e treeEntry) file() (id plumbing.Hash) {
	if e.isFile() {
		id = e.id
	}
	return id
}
