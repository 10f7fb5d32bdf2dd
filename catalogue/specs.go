package catalogue

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"

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
	id    string // of the spec, or of the fault: two faults alike are one revision
	fault error
}

// specs parses and resolves what is in blobs, each once.
type specs struct {
	blob      func(id string) ([]byte, error)
	drafts    map[string][]byte // content of files that are not saved, by stand-in blob
	resolved  map[snapshot]*resolved
	parts     map[string]memo[*models.Parts]
	materials map[string]memo[*models.Materials]
	spec      map[[2]string]memo[*models.Model]
}

// memo is the outcome of a call that was made once.
type memo[T any] struct {
	value T
	err   error
}

func newSpecs(blob func(id string) ([]byte, error)) *specs {
	return &specs{
		blob:      blob,
		drafts:    map[string][]byte{},
		resolved:  map[snapshot]*resolved{},
		parts:     map[string]memo[*models.Parts]{},
		materials: map[string]memo[*models.Materials]{},
		spec:      map[[2]string]memo[*models.Model]{},
	}
}

// of resolves a snapshot.
func (s *specs) of(snap snapshot) *resolved {
	if r, ok := s.resolved[snap]; ok {
		return r
	}
	r := s.resolve(snap)
	s.resolved[snap] = r
	return r
}

func (s *specs) resolve(snap snapshot) *resolved {
	m, modelErr := s.model(snap.file, snap.model)
	parts, partsErr := parsed(s, s.parts, snap.parts, partsFile, models.ParseParts)
	materials, materialsErr := parsed(s, s.materials, snap.materials, materialsFile, models.ParseMaterials)
	shared := together(partsErr, materialsErr)
	if shared == nil && modelErr != nil {
		modelErr = s.allFaults(snap, parts, materials, modelErr)
	}
	if err := together(modelErr, shared); err != nil {
		return s.faulty(snap, err)
	}
	spec, err := models.Resolve(m, parts, materials)
	if err != nil {
		return s.faulty(snap, err)
	}
	return &resolved{spec: spec, id: spec.ID()}
}

// together makes one error of several: all faults, or the first that is
// something else.
func together(errs ...error) error {
	var all models.Faults
	for _, err := range errs {
		var faults models.Faults
		if err != nil && !errors.As(err, &faults) {
			return err
		}
		all = append(all, faults...)
	}
	if len(all) == 0 {
		return nil
	}
	return all.Sorted()
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
func (s *specs) contentID(blob string) string {
	if src, ok := s.drafts[blob]; ok {
		sum := sha256.Sum256(src)
		return hex.EncodeToString(sum[:])
	}
	return blob
}

// draft gives a stand-in blob for the content of a file that is not saved.
func (s *specs) draft(file string, src []byte) string {
	id := "draft " + file
	s.drafts[id] = src
	return id
}

func (s *specs) content(blob string) ([]byte, error) {
	if src, ok := s.drafts[blob]; ok {
		return src, nil
	}
	return s.blob(blob)
}

// model parses the spec in a blob. The file's name is part of the key since
// positions in the spec carry it.
func (s *specs) model(file, blob string) (*models.Model, error) {
	key := [2]string{file, blob}
	m, ok := s.spec[key]
	if !ok {
		src, err := s.content(blob)
		if err == nil {
			m.value, err = models.ParseModel(file, src)
		}
		m.err = err
		s.spec[key] = m
	}
	return m.value, m.err
}

// parsed parses the shared file in a blob, once for all models that use it.
func parsed[T any](s *specs, seen map[string]memo[T], blob, file string, parse func(string, []byte) (T, error)) (T, error) {
	m, ok := seen[blob]
	if !ok {
		var src []byte
		var err error
		if blob != "" {
			src, err = s.content(blob)
		}
		if err == nil {
			m.value, err = parse(file, src)
		}
		m.err = err
		seen[blob] = m
	}
	return m.value, m.err
}

// Shared are the parts and the materials as they stand now; the error, if any,
// is a models.Faults or that of a file that cannot be read.
func (r *Range) Shared() (*models.Parts, *models.Materials, error) {
	partsBlob, err := r.draftBlob(partsFile)
	if err != nil {
		return nil, nil, err
	}
	materialsBlob, err := r.draftBlob(materialsFile)
	if err != nil {
		return nil, nil, err
	}
	parts, partsErr := parsed(r.specs, r.specs.parts, partsBlob, partsFile, models.ParseParts)
	materials, materialsErr := parsed(r.specs, r.specs.materials, materialsBlob, materialsFile, models.ParseMaterials)
	return parts, materials, together(partsErr, materialsErr)
}

// faulty is a snapshot that gives no spec.
func (s *specs) faulty(snap snapshot, err error) *resolved {
	// Where even the text cannot be had, the error stands for it alone.
	src, _ := s.content(snap.model)
	sum := sha256.Sum256(append(unixLines(src), err.Error()...))
	return &resolved{id: hex.EncodeToString(sum[:]), fault: err}
}
