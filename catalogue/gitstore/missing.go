package gitstore

import (
	"context"
	"fmt"
	"slices"

	"github.com/go-git/go-git/v5/plumbing"

	"rodlore/catalogue/working"
)

// Missing says what of the history the repository does not hold, whatever was kept
// of it: of states, folders and files it is seen that they are there, and the root
// of every state is read.
func (s *Store) Missing(ctx context.Context) ([]error, error) {
	h, err := s.readHistory(ctx)
	if err != nil {
		return nil, err
	}
	if h.headless != nil {
		return nil, h.headless
	}
	folders, err := s.missingFolders(ctx, h.list)
	return slices.Concat(h.tagNotes, h.notes, folders, s.missingFiles(h.list)), err
}

// missingFolders says of which states folders are not there.
func (s *Store) missingFolders(ctx context.Context, list []*node) (missing []error, err error) {
	trees := newTreeReader(s.objects, s.prefix)
	there := map[plumbing.Hash]bool{{}: true}
	for _, n := range list {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		tree, err := trees.readRange(n.tree)
		if err != nil {
			missing = append(missing, fmt.Errorf("what saved state %s held is lost: %w", n.id, err))
			continue
		}
		for _, name := range working.Folders {
			if id := tree[name]; !there[id] {
				if there[id] = s.objects.has(id); !there[id] {
					missing = append(missing, fmt.Errorf("the folder %s of saved state %s is missing from the repository", name, n.id))
				}
			}
		}
	}
	return missing, nil
}

// missingFiles says how many files of some states are not there.
func (s *Store) missingFiles(list []*node) []error {
	looked := map[string]bool{"": true}
	missing, example := 0, ""
	for _, n := range list {
		for _, c := range n.changes {
			if looked[c.New] {
				continue
			}
			looked[c.New] = true
			if id, ok := parseID(c.New); !ok || !s.objects.has(id) {
				missing++
				example = fmt.Sprintf("%s of %s", c.Path, n.committed.time().Format("2006-01-02"))
			}
		}
	}
	switch {
	case missing == 0:
		return nil
	case s.config.isPartial():
		return []error{fmt.Errorf("%d saved files are not in this clone, which is a partial one, such as %s: run `git fetch --refetch --no-filter` to have them all", missing, example)}
	}
	return []error{fmt.Errorf("%d saved files are missing from the repository, such as %s: see `git fsck`, and get them from another clone or a backup", missing, example)}
}
