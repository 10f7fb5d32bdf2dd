package say

import (
	"math"
	"strconv"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
	"rodlore/models/units"
)

// Teller tells of the figures of one rod.
type Teller struct {
	*Words
	figures.Display
	Unlike bool // compares nothing with things at hand
}

// Teller tells in these words of the rods of a range with those settings.
func (w *Words) Teller(set *models.Settings) Teller { return Teller{Words: w, Display: w.Display(set)} }

// Narrow is the teller where there is no room for two systems of units.
func (t Teller) Narrow() Teller {
	t.Display = t.Display.Single("")
	return t
}

// Name is what a figure is called.
func (w *Words) Name(key string) string { return w.Say("names." + key) }

// Meaning says a figure's value in a sentence that tells what it is.
func (w *Words) Meaning(key, value string) string { return w.Say("meanings."+key, "value", value) }

// Figure says a figure in a sentence that tells what it is, and what is to be said
// with it.
func (t Teller) Figure(f evaluate.Figure) string {
	said := t.Meaning(f.Key, t.Supported(f.Key, f.Unit, f.Value, f.Tolerance))
	if f.Aside.Key != "" {
		said += " " + t.Note(f.Aside)
	}
	return said
}

// Way is what became of a figure, as the paths of its sentences have it: up, down or
// same; "" where the numbers cannot tell, and there is nothing to say.
func Way(s diffing.Shift) string {
	switch answer := s.Answer(); {
	case answer == diffing.Same:
		return "same"
	case answer != diffing.Changed:
		return ""
	case s.Change > 0:
		return "up"
	}
	return "down"
}

// Shows reports whether the figure changed, and by enough for the digits that it
// is shown with. What is on one side only has no change to tell.
func (t Teller) Shows(s diffing.Shift) bool {
	return s.Answer() == diffing.Changed && t.Display.Shows(s.Key, s.Unit, s.Change, s.New.Value) &&
		!t.Same(s.Key, s.Unit, s.Old.Value, s.New.Value)
}

// Felt reports whether a change that shows is one percent or more, or what an
// angler notices. What is less nobody would notice on the water (common practice,
// no source).
func (t Teller) Felt(s diffing.Shift) bool {
	const least = 1
	return t.Shows(s) && (!(math.Abs(s.Percent()) < least) || // from nothing there is no percentage
		math.Abs(s.Change) > s.Noticed)
}

// Shift says in a sentence what became of a figure that both sides have; "" where
// the numbers cannot tell. Of a change by design that not nearly every pair of rods
// shows it says how many do.
func (t Teller) Shift(s diffing.Shift) string {
	path := "shifts." + s.Key + "." + Way(s)
	switch answer := s.Answer(); {
	case answer == diffing.Same:
		return t.Say(path)
	case answer != diffing.Changed:
		return ""
	}
	alike := t.Alike(s.Old.Value, s.New.Value)
	said := t.Say(path,
		"old", alike.Value(s.Key, s.Unit, s.Old.Value), "new", alike.Value(s.Key, s.Unit, s.New.Value),
		"change", t.change(s), "percent", t.percent(s), "like", t.like(s), "weakest", t.Weakest(s.New.Weakest))
	if s.ByDesign() {
		said = t.Say("often.design", "change", said, "pairs", t.Often(s))
	}
	return said
}

// Weakest says what of a blank fails first, and where; "" where nothing is to fail.
func (t Teller) Weakest(w evaluate.Weakest) string {
	if w.By == "" {
		return ""
	}
	return t.Say("weakest."+string(w.By), "place", t.Value("", "m", w.At))
}

// LimitOf says a load limit and what fails first at it.
func (t Teller) LimitOf(limit string, w evaluate.Weakest) string {
	if w.By == "" {
		return limit
	}
	return t.Say("weakest.of", "limit", limit, "weakest", t.Weakest(w))
}

// shares are how often something shows, as one would say it, the most often first.
var shares = []struct {
	of   float64
	path string
}{
	{0.95, "nineteen of twenty"}, {0.9, "nine of ten"}, {0.8, "four of five"}, {0.75, "three of four"}, {2.0 / 3, "two of three"},
}

// Often says in how many pairs of an old rod and a new one a change shows: in at
// least as many as that.
func (t Teller) Often(s diffing.Shift) string {
	for _, share := range shares {
		if s.Often() >= share.of {
			return t.Say("often." + share.path)
		}
	}
	return t.Say("often.more than half")
}

// Decide says what would decide whether a figure changed, of which the numbers
// cannot tell it.
func (t Teller) Decide(s diffing.Shift) string {
	in, ok := s.Pairs.Widest(s.Key)
	switch n, few := s.Rods(); {
	case ok && in.ID.Kind == evaluate.KnownInput && in.ID.Of != "":
		return t.Say("decide.blank")
	case ok && in.ID.Kind == evaluate.KnownInput:
		return t.Say("decide.fitted")
	case few && figures.Of(s.Key).In&figures.Read != 0:
		return t.Say("decide.measure", "figure", t.Name(s.Key), "n", strconv.Itoa(n))
	case ok:
		return t.Say("decide.input", "input", t.Note(in.Name))
	}
	return t.Say("decide.unknown")
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

// Want says the limits of a want.
func (t Teller) Want(w models.Want) string {
	limit := func(v float64) string {
		if math.IsInf(v, 0) {
			return ""
		}
		return t.Bound(w.Figure, figures.Of(w.Figure).Unit, v)
	}
	return t.within(limit(w.Min), limit(w.Max))
}

// Casts says what a rod casts.
func (t Teller) Casts(r models.Range[units.Mass]) string {
	return t.within(t.Written(r.Min.Quantity()), t.Written(r.Max.Quantity()))
}

// within says two limits, either of which may be "" for none.
func (t Teller) within(least, most string) string {
	switch {
	case least == most:
		return least
	case least == "":
		return t.Say("wanted.most", "most", most)
	case most == "":
		return t.Say("wanted.least", "least", least)
	}
	return t.Say("wanted.within", "least", least, "most", most)
}

// Wanted says how a want stands.
func (t Teller) Wanted(w evaluate.Wanted) string {
	how := "missed"
	switch {
	case !w.Known:
		how = "unknown"
	case w.Met:
		how = "met"
	}
	value := t.LimitOf(t.Value(w.Figure, w.Unit, w.Value), w.Weakest)
	return t.Say("wanted."+how, "figure", t.Name(w.Figure), "wanted", t.Want(w.Want), "value", value)
}
