package cache

import (
	"bytes"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"unsafe"
)

// A file is frames, one a record:
//
//	4 bytes   mark
//	4 bytes   length of the record, lowest byte first
//	32 bytes  HMAC-SHA-256 of scope, name and record
//	...       the record
//
// A frame is added by one write at the end, which the system does not mix with
// another program's. What does not match its code is passed over up to the next
// mark.
const (
	macAt       = 8
	frameHeader = macAt + sha256.Size

	// mostBytes is the size from which a file is begun anew.
	mostBytes = 32 << 20
)

var mark = []byte("RLC1") // changes with the form of a frame

// Folder is a folder of kept records. It may be used from several goroutines and
// by several programs at once. A nil Folder keeps nothing.
type Folder struct {
	dir, scope string
	secret     []byte
}

// Open gives the records of one scope in a folder, which need not be there yet.
// What was kept with another secret, see Secret, or in another scope, such as by
// another build of the program, is not found.
func Open(dir string, secret []byte, scope string) *Folder { return &Folder{dir, scope, secret} }

// Read gives the records kept under a name, oldest first. They share memory.
func (f *Folder) Read(name string) []string {
	if f == nil {
		return nil
	}
	raw, err := os.ReadFile(f.path(name))
	if err != nil || len(raw) == 0 {
		return nil
	}
	all := unsafe.String(&raw[0], len(raw)) // nobody writes to raw any more
	var records []string
	for len(raw) > 0 {
		record, rest, ok := f.cutFrame(name, raw)
		if ok {
			end := len(all) - len(rest)
			records = append(records, all[end-len(record):end])
		}
		raw = rest
	}
	return records
}

// Add keeps one more record under a name, where it can. An error leaves at worst
// a part of a frame, which is passed over.
func (f *Folder) Add(name string, record []byte) {
	if f == nil || os.MkdirAll(f.dir, 0o700) != nil {
		return
	}
	path := f.path(name)
	if info, err := os.Stat(path); err == nil && info.Size() > mostBytes {
		f.Replace(name, record)
		return
	}
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o600)
	if err != nil {
		return
	}
	_, _ = file.Write(f.frame(name, record))
	_ = file.Close()
}

// Replace keeps one record under a name and no other any more, where it can.
func (f *Folder) Replace(name string, record []byte) {
	if f == nil || os.MkdirAll(f.dir, 0o700) != nil {
		return
	}
	draft, err := os.CreateTemp(f.dir, "new-*")
	if err != nil {
		return
	}
	_, err = draft.Write(f.frame(name, record))
	if err = errors.Join(err, draft.Close()); err == nil {
		err = os.Rename(draft.Name(), f.path(name))
	}
	if err != nil {
		_ = os.Remove(draft.Name())
	}
}

// path is the file of a name, which may be one that no file can have.
func (f *Folder) path(name string) string {
	sum := sha256.Sum256([]byte(name))
	return filepath.Join(f.dir, hex.EncodeToString(sum[:12])+".kept")
}

func (f *Folder) frame(name string, record []byte) []byte {
	frame := make([]byte, 0, frameHeader+len(record))
	frame = append(frame, mark...)
	frame = binary.LittleEndian.AppendUint32(frame, uint32(len(record)))
	return append(append(frame, f.mac(name, record)...), record...)
}

func (f *Folder) mac(name string, record []byte) []byte {
	h := hmac.New(sha256.New, f.secret)
	for _, part := range [][]byte{[]byte(f.scope), []byte(name), record} {
		var n [8]byte
		binary.LittleEndian.PutUint64(n[:], uint64(len(part)))
		h.Write(n[:])
		h.Write(part)
	}
	return h.Sum(nil)
}

// cutFrame takes the frame that raw begins with; where there is none, rest is
// from the next mark on.
func (f *Folder) cutFrame(name string, raw []byte) (record, rest []byte, ok bool) {
	if len(raw) >= frameHeader && bytes.HasPrefix(raw, mark) {
		n := uint64(binary.LittleEndian.Uint32(raw[len(mark):]))
		if n <= uint64(len(raw)-frameHeader) {
			record = raw[frameHeader : frameHeader+n]
			if hmac.Equal(raw[macAt:frameHeader], f.mac(name, record)) {
				return record, raw[frameHeader+n:], true
			}
		}
	}
	if next := bytes.Index(raw[1:], mark); next >= 0 {
		return nil, raw[1+next:], false
	}
	return nil, nil, false
}
