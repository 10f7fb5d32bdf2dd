package gitstore

import (
	"encoding/binary"
	"errors"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue/cache"
)

// record is what is kept of a saved state for the next reading: what its
// identity stands for and so never changes.
type record struct {
	commit
	changes [][]fileChange // against each parent, or against nothing
}

// appendRecord writes a record as texts: its identities, those of its tree and its
// parents, its times, its author and message, and a text of changes for each parent.
func appendRecord(out []byte, r *record) []byte {
	ids := append(r.id[:len(r.id):len(r.id)], r.tree[:]...)
	for _, p := range r.parents {
		ids = append(ids, p[:]...)
	}
	var times []byte
	for _, n := range []int64{r.authored.unix, int64(r.authored.offset), r.committed.unix, int64(r.committed.offset)} {
		times = binary.AppendVarint(times, n)
	}
	out = cache.Pack(out, string(ids), string(times), r.author, r.message)
	for _, changes := range r.changes {
		var text []byte
		for _, c := range changes {
			text = cache.Pack(text, c.path, string(c.old[:])+string(c.new[:]))
		}
		out = cache.Pack(out, string(text))
	}
	return out
}

var errRecord = errors.New("a kept record is damaged")

// parseRecords reads what appendRecord wrote. The texts share memory with raw.
func parseRecords(raw string) ([]*record, error) {
	texts, ok := cache.Unpack(raw)
	if !ok {
		return nil, errRecord
	}
	var records []*record
	for len(texts) > 0 {
		ids, ok := cutIDs(texts[0])
		if !ok || len(ids) < 2 || len(texts) < 4+max(1, len(ids)-2) {
			return nil, errRecord
		}
		r := &record{commit: commit{id: ids[0], tree: ids[1], parents: ids[2:], author: texts[2], message: texts[3]}}
		var times [4]int64
		rest := []byte(texts[1])
		for i := range times {
			var used int
			if times[i], used = binary.Varint(rest); used <= 0 {
				return nil, errRecord
			}
			rest = rest[used:]
		}
		r.authored, r.committed = stamp{times[0], int(times[1])}, stamp{times[2], int(times[3])}
		texts = texts[4:]
		for range max(1, len(r.parents)) {
			changes, err := parseChanges(texts[0])
			if err != nil {
				return nil, err
			}
			r.changes, texts = append(r.changes, changes), texts[1:]
		}
		records = append(records, r)
	}
	return records, nil
}

func parseChanges(text string) ([]fileChange, error) {
	texts, ok := cache.Unpack(text)
	if !ok || len(texts)%2 != 0 {
		return nil, errRecord
	}
	changes := make([]fileChange, len(texts)/2)
	for i := range changes {
		ids, ok := cutIDs(texts[2*i+1])
		if !ok || len(ids) != 2 {
			return nil, errRecord
		}
		changes[i] = fileChange{texts[2*i], ids[0], ids[1]}
	}
	return changes, nil
}

// cutIDs parts identities that stand one after the other.
func cutIDs(text string) (ids []plumbing.Hash, ok bool) {
	const size = len(plumbing.ZeroHash)
	ids = make([]plumbing.Hash, len(text)/size)
	for i := range ids {
		copy(ids[i][:], text[i*size:])
	}
	return ids, len(text)%size == 0
}
