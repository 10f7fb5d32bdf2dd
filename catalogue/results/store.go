package results

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/gob"
	"strings"
	"sync"

	"rodlore/catalogue/cache"
	"rodlore/evaluate"
)

// Key stands for all that something follows from.
type Key [sha256.Size]byte

// KeyOf is the key of what follows from these texts.
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

// Store keeps what was worked out, of a model under one name so that its history is one
// file to read. It may be used concurrently, and by several programs at once.
type Store struct {
	folder *cache.Folder
	mu     sync.Mutex
	models map[string]map[Key]string // by model: what was read of its file
}

// In gives the store in a folder.
func In(folder *cache.Folder) *Store {
	return &Store{folder: folder, models: map[string]map[Key]string{}}
}

// What the values of notes may be has to be known to read them.
func init() {
	for _, value := range []any{evaluate.Note{}, evaluate.Quantity{}, evaluate.Thickness(0)} {
		gob.Register(value)
	}
}

// Get gives what of a model is kept under the key; ok is false where nothing is. A nil
// Store keeps nothing.
func Get[T any](s *Store, model string, key Key) (kept T, ok bool) {
	if s == nil {
		return kept, false
	}
	s.mu.Lock()
	payload, ok := s.read(model)[key]
	s.mu.Unlock()
	return kept, ok && gob.NewDecoder(strings.NewReader(payload)).Decode(&kept) == nil
}

// Put keeps something of a model under the key, where it can.
func Put[T any](s *Store, model string, key Key, kept T) {
	if s == nil {
		return
	}
	record := bytes.NewBuffer(key[:])
	if err := gob.NewEncoder(record).Encode(&kept); err != nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.read(model)[key] = string(record.Bytes()[len(key):])
	s.folder.Add(fileOf(model), record.Bytes())
}

func fileOf(model string) string { return "figures of " + model }

// mostModels is of how many models what was read stays in memory: who looks at a whole
// range asks for each of them once.
const mostModels = 16

// read reads what is kept of a model, once while it is among those asked for last.
func (s *Store) read(model string) map[Key]string {
	if kept, ok := s.models[model]; ok {
		return kept
	}
	if len(s.models) == mostModels {
		clear(s.models)
	}
	kept := map[Key]string{}
	s.models[model] = kept
	for _, record := range s.folder.Read(fileOf(model)) {
		if len(record) > len(Key{}) {
			kept[Key([]byte(record[:len(Key{})]))] = record[len(Key{}):]
		}
	}
	return kept
}
