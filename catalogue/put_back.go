package catalogue

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"

	"rodlore/catalogue/working"
	"rodlore/models"
)

// PutBack is a model's spec as it once was, to be its draft again.
type PutBack struct {
	Revision *Revision
	File     string // of the model now
	Text     []byte // of the spec then
	// Lost is what stands in the file now and was never saved; nil where nothing
	// would be lost.
	Lost   []byte
	Others []Other

	parts, materials []byte // of the shared files, as they stand now
}

// Other is a shared entry that is not today what it was then.
type Other struct {
	Name string
	Own  string // a name for it as it was, that no other entry has
	Gone bool   // there is none of its name today
	// Then is what it was, one of the two.
	Part     *models.Part
	Material *models.Material
}

// PutBack finds what it takes to put a revision's spec back. Nothing is written.
// A spec that stands so already is an ErrUnchanged.
func (h *History) PutBack(ctx context.Context, rev *Revision) (*PutBack, error) {
	text, err := h.Source(rev)
	if err != nil {
		return nil, err
	}
	p := &PutBack{Revision: rev, File: modelFile(rev.Model), Text: []byte(text)}
	now, err := h.src.Working(p.File)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	if len(now) == working.MostBytes { // there may be more, of which no copy could be kept
		return nil, fmt.Errorf("%s is over 1 MiB, which is no spec: move it away, so that it is not lost", p.File)
	}
	if err == nil && bytes.Equal(unixLines(now), unixLines(p.Text)) {
		return nil, fmt.Errorf("%s stands as it was saved on %s: %w", p.File, rev.Day(), ErrUnchanged)
	}
	if err == nil {
		saved, err := h.wasSaved(ctx, rev.Model, now)
		if err != nil {
			return nil, err
		}
		if !saved {
			p.Lost = now
		}
	}
	if p.parts, err = h.working(partsFile); err != nil {
		return nil, err
	}
	if p.materials, err = h.working(materialsFile); err != nil {
		return nil, err
	}
	if rev.Fault() == nil {
		err = p.compare(h)
	}
	return p, err
}

// wasSaved reports whether a model's file ever was saved with that content.
func (h *History) wasSaved(ctx context.Context, model string, content []byte) (bool, error) {
	l, err := h.lineage(model)
	if err != nil {
		return false, err
	}
	blobs := map[string]bool{h.index.savedFiles()[modelFile(model)]: true}
	for _, rev := range l.revisions {
		blobs[rev.snapshot.model] = true
	}
	delete(blobs, "")
	for blob := range blobs {
		if same, err := h.asSaved(ctx, blob, content); same || err != nil {
			return same, err
		}
	}
	return false, nil
}

// compare finds the shared entries that are others today. Prices are no part of
// the rod.
func (p *PutBack) compare(r *History) error {
	parts, materials, err := r.Shared()
	if err != nil {
		return err
	}
	taken := func(name string) bool { return parts.Get(name) != nil || materials.Get(name) != nil }
	spec := p.Revision.Spec()
	changed := map[string]bool{} // materials
	for _, name := range slices.Sorted(maps.Keys(spec.Materials)) {
		then, now := spec.Materials[name], materials.Get(name)
		if now != nil && sameEntry(then, now) {
			continue
		}
		changed[name] = true
		p.Others = append(p.Others, Other{Name: name, Own: p.ownName(name, taken), Gone: now == nil, Material: then})
	}
	for _, name := range slices.Sorted(maps.Keys(spec.Parts)) {
		then, now := spec.Parts[name], parts.Get(name)
		if now != nil && sameEntry(then, now) && !changed[then.Frame.Text] {
			continue
		}
		p.Others = append(p.Others, Other{Name: name, Own: p.ownName(name, taken), Gone: now == nil, Part: then})
	}
	return nil
}

// sameEntry reports whether two entries say the same, prices apart.
func sameEntry(a, b models.SharedEntry) bool {
	is, _ := models.EntryIDs(a)
	was, _ := models.EntryIDs(b)
	return is == was
}

// ownName is a name for an entry as it was, by the release or the day.
func (p *PutBack) ownName(name string, taken func(string) bool) string {
	when := p.Revision.Label()
	if when == "" {
		when = p.Revision.Day()
	}
	own := name + "-" + when
	for n := 2; taken(own); n++ {
		own = fmt.Sprintf("%s-%s-%d", name, when, n)
	}
	return own
}

// Missing reports whether the spec could not be built of what there is today.
func (p *PutBack) Missing() bool {
	return slices.ContainsFunc(p.Others, func(o Other) bool { return o.Gone })
}

// OwnEntries gives the texts of the files that put the spec back with everything
// shared as it was: the entries that are others today under names of their own.
// Files that stay as they are are left out.
func (p *PutBack) OwnEntries() (map[string][]byte, error) {
	names := map[string]string{}
	for _, o := range p.Others {
		names[o.Name] = o.Own
	}
	files := map[string][]byte{}
	parts, materials := p.parts, p.materials
	var err error
	for _, o := range p.Others {
		if o.Material != nil {
			if materials, err = models.AddMaterial(materialsFile, materials, o.Material, o.Own); err != nil {
				return nil, err
			}
			files[materialsFile] = materials
			continue
		}
		part := *o.Part
		if own, ok := names[part.Frame.Text]; ok {
			part.Frame.Text = own
		}
		if parts, err = models.AddPart(partsFile, parts, &part, o.Own); err != nil {
			return nil, err
		}
		files[partsFile] = parts
	}
	files[p.File], err = models.RenameUsed(p.File, p.Text, names)
	return files, err
}
