package evaluate

import (
	"maps"
	"sync"

	"rodlore/evaluate/beam"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// trials work out rods that came out a little otherwise than their spec says,
// each from the bends of the spec itself.
type trials struct {
	spec      *models.Spec
	set       *models.Settings
	rod       *rod
	solved    *cases
	values    values
	modes     []beam.Mode
	half      float64 // the half turn, from the clamp
	strained  []int   // the stretches that the worst strain may be on
	limit     limitParts
	stretches []int // of the spec
	mesh      *lumping
	base      composition // of the spec, as trials are read
	fine      composition // of the spec, as it is worked out
	solvers   sync.Pool   // that no trial uses
}

// newTrials starts from a rod that was worked out.
func newTrials(w *worked, set *models.Settings) (*trials, error) {
	t := &trials{spec: w.rod.spec, set: set, rod: w.rod, solved: w.solved}
	p, solved, v, err := t.workOut(w.rod)
	if err != nil {
		return nil, err
	}
	t.stretches = w.rod.stretches()
	t.solved, t.values, t.modes, t.half = solved, v, p.modes, 1-w.values["half-turn"]
	if solved.test != nil {
		t.strained = highest(p.peaks(solved.test, (*cross).strain)[0])
	}
	if solved.limit != nil {
		t.limit = p.limitParts(solved.limit)
	}
	t.base, t.fine = t.compose(p, v, solved), t.compose(w.pass, w.values, w.fine)
	return t, nil
}

// trialStep is the last step of Newton's method in a trial, which starts from
// the bend of the spec: what is left after it is about its square, far less than
// an input that takes a step as long does.
const trialStep = 1e-3

// newPass lumps a rod for a trial.
func (t *trials) newPass(r *rod) (*pass, error) {
	mesh, err := r.lumped(t.mesh)
	if err != nil {
		return nil, err
	}
	if t.mesh == nil {
		t.mesh = mesh
	}
	p := &pass{rod: r, set: t.set, beam: mesh.Rod, trial: t}
	if spare, ok := t.solvers.Get().(*beam.Solver); ok {
		p.solver = spare
		p.solver.TakeUp(mesh.Rod)
	} else {
		p.solver = beam.NewSolver(mesh.Rod)
	}
	if t.base != nil {
		p.solver.LastStep = trialStep
	}
	return p, nil
}

// workOut solves the cases of a rod and reads its figures.
func (t *trials) workOut(r *rod) (*pass, *cases, values, error) {
	p, err := t.newPass(r)
	if err != nil {
		return nil, nil, nil, err
	}
	solved, _ := p.solve(t.solved)
	v, err := p.read(solved)
	for key, value := range r.count() {
		v[key] = value
	}
	return p, solved, v, err
}

// read works out a build on which that input came out otherwise, as far as it acts.
func (t *trials) read(b *build, in perturbation) (composition, error) {
	r, err := assembleLike(t.rod, t.spec, t.set, b)
	switch {
	case err != nil:
		return nil, err
	case in.weightsOnly:
		return t.weighed(r), nil
	case in.ID.Kind == HoopInput:
		return t.walled(r)
	}
	p, solved, v, err := t.workOut(r)
	if err != nil {
		return nil, err
	}
	defer t.solvers.Put(p.solver)
	return t.compose(p, v, solved), nil
}

// weighed reads what does not hang on how the rod bends and swings, and takes
// the rest from the spec.
func (t *trials) weighed(r *rod) composition {
	parts := maps.Clone(t.base)
	for key, value := range r.count() {
		if kind := figures.Of(key); kind.Compose == nil && !kind.Exact {
			parts[key] = []float64{value}
		}
	}
	if recovery, ok := t.values["recovery"]; ok {
		parts["settle"] = []float64{recovery, r.damping(t.set)}
	}
	return parts
}

// walled reads what hangs on how soon a wall buckles, and takes the rest from the
// spec.
func (t *trials) walled(r *rod) (composition, error) {
	p, err := t.newPass(r)
	if err != nil {
		return nil, err
	}
	defer t.solvers.Put(p.solver)
	parts := maps.Clone(t.base)
	delete(parts, "load-limit")
	if limit, err := p.limitCase(nil, t.solved.limit); err == nil {
		parts["load-limit"] = t.limit.loads(p, limit)
	}
	return parts, nil
}
