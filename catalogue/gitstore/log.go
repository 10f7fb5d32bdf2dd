package gitstore

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue"
	"rodlore/catalogue/working"
)

// Log reads every saved state that can be reached from the state in hand, any
// branch, any remote-tracking branch or any tag. The time of a state is its
// author's; by that of its commit they are put in order.
func (s *Store) Log(ctx context.Context) (*catalogue.Log, error) {
	h, err := s.readHistory(ctx)
	if err != nil {
		return nil, err
	}
	s.keep(h.kept, h.list)
	log := &catalogue.Log{Head: idText(h.head), States: make([]catalogue.State, len(h.list))}
	for _, b := range h.refs.branches() {
		log.Branches = append(log.Branches, b.String())
	}
	for i, n := range h.list {
		log.States[i] = n.state()
	}
	notes := h.tagNotes
	if h.headless != nil {
		notes = append(notes, fmt.Errorf("the state in hand is not known: %w", h.headless))
	}
	log.Tags, notes = h.placeTags(h.tags, notes)
	if s.cut != nil {
		notes = append(notes, s.cut)
	}
	log.Notes = slices.Concat(s.objects.notes(), h.refs.notes, notes, s.strangeNotes(), s.sparseNotes(), h.notes)
	return log, nil
}

// history is the graph with what leads into it.
type history struct {
	*graph
	list     []*node // of the graph, children before their parents
	refs     *refs
	tags     []tag
	tagNotes []error
	head     plumbing.Hash
	headless error // why the head is not known
	kept     kept
}

func (s *Store) readHistory(ctx context.Context) (h *history, err error) {
	h = &history{kept: s.readKept()}
	if h.refs, err = s.readRefs(); err != nil {
		return nil, err
	}
	h.tags, h.tagNotes = s.readTags(h.refs)
	h.head, _, h.headless = s.readRef(headRef)
	if h.graph, err = s.readGraph(ctx, h.tips(), h.kept); err != nil {
		return nil, err
	}
	h.list = h.sorted()
	return h, s.compare(ctx, h.graph, h.list)
}

// branches are what the branches lead to, in a fixed order, remote-tracking ones
// too.
func (r *refs) branches() []plumbing.Hash {
	var ids []plumbing.Hash
	for _, name := range slices.Sorted(maps.Keys(r.ids)) {
		if strings.HasPrefix(name, "refs/heads/") || strings.HasPrefix(name, "refs/remotes/") {
			ids = append(ids, r.ids[name])
		}
	}
	return ids
}

// tips is where the history begins, in a fixed order.
func (h *history) tips() []plumbing.Hash {
	var tips []plumbing.Hash
	if !h.head.IsZero() {
		tips = append(tips, h.head)
	}
	tips = append(tips, h.refs.branches()...)
	for _, t := range h.tags {
		tips = append(tips, t.on)
	}
	return tips
}

// compare finds the changes of every node against each of its parents. A node
// whose trees cannot be read stays without changes, with a note.
func (s *Store) compare(ctx context.Context, g *graph, list []*node) error {
	errs := make([]error, len(list))
	var group sync.WaitGroup
	// Neighbours in the list share trees, so each worker takes a stretch of it.
	stretch := max(minStretch, (len(list)+runtime.GOMAXPROCS(0)-1)/runtime.GOMAXPROCS(0))
	for from := 0; from < len(list); from += stretch {
		to := min(from+stretch, len(list))
		group.Go(func() {
			trees := newTreeReader(s.objects, s.prefix)
			for i := from; i < to && ctx.Err() == nil; i++ {
				errs[i] = list[i].compare(trees)
			}
		})
	}
	group.Wait()
	for i, err := range errs {
		if err != nil {
			g.notes = append(g.notes, fmt.Errorf("what saved state %s changed is not known: %w", list[i].id, err))
		}
	}
	return ctx.Err()
}

// Fewer states than this are not worth a worker of their own.
const minStretch = 500

// compare fills in the changes against each parent, or against nothing. What was
// kept counts if all parents are here, as they were then.
func (n *node) compare(trees treeReader) error {
	n.lasting = n.lasting && len(n.above) == len(n.parents)
	if n.known != nil && n.lasting {
		n.changes = n.known.changes
		return nil
	}
	before := []plumbing.Hash{{}}
	if len(n.above) > 0 {
		before = before[:0]
		for _, parent := range n.above {
			before = append(before, parent.tree)
		}
	}
	for parent, tree := range before {
		changes, err := trees.diff(parent, tree, n.tree)
		if err != nil {
			n.changes, n.lasting = nil, false
			return err
		}
		n.changes = append(n.changes, changes...)
	}
	return nil
}

// state is the node as the catalogue sees it. Its day is its author's: the
// committer's is when it came into the repository.
func (n *node) state() catalogue.State {
	st := catalogue.State{ID: n.name, When: n.authored.time(), Author: n.author, Message: n.message, Changes: n.changes}
	for _, parent := range n.above {
		st.Parents = append(st.Parents, parent.name)
	}
	return st
}

// idText is "" for the zero identity.
func idText(id plumbing.Hash) string {
	if id.IsZero() {
		return ""
	}
	return id.String()
}

// strangeNotes says where git would show another history than is read here.
func (p place) strangeNotes() []error {
	var notes []error
	if entries, err := os.ReadDir(filepath.Join(p.commonDir, "refs", "replace")); err == nil && len(entries) > 0 {
		notes = append(notes, errors.New("the repository replaces objects (refs/replace): the history is shown without that"))
	}
	if isFile(filepath.Join(p.commonDir, "info", "grafts")) {
		notes = append(notes, errors.New("the repository grafts its history (info/grafts): the history is shown without that"))
	}
	return notes
}

// sparseNotes says which files of the range are missing from the working tree
// only because a sparse checkout leaves them out.
func (s *Store) sparseNotes() []error {
	if !s.config.isTrue("core.sparsecheckout") {
		return nil
	}
	index, err := s.readStaging()
	if err != nil {
		return []error{fmt.Errorf("which files the sparse checkout leaves out is not known: %w", err)}
	}
	var names []string
	for _, e := range index.entries {
		name, ok := strings.CutPrefix(e.name, s.prefix)
		if ok && working.IsRangeFile(name) && e.isLeftOut() {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []error{fmt.Errorf("a sparse checkout leaves out %s: run `git sparse-checkout disable` to have all of the range", strings.Join(names, ", "))}
}
