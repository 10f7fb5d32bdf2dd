package results

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/gob"
	"sync"

	"rodlore/catalogue/cache"
	"rodlore/evaluate"
)

// Key stands for all that figures follow from.
type Key [sha256.Size]byte

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

// Store keeps figures, of a model under one name so that its history is one file
// to read. It may be used concurrently, and by several programs at once.
type Store struct {
	folder *cache.Folder
	mu     sync.Mutex
	models map[string]map[Key][]byte // by model: what was read of its file
}

// In gives the store in a folder.
func In(folder *cache.Folder) *Store {
	return &Store{folder: folder, models: map[string]map[Key][]byte{}}
}

// What the values of notes may be has to be known to read them.
func init() {
	for _, value := range []any{evaluate.Note{}, evaluate.Quantity{}, evaluate.Thickness(0)} {
		gob.Register(value)
	}
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
	f = &evaluate.Figures{}
	return f, gob.NewDecoder(bytes.NewReader(payload)).Decode(f) == nil
}

// Put keeps the figures of a model under the key, where it can.
func (s *Store) Put(model string, key Key, f *evaluate.Figures) {
	record := bytes.NewBuffer(key[:])
	if err := gob.NewEncoder(record).Encode(f); err != nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.read(model)[key] = record.Bytes()[len(key):]
	s.folder.Add(fileOf(model), record.Bytes())
}

func fileOf(model string) string { return "figures of " + model }

// read reads what is kept of a model, once.
func (s *Store) read(model string) map[Key][]byte {
	if kept, ok := s.models[model]; ok {
		return kept
	}
	kept := map[Key][]byte{}
	s.models[model] = kept
	for _, record := range s.folder.Read(fileOf(model)) {
		if len(record) > len(Key{}) {
			kept[Key(record[:len(Key{})])] = record[len(Key{}):]
		}
	}
	return kept
}
