package evaluate

import (
	"fmt"
	"sync"

	"rodlore/evaluate/beam"
	"rodlore/models"
)

// Rod is the rod of a spec by a range's settings. It is laid out and meshed when
// something is first asked of it, once; a spec that gives no rod shows as an error
// of whatever was asked. Several goroutines may use it at the same time.
type Rod struct {
	spec *models.Spec
	set  *models.Settings
	lay  func() (*rod, error)
	mesh func() (meshes, error)
}

// meshes are the rod on the mesh that figures are worked out on first, and on the
// halved one that they are read from.
type meshes struct {
	*rod
	coarse, fine *beam.Rod
}

// New gives the rod of a spec.
func New(s *models.Spec, set *models.Settings) *Rod {
	lay := sync.OnceValues(func() (*rod, error) { return assemble(s, set) })
	return &Rod{s, set, lay, sync.OnceValues(func() (meshes, error) {
		r, err := lay()
		if err != nil {
			return meshes{}, err
		}
		coarse, err := r.free(coarseElements)
		if err != nil {
			return meshes{}, fmt.Errorf("%s: %w", s.Name, err)
		}
		return meshes{r, coarse, coarse.Refined()}, nil
	})}
}

// Rods are the rods of specs by one range's settings, each laid out and meshed
// once. Several goroutines may use them at the same time.
type Rods struct {
	set *models.Settings
	mu  sync.Mutex
	all map[*models.Spec]*Rod
}

// mostRods are kept at a time, which bounds the memory that meshes take; a page
// shows fewer.
const mostRods = 64

// NewRods gives the rods of a range.
func NewRods(set *models.Settings) *Rods { return &Rods{set: set, all: map[*models.Spec]*Rod{}} }

// Of is the rod of a spec, which must not change any more.
func (r *Rods) Of(s *models.Spec) *Rod {
	r.mu.Lock()
	defer r.mu.Unlock()
	rod, ok := r.all[s]
	if !ok {
		if len(r.all) == mostRods {
			clear(r.all)
		}
		rod = New(s, r.set)
		r.all[s] = rod
	}
	return rod
}
