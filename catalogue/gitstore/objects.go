package gitstore

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"sync"

	"github.com/go-git/go-git/v5/plumbing"
)

// errMissing is an object that the repository does not hold.
var errMissing = errors.New("is missing from the repository")

// objects reads commits, trees, blobs and tags, loose or packed, from the
// repository and from those that it borrows from. It may be used from several
// goroutines at once.
//
// The packs are read here and not by the library's storage, which takes twice
// the time of native git for a whole history, stops at a pack whose index is not
// there yet and does not follow relative alternates. The index of a pack and the
// deltas are the library's.
type objects struct {
	dirs    []string // objects/ of the repository, then of those it borrows from
	mu      sync.Mutex
	packs   []*pack
	damaged map[string]error // packs that cannot be opened, by the name of their index
	readers []*packReader    // not in use just now
}

func openObjects(commonDir string) (*objects, error) {
	dirs, err := objectFolders(filepath.Join(commonDir, "objects"))
	if err != nil {
		return nil, err
	}
	o := &objects{dirs: dirs, damaged: map[string]error{}}
	return o, o.findPacks()
}

// Close lets go of the pack files.
func (o *objects) Close() error {
	o.mu.Lock()
	defer o.mu.Unlock()
	var errs []error
	for _, p := range o.packs {
		errs = append(errs, p.file.Close())
	}
	o.packs = nil
	return errors.Join(errs...)
}

// read gives the content of an object, which must be of the kind wanted. The
// content is shared and not to be altered.
func (o *objects) read(id plumbing.Hash, want plumbing.ObjectType) ([]byte, error) {
	kind, content, err := o.readAny(id)
	if err != nil {
		return nil, err
	}
	if kind != want {
		return nil, fmt.Errorf("object %s is a %s and no %s", id, kind, want)
	}
	return content, nil
}

// readAny gives the kind and the content of an object.
func (o *objects) readAny(id plumbing.Hash) (plumbing.ObjectType, []byte, error) {
	kind, content, err := o.readOnce(id)
	if errors.Is(err, errMissing) {
		// Git may have moved loose objects into a new pack meanwhile.
		if err := o.findPacks(); err != nil {
			return 0, nil, err
		}
		kind, content, err = o.readOnce(id)
	}
	if err != nil {
		return 0, nil, fmt.Errorf("object %s %w", id, err)
	}
	return kind, content, nil
}

func (o *objects) readOnce(id plumbing.Hash) (plumbing.ObjectType, []byte, error) {
	r := o.reader()
	defer o.done(r)
	if p, offset := o.packed(id); p != nil {
		return r.read(p, offset)
	}
	return o.readLoose(id, &r.zlib)
}

// has reports whether the repository holds an object.
func (o *objects) has(id plumbing.Hash) bool {
	if p, _ := o.packed(id); p != nil {
		return true
	}
	return slices.ContainsFunc(o.dirs, func(dir string) bool { return isFile(loosePath(dir, id)) })
}

// packed is the pack that holds an object, and where in it, or nil.
func (o *objects) packed(id plumbing.Hash) (*pack, int64) {
	o.mu.Lock()
	packs := o.packs
	o.mu.Unlock()
	for _, p := range packs {
		if offset, err := p.index.FindOffset(id); err == nil {
			return p, offset
		}
	}
	return nil, 0
}

// reader lends a reader of packs, to be given back with done.
func (o *objects) reader() *packReader {
	o.mu.Lock()
	defer o.mu.Unlock()
	last := len(o.readers) - 1
	if last < 0 {
		return newPackReader()
	}
	r := o.readers[last]
	o.readers = o.readers[:last]
	return r
}

func (o *objects) done(r *packReader) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.readers = append(o.readers, r)
}

// findPacks opens the packs that are not open yet. One that is damaged is passed
// over, since other packs may hold what is asked for.
func (o *objects) findPacks() error {
	o.mu.Lock()
	defer o.mu.Unlock()
	for _, dir := range o.dirs {
		names, err := packIndexes(dir)
		if err != nil {
			return err
		}
		for _, name := range names {
			if o.damaged[name] == nil && !slices.ContainsFunc(o.packs, func(p *pack) bool { return p.name == name }) {
				o.addPack(name)
			}
		}
	}
	return nil
}

func (o *objects) addPack(name string) {
	p, err := openPack(name)
	switch {
	case errors.Is(err, fs.ErrNotExist): // replaced by another meanwhile
	case err != nil:
		o.damaged[name] = fmt.Errorf("pack %s was left out: %w", name, err)
	default:
		o.packs = append(slices.Clip(o.packs), p)
	}
}

// notes says what of the repository's storage could not be read.
func (o *objects) notes() []error {
	o.mu.Lock()
	defer o.mu.Unlock()
	var notes []error
	for _, name := range slices.Sorted(maps.Keys(o.damaged)) {
		notes = append(notes, o.damaged[name])
	}
	return notes
}

// objectFolders is the repository's folder of objects and all those it borrows
// from, as gitrepository-layout(5), objects/info/alternates, has it.
func objectFolders(dir string) ([]string, error) {
	dirs := []string{dir}
	for at := 0; at < len(dirs); at++ {
		borrowed, err := alternates(dirs[at])
		if err != nil {
			return nil, err
		}
		for _, b := range borrowed {
			if !slices.Contains(dirs, b) && isDir(b) {
				dirs = append(dirs, b)
			}
		}
	}
	return dirs, nil
}

func alternates(dir string) ([]string, error) {
	f, err := os.Open(filepath.Join(dir, "info", "alternates"))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var dirs []string
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		if line := lines.Text(); line != "" && line[0] != '#' {
			dirs = append(dirs, absolute(dir, line))
		}
	}
	return dirs, lines.Err()
}
