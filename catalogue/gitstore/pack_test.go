package gitstore

import (
	"testing"

	"github.com/go-git/go-git/v5/plumbing"
)

// The memory of a reader of packs stays within its bound.
func TestPackReaderForgets(t *testing.T) {
	r := newPackReader()
	p := &pack{}
	const size = maxHeld / 20
	for offset := range int64(100) {
		r.remember(p, offset, packedObject{plumbing.BlobObject, make([]byte, size)})
		if r.held > maxHeld || r.held != r.bases.Len()*size {
			t.Fatalf("after %d objects %d bytes are counted for %d objects of %d", offset+1, r.held, r.bases.Len(), size)
		}
	}
	if _, ok := r.recall(p, 99); !ok {
		t.Error("the last object is forgotten")
	}
	if _, ok := r.recall(p, 0); ok {
		t.Error("the first object is still there")
	}
	r.remember(p, 100, packedObject{plumbing.BlobObject, make([]byte, maxHeld)})
	if _, ok := r.recall(p, 100); ok {
		t.Error("one large object drives out all others")
	}
}
