package say

import (
	"math"

	"rodlore/diffing"
	"rodlore/evaluate/figures"
	"rodlore/models"
)

// Teller tells of the figures of one rod.
type Teller struct {
	*Words
	figures.Display
	// Ring is the mean mass of the rod's rings, kg, to compare with; 0 where
	// there is nothing to compare with.
	Ring float64
}

// Teller tells in these words of the rods of a range with those settings.
func (w *Words) Teller(set *models.Settings) Teller { return Teller{Words: w, Display: w.Display(set)} }

// Name is what a figure is called.
func (w *Words) Name(key string) string { return w.Say("names." + key) }

// Meaning says a figure's value in a sentence that tells what it is.
func (w *Words) Meaning(key, value string) string { return w.Say("meanings."+key, "value", value) }

// Direction is what became of a figure.
type Direction string

const (
	Up   Direction = "up"
	Down Direction = "down"
	Same Direction = "same" // no real change
)

// DirectionOf is what became of a figure. One of which it is not known whether
// the change is real has changed, since nothing says that it has not.
func DirectionOf(s diffing.Shift) Direction {
	switch {
	case s.Real() == diffing.NotReal || !s.Both():
		return Same
	case s.Change > 0:
		return Up
	}
	return Down
}

// Shows reports whether the figure changed really, and by enough for the digits
// that it is shown with. What is on one side only has no change to tell.
func (t Teller) Shows(s diffing.Shift) bool {
	return DirectionOf(s) != Same && t.Display.Shows(s.Key, s.Unit, s.Change, s.New.Value) &&
		t.Value(s.Key, s.Unit, s.Old.Value) != t.Value(s.Key, s.Unit, s.New.Value)
}

// Felt reports whether a change that shows is one percent or more. What is less
// nobody would notice on the water (common practice, no source).
func (t Teller) Felt(s diffing.Shift) bool {
	const least = 1
	return t.Shows(s) && !(math.Abs(s.Percent()) < least) // from nothing there is no percentage
}

// Shift says in a sentence what became of a figure that both sides have.
func (t Teller) Shift(s diffing.Shift) string {
	path := "shifts." + s.Key + "." + string(DirectionOf(s))
	if DirectionOf(s) == Same {
		return t.Say(path)
	}
	return t.Say(path,
		"old", t.Value(s.Key, s.Unit, s.Old.Value), "new", t.Value(s.Key, s.Unit, s.New.Value),
		"change", t.change(s), "percent", t.percent(s), "like", t.like(s))
}

// percent is the size of a change as a share, to as many digits as one would say.
func (t Teller) percent(s diffing.Shift) string {
	share := math.Abs(s.Percent()) / 100
	return t.Supported("", "1", share, share/5)
}

// change is the size of a change, to the decimals of the figure.
func (t Teller) change(s diffing.Shift) string {
	return t.Size(s.Key, s.Unit, s.Change, s.New.Value)
}
