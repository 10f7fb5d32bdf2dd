package gitstore

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/format/idxfile"
	"github.com/go-git/go-git/v5/plumbing/format/packfile"
	"github.com/golang/groupcache/lru"
)

// pack is a pack file with its index. The form is gitformat-pack(5).
type pack struct {
	name  string // of the index
	index *idxfile.MemoryIndex
	file  *os.File
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

func openPack(name string) (*pack, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	index := idxfile.NewMemoryIndex()
	if err := idxfile.NewDecoder(f).Decode(index); err != nil {
		return nil, fmt.Errorf("%w: run `git index-pack %s`", err, strings.TrimSuffix(name, indexSuffix)+packSuffix)
	}
	file, err := os.Open(strings.TrimSuffix(name, indexSuffix) + packSuffix)
	if err != nil {
		return nil, err
	}
	return &pack{name, index, file}, nil
}

// packReader reads objects from packs. It remembers what it read last, since the
// next state is mostly kept as the difference from one of these.
type packReader struct {
	window window
	zlib   inflater
	bases  *lru.Cache // by baseKey, of packedObject
	held   int        // bytes in bases
}

// A larger memory of bases is slower: it has to be fetched from the system.
const maxHeld = 8 << 20

// No object of a range comes near to this; a size beyond it is damage.
const maxObject = 1 << 30

// Git makes no longer chains of differences (pack.depth is at most 4095).
const maxChain = 4096

type baseKey struct {
	pack   *pack
	offset int64
}

type packedObject struct {
	kind    plumbing.ObjectType
	content []byte
}

var errPack = errors.New("is damaged in its pack")

func newPackReader() *packReader {
	r := &packReader{bases: lru.New(0)}
	r.bases.OnEvicted = func(_ lru.Key, value any) { r.held -= len(value.(packedObject).content) }
	return r
}

// read gives the object at offset: down its chain of differences to one that is
// known or whole, and up again.
func (r *packReader) read(p *pack, offset int64) (plumbing.ObjectType, []byte, error) {
	var deltas [][]byte
	var places []int64
	object, known := r.recall(p, offset)
	for !known {
		kind, content, base, err := r.entry(p, offset)
		if err != nil {
			return 0, nil, err
		}
		if base == 0 {
			object = packedObject{kind, content}
			r.remember(p, offset, object)
			break
		}
		if len(deltas) == maxChain {
			return 0, nil, errPack
		}
		deltas, places = append(deltas, content), append(places, offset)
		offset = base
		object, known = r.recall(p, offset)
	}
	for i := len(deltas) - 1; i >= 0; i-- {
		content, err := packfile.PatchDelta(object.content, deltas[i])
		if err != nil {
			return 0, nil, fmt.Errorf("%w: %w", errPack, err)
		}
		object.content = content
		r.remember(p, places[i], object)
	}
	return object.kind, object.content, nil
}

func (r *packReader) recall(p *pack, offset int64) (packedObject, bool) {
	value, ok := r.bases.Get(baseKey{p, offset})
	if !ok {
		return packedObject{}, false
	}
	return value.(packedObject), true
}

func (r *packReader) remember(p *pack, offset int64, object packedObject) {
	if len(object.content) > maxHeld/8 {
		return
	}
	r.bases.Add(baseKey{p, offset}, object)
	for r.held += len(object.content); r.held > maxHeld; {
		r.bases.RemoveOldest()
	}
}

// entry reads one entry of a pack: an object, or the difference from the object
// at base, which is before it.
func (r *packReader) entry(p *pack, offset int64) (kind plumbing.ObjectType, content []byte, base int64, err error) {
	r.window.seek(p.file, offset)
	kind, size, err := r.entryHeader()
	if err != nil {
		return 0, nil, 0, err
	}
	switch kind {
	case plumbing.OFSDeltaObject:
		back, err := r.distance()
		if err != nil || back <= 0 || back >= offset {
			return 0, nil, 0, errors.Join(errPack, err)
		}
		base = offset - back
	case plumbing.REFDeltaObject:
		var id plumbing.Hash
		if _, err := io.ReadFull(&r.window, id[:]); err != nil {
			return 0, nil, 0, fmt.Errorf("%w: %w", errPack, err)
		}
		if base, err = p.index.FindOffset(id); err != nil {
			return 0, nil, 0, fmt.Errorf("%w: it builds on %s, which is not there", errPack, id)
		}
	}
	content, err = r.zlib.inflate(&r.window, size)
	if err != nil {
		return 0, nil, 0, fmt.Errorf("%w: %w", errPack, err)
	}
	return kind, content, base, nil
}

// entryHeader reads kind and size: three bits of kind, then the size with its
// lowest bits first.
func (r *packReader) entryHeader() (kind plumbing.ObjectType, size int64, err error) {
	b, err := r.window.ReadByte()
	kind = plumbing.ObjectType(b >> 4 & 7)
	size = int64(b & 15)
	for shift := 4; err == nil && b&0x80 != 0 && size < maxObject; shift += 7 {
		b, err = r.window.ReadByte()
		size |= int64(b&0x7f) << shift
	}
	if err != nil || size >= maxObject || !kind.Valid() {
		return 0, 0, errors.Join(errPack, err)
	}
	return kind, size, nil
}

// distance reads how far back a base lies: highest bits first, each further byte
// adding one.
func (r *packReader) distance() (int64, error) {
	b, err := r.window.ReadByte()
	value := int64(b & 0x7f)
	for err == nil && b&0x80 != 0 && value < 1<<48 {
		b, err = r.window.ReadByte()
		value = (value+1)<<7 | int64(b&0x7f)
	}
	return value, err
}
