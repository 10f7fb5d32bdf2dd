package catalogue

import (
	"context"
	"math"
	"slices"

	"rodlore/evaluate"
	"rodlore/models"
)

// Drift is what of a release today's rodlore works out otherwise than it was
// released with, though nobody edited the rod.
type Drift struct {
	Label   string
	Figures []Drifted
	Why     []Note // what is not as it was
}

// Drifted is one figure that is worked out otherwise.
type Drifted struct {
	Key  string  `json:"key"`
	Unit string  `json:"unit"`
	Then float64 `json:"then"`
	Now  float64 `json:"now"`
	// Weakest is what fails first today, of a load limit.
	Weakest evaluate.Weakest `json:"-"`
}

// notedDigits is half a digit of the last place that a note has, at most, as a
// share of the figure.
const notedDigits = 5e-6

// drifts holds the releases of a revision against their figures of today. A release
// that comes out as it was has none.
func (c *Comparisons) drifts(ctx context.Context, rev *Revision, set *models.Settings) ([]Drift, error) {
	if len(rev.releases) == 0 {
		return nil, nil
	}
	l, err := c.lineage(rev.Model)
	if err != nil {
		return nil, err
	}
	var out []Drift
	for _, t := range rev.releases {
		note, ok := readReleaseNote(t.tag.Message)
		then := l.as(c.specs, l.placeOf(t.tag.State))
		if !ok || then == nil {
			continue
		}
		now, err := c.FiguresWithTolerances(ctx, then)
		if err != nil {
			return nil, err
		}
		if figures := note.drifted(now); len(figures) > 0 {
			out = append(out, Drift{Label: t.label, Figures: figures, Why: note.why(then, now, set)})
		}
	}
	return out, nil
}

// drifted are the figures that differ by more than the numerical error, of then
// and of now, and the digits noted.
func (n *releaseNote) drifted(now *evaluate.Figures) []Drifted {
	var out []Drifted
	for _, then := range n.figures {
		f, ok := now.Get(then.Key)
		if ok && f.Unit == then.Unit && math.Abs(f.Value-then.Value) > 2*f.Error+notedDigits*math.Abs(then.Value) {
			out = append(out, Drifted{f.Key, f.Unit, then.Value, f.Value, f.Weakest})
		}
	}
	return out
}

// why lists what the figures hang on besides the maker's spec and is not as it
// was.
func (n *releaseNote) why(rev *Revision, now *evaluate.Figures, set *models.Settings) []Note {
	var why []Note
	if n.method != now.Method {
		why = append(why, note("drift.method", "old", n.method, "new", now.Method))
	}
	if n.revision != rev.identity(n.scheme) {
		why = append(why, otherSpec(rev.Spec()))
	}
	for _, c := range evaluate.Conditions(set) {
		i := slices.IndexFunc(n.conditions, func(then evaluate.Condition) bool { return then.Name == c.Name })
		if i >= 0 && n.conditions[i].Text != c.Text {
			why = append(why, note("drift.settings", "name", c.Name, "old", n.conditions[i].Text, "new", c.Text))
		}
	}
	if len(why) == 0 {
		why = append(why, note("drift.other"))
	}
	return why
}

// otherSpec is why the same files give another spec.
func otherSpec(s *models.Spec) Note {
	builtin := builtinMaterials(s)
	if len(builtin) == 0 {
		return note("drift.spec")
	}
	return note("drift.materials", "materials", builtin)
}

// builtinMaterials are those that a spec uses, which may be nil, sorted.
func builtinMaterials(s *models.Spec) []string {
	var builtin []string
	if s == nil {
		return nil
	}
	for name, m := range s.Materials {
		if m.Builtin {
			builtin = append(builtin, name)
		}
	}
	slices.Sort(builtin)
	return builtin
}
