package diffing

import (
	"sync"

	"rodlore/models"
)

// Comparer compares the specs of a range. It reads a spec once for all that it is
// held against, as long as it is among those read last, and works out what there
// is to say of two specs once, however often it is asked. Several goroutines may
// use it at the same time. A nil Comparer remembers nothing.
type Comparer struct {
	limits StepLimits
	mu     sync.Mutex
	pairs  map[[2]*models.Spec]*Comparison
	last   []*readSpec // oldest first
}

// readSpec is a spec that was read.
type readSpec struct {
	spec *models.Spec
	read func() *leaves
}

// lastRead is how many specs stay read: those of a few steps of a history.
const lastRead = 8

// NewComparer makes one that holds what is seen against limits.
func NewComparer(l StepLimits) *Comparer {
	return &Comparer{limits: l, pairs: map[[2]*models.Spec]*Comparison{}}
}

// Compare holds two specs against each other. Nothing is worked out yet.
func (c *Comparer) Compare(old, now *models.Spec) *Comparison {
	if c == nil {
		return compare(old, now, onceRead(old), onceRead(now))
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	pair := [2]*models.Spec{old, now}
	if found := c.pairs[pair]; found != nil {
		return found
	}
	made := compare(old, now, c.reading(old), c.reading(now))
	made.limits = c.limits
	c.pairs[pair] = made
	return made
}

// reading is how a spec is read, which is forgotten when others have been.
func (c *Comparer) reading(s *models.Spec) func() *leaves {
	for _, r := range c.last {
		if r.spec == s {
			return r.read
		}
	}
	r := &readSpec{s, onceRead(s)}
	if len(c.last) == lastRead {
		c.last = c.last[1:]
	}
	c.last = append(c.last, r)
	return r.read
}

func onceRead(s *models.Spec) func() *leaves {
	return sync.OnceValue(func() *leaves { return read(s) })
}

// Comparison is two specs held against each other. What is asked of it is worked
// out once.
type Comparison struct {
	Old, New *models.Spec
	limits   StepLimits

	changes func() []Change
	rings   func() []models.Match
	sights  func() []Sight
}

// Compare holds two specs against each other alone.
func Compare(old, now *models.Spec) *Comparison { return (*Comparer)(nil).Compare(old, now) }

func compare(old, now *models.Spec, readOld, readNew func() *leaves) *Comparison {
	c := &Comparison{Old: old, New: now}
	c.changes = sync.OnceValue(func() []Change { return changes(old, now, readOld(), readNew()) })
	c.rings = sync.OnceValue(func() []models.Match { return ringPairs(readOld(), readNew()) })
	c.sights = sync.OnceValue(func() []Sight { return Visible(old, now, c.limits) })
	return c
}

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
