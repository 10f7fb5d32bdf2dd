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
	key   int64 // of its first byte among those of all packs

	once    sync.Once // for what follows
	content io.ReaderAt
	size    int64
	close   func() error // nil where the content is read whole
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

// packReader reads objects from packs. It remembers what it read last, since the next
// state is mostly kept as the difference from one of these. It is for one goroutine.
//
// The library's own reader of objects is not used: it works out the identity of every
// object in the pack before it applies the first difference, and that of every object
// it goes through.
type packReader struct {
	scanners map[*pack]*packfile.Scanner
	bases    *cache.BufferLRU // content by key
	kinds    map[int64]plumbing.ObjectType
}

// A larger memory of bases is slower: it has to be fetched from the system.
const basesHeld = 8 * cache.MiByte

// maxPiece bounds what an object of a pack, or any that it is kept as the
// difference from, takes up: no file of a range and no folder comes near to it.
const maxPiece = 16 << 20

// maxChain bounds how many objects one builds on, each as the difference from the
// next, as git does: those of a forged pack may go round in a circle.
const maxChain = 4095

// mostHeld is how large a pack is that is read whole, since reading jumps about in it.
const mostHeld = 16 << 20

// reader opens the pack for one goroutine. Its content is shared by all of them.
func (p *pack) reader() (io.ReadSeeker, error) {
	p.once.Do(func() { p.err = p.load() })
	return io.NewSectionReader(p.content, 0, p.size), p.err
}

func (p *pack) load() error {
	file, err := openOwn(p.file(), math.MaxInt64)
	if err != nil {
		return err
	}
	info, err := file.Stat()
	if err != nil {
		return errors.Join(err, file.Close())
	}
	p.content, p.size, p.close = file, info.Size(), file.Close
	if p.size > mostHeld {
		return nil
	}
	whole := make([]byte, p.size)
	_, err = io.ReadFull(file, whole)
	p.content, p.close = bytes.NewReader(whole), nil
	return errors.Join(err, file.Close())
}

var errPack = errors.New("is damaged in its pack")

func newPackReader() *packReader {
	return &packReader{map[*pack]*packfile.Scanner{}, cache.NewBufferLRU(basesHeld), map[int64]plumbing.ObjectType{}}
}

func (r *packReader) scanner(p *pack) (*packfile.Scanner, error) {
	if r.scanners[p] == nil {
		content, err := p.reader()
		if err != nil {
			return nil, err
		}
		r.scanners[p] = packfile.NewScanner(content)
	}
	return r.scanners[p], nil
}

// read gives the kind and the content of an object, of at most so many bytes. The
// content is not to be altered.
func (r *packReader) read(p *pack, offset, most int64) (kind plumbing.ObjectType, content []byte, err error) {
	scanner, err := r.scanner(p)
	if err != nil {
		return 0, nil, err
	}
	chain, err := r.chain(p, scanner, offset, most)
	if err != nil {
		return 0, nil, err
	}
	for _, at := range slices.Backward(chain) {
		if known, ok := r.bases.Get(p.key + at); ok {
			kind, content = r.kinds[p.key+at], known
			continue
		}
		h, piece, err := readPiece(scanner, at)
		if err != nil {
			return 0, nil, fmt.Errorf("%w: %w", errPack, err)
		}
		if !h.Type.IsDelta() {
			kind, content = h.Type, piece
		} else if content, err = packfile.PatchDelta(content, piece); err != nil {
			return 0, nil, fmt.Errorf("%w: %w", errPack, err)
		}
		r.kinds[p.key+at] = kind
		r.bases.Put(p.key+at, content)
	}
	return kind, content, nil
}

// readPiece reads what stands at an offset: an object or a difference.
func readPiece(s *packfile.Scanner, offset int64) (*packfile.ObjectHeader, []byte, error) {
	h, err := s.SeekObjectHeader(offset)
	if err != nil {
		return nil, nil, err
	}
	in, err := s.ReadObject()
	if err != nil {
		return nil, nil, err
	}
	defer in.Close()
	piece := make([]byte, h.Length)
	_, err = io.ReadFull(in, piece)
	return h, piece, err
}

// chain is where an object stands, then what it is the difference from, down to one
// that is remembered or whole. It refuses one that is too large, or kept as the
// difference from such a one, by what the headers say: a kilobyte of a pack may stand
// for a gigabyte.
func (r *packReader) chain(p *pack, s *packfile.Scanner, offset, most int64) (chain []int64, err error) {
	for limit := most; ; limit = maxPiece {
		chain = append(chain, offset)
		if known, ok := r.bases.Get(p.key + offset); ok {
			if int64(len(known)) > limit {
				return nil, &tooLarge{int64(len(known))}
			}
			return chain, nil
		}
		if len(chain) > maxChain {
			return nil, fmt.Errorf("%w: it builds on too many others", errPack)
		}
		h, err := s.SeekObjectHeader(offset)
		if err != nil {
			return nil, fmt.Errorf("%w: %w", errPack, err)
		}
		size := h.Length
		if h.Type.IsDelta() {
			if size, err = sizeOfDelta(s, h.Length); err != nil {
				return nil, fmt.Errorf("%w: %w", errPack, err)
			}
		}
		if size > limit || h.Length > maxPiece {
			return nil, &tooLarge{max(size, h.Length)}
		}
		switch h.Type {
		case plumbing.OFSDeltaObject:
			offset = h.OffsetReference
		case plumbing.REFDeltaObject:
			if offset, err = p.index.FindOffset(h.Reference); err != nil {
				return nil, fmt.Errorf("%w: it builds on %s, which is not there", errPack, h.Reference)
			}
		default:
			return chain, nil
		}
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
