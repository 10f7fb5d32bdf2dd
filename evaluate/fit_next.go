package evaluate

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"rodlore/evaluate/optim"
	"rodlore/models"
)

// Next is a measurement that could be made next.
type Next struct {
	Reading
	Know float64 // standard deviation that the figure would then be known to
}

// mostNext is how many measurements are offered.
const mostNext = 3

// lookAhead works out how well the rod's figure is known, and which further
// reading would make that better by most: that of the largest (gᵀPh)²/(u²+hᵀPh)
// (sequential experimental design for one number; Fedorov 1972, Theory of
// Optimal Experiments, chapter 4; from memory). P is the covariance of all that
// is not known of the rod, h and g the derivatives of the reading, whose
// deviation is u, and of the figure.
func (f *fitting) lookAhead(fit *Fit, at *optim.Minimum) error {
	ahead := bench{spec: f.spec, set: f.set, readings: candidates(f.spec, f.set)}
	read := func(b *build) ([]float64, error) {
		values, err := ahead.read(b)
		if err != nil {
			return nil, err
		}
		v, err := f.figure(b, fit.For)
		return append(values, v), err
	}
	n := len(ahead.readings) + 1
	expected, err := ahead.read(f.asSpecified()) // the rest begins with its bends
	if err != nil {
		return err
	}
	for i := range ahead.readings {
		r := &ahead.readings[i]
		r.Deviation, r.Unit = models.UsualDeviation(r.What, expected[i])
	}
	scatter, err := f.probeOthers(read, n)
	if err != nil {
		return err
	}
	moves, err := optim.Jacobian(func(x []float64) ([]float64, error) { return read(f.came(x)) }, at.X, n, fitStep)
	if err != nil {
		return err
	}
	var all, known mat.Dense
	all.Augment(moves, scatter)
	known.Augment(f.moves(at), f.scatter)
	p, err := f.posterior(&known)
	if err != nil {
		return err
	}
	fit.rank(ahead.readings, &all, p)
	return nil
}

// posterior is the covariance, after the readings, of what moves them so, each in its
// tolerance.
func (f *fitting) posterior(moves *mat.Dense) (*mat.SymDense, error) {
	var j mat.Dense
	j.CloneFrom(moves)
	for i, r := range f.readings {
		row := j.RowView(i).(*mat.VecDense)
		row.ScaleVec(1/r.Deviation, row)
	}
	_, n := j.Dims()
	information := mat.NewSymDense(n, nil)
	information.SymOuterK(1, j.T())
	for k := range n {
		information.SetSym(k, k, information.At(k, k)+1)
	}
	var chol mat.Cholesky
	if !chol.Factorize(information) {
		return nil, errors.New("what the readings tell cannot be weighed")
	}
	var p mat.SymDense
	return &p, chol.InverseTo(&p)
}

// rank finds the readings that help most. all holds the derivatives of the
// candidates and, in its last row, those of the figure.
func (fit *Fit) rank(candidates []Reading, all *mat.Dense, p *mat.SymDense) {
	g := all.RowView(len(candidates))
	fit.Know = math.Sqrt(mat.Inner(g, p, g))
	for i, c := range candidates {
		h := all.RowView(i)
		shared := mat.Inner(g, p, h)
		left := fit.Know*fit.Know - shared*shared/(c.Deviation*c.Deviation+mat.Inner(h, p, h))
		fit.Next = append(fit.Next, Next{c, math.Sqrt(math.Max(left, 0))})
	}
	slices.SortStableFunc(fit.Next, func(a, b Next) int { return cmp.Compare(a.Know, b.Know) })
	fit.Next = fit.Next[:min(mostNext, len(fit.Next))]
}

// figure is a figure of a rod that came out so.
func (f *fitting) figure(came *build, key string) (float64, error) {
	r, err := assembleLike(nil, f.spec, f.set, came)
	if err != nil {
		return 0, err
	}
	if v, ok := r.count()[key]; ok {
		return v, nil
	}
	mesh, err := r.free(coarseElements)
	if err != nil {
		return 0, err
	}
	p := newPass(r, f.set, mesh)
	if key == "third-load" { // asked for most, and had for less than all of them
		sh, err := p.solver.BendToDrop(hung(0), p.beam.Length()/3)
		if err != nil {
			return 0, err
		}
		return sh.Load.Force, nil
	}
	solved, _ := p.solve(nil)
	v, err := p.read(solved)
	if err != nil {
		return 0, err
	}
	value, ok := v[key]
	if !ok {
		return 0, fmt.Errorf("%s: it has no figure %q", f.spec.Name, key)
	}
	return value, nil
}

// candidates are the measurements that a small workshop could make of a rod,
// with what can be expected of them.
func candidates(s *models.Spec, set *models.Settings) []Reading {
	hungLoad := float64(set.BenchLoad.Value)
	free := s.TotalLength() - s.HeldTo()
	list := []Reading{
		{What: models.WeightMeasure}, {What: models.BalanceMeasure},
		{What: models.DropMeasure, load: hungLoad},
		{What: models.DropMeasure, load: hungLoad, at: math.Round(free/3*100) / 100},
		{What: models.DropMeasure, load: hungLoad, at: math.Round(free/1.5*100) / 100},
		{What: models.ThirdLoadMeasure}, {What: models.TestCurveMeasure},
		{What: models.CountMeasure, during: 10}, {What: models.SettleMeasure},
	}
	for _, section := range s.Sections {
		if len(s.Sections) > 1 {
			list = append(list, Reading{What: models.WeightMeasure, Section: section.Name.Text},
				Reading{What: models.BalanceMeasure, Section: section.Name.Text})
		}
		list = append(list, Reading{What: models.PendulumMeasure, Section: section.Name.Text, swings: 20, pivot: 0.02})
	}
	for i := range list {
		list[i].Figure = list[i].figure(set)
	}
	return list
}
