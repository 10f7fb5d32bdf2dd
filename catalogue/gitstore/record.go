package gitstore

import (
	"encoding/binary"
	"errors"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue"
	"rodlore/catalogue/cache"
)

// record is what is kept of a saved state for the next reading: what its
// identity stands for and so never changes.
type record struct {
	commit
	changes []catalogue.Change // against each parent, or against nothing
}

// appendRecord writes a record as texts: its identity as people write it, those of its
// tree and its parents, its numbers, its author and message, and three texts for each
// change. What is text in a catalogue.State is that here, so that it need not be copied.
func appendRecord(out []byte, r *record) []byte {
	ids := r.tree[:len(r.tree):len(r.tree)]
	for _, p := range r.parents {
		ids = append(ids, p[:]...)
	}
	numbers := binary.AppendUvarint(nil, uint64(len(r.changes)))
	for _, n := range []int64{r.authored.unix, int64(r.authored.offset), r.committed.unix, int64(r.committed.offset)} {
		numbers = binary.AppendVarint(numbers, n)
	}
	for _, c := range r.changes {
		numbers = binary.AppendUvarint(numbers, uint64(c.Parent))
	}
	out = cache.Pack(out, r.name, string(ids), string(numbers), r.author, r.message)
	for _, c := range r.changes {
		out = cache.Pack(out, c.Path, c.Old, c.New)
	}
	return out
}

var errRecord = errors.New("a kept record is damaged")

// parseRecords reads what appendRecord wrote. The texts share memory with raw.
func parseRecords(raw string) (records []*record, err error) {
	for raw != "" {
		r := &record{}
		if raw, err = r.parse(raw); err != nil {
			return nil, err
		}
		records = append(records, r)
	}
	return records, nil
}

// parse reads the first record of raw and gives what is left.
func (r *record) parse(raw string) (rest string, err error) {
	var ids, numbers string
	rest, ok := cache.Cut(raw, &r.name, &ids, &numbers, &r.author, &r.message)
	if !ok || !r.identify(ids) {
		return "", errRecord
	}
	in := []byte(numbers)
	var count, parent uint64
	var times [4]int64
	if in, ok = cutUvarint(in, &count); !ok || count > uint64(len(in)) {
		return "", errRecord
	}
	for i := range times {
		var used int
		if times[i], used = binary.Varint(in); used <= 0 {
			return "", errRecord
		}
		in = in[used:]
	}
	r.authored, r.committed = stamp{times[0], int(times[1])}, stamp{times[2], int(times[3])}
	if count > 0 {
		r.changes = make([]catalogue.Change, count)
	}
	for i := range r.changes {
		c := &r.changes[i]
		if in, ok = cutUvarint(in, &parent); !ok || parent >= uint64(max(1, len(r.parents))) {
			return "", errRecord
		}
		c.Parent = int(parent)
		if rest, ok = cache.Cut(rest, &c.Path, &c.Old, &c.New); !ok {
			return "", errRecord
		}
	}
	return rest, nil
}

// identify reads the identities: the record's own from its name, those of its tree and
// its parents from where they stand one after the other.
func (r *record) identify(ids string) (ok bool) {
	const size = len(plumbing.ZeroHash)
	r.id, ok = parseID(r.name)
	if !ok || len(ids) == 0 || len(ids)%size != 0 {
		return false
	}
	copy(r.tree[:], ids)
	r.parents = make([]plumbing.Hash, len(ids)/size-1)
	for i := range r.parents {
		copy(r.parents[i][:], ids[(i+1)*size:])
	}
	return true
}

func cutUvarint(in []byte, n *uint64) (rest []byte, ok bool) {
	var used int
	*n, used = binary.Uvarint(in)
	return in[max(used, 0):], used > 0
}
