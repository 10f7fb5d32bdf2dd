package gitstore

import (
	"bytes"
	"cmp"
	"crypto/sha1"
	"encoding/binary"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// staging is git's index: what the next git commit would hold. It is read only
// as far as is needed to alter single entries; all others are written back byte
// by byte, with flags that only git knows. The form is gitformat-index(5).
type staging struct {
	version uint32
	entries []stagedEntry
	kept    []byte // extensions that are no caches
}

// stagedEntry is one entry: the fields before the name, as they stand in the
// file, and the name.
type stagedEntry struct {
	fields []byte
	name   string
}

const (
	stagingMagic   = "DIRC"
	stagingHeader  = 12
	statMode       = 24
	statFields     = 40
	plainFields    = statFields + 20 + 2 // with identity and flags
	extendedFields = plainFields + 2
	flagExtended   = 0x4000
	flagStage      = 0x3000
	flagName       = 0x0fff // the length of the name, or this if it is longer
	flagLeftOut    = 0x4000 // of the extended flags
)

var errStaging = errors.New("git's index is damaged: run `git status` to see what git says, or `git reset` to make a new one")

func (p place) indexPath() string { return filepath.Join(p.gitDir, "index") }

// readStaging reads the index as it stands.
func (p place) readStaging() (*staging, error) {
	raw, err := readOwn(p.indexPath(), mostList)
	if gone(err) != nil {
		return nil, err
	}
	return parseStaging(raw)
}

// parseStaging reads the content of an index; that of one that is not there is
// nil.
func parseStaging(raw []byte) (*staging, error) {
	if raw == nil {
		return &staging{version: 2}, nil
	}
	if len(raw) < stagingHeader+sha1.Size || string(raw[:4]) != stagingMagic || !hasChecksum(raw) {
		return nil, errStaging
	}
	s := &staging{version: binary.BigEndian.Uint32(raw[4:])}
	if s.version < 2 || s.version > 4 {
		return nil, fmt.Errorf("git's index has version %d, and rodlore knows 2 to 4: run `git update-index --index-version 4`", s.version)
	}
	count := binary.BigEndian.Uint32(raw[8:])
	rest := raw[stagingHeader : len(raw)-sha1.Size]
	name := ""
	for range count {
		entry, n, err := s.parseEntry(rest, name)
		if err != nil {
			return nil, err
		}
		s.entries, rest, name = append(s.entries, entry), rest[n:], entry.name
	}
	return s, s.parseExtensions(rest)
}

// hasChecksum holds also for an index that git was told to write without one.
func hasChecksum(raw []byte) bool {
	body, sum := raw[:len(raw)-sha1.Size], raw[len(raw)-sha1.Size:]
	want := sha1.Sum(body)
	return bytes.Equal(sum, want[:]) || bytes.Equal(sum, make([]byte, sha1.Size))
}

// parseEntry reads the entry at the beginning of raw, which comes after one
// called before, and says how long it is.
func (s *staging) parseEntry(raw []byte, before string) (entry stagedEntry, n int, err error) {
	size := plainFields
	if len(raw) >= plainFields && binary.BigEndian.Uint16(raw[plainFields-2:])&flagExtended != 0 {
		size = extendedFields
	}
	if len(raw) < size {
		return entry, 0, errStaging
	}
	entry.fields = raw[:size]
	prefix := ""
	if s.version == 4 {
		strip, used := stripLength(raw[size:])
		if used == 0 || strip > len(before) {
			return entry, 0, errStaging
		}
		prefix, size = before[:len(before)-strip], size+used
	}
	nul := bytes.IndexByte(raw[size:], 0)
	if nul < 0 {
		return entry, 0, errStaging
	}
	entry.name = prefix + string(raw[size:size+nul])
	n = size + nul + 1
	if s.version < 4 {
		n = paddedLength(size + nul)
		if n > len(raw) {
			return entry, 0, errStaging
		}
	}
	return entry, n, nil
}

// paddedLength is the length of an entry of versions 2 and 3, which is filled up
// with one to eight zero bytes.
func paddedLength(n int) int { return n/8*8 + 8 }

// stripLength reads git's number of variable width, by which version 4 says how
// much of the name before is left off. used is 0 where there is none.
func stripLength(raw []byte) (value, used int) {
	for i, b := range raw {
		if i == 4 {
			break // longer than any path
		}
		value = value<<7 | int(b&0x7f)
		if b&0x80 == 0 {
			return value, i + 1
		}
		value++
	}
	return 0, 0
}

// parseExtensions keeps what git cannot work out again. Extensions with a small
// first letter change the meaning of the entries.
func (s *staging) parseExtensions(raw []byte) error {
	for len(raw) > 0 {
		if len(raw) < 8 || int64(len(raw)-8) < int64(binary.BigEndian.Uint32(raw[4:])) {
			return errStaging
		}
		n := 8 + int(binary.BigEndian.Uint32(raw[4:]))
		switch name := string(raw[:4]); {
		case name == "REUC":
			s.kept = append(s.kept, raw[:n]...)
		case name == "link":
			return errors.New("git's index is split in two files, which rodlore cannot write: run `git config core.splitIndex false` and `git update-index --no-split-index`")
		case name == "sdir":
			return errors.New("git's index is a sparse one, which rodlore cannot write: run `git sparse-checkout reapply --no-sparse-index`")
		case name[0] < 'A' || name[0] > 'Z':
			return fmt.Errorf("git's index has an extension %q that rodlore does not know", name)
		}
		raw = raw[n:]
	}
	return nil
}

// conflict is the name of a file that a merge left undecided, "" if none is.
func (s *staging) conflict() string {
	for _, e := range s.entries {
		if e.flags()&flagStage != 0 {
			return e.name
		}
	}
	return ""
}

func (e stagedEntry) flags() uint16 { return binary.BigEndian.Uint16(e.fields[plainFields-2:]) }

// isLeftOut reports whether a sparse checkout leaves the file out of the working
// tree.
func (e stagedEntry) isLeftOut() bool {
	return len(e.fields) == extendedFields && binary.BigEndian.Uint16(e.fields[plainFields:])&flagLeftOut != 0
}

// find is the index of the entry of a file; -1 where it has none.
func (s *staging) find(name string) int {
	return slices.IndexFunc(s.entries, func(e stagedEntry) bool { return e.name == name })
}

// drop takes the entry of a file out, unless the file is missing from the working
// tree only because a sparse checkout leaves it out.
func (s *staging) drop(name string) error {
	at := s.find(name)
	if at < 0 {
		return nil
	}
	if s.entries[at].isLeftOut() {
		return fmt.Errorf("%s is not removed but left out by a sparse checkout: run `git sparse-checkout disable`, then save", name)
	}
	s.entries = slices.Delete(s.entries, at, at+1)
	return nil
}

// set puts in the entry of a file. Entries that cannot stand beside it, a file
// where its folder is or files below it, go. Times and size of the file on disk are
// left out: git then reads it once, and fills them in.
func (s *staging) set(name string, file treeEntry) error {
	mode, err := strconv.ParseUint(file.mode, 8, 32)
	if err != nil {
		return fmt.Errorf("%s has the strange mode %q", name, file.mode)
	}
	s.entries = slices.DeleteFunc(s.entries, func(e stagedEntry) bool {
		return e.name == name || strings.HasPrefix(e.name, name+"/") || strings.HasPrefix(name, e.name+"/")
	})
	fields := make([]byte, statFields, plainFields)
	binary.BigEndian.PutUint32(fields[statMode:], uint32(mode))
	fields = append(fields, file.id[:]...)
	fields = binary.BigEndian.AppendUint16(fields, uint16(min(len(name), flagName)))
	at, _ := slices.BinarySearchFunc(s.entries, name, func(e stagedEntry, name string) int { return cmp.Compare(e.name, name) })
	s.entries = slices.Insert(s.entries, at, stagedEntry{fields, name})
	return nil
}

// format is the index as a file. One of version 4, which leaves off what a name shares
// with the one before, is written out.
func (s *staging) format() []byte {
	version := uint32(2)
	if slices.ContainsFunc(s.entries, func(e stagedEntry) bool { return len(e.fields) == extendedFields }) {
		version = 3
	}
	out := binary.BigEndian.AppendUint32([]byte(stagingMagic), version)
	out = binary.BigEndian.AppendUint32(out, uint32(len(s.entries)))
	for _, e := range s.entries {
		length := len(e.fields) + len(e.name)
		out = append(append(out, e.fields...), e.name...)
		out = append(out, make([]byte, paddedLength(length)-length)...)
	}
	out = append(out, s.kept...)
	sum := sha1.Sum(out)
	return append(out, sum[:]...)
}
