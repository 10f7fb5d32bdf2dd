package catalogue

import (
	"cmp"
	"slices"
	"time"

	"rodlore/models"
)

// Status is how far a revision has come.
type Status string

const (
	Released  Status = "released"  // on sale, or was
	Prototype Status = "prototype" // saved
	Draft     Status = "draft"     // edited and not saved
)

// Revision is one state of a model: saved, or the draft.
type Revision struct {
	Model  string // the name asked for; the file had perhaps another then
	Top    string // of its other tops the one that it is with; "" for the main one
	File   string // where the spec stood, "models/skerry-10.yaml"
	ID     string // identity of the rod; of the fault where there is one
	State  string // the saved state that brought it; "" for a draft
	When   time.Time
	Author string
	Why    string   // the maker's reason
	Tell   string   // the maker's words for customers
	Labels []string // of its releases, oldest first
	Again  string   // label of an earlier release that was the very same rod; "" where none was
	Status Status
	// Edited says that what is said of the saved rod, such as prices and wants, is
	// edited and not saved. The revision has it as it is edited.
	Edited bool

	Later     []LaterWords        // said besides, oldest first
	Reworded  string              // the day on which Why or Tell was put right; "" where neither was
	retold    string              // that of Tell
	Withdrawn []models.Withdrawal // those of Labels that are off sale

	// Before is the revision it was made from; nil for the first. That one may
	// have a Fault.
	Before *Revision
	// Aside is the merge that took the model as another side had it, so that
	// nothing rests on the revision any more; nil where there is none.
	Aside *State

	releases []release // in the order of Labels
	label    string    // of the latest release with what is said of it; "" for that of all
	left     *Revision // Before as it was said when it was left
	standsIn string    // the saved state that it is read from; "" for a draft
	whole    string    // identity of all that is said of it
	snapshot snapshot
	content  *content
	outcome  *outcomes
}

// content is what the files of a revision say, read when it is first asked for.
type content struct {
	read  func() *resolved // once
	sound func() bool      // it is known to have no fault; nil where that is not known unread
}

func (c *content) get() *resolved {
	if c == nil {
		return &resolved{}
	}
	return c.read()
}

// contentOf is content that is known already.
func contentOf(is *resolved) *content { return &content{read: func() *resolved { return is }} }

// Recorded is how a record names the revision: by its latest label, that of an earlier
// release that was the very same rod, or the first characters of its identity.
func (r *Revision) Recorded() string {
	return cmp.Or(r.Label(), r.Again, r.ShortID())
}

// NewDraft is a rod that stands in no range: a spec by itself.
func NewDraft(model, file string, spec *models.Spec) *Revision {
	res := newResolved(spec)
	return &Revision{Model: model, File: file, ID: res.id, whole: res.whole, Status: Draft, content: contentOf(res)}
}

// Spec is what the files say; nil with a Fault.
func (r *Revision) Spec() *models.Spec { return r.content.get().spec }

// Fault is why the spec cannot be read; a models.Faults for faults in the files.
func (r *Revision) Fault() error {
	if r.isSound() {
		return nil
	}
	return r.content.get().fault
}

// isSound reports whether the saved spec is known to have no fault, though it may not
// have been read.
func (r *Revision) isSound() bool {
	return r.content != nil && r.content.sound != nil && r.content.sound()
}

// Label is the label of the latest release of the revision, with what is said of
// it where there is one, and of those off sale only where all are; "" if it was
// never put on sale.
func (r *Revision) Label() string {
	if r.label != "" {
		return r.label
	}
	if len(r.Labels) == 0 {
		return ""
	}
	for _, label := range slices.Backward(r.Labels) {
		if !r.IsWithdrawn(label) {
			return label
		}
	}
	return r.Labels[len(r.Labels)-1]
}

// Day is the day on which the revision was saved, as the clock there had it:
// 2024-05-31.
func (r *Revision) Day() string { return r.When.Format(time.DateOnly) }

// FileName is what the model's file was named then, without .yaml.
func (r *Revision) FileName() string { name, _ := modelName(r.File); return name }

// identity is the identity by a scheme; "" by one that is not known.
func (r *Revision) identity(scheme int) string {
	switch scheme {
	case 1:
		return r.whole
	case models.IdentityScheme:
		return r.ID
	}
	return ""
}

// ShortID is as much of the identity as people are shown.
func (r *Revision) ShortID() string { return r.ID[:8] }

// LastSound is the nearest revision before r that can be evaluated, with what was
// said of it when it was left; nil if there is none.
func (r *Revision) LastSound() *Revision {
	for r.Before != nil {
		if r.Before.Fault() == nil {
			return cmp.Or(r.left, r.Before)
		}
		r = r.Before
	}
	return nil
}

// LastRelease is the nearest release at or before r that was not withdrawn; nil if
// there is none. r may be nil.
func (r *Revision) LastRelease() *Revision {
	for r != nil && (r.Status != Released || r.OffSale()) {
		r = r.Before
	}
	return r
}

// release is a label with the tag that gave it.
type release struct {
	label string
	tag   Tag
}
