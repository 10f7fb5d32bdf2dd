package catalogue

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"maps"
	"slices"
	"strings"
	"sync"

	"rodlore/catalogue/cache"
	"rodlore/catalogue/results"
	"rodlore/models"
)

// snapshot is what a model's spec is made of in one saved state: blob
// identities, "" where a file is not there.
type snapshot struct {
	file                    string // path of the model's spec
	model, parts, materials string
}

// resolved is the spec of a snapshot, or why there is none.
type resolved struct {
	spec  *models.Spec
	id    string // of the rod, or of the fault: two faults alike are one revision
	whole string // of all that is said of it; of the fault where there is one
	fault error
}

func newResolved(spec *models.Spec) *resolved {
	id, whole := spec.IDs()
	return &resolved{spec: spec, id: id, whole: whole}
}

// slip is why a draft cannot be saved: its fault, or the gaps that its plies leave.
func (r *resolved) slip() error {
	if r.spec == nil {
		return r.fault
	}
	return r.spec.Gaps(r.spec.Tops...)
}

// specs parses and resolves what is in blobs. It may be used from several
// goroutines at once.
type specs struct {
	blob func(id string) ([]byte, error)
	// The shared files by their blobs, each parsed once.
	parts     func(blob string) (*models.Parts, error)
	materials func(blob string) (*models.Materials, error)
	kept      *cache.Folder // identities from run to run

	entries sync.Map // models.SharedEntry to its identity
	alike   sync.Map // results.Key of a blob and the entries its spec uses to its two identities

	mu         sync.Mutex
	drafts     map[string][]byte       // content of files that are not saved, by stand-in blob
	identities map[string]*identities  // by the path of the spec
	unread     map[string]error        // why blobs could not be read
	latest     map[string]*parsedModel // of each file: neighbours in time often differ in the parts alone
}

func newSpecs(blob func(id string) ([]byte, error)) *specs {
	s := &specs{
		blob:       blob,
		drafts:     map[string][]byte{},
		identities: map[string]*identities{},
		unread:     map[string]error{},
		latest:     map[string]*parsedModel{},
	}
	s.parts = parsing(s, partsFile, models.ParseParts)
	s.materials = parsing(s, materialsFile, models.ParseMaterials)
	return s
}

// later is what a snapshot says, once it is asked for. Of one that was sound before it
// is only seen that its files can be read, until its spec is asked for.
func (s *specs) later(snap snapshot) *content {
	c := &content{read: sync.OnceValue(func() *resolved { return s.read(snap) })}
	if one, ok := s.recall(snap); ok && one.Sound != "" {
		c.sound = sync.OnceValue(func() bool {
			return !slices.ContainsFunc([]string{snap.model, snap.parts, snap.materials}, func(blob string) bool {
				_, err := s.content(blob)
				return blob != "" && err != nil
			})
		})
	}
	return c
}

// of resolves a snapshot.
func (s *specs) of(snap snapshot) *resolved {
	res := s.read(snap)
	if res.spec != nil {
		res.id, res.whole = s.ids(snap.model, res.spec)
	}
	return res
}

// ids are the identities of the spec in a blob. Most edits of a shared file are of entries
// that it does not use, and then they are those that it had.
func (s *specs) ids(blob string, spec *models.Spec) (id, whole string) {
	made := []string{blob}
	for _, e := range spec.Uses() {
		one, known := s.entries.Load(e)
		if !known {
			_, one = models.EntryIDs(e)
			s.entries.Store(e, one)
		}
		made = append(made, one.(string))
	}
	key := results.KeyOf(made...)
	both, known := s.alike.Load(key)
	if !known {
		id, whole = spec.IDs()
		s.alike.Store(key, [2]string{id, whole})
		return id, whole
	}
	return both.([2]string)[0], both.([2]string)[1]
}

// read does so but for the identities of a sound spec.
func (s *specs) read(snap snapshot) *resolved {
	m, modelErr := s.model(snap.file, snap.model)
	parts, partsErr := s.parts(snap.parts)
	materials, materialsErr := s.materials(snap.materials)
	shared := models.Together(partsErr, materialsErr)
	if shared == nil && modelErr != nil {
		modelErr = s.allFaults(snap, parts, materials, modelErr)
	}
	if err := models.Together(modelErr, shared); err != nil {
		return s.faulty(snap, err)
	}
	spec, err := models.Resolve(m, parts, materials)
	if err != nil {
		return s.faulty(snap, err)
	}
	return &resolved{spec: spec}
}

// allFaults adds to the faults of a spec by itself those of the names in it.
func (s *specs) allFaults(snap snapshot, parts *models.Parts, materials *models.Materials, faults error) error {
	src, err := s.content(snap.model)
	if err != nil {
		return faults
	}
	_, err = models.ParseSpec(snap.file, src, parts, materials)
	return err
}

// contentID names the content of a blob or of what stands in for one.
func (s *specs) contentID(blob string) string { return strings.TrimPrefix(blob, draftMark) }

// draft gives a stand-in blob for the content of a file that is not saved.
func (s *specs) draft(src []byte) string {
	s.mu.Lock()
	defer s.mu.Unlock()
	sum := sha256.Sum256(src)
	id := draftMark + hex.EncodeToString(sum[:])
	s.drafts[id] = src
	return id
}

const draftMark = "draft "

func (s *specs) content(blob string) ([]byte, error) {
	s.mu.Lock()
	src, ok := s.drafts[blob]
	s.mu.Unlock()
	if ok {
		return src, nil
	}
	if blob == "" { // a model before it was saved first: nothing is lost
		return nil, errors.New("the file was not there")
	}
	src, err := s.blob(blob)
	if err != nil {
		s.mu.Lock()
		defer s.mu.Unlock()
		s.unread[blob] = err
	}
	return src, err
}

// parsedModel is the spec in a blob, parsed once.
type parsedModel struct {
	blob string
	read func() (*models.Model, error)
}

// lost is how many blobs could not be read, and why one of them.
func (s *specs) lost() (n int, why error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, blob := range slices.Sorted(maps.Keys(s.unread)) {
		return len(s.unread), s.unread[blob]
	}
	return 0, nil
}

// model parses the spec in a blob.
func (s *specs) model(file, blob string) (*models.Model, error) {
	s.mu.Lock()
	m := s.latest[file]
	if m == nil || m.blob != blob {
		m = &parsedModel{blob, sync.OnceValues(func() (*models.Model, error) {
			src, err := s.content(blob)
			if err != nil {
				return nil, err
			}
			return models.ParseModel(file, src)
		})}
		s.latest[file] = m
	}
	s.mu.Unlock()
	return m.read()
}

// formerName is the name that a spec says the model had before, "" where it says
// none.
func formerName(file string, src []byte) string {
	// Most specs need no parsing to see it: the key is there as it is or escaped.
	if !bytes.Contains(src, []byte("was")) && !bytes.ContainsRune(src, '\\') {
		return ""
	}
	m, err := models.ParseModel(file, src)
	if err != nil {
		return ""
	}
	return m.Was.Text
}

// parsing gives what a blob of a shared file says, which is parsed once for all models
// that use it. One that is not there is empty.
func parsing[T any](s *specs, file string, parse func(string, []byte) (T, error)) func(blob string) (T, error) {
	var seen sync.Map // func() (T, error) by blob
	return func(blob string) (T, error) {
		read, _ := seen.LoadOrStore(blob, sync.OnceValues(func() (none T, err error) {
			var src []byte
			if blob != "" {
				src, err = s.content(blob)
			}
			if err != nil {
				return none, err
			}
			return parse(file, src)
		}))
		return read.(func() (T, error))()
	}
}

// Shared are the parts and the materials as they stand now; the error, if any,
// is a models.Faults or that of a file that cannot be read.
func (h *History) Shared() (*models.Parts, *models.Materials, error) {
	partsBlob, err := h.draftBlob(partsFile)
	if err != nil {
		return nil, nil, err
	}
	materialsBlob, err := h.draftBlob(materialsFile)
	if err != nil {
		return nil, nil, err
	}
	parts, partsErr := h.specs.parts(partsBlob)
	materials, materialsErr := h.specs.materials(materialsBlob)
	return parts, materials, models.Together(partsErr, materialsErr)
}

// faulty is a snapshot that gives no spec.
func (s *specs) faulty(snap snapshot, err error) *resolved {
	// Where even the text cannot be had, the error stands for it alone.
	src, _ := s.content(snap.model)
	sum := sha256.Sum256(append(unixLines(src), err.Error()...))
	id := hex.EncodeToString(sum[:])
	return &resolved{id: id, whole: id, fault: err}
}
