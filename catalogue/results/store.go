package results

import (
	"bytes"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"os"
	"path/filepath"
	"sync"

	"rodlore/evaluate"
)

// A file is frames, one a result, of one model each file so that its history is
// one file to read:
//
//	4 bytes   mark
//	4 bytes   length of what follows the seal
//	16 bytes  seal: HMAC-SHA-256, the first half, of what follows
//	32 bytes  key
//	...       the figures
//
// Integers are little-endian. A frame is added by one write at the end, which
// the system does not mix with another program's. What does not match its seal
// is passed over up to the next mark.
const (
	sealAt      = 8
	frameHeader = sealAt + sealSize
	sealSize    = sha256.Size / 2
	keySize     = sha256.Size

	// mostBytes is the size from which a file is begun anew.
	mostBytes = 32 << 20
)

var (
	mark = []byte("RLF4") // changes with the form of the frames or the figures
)

// Key stands for all that figures follow from.
type Key [keySize]byte

// KeyOf is the key of figures that follow from these texts.
func KeyOf(parts ...string) Key {
	h := sha256.New()
	for _, p := range parts {
		var n [8]byte
		binary.LittleEndian.PutUint64(n[:], uint64(len(p)))
		h.Write(n[:])
		h.Write([]byte(p))
	}
	return Key(h.Sum(nil))
}

// Store keeps figures in a folder. It may be used concurrently, and by several
// programs at once.
type Store struct {
	dir    string
	secret []byte
	mu     sync.Mutex
	models map[string]map[Key][]byte // by model: what was read of its file
}

// Open gives the store in a folder, which need not be there yet. What was not kept
// with the same secret is not found in it; see Secret.
func Open(dir string, secret []byte) *Store {
	return &Store{dir: dir, secret: secret, models: map[string]map[Key][]byte{}}
}

// seal is what only who has the secret can put to a frame.
func (s *Store) seal(framed []byte) []byte {
	mac := hmac.New(sha256.New, s.secret)
	mac.Write(framed)
	return mac.Sum(nil)[:sealSize]
}

// Get gives the figures of a model kept under the key; ok is false where there
// are none.
func (s *Store) Get(model string, key Key) (f *evaluate.Figures, ok bool) {
	s.mu.Lock()
	payload, ok := s.read(model)[key]
	s.mu.Unlock()
	if !ok {
		return nil, false
	}
	return decode(payload)
}

// Put keeps the figures of a model under the key, where it can.
func (s *Store) Put(model string, key Key, f *evaluate.Figures) {
	payload := encode(f)
	frame := make([]byte, frameHeader, frameHeader+keySize+len(payload))
	frame = append(append(frame, key[:]...), payload...)
	copy(frame, mark)
	binary.LittleEndian.PutUint32(frame[4:], uint32(len(frame)-frameHeader))
	copy(frame[sealAt:], s.seal(frame[frameHeader:]))

	s.mu.Lock()
	defer s.mu.Unlock()
	s.read(model)[key] = payload
	s.add(model, frame)
}

// path is the file of a model, whose name may be one that no file can have.
func (s *Store) path(model string) string {
	sum := sha256.Sum256([]byte(model))
	return filepath.Join(s.dir, hex.EncodeToString(sum[:8])+".figures")
}

// read reads what is kept of a model, once.
func (s *Store) read(model string) map[Key][]byte {
	if kept, ok := s.models[model]; ok {
		return kept
	}
	kept := map[Key][]byte{}
	s.models[model] = kept
	raw, err := os.ReadFile(s.path(model))
	if err != nil {
		return kept
	}
	for len(raw) > 0 {
		payload, rest, ok := s.cutFrame(raw)
		if ok {
			kept[Key(payload[:keySize])] = payload[keySize:]
		}
		raw = rest
	}
	return kept
}

// cutFrame takes the frame that raw begins with; where there is none, rest is
// from the next mark on.
func (s *Store) cutFrame(raw []byte) (payload, rest []byte, ok bool) {
	if len(raw) >= frameHeader && bytes.HasPrefix(raw, mark) {
		n := uint64(binary.LittleEndian.Uint32(raw[4:]))
		if n >= keySize && n <= uint64(len(raw)-frameHeader) {
			payload = raw[frameHeader : frameHeader+n]
			if hmac.Equal(s.seal(payload), raw[sealAt:frameHeader]) {
				return payload, raw[frameHeader+n:], true
			}
		}
	}
	if next := bytes.Index(raw[1:], mark); next >= 0 {
		return nil, raw[1+next:], false
	}
	return nil, nil, false
}

// add writes a frame at the end of a model's file. An error leaves at worst a
// part of a frame, which is passed over.
func (s *Store) add(model string, frame []byte) {
	path := s.path(model)
	if info, err := os.Stat(path); err == nil && info.Size() > mostBytes {
		_ = os.Remove(path)
	}
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o600)
	if os.IsNotExist(err) && os.MkdirAll(s.dir, 0o700) == nil {
		file, err = os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o600)
	}
	if err != nil {
		return
	}
	_, _ = file.Write(frame)
	_ = file.Close()
}
