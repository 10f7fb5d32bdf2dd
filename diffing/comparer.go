package diffing

import (
	"sync"

	"rodlore/models"
)

// Comparer compares the specs of a range. It reads a spec once for all that it is held
// against and works out what there is to say of two specs once, however often it is
// asked, while they are among the latest pairs. Several goroutines may use it at the same
// time. A nil Comparer remembers nothing.
type Comparer struct {
	limits StepLimits
	mu     sync.Mutex
	pairs  map[[2]*models.Spec]*Comparison
	read   map[*models.Spec]func() *leaves
}

// mostPairs are kept at a time, which bounds the memory that the leaves of specs take
// where one trial follows another; a page compares fewer.
const mostPairs = 64

// NewComparer makes one that holds what is seen against limits.
func NewComparer(l StepLimits) *Comparer {
	return &Comparer{limits: l, pairs: map[[2]*models.Spec]*Comparison{}, read: map[*models.Spec]func() *leaves{}}
}

// Compare holds two specs against each other. Nothing is worked out yet.
func (c *Comparer) Compare(old, now *models.Spec) *Comparison {
	if c == nil {
		c = NewComparer(StepLimits{})
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	pair := [2]*models.Spec{old, now}
	if c.pairs[pair] == nil {
		if len(c.pairs) == mostPairs {
			clear(c.pairs)
			clear(c.read)
		}
		was, is := c.leaves(old), c.leaves(now)
		c.pairs[pair] = &Comparison{
			Old: old, New: now,
			changes: sync.OnceValue(func() []Change { return changes(old, now, was(), is()) }),
			rings:   sync.OnceValue(func() []models.Match { return ringPairs(was(), is()) }),
			sights:  sync.OnceValue(func() []Sight { return Visible(old, now, c.limits) }),
		}
	}
	return c.pairs[pair]
}

// leaves are those of a spec.
func (c *Comparer) leaves(s *models.Spec) func() *leaves {
	if c.read[s] == nil {
		c.read[s] = sync.OnceValue(func() *leaves { return read(s) })
	}
	return c.read[s]
}

// Comparison is two specs held against each other. What is asked of it is worked
// out once.
type Comparison struct {
	Old, New *models.Spec

	changes func() []Change
	rings   func() []models.Match
	sights  func() []Sight
}

// Compare holds two specs against each other alone.
func Compare(old, now *models.Spec) *Comparison { return (*Comparer)(nil).Compare(old, now) }

// Changes are what Specs lists.
func (c *Comparison) Changes() []Change { return c.changes() }

// SectionGroup is the group of what changed of a section that both specs have.
func (c *Comparison) SectionGroup(section string) Group {
	return c.groupAt(models.Segment{Key: "sections", Entry: section}, BlankOf(section))
}

// groupAt is the group of what changed under the first step of a path; otherwise where
// nothing did.
func (c *Comparison) groupAt(head models.Segment, otherwise Group) Group {
	for _, change := range c.Changes() {
		if change.Path[0] == head && change.Kind != Respelled {
			return change.Group
		}
	}
	return otherwise
}

// RingPairs pairs the rings of both specs as Changes does, from the tip.
func (c *Comparison) RingPairs() []models.Match { return c.rings() }

// Sights are what a customer sees changed.
func (c *Comparison) Sights() []Sight { return c.sights() }
