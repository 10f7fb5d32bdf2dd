package gitstore

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/cache"
	"github.com/go-git/go-git/v5/plumbing/format/idxfile"
	"github.com/go-git/go-git/v5/plumbing/format/packfile"

	"rodlore/catalogue/visible"
)

// pack is a pack file with its index.
type pack struct {
	name  string // of the index
	index *idxfile.MemoryIndex

	once    sync.Once // for what follows
	content []byte    // of the pack, where it is read whole
	err     error
}

const (
	packSuffix  = ".pack"
	indexSuffix = ".idx"
)

// packIndexes lists the indexes of the packs in a folder of objects.
func packIndexes(dir string) ([]string, error) {
	dir = filepath.Join(dir, "pack")
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	var names []string
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), "pack-") && strings.HasSuffix(e.Name(), indexSuffix) {
			names = append(names, filepath.Join(dir, e.Name()))
		}
	}
	return names, nil
}

func (p *pack) file() string { return strings.TrimSuffix(p.name, indexSuffix) + packSuffix }

func openPack(name string) (*pack, error) {
	f, err := openOwn(name, mostList)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	p := &pack{name: name, index: idxfile.NewMemoryIndex()}
	if err := idxfile.NewDecoder(f).Decode(p.index); err != nil {
		return nil, fmt.Errorf("%w: run `git index-pack %s`", err, visible.Arg(p.file()))
	}
	_, err = os.Stat(p.file())
	return p, err
}

// packReader reads objects from packs, each of which it keeps open. It remembers
// what it read last, since the next state is mostly kept as the difference from
// one of these. It is for one goroutine.
type packReader struct {
	open  map[*pack]*packfile.Packfile
	bases cache.Object
	sound map[packPlace]int // what is as small as it has to be, and how many it builds on
}

type packPlace struct {
	pack   *pack
	offset int64
}

// A larger memory of bases is slower: it has to be fetched from the system.
const basesHeld = 8 * cache.MiByte

// maxPiece bounds what an object of a pack, or any that it is kept as the
// difference from, takes up: no file of a range and no folder comes near to it.
const maxPiece = 16 << 20

// maxChain bounds how many objects one builds on, each as the difference from the
// next, as git does: the library goes down the chain by calling itself, and those of
// a forged pack may go round in a circle.
const maxChain = 4095

// readFile is an open pack as the library takes it; nobody writes to a pack. The
// library jumps about in it, so that a pack of usual size is read whole.
type readFile struct {
	*os.File
	content readSeekerAt
}

// mostHeld is how large a pack is that is read whole.
const mostHeld = 16 << 20

type readSeekerAt interface {
	io.ReadSeeker
	io.ReaderAt
}

// open opens the pack for one reader. Its content is shared by all of them.
func (p *pack) open() (readFile, error) {
	file, err := openOwn(p.file(), math.MaxInt64)
	if err != nil {
		return readFile{}, err
	}
	info, err := file.Stat()
	if err != nil || info.Size() > mostHeld {
		return readFile{file, file}, err
	}
	p.once.Do(func() {
		p.content = make([]byte, info.Size())
		_, p.err = io.ReadFull(file, p.content)
	})
	return readFile{file, bytes.NewReader(p.content)}, p.err
}

func (f readFile) Read(b []byte) (int, error)             { return f.content.Read(b) }
func (f readFile) ReadAt(b []byte, at int64) (int, error) { return f.content.ReadAt(b, at) }
func (f readFile) Seek(offset int64, whence int) (int64, error) {
	return f.content.Seek(offset, whence)
}

func (readFile) Lock() error   { return nil }
func (readFile) Unlock() error { return nil }

var errPack = errors.New("is damaged in its pack")

func newPackReader() *packReader {
	return &packReader{open: map[*pack]*packfile.Packfile{}, bases: cache.NewObjectLRU(basesHeld), sound: map[packPlace]int{}}
}

func (r *packReader) close() error {
	var errs []error
	for _, p := range r.open {
		errs = append(errs, p.Close())
	}
	return errors.Join(errs...)
}

func (r *packReader) opened(p *pack) (*packfile.Packfile, error) {
	if open := r.open[p]; open != nil {
		return open, nil
	}
	file, err := p.open()
	if err != nil {
		return nil, err
	}
	r.open[p] = packfile.NewPackfileWithCache(p.index, nil, file, r.bases, 0)
	return r.open[p], nil
}

// read gives an object, of at most so many bytes.
func (r *packReader) read(p *pack, id plumbing.Hash, offset, most int64) (plumbing.EncodedObject, error) {
	open, err := r.opened(p)
	if err != nil {
		return nil, err
	}
	if err := r.measure(p, open, offset, most); err != nil {
		return nil, err
	}
	object, err := open.Get(id)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", errPack, err)
	}
	return object, nil
}

// measure refuses an object that is too large, or one kept as the difference from
// such a one, by what its headers say. The library would unpack it first, and a
// kilobyte of a pack may stand for a gigabyte.
func (r *packReader) measure(p *pack, open *packfile.Packfile, offset, most int64) error {
	var chain []packPlace
	for limit := most; ; limit = maxPiece {
		at := packPlace{p, offset}
		below, known := r.sound[at]
		if len(chain)+below > maxChain {
			return fmt.Errorf("%w: it builds on too many others", errPack)
		}
		if known && limit == maxPiece {
			r.remember(chain, below)
			return nil
		}
		h, err := open.Scanner().SeekObjectHeader(offset)
		if err != nil {
			return fmt.Errorf("%w: %w", errPack, err)
		}
		size := h.Length
		if h.Type.IsDelta() {
			if size, err = sizeOfDelta(open.Scanner(), h.Length); err != nil {
				return fmt.Errorf("%w: %w", errPack, err)
			}
		}
		if size > limit || h.Length > maxPiece {
			return &tooLarge{max(size, h.Length)}
		}
		chain = append(chain, at)
		switch h.Type {
		case plumbing.OFSDeltaObject:
			offset = h.OffsetReference
		case plumbing.REFDeltaObject:
			if offset, err = p.index.FindOffset(h.Reference); err != nil {
				return fmt.Errorf("%w: it builds on %s, which is not there", errPack, h.Reference)
			}
		default:
			r.remember(chain, -1)
			return nil
		}
	}
}

// remember notes a chain as sound, the last of which builds on one with so many
// below it.
func (r *packReader) remember(chain []packPlace, below int) {
	for _, at := range slices.Backward(chain) {
		below++
		r.sound[at] = below
	}
}

// sizeOfDelta is how large the object is that the difference under the scanner,
// of so many bytes, makes: it begins with the sizes of its base and of itself.
func sizeOfDelta(s *packfile.Scanner, length int64) (int64, error) {
	delta, err := s.ReadObject()
	if err != nil {
		return 0, err
	}
	defer delta.Close()
	head := make([]byte, min(length, 2*binary.MaxVarintLen64))
	if _, err := io.ReadFull(delta, head); err != nil {
		return 0, err
	}
	_, n := binary.Uvarint(head)
	size, m := binary.Uvarint(head[max(n, 0):])
	if n <= 0 || m <= 0 || size > math.MaxInt64 {
		return 0, errors.New("a difference without a size")
	}
	return int64(size), nil
}

// tooLarge is an object that is larger than anything of a range.
type tooLarge struct{ size int64 }

func (t *tooLarge) Error() string {
	return fmt.Sprintf("has %d bytes, which is more than a range has room for", t.size)
}
