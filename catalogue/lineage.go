package catalogue

import (
	"cmp"
	"slices"
)

// lineage is one model followed through the graph of saved states.
type lineage struct {
	names     []string             // of the model's file, today's first
	revisions []*Revision          // newest first, those on other branches too
	at        map[string]*Revision // what the model was in a saved state; nil where it was not there
	onHead    map[string]bool      // states that the working files rest on
	snapshots map[string]snapshot
}

// follow finds every revision of a model: every saved state in which its
// resolved spec, or the name of its file, differs from that in all of the
// state's parents. A merge that takes either side as it was is no revision.
func (r *Range) follow(model string) *lineage {
	l := &lineage{
		names:     r.namesOf(model),
		at:        map[string]*Revision{},
		snapshots: r.snapshots(r.namesOf(model)),
	}
	for i := len(r.log.States) - 1; i >= 0; i-- {
		st := &r.log.States[i]
		snap := l.snapshots[st.ID]
		if snap.model == "" {
			continue
		}
		res := r.specs.of(snap)
		if same := l.unchanged(st, snap.file, res.id); same != nil {
			l.at[st.ID] = same
			continue
		}
		rev := newRevision(model, st, snap, res)
		if len(st.Parents) > 0 {
			rev.Before = l.at[st.Parents[0]]
		}
		l.at[st.ID] = rev
		l.revisions = append(l.revisions, rev)
	}
	slices.Reverse(l.revisions)
	l.label(r.log.Tags)
	l.onHead = r.ancestry(r.log.Head)
	l.setAside(r.log.States, r.log.Head)
	return l
}

// unchanged is the revision of a parent that is still in force, if any.
func (l *lineage) unchanged(st *State, file, id string) *Revision {
	for _, p := range st.Parents {
		if rev := l.at[p]; rev != nil && rev.ID == id && rev.File == file {
			return rev
		}
	}
	return nil
}

func newRevision(model string, st *State, snap snapshot, res *resolved) *Revision {
	why, tell := readMessage(st.Message)
	return &Revision{
		Model: model, File: snap.file, ID: res.id, State: st.ID,
		When: st.When, Author: st.Author, Why: why, Tell: tell,
		Status: Prototype, Spec: res.spec, Fault: res.fault, snapshot: snap, outcome: &outcomes{},
	}
}

// label puts the releases on their revisions. A rod that only got another name
// is on sale as it was.
func (l *lineage) label(tags []Tag) {
	tags = slices.Clone(tags)
	slices.SortStableFunc(tags, func(a, b Tag) int { return a.When.Compare(b.When) })
	for _, t := range tags {
		if label, ok := l.labelOf(t.Name); ok {
			if rev := l.at[t.State]; rev != nil {
				rev.Labels = append(rev.Labels, label)
				rev.releases = append(rev.releases, release{label, t})
			}
		}
	}
	released := map[string]string{} // label by identity
	for _, rev := range slices.Backward(l.revisions) {
		if b := rev.Before; b != nil && b.ID == rev.ID {
			rev.Labels = append(slices.Clone(b.Labels), rev.Labels...)
			rev.releases = append(slices.Clone(b.releases), rev.releases...)
		}
		if len(rev.Labels) > 0 {
			rev.Status = Released
			released[rev.ID] = rev.Label()
		} else {
			rev.Again = released[rev.ID]
		}
	}
}

// labelOf is the label that a tag's name gives to the model, under any name the
// model had.
func (l *lineage) labelOf(tag string) (string, bool) {
	for _, name := range l.names {
		if label, ok := cutLabel(name, tag); ok {
			return label, true
		}
	}
	return "", false
}

// snapshots follows the model's files through the graph. A state holds what its
// first parent held, but for the changes against it.
func (r *Range) snapshots(names []string) map[string]snapshot {
	type files struct {
		models           []string // blobs by index into names
		parts, materials string
	}
	held := map[string]*files{}
	out := map[string]snapshot{}
	for i := len(r.log.States) - 1; i >= 0; i-- {
		st := &r.log.States[i]
		f := files{models: make([]string, len(names))}
		if len(st.Parents) > 0 && held[st.Parents[0]] != nil {
			p := held[st.Parents[0]]
			f = files{slices.Clone(p.models), p.parts, p.materials}
		}
		for _, c := range st.Changes {
			if c.Parent != 0 {
				continue
			}
			switch c.Path {
			case partsFile:
				f.parts = c.New
			case materialsFile:
				f.materials = c.New
			default:
				if name, ok := modelName(c.Path); ok {
					if n := slices.Index(names, name); n >= 0 {
						f.models[n] = c.New
					}
				}
			}
		}
		held[st.ID] = &f
		if n := slices.IndexFunc(f.models, func(b string) bool { return b != "" }); n >= 0 {
			out[st.ID] = snapshot{modelFile(names[n]), f.models[n], f.parts, f.materials}
		}
	}
	return out
}

// namesOf lists the names that the model's file had, today's first: as its spec
// says with `was`, else as a state shows that took the file away under one name
// and put the very same under another.
func (r *Range) namesOf(model string) []string {
	names := []string{model}
	for {
		old := r.nameBefore(names[len(names)-1])
		if old == "" || slices.Contains(names, old) {
			return names
		}
		names = append(names, old)
	}
}

func (r *Range) nameBefore(name string) string {
	file := modelFile(name)
	if src, err := r.src.Working(file); err == nil {
		if m, err := r.specs.model(file, r.specs.draft(file, src)); err == nil {
			if m.Was.Text != "" {
				return m.Was.Text
			}
		}
	}
	for i := range r.log.States {
		st := &r.log.States[i]
		for _, c := range st.Changes {
			if c.Path != file || c.New == "" {
				continue
			}
			if m, err := r.specs.model(file, c.New); err == nil && m.Was.Text != "" {
				return m.Was.Text
			}
			if old := movedFrom(st, c); old != "" {
				return old
			}
		}
	}
	return ""
}

// movedFrom is the model whose file went away in the state that brought the
// very same under a new name.
func movedFrom(st *State, c Change) string {
	if c.Old != "" {
		return ""
	}
	for _, gone := range st.Changes {
		if gone.Parent == c.Parent && gone.New == "" && gone.Old == c.New {
			if name, ok := modelName(gone.Path); ok {
				return name
			}
		}
	}
	return ""
}

// nameNow is the name that a model goes by now, by one that it had.
func (r *Range) nameNow(name string) (string, error) {
	if _, err := r.src.Working(modelFile(name)); err == nil {
		return name, nil
	}
	if r.renamed == nil {
		known, err := r.Models()
		if err != nil {
			return "", err
		}
		r.renamed = map[string]string{}
		for _, now := range known {
			for _, former := range r.namesOf(now)[1:] {
				r.renamed[former] = now
			}
		}
	}
	return cmp.Or(r.renamed[name], name), nil
}

// ancestry is the set of states that those given rest on, with these.
func (r *Range) ancestry(tips ...string) map[string]bool {
	on := map[string]bool{}
	for _, tip := range tips {
		on[tip] = true
	}
	for i := range r.log.States {
		if st := &r.log.States[i]; on[st.ID] {
			for _, p := range st.Parents {
				on[p] = true
			}
		}
	}
	return on
}
