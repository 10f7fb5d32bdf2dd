package catalogue

import (
	"errors"

	"rodlore/catalogue/cache"
	"rodlore/models"
)

// identity is what the following of a model through its states needs to know of
// a snapshot. It stands for the content of the snapshot's files, read by one build
// of the program, and so never changes.
type identity struct {
	Model, Parts, Materials string // blobs of the snapshot
	ID                      string // of the rod, or of its fault
	Whole                   string // of all that is said of it
	Was                     string // the name that the spec says the model had before
	Sound                   string // "sound" where it has no fault
}

// parseIdentities reads what was kept. What makes no sense, and what follows it, counts
// for nothing.
func parseIdentities(record string) (list []identity) {
	for record != "" {
		var one identity
		rest, ok := cache.Cut(record, &one.Model, &one.Parts, &one.Materials, &one.ID, &one.Whole, &one.Was, &one.Sound)
		if !ok {
			break
		}
		list, record = append(list, one), rest
	}
	return list
}

// identities are those known of one file.
type identities struct {
	known map[snapshot]identity
	was   map[string]string // by the blob of the spec
	fresh []identity        // that are not kept yet
}

func (i *identities) add(file string, one identity) {
	i.known[snapshot{file, one.Model, one.Parts, one.Materials}] = one
	i.was[one.Model] = one.Was
}

// identity is that of a saved snapshot: from an earlier run, or worked out.
func (s *specs) identity(snap snapshot) identity {
	if one, ok := s.recall(snap); ok {
		return one
	}
	one, lasting := s.identify(snap)
	s.remember(snap.file, one, lasting)
	return one
}

// identify works out an identity. One whose files cannot be read, as in a
// partial clone, is not lasting.
func (s *specs) identify(snap snapshot) (one identity, lasting bool) {
	res := s.of(snap)
	one = identity{Model: snap.model, Parts: snap.parts, Materials: snap.materials, ID: res.id, Whole: res.whole}
	if res.spec != nil {
		one.Was, one.Sound = res.spec.Was.Text, "sound"
	} else if src, err := s.content(snap.model); err == nil {
		one.Was = formerName(snap.file, src)
	}
	return one, res.fault == nil || errors.As(res.fault, new(models.Faults))
}

// recall is an identity that is known.
func (s *specs) recall(snap snapshot) (identity, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	one, ok := s.identitiesOf(snap.file).known[snap]
	return one, ok
}

func (s *specs) remember(file string, one identity, lasting bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	i := s.identitiesOf(file)
	i.add(file, one)
	if lasting {
		i.fresh = append(i.fresh, one)
	}
}

// was is the name that the spec in a blob says the model had before.
func (s *specs) was(file, blob string) string {
	s.mu.Lock()
	was, ok := s.identitiesOf(file).was[blob]
	s.mu.Unlock()
	if ok {
		return was
	}
	src, err := s.content(blob)
	if err != nil {
		return ""
	}
	return formerName(file, src)
}

// identitiesOf are the identities of a file, read from where they are kept at first. The
// caller holds the lock.
func (s *specs) identitiesOf(file string) *identities {
	if i := s.identities[file]; i != nil {
		return i
	}
	i := &identities{known: map[snapshot]identity{}, was: map[string]string{}}
	s.identities[file] = i
	for _, record := range s.kept.Read(identityFile(file)) {
		for _, one := range parseIdentities(record) {
			i.add(file, one)
		}
	}
	return i
}

func identityFile(file string) string { return "2 identities of " + file }

// keep keeps what is new of the files of some models.
func (s *specs) keep(names []string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, name := range names {
		file := modelFile(name)
		i := s.identitiesOf(file)
		if len(i.fresh) == 0 {
			continue
		}
		var record []byte
		for _, one := range i.fresh {
			record = cache.Pack(record, one.Model, one.Parts, one.Materials, one.ID, one.Whole, one.Was, one.Sound)
		}
		s.kept.Add(identityFile(file), record)
		i.fresh = nil
	}
}

// forget lets go of the identities of models that have been followed, which are read
// again should they be asked for.
func (s *specs) forget(names []string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, name := range names {
		if s.kept != nil {
			delete(s.identities, modelFile(name))
		}
	}
}
