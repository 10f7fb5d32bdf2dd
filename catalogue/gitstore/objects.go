package gitstore

import (
	"bufio"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue/working"
)

// errMissing is an object that the repository does not hold.
var errMissing = errors.New("is missing from the repository")

// objects reads commits, trees, blobs and tags, loose or packed, from the
// repository and from those that it borrows from. It may be used from several
// goroutines at once.
//
// The library reads packs and their indexes. Its own storage of objects is not
// used, since that
//   - stops at a pack whose index is not there yet or is damaged,
//   - does not find packs that git has made since it was opened,
//   - follows no relative alternates, and opens others anew for each object,
//   - unpacks whatever there is, however large.
type objects struct {
	dirs    []string // objects/ of the repository, then of those it borrows from
	mu      sync.Mutex
	packs   []*pack
	damaged map[string]error // packs that cannot be opened, by the name of their index
	readers sync.Pool        // of *packReader
}

func openObjects(commonDir string) (*objects, error) {
	dirs, err := objectFolders(filepath.Join(commonDir, "objects"))
	if err != nil {
		return nil, err
	}
	o := &objects{dirs: dirs, damaged: map[string]error{}, readers: sync.Pool{New: func() any { return newPackReader() }}}
	return o, o.findPacks()
}

// Close lets go of the pack files.
func (o *objects) Close() error {
	o.mu.Lock()
	defer o.mu.Unlock()
	var errs []error
	for _, p := range o.packs {
		if p.close != nil {
			errs = append(errs, p.close())
		}
	}
	o.packs = nil
	return errors.Join(errs...)
}

// read gives the content of an object, which must be of the kind wanted. The
// content is shared and not to be altered.
func (o *objects) read(id plumbing.Hash, want plumbing.ObjectType) ([]byte, error) {
	most := int64(maxPiece)
	if want == plumbing.BlobObject {
		most = working.MostBytes
	}
	kind, content, err := o.readUpTo(id, most)
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
	return o.readUpTo(id, maxPiece)
}

// readUpTo is readAny of an object that may have so many bytes.
func (o *objects) readUpTo(id plumbing.Hash, most int64) (plumbing.ObjectType, []byte, error) {
	kind, content, err := o.readOnce(id, most)
	if errors.Is(err, errMissing) {
		// Git may have moved loose objects into a new pack meanwhile.
		if err := o.findPacks(); err != nil {
			return 0, nil, err
		}
		kind, content, err = o.readOnce(id, most)
	}
	if err != nil {
		return 0, nil, fmt.Errorf("object %s %w", id, err)
	}
	return kind, content, nil
}

func (o *objects) readOnce(id plumbing.Hash, most int64) (plumbing.ObjectType, []byte, error) {
	p, offset := o.packed(id)
	if p == nil {
		return o.readLoose(id, most)
	}
	r := o.readers.Get().(*packReader)
	defer o.readers.Put(r)
	kind, content, err := r.read(p, offset, most)
	if err == nil && plumbing.ComputeHash(kind, content) != id {
		err = fmt.Errorf("%w: its content is that of another", errPack)
	}
	return kind, content, err
}

func loosePath(dir string, id plumbing.Hash) string {
	name := id.String()
	return filepath.Join(dir, name[:2], name[2:])
}

// readLoose reads an object from its own file.
func (o *objects) readLoose(id plumbing.Hash, most int64) (plumbing.ObjectType, []byte, error) {
	for _, dir := range o.dirs {
		file, err := openOwn(loosePath(dir, id), math.MaxInt64)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return 0, nil, fmt.Errorf("cannot be read: %w", err)
		}
		defer file.Close()
		kind, content, err := unpackLoose(file, most)
		if err == nil && plumbing.ComputeHash(kind, content) != id {
			err = errors.New("its content is that of another")
		}
		if err != nil {
			return 0, nil, fmt.Errorf("is damaged in its file: %w", err)
		}
		return kind, content, nil
	}
	return 0, nil, errMissing
}

// unpackLoose reads what stands in the file of an object: "commit 123\0" and the
// content, packed together. The library's reader takes a header of any length.
func unpackLoose(file io.Reader, most int64) (plumbing.ObjectType, []byte, error) {
	z, err := zlib.NewReader(file)
	if err != nil {
		return 0, nil, err
	}
	const longest = 32
	in := bufio.NewReaderSize(z, longest)
	head, err := in.ReadSlice(0)
	if err != nil {
		return 0, nil, fmt.Errorf("its header makes no sense: %w", err)
	}
	name, number, _ := strings.Cut(strings.TrimSuffix(string(head), "\x00"), " ")
	kind, err := plumbing.ParseObjectType(name)
	if err != nil {
		return 0, nil, err
	}
	size, err := strconv.ParseInt(number, 10, 64)
	if err != nil {
		return 0, nil, fmt.Errorf("its header makes no sense: %w", err)
	}
	if size > most {
		return 0, nil, &tooLarge{size}
	}
	content, err := io.ReadAll(io.LimitReader(in, size+1))
	if err == nil && int64(len(content)) != size {
		err = errors.New("it is not as long as it says")
	}
	return kind, content, err
}

// has reports whether the repository holds an object.
func (o *objects) has(id plumbing.Hash) bool {
	o.mu.Lock()
	packs := o.packs
	o.mu.Unlock()
	for _, p := range packs {
		if there, err := p.index.Contains(id); err == nil && there {
			return true
		}
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
		const room = 40 // bits, for the offsets in a pack
		p.key = int64(len(o.packs)) << room
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

func alternates(dir string) (dirs []string, err error) {
	raw, err := readOwn(filepath.Join(dir, "info", "alternates"), mostText)
	for line := range strings.Lines(string(raw)) {
		if line = strings.TrimRight(line, "\r\n"); line != "" && line[0] != '#' {
			dirs = append(dirs, absolute(dir, line))
		}
	}
	return dirs, gone(err)
}
