package catalogue

import (
	"cmp"
	"slices"
	"strings"
)

// lineage is one model followed through the graph of saved states.
type lineage struct {
	*index
	names     []string         // of the model's file, today's first
	files     []string         // of these names
	held      []course[string] // what each of these files was
	revisions []*Revision      // newest first, those on other branches too
	unnoted   error            // why nothing was put right of it; nil where all was
	was       course[was]
	sayings   []*saying // newest first, those on other branches too
}

// was is what a model was in a saved state, and what was said of it there; nil where
// it was not there.
type was struct {
	rev  *Revision
	said *saying
}

// is is what the model was in a state, by its identity; nil where it was not there.
func (l *lineage) is(state int) *Revision { return l.was.at(state).rev }

// says is what was said of it in a state.
func (l *lineage) says(state int) *saying { return l.was.at(state).said }

// follow finds every revision of a model: every saved state in which its
// resolved spec, or the name of its file, differs from that in all of the
// state's parents. A merge that takes either side as it was is no revision.
func (h *History) follow(model string) *lineage {
	l := h.unfollowed(model)
	for i, now := range l.was.oldestFirst() {
		snap := l.snapshot(i)
		if snap.model == "" {
			continue
		}
		parents := l.parents[i]
		if len(parents) > 0 && l.snapshot(parents[0]) == snap {
			*now = l.was.at(parents[0])
			continue
		}
		one := h.specs.identity(snap)
		if now.rev = l.unchanged(i, snap.file, one.ID); now.rev != nil {
			now.said = l.say(i, now.rev, snap, strings.Clone(one.Whole))
			if p := parents[0]; len(parents) == 1 && l.snapshot(p).model != snap.model && now.said == l.says(p) {
				now.rev.sayLater(&l.States[i])
			}
			continue
		}
		now.rev = h.newRevision(model, &l.States[i], snap, one)
		if len(parents) > 0 {
			now.rev.Before = l.is(parents[0])
		}
		l.revisions = append(l.revisions, now.rev)
		now.said = l.say(i, now.rev, snap, now.rev.whole)
	}
	slices.Reverse(l.revisions)
	slices.Reverse(l.sayings)
	l.label(h.specs)
	h.putRight(l)
	l.setAside()
	l.leave(h.specs)
	h.specs.keep(l.names)
	h.specs.forget(l.names)
	return l
}

// unfollowed is a lineage of which no revision is known yet.
func (h *History) unfollowed(model string) *lineage {
	l := &lineage{index: h.index, names: h.namesOf(model)}
	turns := []edits{l.edits[partsFile], l.edits[materialsFile]}
	for _, name := range l.names {
		file := modelFile(name)
		l.files = append(l.files, file)
		l.held = append(l.held, l.index.held(file))
		turns = append(turns, l.edits[file])
	}
	l.was = newCourse[was](l.index, turns...)
	return l
}

// snapshot is what the model was made of in a state, under the first of its
// names that is there.
func (l *lineage) snapshot(state int) snapshot {
	for n, held := range l.held {
		if blob := held.at(state); blob != "" {
			return snapshot{l.files[n], blob, l.parts.at(state), l.materials.at(state)}
		}
	}
	return snapshot{}
}

// in is what the model was in a state, by its identity; nil where it was not
// there.
func (l *lineage) in(state string) *Revision { return l.is(l.placeOf(state)) }

// unchanged is the revision of a parent that is still in force, if any.
func (l *lineage) unchanged(state int, file, id string) *Revision {
	for _, p := range l.parents[state] {
		if rev := l.is(p); rev != nil && rev.ID == id && rev.File == file {
			return rev
		}
	}
	return nil
}

func (h *History) newRevision(model string, st *State, snap snapshot, one identity) *Revision {
	why, tell := readMessage(st.Message)
	return &Revision{
		// The text that was kept is not to stay for the sake of two words of it.
		ID: strings.Clone(one.ID), whole: strings.Clone(one.Whole),
		Model: model, File: snap.file, State: st.ID, standsIn: st.ID,
		When: st.When, Author: st.Author, Why: why, Tell: tell,
		Status: Prototype, snapshot: snap, content: h.specs.later(snap), outcome: &outcomes{},
	}
}

// label puts the releases on their revisions. A rod that only got another name
// is on sale as it was.
func (l *lineage) label(specs *specs) {
	for _, t := range l.labels() {
		if rev := l.in(t.tag.State); rev != nil {
			rev.Labels = append(rev.Labels, t.label)
			rev.releases = append(rev.releases, t)
			rev.read(specs, l.says(l.placeOf(t.tag.State)), &l.States[l.placeOf(t.tag.State)])
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

// labels are the tags that give the model a label, under any name it had, in the
// order of their times.
func (l *lineage) labels() []release {
	var list []release
	for _, name := range l.names {
		for _, t := range l.tags[name] {
			if label, ok := cutLabel(name, t.Name); ok {
				list = append(list, release{label, t})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b release) int { return a.tag.When.Compare(b.tag.When) })
	return list
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

// namesOf lists the names that the model's file had, today's first: as its spec
// says with `was`, else as a state shows that took the file away under one name
// and put the very same under another.
func (h *History) namesOf(model string) []string {
	if names, ok := h.names[model]; ok {
		return names
	}
	names := []string{model}
	for {
		old := h.nameBefore(names[len(names)-1])
		if old == "" || slices.Contains(names, old) {
			break
		}
		names = append(names, old)
	}
	h.names[model] = names
	return names
}

func (h *History) nameBefore(name string) string {
	file := modelFile(name)
	if src, err := h.src.Working(file); err == nil {
		if was := formerName(file, src); was != "" {
			return was
		}
	}
	for _, e := range h.index.edits[file] {
		if e.New == "" {
			continue
		}
		if was := h.specs.was(file, e.New); was != "" {
			return was
		}
		if old := h.movedFrom(e); old != "" {
			return old
		}
	}
	return ""
}

// movedFrom is the model whose file went away in the state that brought the
// very same under a new name.
func (h *History) movedFrom(e edit) string {
	if e.Old != "" {
		return ""
	}
	for _, gone := range h.index.States[e.state].Changes {
		if gone.Parent == e.Parent && gone.New == "" && gone.Old == e.New {
			if name, ok := modelName(gone.Path); ok {
				return name
			}
		}
	}
	return ""
}

// nameNow is the name that a model goes by now, by one that it had.
func (h *History) nameNow(name string) (string, error) {
	if _, err := h.src.Working(modelFile(name)); err == nil {
		return name, nil
	}
	if h.renamed == nil {
		known, err := h.Models()
		if err != nil {
			return "", err
		}
		h.renamed = map[string]string{}
		for _, now := range known {
			for _, former := range h.namesOf(now)[1:] {
				h.renamed[former] = now
			}
		}
	}
	return cmp.Or(h.renamed[name], name), nil
}

// setAside finds the revisions that the working files rest on by their history
// alone: where sides came together that had each gone on with the model, the
// merge took it as another side had it.
func (l *lineage) setAside() {
	kept := make([]bool, len(l.heads))    // runs on which the working files rest with the model
	aside := make([]*State, len(l.heads)) // the merge that did not take it, by run
	if head := l.head(); head >= 0 {
		kept[l.run[head]] = true
	}
	for run, i := range l.heads { // children before parents
		merge, all := aside[run], true
		switch {
		case kept[run]:
			merge, all = &l.States[i], !slices.ContainsFunc(l.parents[i], func(p int) bool { return l.same(p, i) })
		case merge == nil:
			continue
		}
		for _, p := range l.parents[i] {
			switch {
			case kept[run] && (all || l.same(p, i)):
				kept[l.run[p]] = true
			case aside[l.run[p]] == nil:
				aside[l.run[p]] = merge
			}
		}
	}
	for _, rev := range l.revisions {
		if run := l.run[l.placeOf(rev.State)]; !kept[run] {
			rev.Aside = aside[run]
		}
	}
}

// same reports whether the model was the same in two states, or in neither.
func (l *lineage) same(a, b int) bool {
	was, is := l.is(a), l.is(b)
	return was == is || was != nil && is != nil && was.ID == is.ID && was.File == is.File
}
