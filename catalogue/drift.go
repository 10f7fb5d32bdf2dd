package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"rodlore/evaluate"
	"rodlore/models"
)

// Drift is what of a release today's rodlore works out otherwise than it was
// released with, though nobody edited the rod.
type Drift struct {
	Label   string
	Figures []Drifted
	Why     []string // what is not as it was
}

// Drifted is one figure that is worked out otherwise.
type Drifted struct {
	Key, Unit string
	Then, Now float64
}

// notedDigits is half a digit of the last place that a note has, at most, as a
// share of the figure.
const notedDigits = 5e-6

// drifts holds the releases of a revision against its figures of today. A
// release that comes out as it was has none.
func drifts(rev *Revision, now *evaluate.Figures, set *models.Settings) []Drift {
	var out []Drift
	for _, t := range rev.releases {
		note, ok := readReleaseNote(t.tag.Message)
		if !ok {
			continue
		}
		if figures := note.drifted(now); len(figures) > 0 {
			out = append(out, Drift{Label: t.label, Figures: figures, Why: note.why(rev, now, set)})
		}
	}
	return out
}

// drifted are the figures that differ by more than the numerical error, of then
// and of now, and the digits noted.
func (n *releaseNote) drifted(now *evaluate.Figures) []Drifted {
	var out []Drifted
	for _, then := range n.figures {
		f, ok := now.Get(then.Key)
		if ok && f.Unit == then.Unit && math.Abs(f.Value-then.Value) > 2*f.Error+notedDigits*math.Abs(then.Value) {
			out = append(out, Drifted{Key: f.Key, Unit: f.Unit, Then: then.Value, Now: f.Value})
		}
	}
	return out
}

// why lists what the figures hang on besides the maker's spec and is not as it
// was.
func (n *releaseNote) why(rev *Revision, now *evaluate.Figures, set *models.Settings) []string {
	var why []string
	if n.method != now.Method {
		why = append(why, fmt.Sprintf("the method of working out was %s and is %s", n.method, now.Method))
	}
	if n.revision != rev.ID {
		why = append(why, otherSpec(rev.Spec()))
	}
	for _, c := range evaluate.Conditions(set) {
		i := slices.IndexFunc(n.conditions, func(then evaluate.Condition) bool { return then.Name == c.Name })
		if i >= 0 && n.conditions[i].Text != c.Text {
			why = append(why, fmt.Sprintf("in range.yaml %s was %s and is %s", c.Name, n.conditions[i].Text, c.Text))
		}
	}
	if len(why) == 0 {
		why = append(why, "another build of rodlore, or settings that the release does not tell")
	}
	return why
}

// otherSpec says why the same files give another spec.
func otherSpec(s *models.Spec) string {
	builtin := builtinMaterials(s)
	if len(builtin) == 0 {
		return "rodlore reads the spec otherwise"
	}
	return "rodlore's built-in materials changed, of which it uses " + strings.Join(builtin, ", ")
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
