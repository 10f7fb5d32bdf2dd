package gitstore

import (
	"fmt"
	"slices"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue"
	"rodlore/catalogue/working"
)

// rangeTree is what the tree of a saved state holds of the range, by name: the files at
// its root and the folders of specs.
type rangeTree map[string]plumbing.Hash

// treeReader finds the changes between trees.
type treeReader struct {
	objects *objects
	prefix  []string // folders from the top of the repository to the range
}

func newTreeReader(objects *objects, prefix string) treeReader {
	return treeReader{objects, strings.FieldsFunc(prefix, func(r rune) bool { return r == '/' })}
}

// readRange reads the part of a tree that the range is made of. The zero identity is a
// tree without anything.
func (t treeReader) readRange(tree plumbing.Hash) (rangeTree, error) {
	folder, err := t.folder(tree)
	if err != nil {
		return nil, err
	}
	entries, err := t.entries(folder)
	r := rangeTree{}
	for _, e := range entries {
		if slices.Contains(working.RootFiles[:], e.name) && e.isFile() || slices.Contains(working.Folders[:], e.name) && e.isFolder() {
			r[e.name] = e.id
		}
	}
	return r, err
}

// folder is the tree at the reader's prefix, the zero identity where there is
// none.
func (t treeReader) folder(tree plumbing.Hash) (plumbing.Hash, error) {
	for _, name := range t.prefix {
		entries, err := t.entries(tree)
		if err != nil {
			return plumbing.ZeroHash, err
		}
		at := slices.IndexFunc(entries, func(e treeEntry) bool { return e.name == name && e.isFolder() })
		if at < 0 {
			return plumbing.ZeroHash, nil
		}
		tree = entries[at].id
	}
	return tree, nil
}

func (t treeReader) entries(tree plumbing.Hash) ([]treeEntry, error) {
	raw, err := t.read(tree)
	if err != nil {
		return nil, err
	}
	entries, err := parseTree(raw)
	if err != nil {
		return nil, fmt.Errorf("reading tree %s: %w", tree, err)
	}
	return entries, nil
}

func (t treeReader) read(tree plumbing.Hash) ([]byte, error) {
	if tree.IsZero() {
		return nil, nil
	}
	return t.objects.read(tree, plumbing.TreeObject)
}

// diff lists the files of the range that differ between the tree of a parent, of that
// number, and that of a state, by path.
func (t treeReader) diff(parent int, old, now plumbing.Hash) ([]catalogue.Change, error) {
	a, err := t.readRange(old)
	if err != nil {
		return nil, err
	}
	b, err := t.readRange(now)
	if err != nil {
		return nil, err
	}
	var changes []catalogue.Change
	change := func(path string, old, now plumbing.Hash) {
		changes = append(changes, catalogue.Change{Parent: parent, Path: path, Old: idText(old), New: idText(now)})
	}
	for _, folder := range working.Folders {
		err := t.diffFolder(a[folder], b[folder], func(name string, old, now plumbing.Hash) {
			if working.IsKept(folder, name) {
				change(folder+"/"+name, old, now)
			}
		})
		if err != nil {
			return nil, err
		}
	}
	for _, name := range working.RootFiles {
		if a[name] != b[name] {
			change(name, a[name], b[name])
		}
	}
	slices.SortFunc(changes, func(x, y catalogue.Change) int { return strings.Compare(x.Path, y.Path) })
	return changes, nil
}

func (t treeReader) diffFolder(old, now plumbing.Hash, differs func(name string, old, now plumbing.Hash)) error {
	if old == now {
		return nil
	}
	a, err := t.read(old)
	if err != nil {
		return err
	}
	b, err := t.read(now)
	if err != nil {
		return err
	}
	if err := diffFiles(a, b, differs); err != nil {
		return fmt.Errorf("comparing trees %s and %s: %w", old, now, err)
	}
	return nil
}
