package say

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"rodlore/catalogue"
	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/evaluate/figures"
	"rodlore/models"
	"rodlore/models/units"
)

// Note says a note in its sentence. One that counts, by an argument n, has the
// forms that the language needs.
func (t Teller) Note(n evaluate.Note) string {
	var pairs []string
	for _, name := range slices.Sorted(maps.Keys(n.Args)) {
		pairs = append(pairs, name, t.argument(n.Args[name]))
	}
	if count, ok := n.Args["n"].(int); ok {
		return t.Count(n.Key, count, pairs...)
	}
	return t.Say(n.Key, pairs...)
}

// Notes says several notes.
func (t Teller) Notes(notes []evaluate.Note) []string {
	return Each(notes, t.Note)
}

// argument writes one value that a sentence is filled in with.
func (t Teller) argument(value any) string {
	switch v := value.(type) {
	case string:
		return v
	case int:
		return strconv.Itoa(v)
	case []string:
		return strings.Join(v, ", ")
	case evaluate.Note:
		return t.Note(v)
	case []evaluate.Note:
		return strings.Join(t.Notes(v), ", ")
	case catalogue.FigureName:
		return t.Name(string(v))
	case evaluate.Quantity:
		return t.WithTolerance(v.Key, v.Unit, v.Value, v.Deviation)
	case []evaluate.Quantity:
		return strings.Join(Each(v, func(q evaluate.Quantity) string { return t.argument(q) }), ", ")
	case evaluate.Thickness:
		return t.Thickness(float64(v))
	case catalogue.RodNumber:
		return t.RodName(string(v))
	case catalogue.Deviations:
		return units.Counts.Number(math.Abs(float64(v)), 1)
	case evaluate.Weakest:
		return t.Weakest(v)
	case catalogue.StepLimit:
		return t.Limit(diffing.Sight(v))
	case diffing.Sight:
		return t.Say("aspects.changed", "aspect", t.Aspect(v.Aspect), "change", cmp.Or(t.By(v), t.FromTo(v)))
	case models.Want:
		return t.Want(v)
	case evaluate.Wanted:
		return t.Rods(v)
	case error:
		return v.Error()
	case fmt.Stringer:
		return v.String()
	}
	panic(fmt.Sprintf("say: no words for a %T", value))
}

// Rods says what share of the rods built to a spec meets a want. No more than
// whole percents are known of it, and of a figure that is not counted never all
// or none.
func (t Teller) Rods(w evaluate.Wanted) string {
	switch {
	case math.IsNaN(w.Share):
		return t.Say("rods.unknown")
	case figures.Of(w.Figure).Exact && w.Share == 1:
		return t.Say("rods.all")
	case figures.Of(w.Figure).Exact:
		return t.Say("rods.none")
	case w.Share < 0.01:
		return t.Say("rods.hardly any")
	case w.Share > 0.99:
		return t.Say("rods.nearly all")
	}
	return fmt.Sprintf("%.0f %%", 100*w.Share)
}

// Shares says what is to be known of some shares.
func (t Teller) Shares(s *diffing.Shares) []string {
	var said []string
	if s.Orders > 0 {
		said = append(said, t.Count("shares.estimated", len(s.List), "orders", strconv.Itoa(s.Orders)))
	}
	for _, key := range s.Without {
		said = append(said, t.Say("shares.without", "figure", key))
	}
	return said
}
