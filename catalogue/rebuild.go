package catalogue

import (
	"maps"
	"slices"

	"rodlore/diffing"
	"rodlore/models"
)

// Rebuilt is a saved revision as it would be built with the parts and materials
// of today.
type Rebuilt struct {
	// Revision is a draft of the old spec with the parts and materials of today;
	// those that are gone are in it as they were.
	*Revision
	Gone    []string         // parts and materials of the revision that are not there today
	Changes []diffing.Change // of the others, what is not as it was
}

// Rebuild puts a revision together with the parts and materials of today. A
// revision that cannot be put together so, as with a seat that has become too
// long for it, has a Fault. Faults in today's files are an error.
func (h *History) Rebuild(rev *Revision) (*Rebuilt, error) {
	if rev.Fault() != nil {
		return nil, rev.Fault()
	}
	sharedParts, sharedMaterials, err := h.Shared()
	if err != nil {
		return nil, err
	}
	parts, materials := *sharedParts, *sharedMaterials // what is gone is added to these alone
	parts.All, materials.All = slices.Clip(parts.All), slices.Clip(materials.All)
	out := &Rebuilt{Revision: &Revision{
		Model: rev.Model, File: rev.File, Status: Draft, Before: rev, snapshot: rev.snapshot, outcome: &outcomes{},
	}}
	for _, name := range slices.Sorted(maps.Keys(rev.Spec().Parts)) {
		if parts.Get(name) == nil {
			out.Gone = append(out.Gone, name)
			parts.All = append(parts.All, rev.Spec().Parts[name])
		}
	}
	for _, name := range slices.Sorted(maps.Keys(rev.Spec().Materials)) {
		if materials.Get(name) == nil {
			out.Gone = append(out.Gone, name)
			materials.All = append(materials.All, rev.Spec().Materials[name])
		}
	}
	spec, err := models.Resolve(rev.Spec().Model, &parts, &materials)
	out.content = contentOf(&resolved{spec: spec, fault: err})
	if err == nil {
		out.ID, out.whole = spec.IDs()
		out.Changes = slices.DeleteFunc(diffing.Specs(rev.Spec(), spec), diffing.Change.Beside)
	}
	return out, nil
}
