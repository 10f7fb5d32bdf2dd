package evaluate

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"

	"rodlore/models"
	"rodlore/models/units"
)

// Block is what a spec says of the fit: all that the readings told of but the
// turn, which is the maker's and not the rod's, and how well that is known.
func (fit *Fit) Block(rod string, date models.Date) (*models.Fitted, error) {
	b := &models.Fitted{To: models.Word{Text: rod}, Date: date}
	var told []int
	for i, u := range fit.Parameters {
		if u.Told() && u.Free != FreeTurn {
			told = append(told, i)
			came(&b.Came, u, u.Value)
		}
	}
	if len(told) == 0 {
		return b, nil
	}
	covariance := mat.NewSymDense(len(told), nil)
	for i, k := range told {
		for j, l := range told[i:] {
			covariance.SetSym(i, i+j, fit.alone.At(k, l))
		}
	}
	parts, err := partsOf(covariance)
	for _, of := range parts {
		var part models.Came
		for i, k := range told {
			u := fit.Parameters[k]
			unit := u.Before // of the logarithm, where it is of a damping
			if u.Free == FreeDamping {
				unit *= 1 + u.Value
			}
			came(&part, u, of[i]*unit)
		}
		if !part.Empty() {
			b.KnownTo = append(b.KnownTo, part)
		}
	}
	return b, err
}

// partsOf takes what is not known apart into independent parts, the widest first,
// each by one standard deviation: the principal axes of the covariance. Parts that
// are known to a thousandth of what was known beforehand are left out.
func partsOf(covariance *mat.SymDense) (parts [][]float64, err error) {
	const least = 1e-3
	axes, deviations, err := axesOf(covariance)
	for k, deviation := range slices.Backward(deviations) {
		if deviation >= least {
			part := mat.Col(nil, k, axes)
			floats.Scale(deviation, part)
			parts = append(parts, part)
		}
	}
	return parts, err
}

// came adds a parameter to how a rod came out, where it is not nothing as written.
func came(c *models.Came, u Parameter, v float64) {
	of := models.Word{Text: u.Section}
	share, length := models.Fraction(v), models.Millimetres(units.Length(v))
	switch u.Free {
	case FreeModulus:
		if share.Value != 0 {
			c.Modulus = append(c.Modulus, models.OfSection[units.Share]{Section: of, By: share})
		}
	case FreeWall:
		if length.Value != 0 {
			c.Wall = append(c.Wall, models.OfSection[units.Length]{Section: of, By: length})
		}
	case FreeBonding:
		if share.Value != 0 {
			c.FootBonding = share
		}
	case FreeDamping:
		if share.Value != 0 {
			c.Damping = share
		}
	}
}

// SameBlank reports whether two specs are built on the same blank, so that what
// was fitted to a rod of one holds for the other.
func SameBlank(a, b *models.Spec) bool {
	if len(a.Sections) != len(b.Sections) {
		return false
	}
	for i := range a.Sections {
		if a.Sections[i].Name.Text != b.Sections[i].Name.Text || blankID(a, i) != blankID(b, i) {
			return false
		}
	}
	return true
}

// Deviations is how many standard deviations a reading lies off a figure, those
// of the reading and of the figure's tolerance taken together.
func (f Figure) Deviations(reading, deviation float64) float64 {
	return (reading - f.Value) / math.Hypot(deviation, f.Tolerance)
}
