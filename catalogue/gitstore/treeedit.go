package gitstore

import (
	"cmp"
	"fmt"
	"path"
	"slices"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"
)

// editTree writes the tree that base becomes by the edits, with all else of base
// kept. The zero identity is a tree without anything.
func (s *Store) editTree(base plumbing.Hash, edits []savedFile) (plumbing.Hash, error) {
	entries, err := s.editEntries(base, "", edits)
	if err != nil {
		return plumbing.ZeroHash, err
	}
	return s.put(plumbing.TreeObject, formatTree(entries))
}

// editEntries gives the entries that the tree base, at dir, gets by the edits.
func (s *Store) editEntries(base plumbing.Hash, dir string, edits []savedFile) ([]treeEntry, error) {
	entries, err := newTreeReader(s.objects, "").entries(base)
	if err != nil {
		return nil, err
	}
	here, below := split(edits)
	// What goes makes way for what comes: a file for a folder of its name.
	for _, e := range here {
		if e.content == nil {
			entries = slices.DeleteFunc(entries, func(t treeEntry) bool { return t.name == e.path && !t.isFolder() })
		}
	}
	for name, inner := range below {
		if entries, err = s.editFolder(entries, dir, name, inner); err != nil {
			return nil, err
		}
	}
	for _, e := range here {
		if e.content != nil {
			if entries, err = putFile(entries, dir, e); err != nil {
				return nil, err
			}
		}
	}
	slices.SortFunc(entries, compareEntries)
	return entries, nil
}

// split parts edits into those of a tree's own files and those of its folders.
func split(edits []savedFile) (here []savedFile, below map[string][]savedFile) {
	below = map[string][]savedFile{}
	for _, e := range edits {
		folder, rest, ok := strings.Cut(e.path, "/")
		if !ok {
			here = append(here, e)
			continue
		}
		e.path = rest
		below[folder] = append(below[folder], e)
	}
	return here, below
}

// editFolder carries out edits in the folder called name. Git keeps no empty
// folders.
func (s *Store) editFolder(entries []treeEntry, dir, name string, edits []savedFile) ([]treeEntry, error) {
	at := slices.IndexFunc(entries, func(t treeEntry) bool { return t.name == name })
	var base plumbing.Hash
	if at >= 0 {
		if !entries[at].isFolder() {
			return nil, fmt.Errorf("%s is no folder in the last saved state", path.Join(dir, name))
		}
		base = entries[at].id
		entries = slices.Delete(entries, at, at+1)
	}
	inner, err := s.editEntries(base, path.Join(dir, name), edits)
	if err != nil || len(inner) == 0 {
		return entries, err
	}
	id, err := s.put(plumbing.TreeObject, formatTree(inner))
	return append(entries, treeEntry{modeFolder, name, id}), err
}

// putFile puts one file among the entries of the tree at dir.
func putFile(entries []treeEntry, dir string, e savedFile) ([]treeEntry, error) {
	at := slices.IndexFunc(entries, func(t treeEntry) bool { return t.name == e.path })
	if at < 0 {
		return append(entries, treeEntry{cmp.Or(e.mode, modeFile), e.path, e.blob}), nil
	}
	if !entries[at].isFile() {
		return nil, fmt.Errorf("%s is no file in the last saved state: remove it, save that, and then save the file", path.Join(dir, e.path))
	}
	entries[at].mode, entries[at].id = cmp.Or(e.mode, entries[at].mode), e.blob
	return entries, nil
}
