package catalogue

import (
	"context"
	"errors"
	"slices"
	"strings"

	"rodlore/evaluate"
)

// Alteration is a release that does not stand as it was made, or of which
// nobody could tell.
type Alteration struct {
	Model, Label string
	Tag          string
	Note         // what is wrong
	// Doubt says that nothing is known to be wrong: the release has no record
	// that it could be held against.
	Doubt bool
}

// Altered holds the releases of models, or of all that there are and were, against
// what their tags say and what the releases after them say of them.
func (r *Releases) Altered(ctx context.Context, names ...string) ([]Alteration, error) {
	if len(names) == 0 {
		var err error
		if names, err = r.everReleased(); err != nil {
			return nil, err
		}
	}
	onBranches := r.index.ancestry(append(slices.Clone(r.index.Branches), r.index.Head)...)
	var list []Alteration
	for _, name := range names {
		l, err := r.lineage(name)
		if err != nil {
			return nil, err
		}
		h := hearing{Releases: r, model: name, lineage: l, onBranches: onBranches}
		labels := l.labels()
		slices.SortStableFunc(labels, func(a, b release) int { return strings.Compare(a.tag.Name, b.tag.Name) })
		for _, t := range labels {
			h.hear(t.label, t.tag)
		}
		h.lost(r.index.Notes)
		h.chained()
		h.remembered()
		h.twice()
		if err := h.witnessed(ctx); err != nil {
			return nil, err
		}
		list = append(list, h.found...)
	}
	return list, nil
}

// everReleased are the names of today's models and of those taken out of the range
// since, which have releases under a name that no other model had.
func (r *Releases) everReleased() ([]string, error) {
	names, err := r.Models()
	if err != nil {
		return nil, err
	}
	known := map[string]bool{}
	for _, name := range names {
		for _, former := range r.namesOf(name) {
			known[former] = true
		}
	}
	tags := make([]string, 0, len(r.index.Tags))
	for _, t := range r.index.Tags {
		tags = append(tags, t.Name)
	}
	for _, t := range r.seen {
		tags = append(tags, t.Tag)
	}
	for _, tag := range tags {
		name, _, _ := strings.Cut(tag, "/")
		if _, err := r.lineage(name); !known[name] && err == nil {
			names = append(names, name)
		}
		known[name] = true
	}
	return names, nil
}

// hearing is the releases of one model being looked at.
type hearing struct {
	*Releases
	model      string
	lineage    *lineage
	onBranches []bool
	heard      []heardRelease
	found      []Alteration
}

// heardRelease is a tag and the note in it, nil where there is none.
type heardRelease struct {
	label     string
	tag       Tag
	note      *releaseNote
	signature Signature
	rev       *Revision   // what the tag leads to, as it is said there; nil where the model is not there
	files     []notedFile // of the spec there
}

// say notes what is wrong with a release.
func (h *hearing) say(label, tag, key string, pairs ...any) {
	h.found = append(h.found, Alteration{Model: h.model, Label: label, Tag: tag, Note: note(key, pairs...)})
}

// hear looks at one tag by itself.
func (h *hearing) hear(label string, t Tag) {
	one := heardRelease{label: label, tag: t, rev: h.lineage.as(h.specs, h.lineage.placeOf(t.State)), files: notedFiles(h.lineage.snapshot(h.lineage.placeOf(t.State)))}
	if n, ok := readReleaseNote(t.Message); ok {
		one.note = n
	}
	h.heard = append(h.heard, one)
	switch {
	case one.rev == nil:
		h.say(label, t.Name, "altered.moved", "model", h.model)
	case one.note == nil:
		h.found = append(h.found, Alteration{h.model, label, t.Name, note("altered.no record"), true})
	case one.note.label != "" && one.note.label != label:
		h.say(label, t.Name, "altered.of another", "label", one.note.label)
	case !one.note.intact:
		h.say(label, t.Name, "altered.edited")
	case one.note.label != "" && one.note.sum == "":
		h.say(label, t.Name, "altered.no checksum")
	case t.Named != "" && t.Named != t.Name:
		h.say(label, t.Name, "altered.copy", "other", t.Named)
	case one.otherSpec():
		h.say(label, t.Name, "altered.other spec", "released", shortID(one.note.revision), "now", shortID(one.rev.identity(one.note.scheme)),
			"file", one.rev.File, "blob", one.blob())
	case one.note.state != "" && one.note.state != t.State:
		h.say(label, t.Name, "altered.other state", "released", shortID(one.note.state), "now", shortID(t.State))
	case !at(h.onBranches, h.lineage.placeOf(t.State)) && h.lacksTip():
		h.doubt(label, t.Name, "altered.history missing")
	case !at(h.onBranches, h.lineage.placeOf(t.State)):
		h.say(label, t.Name, "altered.on no branch")
	}
}

// lacksTip reports whether the last state of a branch cannot be read, so that nobody
// can tell what rests on it.
func (h *hearing) lacksTip() bool {
	return slices.ContainsFunc(append(slices.Clone(h.index.Branches), h.index.Head), func(id string) bool {
		_, ok := h.index.place[id]
		return id != "" && !ok
	})
}

// isWrong reports whether something is known to be wrong with a release.
func (h *hearing) isWrong(label string) bool {
	return slices.ContainsFunc(h.found, func(a Alteration) bool { return a.Label == label && !a.Doubt })
}

// sayInstead is say for what makes a doubt about a release needless.
func (h *hearing) sayInstead(label, tag, key string, pairs ...any) {
	h.found = slices.DeleteFunc(h.found, func(a Alteration) bool { return a.Label == label && a.Doubt })
	h.say(label, tag, key, pairs...)
}

// doubt notes what nobody could tell of a release.
func (h *hearing) doubt(label, tag, key string, pairs ...any) {
	h.found = append(h.found, Alteration{h.model, label, tag, note(key, pairs...), true})
}

// otherSpec reports whether the tag leads to another spec than was released.
// Where the files are those that were released, a spec that is read otherwise is
// the doing of this rodlore, which the history tells.
func (one *heardRelease) otherSpec() bool {
	if one.note.revision == one.rev.identity(one.note.scheme) {
		return false
	}
	if len(one.note.files) > 0 {
		return !slices.Equal(one.note.files, one.files)
	}
	// An older record does not say which files.
	return one.note.method == evaluate.Method && len(builtinMaterials(one.rev.Spec())) == 0
}

// blob is the content that was released; "" where the record does not say.
func (one *heardRelease) blob() string {
	if len(one.note.files) == 0 {
		return ""
	}
	return one.note.files[0].blob
}

func shortID(id string) string { return id[:min(len(id), 8)] }

// lost are the tags that lead to no saved state.
func (h *hearing) lost(notes []error) {
	for _, note := range notes {
		var l *LostTag
		if !errors.As(note, &l) {
			continue
		}
		if label, ok := h.lineage.labelOf(l.Name); ok {
			h.say(label, l.Name, "altered.unread", "why", l.Why)
			h.heard = append(h.heard, heardRelease{label: label, tag: Tag{Name: l.Name}})
		}
	}
}

// chained holds every release against what those after it say of it.
func (h *hearing) chained() {
	for _, later := range h.heard {
		if later.note == nil || !later.note.intact {
			continue
		}
		for _, before := range later.note.after {
			h.link(&later, before)
		}
	}
}

// link holds one release against what a later one says of it.
func (h *hearing) link(later *heardRelease, before notedRelease) {
	label := before.label
	if h.isWrong(label) {
		return // told by itself
	}
	i := slices.IndexFunc(h.heard, func(o heardRelease) bool { return o.label == label })
	if i < 0 {
		name, key := h.calledThen(before, later.note.scheme), "altered.gone"
		if name != h.model {
			key = "altered.gone renamed"
		}
		h.say(label, tagName(name, label), key, "later", later.label, "tag", later.tag.Name,
			"revision", shortID(before.revision), "lost", tagName(name, label))
		return
	}
	if what := h.heard[i].unlike(before, later.note.scheme); what.Key != "" {
		h.sayInstead(label, h.heard[i].tag.Name, "altered.since", "later", later.label, "what", what)
	}
}

// calledThen is what the model was called when a release was made that a later one
// names.
func (h *hearing) calledThen(before notedRelease, scheme int) string {
	for _, rev := range h.lineage.revisions {
		if before.revision != "" && rev.identity(scheme) == before.revision {
			return rev.FileName()
		}
	}
	return h.model
}

// unlike is how a release differs from what one after it says of it, a Note
// without a Key where it does not. That one has identities by a scheme.
func (one *heardRelease) unlike(then notedRelease, scheme int) Note {
	switch {
	case then.sum != "" && one.note == nil:
		return note("altered.replaced by none")
	case then.sum != "" && one.note.sum != then.sum:
		return note("altered.replaced")
	case one.note == nil && one.rev != nil && one.rev.identity(scheme) != then.revision && len(builtinMaterials(one.rev.Spec())) == 0:
		return note("altered.moved from", "old", shortID(then.revision), "new", shortID(one.rev.identity(scheme)))
	case then.id != "" && one.tag.ID != then.id:
		return note("altered.another tag")
	}
	return Note{}
}
