package evaluate

import (
	"fmt"
	"math"

	"rodlore/models"
	"rodlore/models/units"
)

// Block is what a spec says of the fit: all that the readings told of but the
// turn, which is the maker's and not the rod's.
func (fit *Fit) Block(rod string, date models.Date) *models.Fitted {
	b := &models.Fitted{To: models.Word{Text: rod}, Date: date}
	for _, u := range fit.Unknowns {
		of := models.Word{Text: u.Section}
		switch {
		case !u.Told():
		case u.Free == FreeModulus:
			b.Modulus = append(b.Modulus, models.OfSection[units.Share]{Section: of, By: models.Fraction(u.Value)})
		case u.Free == FreeWall:
			b.Wall = append(b.Wall, models.OfSection[units.Length]{Section: of, By: models.Millimetres(units.Length(u.Value))})
		case u.Free == FreeBonding:
			b.FootBonding = models.Fraction(u.Value)
		case u.Free == FreeDamping:
			b.Damping = models.Fraction(u.Value)
		}
	}
	return b
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

// fittedNote says what the figures were fitted to; "" where to nothing.
func fittedNote(f *models.Fitted) string {
	if f == nil {
		return ""
	}
	return fmt.Sprintf("fitted to %s, %s: worked out with what that rod taught, and not by the spec's dimensions alone", f.To, f.Date.Text)
}

// Deviations is how many standard deviations a reading lies off a figure, those
// of the reading and of the figure's tolerance taken together.
func (f Figure) Deviations(reading, deviation float64) float64 {
	return (reading - f.Value) / math.Hypot(deviation, f.Tolerance)
}
