package gitstore

import (
	"bytes"
	"cmp"
	"container/heap"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue"
)

// node is one saved state in the graph.
type node struct {
	*commit
	above   []*node            // its parents, as far as they could be read
	changes []catalogue.Change // against each of those, or against nothing
	known   *record            // from an earlier reading
	lasting bool               // nothing was missing, so that it may be kept
	below   int                // how many children are still to be listed
}

// graph is every saved state that can be reached from the tips.
type graph struct {
	nodes map[plumbing.Hash]*node
	notes []error
}

// readGraph reads all commits from tips on down, from git or from what was kept.
// Commits that cannot be read are left out with a note.
func (s *Store) readGraph(ctx context.Context, tips []plumbing.Hash, kept kept) (*graph, error) {
	cut, err := s.readShallow()
	if err != nil {
		return nil, err
	}
	g := &graph{nodes: make(map[plumbing.Hash]*node, len(kept))}
	unread := map[plumbing.Hash]bool{}
	for stack := tips; len(stack) > 0; {
		id := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if g.nodes[id] != nil || unread[id] {
			continue
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		n, err := s.readNode(id, kept, cut[id])
		if err != nil {
			unread[id] = true
			g.notes = append(g.notes, fmt.Errorf("saved state %s was left out of the history: %w", id, err))
			continue
		}
		g.nodes[id] = n
		stack = append(stack, n.parents...)
	}
	if len(cut) > 0 {
		g.notes = append(g.notes, errors.New("the history is cut short, since the repository is a shallow clone: run `git fetch --unshallow` for all of it"))
	}
	g.join()
	return g, nil
}

// readNode reads one state. One at which the history is cut has lost its parents.
func (s *Store) readNode(id plumbing.Hash, kept kept, cut bool) (*node, error) {
	if r := kept[id]; r != nil && !cut && s.objects.has(id) {
		return &node{commit: &r.commit, known: r, lasting: true}, nil
	}
	c, err := s.readCommit(id)
	if err != nil {
		return nil, err
	}
	if cut {
		c.parents = nil
	}
	return &node{commit: c, lasting: !cut}, nil
}

// join links the nodes with their parents.
func (g *graph) join() {
	for _, n := range g.nodes {
		for _, p := range n.parents {
			if parent := g.nodes[p]; parent != nil {
				n.above = append(n.above, parent)
				parent.below++
			}
		}
	}
}

func (s *Store) readCommit(id plumbing.Hash) (*commit, error) {
	raw, err := s.objects.read(id, plumbing.CommitObject)
	if err != nil {
		return nil, err
	}
	c, err := parseCommit(id, raw)
	if err != nil {
		return nil, fmt.Errorf("commit %s is damaged: %w", id, err)
	}
	return c, nil
}

// readShallow is the states whose parents a shallow clone left behind.
func (p place) readShallow() (map[plumbing.Hash]bool, error) {
	raw, err := readOwn(filepath.Join(p.commonDir, "shallow"), mostList)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("reading where the history is cut: %w", err)
	}
	cut := map[plumbing.Hash]bool{}
	for line := range bytes.Lines(raw) {
		if id, ok := parseID(strings.TrimSpace(string(line))); ok {
			cut[id] = true
		}
	}
	return cut, nil
}

// sorted lists the nodes with children before their parents, else newest first
// by the time of the commit, else by identity.
func (g *graph) sorted() []*node {
	ready := &byTime{}
	for _, n := range g.nodes {
		if n.below == 0 {
			heap.Push(ready, n)
		}
	}
	list := make([]*node, 0, len(g.nodes))
	for ready.Len() > 0 {
		n := heap.Pop(ready).(*node)
		list = append(list, n)
		for _, parent := range n.above {
			if parent.below--; parent.below == 0 {
				heap.Push(ready, parent)
			}
		}
	}
	return list
}

// byTime is a heap of nodes with the newest on top.
type byTime []*node

func (b byTime) Len() int      { return len(b) }
func (b byTime) Swap(i, j int) { b[i], b[j] = b[j], b[i] }
func (b byTime) Less(i, j int) bool {
	return cmp.Or(-cmp.Compare(b[i].committed.unix, b[j].committed.unix), bytes.Compare(b[i].id[:], b[j].id[:])) < 0
}
func (b *byTime) Push(n any) { *b = append(*b, n.(*node)) }
func (b *byTime) Pop() any {
	last := len(*b) - 1
	n := (*b)[last]
	*b = (*b)[:last]
	return n
}
