package gitstore

import (
	"encoding/binary"
	"errors"

	"github.com/go-git/go-git/v5/plumbing"
)

// record is what is kept of a saved state for the next reading: what its
// identity stands for and so never changes.
type record struct {
	commit
	changes [][]fileChange // against each parent, or against nothing
}

// appendRecord writes a record: numbers of variable width, identities as 20
// bytes, texts after their length.
func appendRecord(out []byte, r *record) []byte {
	out = append(out, r.id[:]...)
	out = append(out, r.tree[:]...)
	out = binary.AppendUvarint(out, uint64(len(r.parents)))
	for _, p := range r.parents {
		out = append(out, p[:]...)
	}
	for _, at := range []stamp{r.authored, r.committed} {
		out = binary.AppendVarint(out, at.unix)
		out = binary.AppendVarint(out, int64(at.offset))
	}
	out = appendText(out, r.author)
	out = appendText(out, r.message)
	for _, changes := range r.changes {
		out = binary.AppendUvarint(out, uint64(len(changes)))
		for _, c := range changes {
			out = appendText(out, c.path)
			out = append(out, c.old[:]...)
			out = append(out, c.new[:]...)
		}
	}
	return out
}

func appendText(out []byte, text string) []byte {
	return append(binary.AppendUvarint(out, uint64(len(text))), text...)
}

var errRecord = errors.New("a kept record is damaged")

// parseRecords reads what appendRecord wrote. The texts share memory with raw.
func parseRecords(raw string) ([]*record, error) {
	var records []*record
	for in := (recordReader{rest: raw}); in.rest != ""; {
		r := in.record()
		if in.bad {
			return nil, errRecord
		}
		records = append(records, r)
	}
	return records, nil
}

// recordReader takes values from the front of rest; bad is set, and stays so,
// where rest has no such value.
type recordReader struct {
	rest string
	bad  bool
}

func (in *recordReader) record() *record {
	r := &record{}
	r.id, r.tree = in.id(), in.id()
	r.parents = make([]plumbing.Hash, in.count(len(plumbing.ZeroHash)))
	for i := range r.parents {
		r.parents[i] = in.id()
	}
	r.authored = stamp{unix: in.number(), offset: int(in.number())}
	r.committed = stamp{unix: in.number(), offset: int(in.number())}
	r.author, r.message = in.text(), in.text()
	r.changes = make([][]fileChange, max(1, len(r.parents)))
	for i := range r.changes {
		// A change is a text and two identities.
		r.changes[i] = make([]fileChange, in.count(1+2*len(plumbing.ZeroHash)))
		for j := range r.changes[i] {
			r.changes[i][j] = fileChange{in.text(), in.id(), in.id()}
		}
	}
	return r
}

// take cuts n bytes off.
func (in *recordReader) take(n int) string {
	if n > len(in.rest) {
		in.bad = true
		n = len(in.rest)
	}
	taken := in.rest[:n]
	in.rest = in.rest[n:]
	return taken
}

func (in *recordReader) id() (id plumbing.Hash) {
	copy(id[:], in.take(len(id)))
	return id
}

func (in *recordReader) text() string { return in.take(in.count(1)) }

// count reads how many things follow, of which each takes at least size bytes.
func (in *recordReader) count(size int) int {
	n, used := uvarint(in.rest)
	in.take(used)
	if used == 0 || n > uint64(len(in.rest)/size) {
		in.bad = true
		return 0
	}
	return int(n)
}

// number reads a number with a sign, as binary.AppendVarint writes it.
func (in *recordReader) number() int64 {
	n, used := uvarint(in.rest)
	in.take(used)
	in.bad = in.bad || used == 0
	return int64(n>>1) ^ -int64(n&1)
}

// uvarint is binary.Uvarint for a string; used is 0 where there is no number.
func uvarint(s string) (n uint64, used int) {
	for i := 0; i < len(s) && i < binary.MaxVarintLen64; i++ {
		n |= uint64(s[i]&0x7f) << (7 * i)
		if s[i] < 0x80 {
			return n, i + 1
		}
	}
	return 0, 0
}
