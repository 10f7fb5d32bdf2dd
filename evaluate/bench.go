package evaluate

import (
	"cmp"
	"fmt"
	"math"

	"rodlore/evaluate/beam"
	"rodlore/models"
)

// bench works out what readings come to on rods of one spec.
type bench struct {
	spec     *models.Spec
	set      *models.Settings
	readings []Reading
	bends    map[benchLoad]*beam.Shape // of the spec itself, to start from
}

// benchLoad is what bends the rod for a reading: a load hung from the tip ring,
// or what brings it to a third or to the test curve.
type benchLoad struct {
	what models.Measure
	load float64
}

// read gives the readings of a rod that came out so.
func (b *bench) read(came *build) ([]float64, error) {
	r, err := assembleLike(nil, b.spec, b.set, came)
	if err != nil {
		return nil, err
	}
	mesh, err := r.free(coarseElements)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", b.spec.Name, err)
	}
	on := &benchRod{pass: newPass(r, b.set, mesh), from: b.bends, bends: map[benchLoad]*beam.Shape{}}
	values := make([]float64, len(b.readings))
	for i := range b.readings {
		if values[i], err = on.read(&b.readings[i]); err != nil {
			return nil, fmt.Errorf("%s: %s of the %s: %w", b.spec.Name, b.readings[i].What, cmp.Or(b.readings[i].Section, "rod"), err)
		}
	}
	if b.bends == nil {
		b.bends = on.bends
	}
	return values, nil
}

// leastArm is the least distance from pivot to balance that anybody would swing a
// piece by, m.
const leastArm = 0.02

// benchRod is one rod at the bench.
type benchRod struct {
	*pass
	from, bends map[benchLoad]*beam.Shape
	recovery    float64 // Hz; 0 before it is asked for
}

// read gives one reading.
func (b *benchRod) read(r *Reading) (float64, error) {
	switch r.What {
	case models.WeightMeasure:
		return b.taken(r).mass, nil
	case models.BalanceMeasure:
		return b.taken(r).balance(), nil
	case models.PendulumMeasure:
		l := b.taken(r)
		if math.Abs(l.balance()-r.pivot) < leastArm {
			return 0, fmt.Errorf("it balances at %.0f mm, too near the pivot to swing; hang it from nearer an end", 1e3*l.balance())
		}
		return r.swings * l.period(r.pivot), nil
	case models.CountMeasure:
		f, err := b.naturalFrequency()
		return f * r.during, err
	case models.SettleMeasure:
		f, err := b.naturalFrequency()
		return b.rod.settle(f, b.set), err
	}
	sh, err := b.bent(r)
	if err != nil {
		return 0, err
	}
	switch r.What {
	case models.DropMeasure:
		return sh.At(b.beam.Length() - r.at).Y, nil
	case models.TraceMeasure:
		return distance(sh, r.x, r.y), nil
	}
	return sh.Load.Force, nil
}

// taken is what lies on the balance.
func (b *benchRod) taken(r *Reading) loose {
	if r.Section == "" {
		return b.rod.wholeRod()
	}
	return b.rod.section(b.rod.spec.SectionIndex(r.Section))
}

// naturalFrequency is the first of the rod, held as for the bends.
func (b *benchRod) naturalFrequency() (float64, error) {
	if b.recovery == 0 {
		modes, err := b.beam.Modes(1)
		if err != nil {
			return 0, err
		}
		b.recovery = modes[0].Frequency
	}
	return b.recovery, nil
}

// bent is the rod as it is bent for a reading.
func (b *benchRod) bent(r *Reading) (*beam.Shape, error) {
	key := benchLoad{r.What, r.load}
	if r.What == models.TraceMeasure {
		key.what = models.DropMeasure // by the same load
	}
	if sh := b.bends[key]; sh != nil {
		return sh, nil
	}
	if sh := b.from[key]; sh != nil {
		b.solver.StartFrom(sh)
	}
	var sh *beam.Shape
	var err error
	switch key.what {
	case models.ThirdLoadMeasure:
		sh, err = b.solver.BendToDrop(hung(0), b.beam.Length()/3)
	case models.TestCurveMeasure:
		sh, err = b.bendToTestCurve()
	default:
		sh, err = b.solver.Bend(hung(r.load))
	}
	b.bends[key] = sh
	return sh, err
}

// distance is how far a point lies off the bent rod, m, positive on its hollow
// side: from the nearest node on, along the tangent to where it stands square.
func distance(sh *beam.Shape, x, y float64) float64 {
	nearest, best := 0.0, math.Inf(1)
	for i, s := range sh.S {
		if d := math.Hypot(sh.X[i]-x, sh.Y[i]-y); d < best {
			nearest, best = s, d
		}
	}
	p := sh.At(nearest)
	for range 8 {
		along := (x-p.X)*math.Cos(p.Turn) + (y-p.Y)*math.Sin(p.Turn)
		p = sh.At(p.S + along)
	}
	return (y-p.Y)*math.Cos(p.Turn) - (x-p.X)*math.Sin(p.Turn)
}
