package catalogue

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"time"

	"rodlore/models/spelling"
)

// ErrNotFound is returned, wrapped with what there is instead, where a model or
// a revision is asked for that is not there.
var ErrNotFound = errors.New("not found")

// main are the revisions that lie behind the working files.
func (l *lineage) main() []*Revision {
	var out []*Revision
	for _, rev := range l.revisions {
		if l.onHead[l.placeOf(rev.State)] {
			out = append(out, rev)
		}
	}
	return out
}

// lineage follows a model once. A model that is neither there now nor ever was
// is an ErrNotFound.
func (h *History) lineage(model string) (*lineage, error) {
	if l, ok := h.lineages[model]; ok {
		return l, nil
	}
	l := h.follow(model)
	if len(l.revisions) == 0 {
		if _, err := h.src.Working(modelFile(model)); err != nil {
			return nil, h.noModel(model, err)
		}
	}
	h.lineages[model] = l
	return l, nil
}

func (h *History) noModel(model string, err error) error {
	if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	names, _ := h.Models()
	if len(names) == 0 {
		return Advise(AddModel, []string{model}, "model %q: %w: the range has no models yet", model, ErrNotFound)
	}
	return fmt.Errorf("model %q: %w%s; the range has %s", model, ErrNotFound, spelling.DidYouMean(model, names), strings.Join(names, ", "))
}

// Draft is the model as its file stands now. Where it is the same rod as was
// saved last, that revision is given, and its Status says so.
func (h *History) Draft(model string) (*Revision, error) {
	return onceRead(h.Files, "draft of "+model, func() (*Revision, error) { return h.readDraft(model) })
}

func (h *History) readDraft(model string) (*Revision, error) {
	l, err := h.lineage(model)
	if err != nil {
		return nil, err
	}
	file := modelFile(model)
	src, err := h.src.Working(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, l.gone(model, l.in(h.index.Head))
	}
	if err != nil {
		return nil, err
	}
	return h.draftOf(model, l, src)
}

// Trial is the model as its file would be read with another text.
func (h *History) Trial(model string, text []byte) (*Revision, error) {
	l, err := h.lineage(model)
	if err != nil {
		return nil, err
	}
	return h.draftOf(model, l, text)
}

func (h *History) draftOf(model string, l *lineage, src []byte) (_ *Revision, err error) {
	saved, file := l.in(h.index.Head), modelFile(model)
	snap := snapshot{file: file, model: h.specs.draft(src)}
	if snap.parts, err = h.draftBlob(partsFile); err != nil {
		return nil, err
	}
	if snap.materials, err = h.draftBlob(materialsFile); err != nil {
		return nil, err
	}
	res := h.specs.of(snap)
	edited := contentOf(res)
	if err := res.slip(); err != nil {
		edited = contentOf(h.specs.faulty(snap, err))
	}
	said := l.as(h.specs, h.index.head())
	if saved != nil && saved.ID == res.id && saved.File == file {
		same := *said
		same.snapshot, same.content = snap, edited // as it is written now
		if said.whole != res.whole {
			same.whole, same.outcome, same.Edited = res.whole, &outcomes{}, true
		}
		return &same, nil
	}
	return &Revision{
		Model: model, File: file, ID: edited.get().id, Status: Draft, whole: edited.get().whole,
		Before: saved, left: said, snapshot: snap, content: edited, outcome: &outcomes{},
	}, nil
}

// gone says what became of a model that has no file now.
func (l *lineage) gone(model string, saved *Revision) error {
	if saved != nil {
		file := modelFile(model)
		return Advise(BringBack, []string{model, file}, "model %s: its file %s is gone", model, file)
	}
	return l.offer(model, fmt.Errorf("model %s: %w: it was taken out of the range", model, ErrNotFound), "; ")
}

// draftBlob is the stand-in blob of a shared file as it stands now; "" where it
// is not there.
func (h *History) draftBlob(file string) (string, error) {
	src, err := h.src.Working(file)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	return h.specs.draft(src), nil
}

// Find gives the revision of a model that rev names: a release label, "draft"
// (also ""), "saved", a date (2024, 2024-05 or 2024-05-31: the last revision
// saved by its end), or the first characters, four at least, of a revision's or
// a saved state's identity.
func (h *History) Find(model, rev string) (*Revision, error) {
	if rev == "" || rev == "draft" {
		return h.Draft(model)
	}
	l, err := h.lineage(model)
	if err != nil {
		return nil, err
	}
	if rev == "saved" {
		if saved := l.as(h.specs, h.index.head()); saved != nil {
			return saved, nil
		}
		if len(l.revisions) > 0 {
			return nil, l.gone(model, nil)
		}
		return nil, Advise(SaveModel, []string{model}, "%s@saved: %w: it was never saved", model, ErrNotFound)
	}
	if labelled := l.labelled(h.specs, rev); labelled != nil {
		return labelled, nil
	}
	if IsDate(rev) && !h.toCome(rev) {
		for _, s := range slices.Backward(l.told()) {
			if l.dayOf(s)[:len(rev)] <= rev {
				return l.as(h.specs, s.state), nil
			}
		}
	}
	return l.byID(h.specs, model, rev)
}

// toCome reports whether a year, month or day has not begun yet.
func (h *History) toCome(date string) bool { return h.today != "" && date > h.today[:len(date)] }

// labelled is the revision of that label as it was released, and not one that only
// gave it another name since; nil where there is none.
func (l *lineage) labelled(specs *specs, label string) *Revision {
	for _, rev := range slices.Backward(l.revisions) {
		if i := slices.IndexFunc(rev.releases, func(t release) bool { return t.label == label }); i >= 0 {
			return l.as(specs, l.placeOf(rev.releases[i].tag.State))
		}
	}
	return nil
}

// IsDate reports whether text is a year, a month or a day.
func IsDate(text string) bool {
	return slices.ContainsFunc([]string{"2006", "2006-01", time.DateOnly}, func(layout string) bool {
		_, err := time.Parse(layout, text)
		return err == nil
	})
}

// byID finds a revision by the first characters of its identity, of that which it
// had in scheme 1, or of its saved state's.
func (l *lineage) byID(specs *specs, model, prefix string) (*Revision, error) {
	var hits []*Revision
	if len(prefix) >= 4 {
		for _, rev := range l.revisions {
			if strings.HasPrefix(rev.ID, prefix) || strings.HasPrefix(rev.State, prefix) {
				hits = append(hits, rev)
			}
		}
		hits = append(hits, l.bySaying(specs, prefix)...)
	}
	// Of a rod that was saved more than once, the one on sale is meant.
	slices.SortStableFunc(hits, func(a, b *Revision) int { return cmp.Compare(len(b.Labels), len(a.Labels)) })
	switch {
	case len(hits) == 0:
		return nil, l.offer(model, fmt.Errorf("%s@%s: %w", model, prefix, ErrNotFound), ": ")
	case slices.ContainsFunc(hits, func(rev *Revision) bool { return rev.ID != hits[0].ID }):
		return nil, fmt.Errorf("%s@%s: several revisions begin so; give more characters", model, prefix)
	}
	return hits[0], nil
}

// offer adds to an error what could have been asked for.
func (l *lineage) offer(model string, err error, sep string) error {
	var labels []string
	for _, rev := range l.revisions {
		labels = append(labels, rev.Labels...)
	}
	if len(labels) == 0 {
		return Advise(ListHistory, []string{model}, "%w%sno release has that label", err, sep)
	}
	return fmt.Errorf("%w%sthe releases are %s", err, sep, strings.Join(labels, ", "))
}

// FindArg gives the revision that MODEL or MODEL@REV names.
func (h *History) FindArg(arg string) (*Revision, error) {
	if name, top := h.CutTop(arg); top != "" {
		return nil, fmt.Errorf("%s: a top is a part of the rod and has no history, release or record of its own; ask for %s", arg, name)
	}
	model, rev, _ := strings.Cut(arg, "@")
	return h.Find(model, rev)
}

// Recorded is the saved revision that a record names, by a name that the model
// has or had, and by the label of a release or the first characters of an
// identity. A record says neither "draft" nor a date, which could mean another
// revision some day.
func (h *History) Recorded(model, release string) (*Revision, error) {
	model, err := h.nameNow(model)
	if err != nil {
		return nil, err
	}
	l, err := h.lineage(model)
	if err != nil {
		return nil, err
	}
	if rev := l.labelled(h.specs, release); rev != nil {
		return rev, nil
	}
	return l.byID(h.specs, model, release)
}
