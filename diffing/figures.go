package diffing

import (
	"math"

	"rodlore/evaluate"
	"rodlore/models"
)

// Shift is one figure on both sides of a comparison.
type Shift struct {
	Key, Unit string
	Old, New  *evaluate.Figure // nil on the side that lacks it
	Change    float64          // New − Old, in Unit; NaN where a side lacks it
	Error     float64          // bound on the numerical error of Change, in Unit
	Noticed   float64          // the least change that an angler notices, in Unit; 0 where any is noticed
	// Pairs are rods built to the two specs.
	Pairs *evaluate.Pairs
}

// InPairs is what the change comes to in rods built to the two specs; NaN all of it where
// that is not known.
func (s Shift) InPairs() evaluate.Change { return s.Pairs.Change(s.Key) }

// Tolerance is how far the change scatters from one pair of rods to the next: one
// standard deviation, in Unit; NaN where that is not known.
func (s Shift) Tolerance() float64 { return s.InPairs().Tolerance }

// Mean is the change in rods built to the two specs, on average, in Unit; NaN where
// that is not known.
func (s Shift) Mean() float64 { return s.InPairs().Mean }

// Aside reports whether rods as they are built differ on average by clearly more or
// less than such as come out exactly by their specs: by more than half a tolerance.
func (s Shift) Aside() bool { return s.Both() && math.Abs(s.Mean()-s.Change) > s.Tolerance()/2+s.Error }

// Find is what became of one figure; a Shift of no number where it is not among shifts.
func Find(shifts []Shift, key string) (s Shift, ok bool) {
	for _, s := range shifts {
		if s.Key == key {
			return s, true
		}
	}
	return Shift{Change: math.NaN()}, false
}

// Both reports whether both sides have the figure.
func (s Shift) Both() bool { return s.Old != nil && s.New != nil }

// Changed reports whether the figure differs by more than its numerical error,
// or stands on one side only.
func (s Shift) Changed() bool { return !s.Both() || math.Abs(s.Change) > s.Error }

// Percent is the change as a share of the old value, in percent; NaN where it
// has none, as from zero.
func (s Shift) Percent() float64 {
	if !s.Both() || s.Old.Value == 0 {
		return math.NaN()
	}
	return 100 * s.Change / math.Abs(s.Old.Value)
}

// Figures pairs two sets of figures by key, in the order of the new set with
// what only the old one has behind. Settings, which may be nil, say what an angler
// notices.
func Figures(old, now *evaluate.Figures, set *models.Settings) []Shift {
	var shifts []Shift
	pairs := evaluate.NewPairs(old, now)
	for i := range now.List {
		b := &now.List[i]
		s := Shift{Key: b.Key, Unit: b.Unit, New: b, Change: math.NaN(), Error: b.Error, Pairs: pairs}
		if a, ok := old.Get(b.Key); ok {
			s.Old, s.Change, s.Error = &a, b.Value-a.Value, a.Error+b.Error
			s.Noticed = set.NoticedOf(b.Key, a.Value)
		}
		shifts = append(shifts, s)
	}
	for i := range old.List {
		a := &old.List[i]
		if _, ok := now.Get(a.Key); !ok {
			shifts = append(shifts, Shift{Key: a.Key, Unit: a.Unit, Old: a, Change: math.NaN(), Error: a.Error})
		}
	}
	return shifts
}
