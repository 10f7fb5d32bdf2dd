package gitstore

import (
	"fmt"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue/cache"
)

// CacheScope is the scope in which a cache keeps what was read of a history. It
// changes with the form of a record, and with what is read from a commit or taken
// for a file of the range.
const CacheScope = "history 7"

// A record that no branch or tag reaches any more is dead. What is kept is written
// anew when more than half is dead, and it is not little.
const minCompact = 1000

// Keep takes what saved states are from a cache and keeps there what is read
// anew. Which states there are is read from the branches and tags each time, and
// that they are there still.
func (s *Store) Keep(folder *cache.Folder) { s.cache = folder }

// keptName is a name of its own for each range in each repository.
func (p place) keptName() string { return fmt.Sprintf("history of %q in %q", p.prefix, p.commonDir) }

// kept is the records of saved states that were read before.
type kept map[plumbing.Hash]*record

// readKept reads what is kept, as far as it makes sense.
func (s *Store) readKept() kept {
	var records []*record
	for _, frame := range s.cache.Read(s.keptName()) {
		if of, err := parseRecords(frame); err == nil {
			records = append(records, of...)
		}
	}
	k := make(kept, len(records))
	for _, r := range records {
		k[r.id] = r
	}
	return k
}

// keep adds what this reading found out about new states.
func (s *Store) keep(k kept, list []*node) {
	compact := len(k) > 2*len(list)+minCompact
	var records []byte
	for _, n := range list {
		if n.lasting && (compact || k[n.id] == nil) {
			records = appendRecord(records, &record{*n.commit, n.changes})
		}
	}
	switch {
	case len(records) == 0:
	case compact:
		s.cache.Replace(s.keptName(), records)
	default:
		s.cache.Add(s.keptName(), records)
	}
}
