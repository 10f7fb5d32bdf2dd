package gitstore

import (
	"crypto/sha1"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"

	"github.com/go-git/go-git/v5/plumbing"
)

// kept is the records of saved states that were read before, in a file of the
// repository's own folder. The file says nothing about which states there are:
// that is read from the branches and tags each time. It may be removed at any
// time; where it is missing, damaged or of another version, states are read
// from git again.
//
// The file is a header and then frames: length and CRC-32C of the payload, four
// bytes each, and the payload, which is records. A frame is added at the end
// with the states that are new. What was cut off in the writing does not match
// its sum and is overwritten.
type kept struct {
	records map[plumbing.Hash]*record
	whole   int64 // bytes of the file up to where it makes sense
	size    int64 // bytes of the file when it was read
}

// keptVersion changes with the form of the file, and with what is read from a
// commit or taken for a file of the range.
const keptVersion = 4

// A record that no branch or tag reaches any more is dead. The file is written
// anew when more than half is dead, and it is not a small one.
const minCompact = 1000

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

const frameHeader = 8

// keptPath is a file of its own for each range in the repository.
func (p place) keptPath() string {
	sum := sha1.Sum([]byte(p.prefix))
	return filepath.Join(p.commonDir, ownFolder, "history-"+hex.EncodeToString(sum[:4]))
}

func (p place) keptHeader() string {
	return fmt.Sprintf("rodlore history %d %q\n", keptVersion, p.prefix)
}

// readKept reads the file as far as it makes sense.
func (p place) readKept() *kept {
	k := &kept{records: map[plumbing.Hash]*record{}}
	raw, err := os.ReadFile(p.keptPath())
	if err != nil {
		return k
	}
	k.size = int64(len(raw))
	text := string(raw)
	header := p.keptHeader()
	if len(text) < len(header) || text[:len(header)] != header {
		return k
	}
	k.whole = int64(len(header))
	for {
		payload, ok := frame(raw, text, k.whole)
		if !ok {
			return k
		}
		records, err := parseRecords(payload)
		if err != nil {
			return k
		}
		for _, r := range records {
			k.records[r.id] = r
		}
		k.whole += frameHeader + int64(len(payload))
	}
}

// frame is the payload of the frame at a place in the file, if it is whole. text
// is raw as a string, made once for all.
func frame(raw []byte, text string, at int64) (payload string, ok bool) {
	rest := raw[at:]
	if len(rest) < frameHeader {
		return "", false
	}
	n := int64(binary.BigEndian.Uint32(rest))
	if n > int64(len(rest)-frameHeader) {
		return "", false
	}
	sum := crc32.Checksum(rest[frameHeader:frameHeader+n], castagnoli)
	return text[at+frameHeader : at+frameHeader+n], sum == binary.BigEndian.Uint32(rest[4:])
}

// keep adds what this reading found out about new states. That it cannot, such
// as in a repository that can only be read, only makes the next reading slower.
func (s *Store) keep(k *kept, list []*node) {
	compact := len(k.records) > 2*len(list)+minCompact
	var payload []byte
	for _, n := range list {
		if n.lasting && (compact || k.records[n.id] == nil) {
			payload = appendRecord(payload, &record{*n.commit, n.changes})
		}
	}
	if len(payload) == 0 {
		return
	}
	release, err := s.alone()
	if err != nil {
		return
	}
	defer release()
	if compact || k.whole == 0 {
		_ = s.rewriteKept(payload)
	} else {
		_ = s.extendKept(k, payload)
	}
}

// newFrame is a payload as a frame.
func newFrame(payload []byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(payload)))
	out = binary.BigEndian.AppendUint32(out, crc32.Checksum(payload, castagnoli))
	return append(out, payload...)
}

// rewriteKept puts a new file in the place of the old one.
func (s *Store) rewriteKept(payload []byte) error {
	draft := s.keptPath() + ".new"
	if err := gone(s.disk.remove(draft)); err != nil { // left by a crash
		return err
	}
	if err := s.disk.create(draft, append([]byte(s.keptHeader()), newFrame(payload)...), 0o666); err != nil {
		return err
	}
	return s.disk.rename(draft, s.keptPath())
}

// extendKept adds a frame, unless somebody else has added one meanwhile.
func (s *Store) extendKept(k *kept, payload []byte) error {
	info, err := os.Stat(s.keptPath())
	if err != nil || info.Size() != k.size {
		return err
	}
	if k.whole < k.size {
		if err := s.disk.cut(s.keptPath(), k.whole); err != nil {
			return err
		}
	}
	return s.disk.extend(s.keptPath(), newFrame(payload))
}
