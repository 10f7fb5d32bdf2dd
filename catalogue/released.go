package catalogue

import (
	"fmt"
	"math"
	"slices"
	"strconv"
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

// releaseNote is what a release's tag says: lines of "Key: value", with the
// identity of the spec, the method and the settings in front and a line a
// figure behind.
type releaseNote struct {
	revision, method string
	conditions       []evaluate.Condition
	figures          []evaluate.Figure
}

const (
	noteRevision  = "Revision"
	noteMethod    = "Method"
	noteCondition = "With "
	noteTolerance = " ± "
)

func newReleaseNote(rev *Revision, figs *evaluate.Figures, set *models.Settings) releaseNote {
	return releaseNote{rev.ID, figs.Method, evaluate.Conditions(set), figs.List}
}

// write writes the note, readable by plain git show.
func (n releaseNote) write(title string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n%s: %s\n%s: %s\n", title, noteRevision, n.revision, noteMethod, n.method)
	for _, c := range n.conditions {
		fmt.Fprintf(&b, "%s%s: %s\n", noteCondition, c.Name, c.Text)
	}
	b.WriteString("\n")
	for _, f := range n.figures {
		fmt.Fprintf(&b, "%s: %.6g %s", f.Key, f.Value, f.Unit)
		if f.Tolerance > 0 {
			fmt.Fprintf(&b, "%s%.2g", noteTolerance, f.Tolerance)
		}
		b.WriteString("\n")
	}
	return b.String()
}

// readReleaseNote reads a note back. Lines of other kinds, as someone may have
// added, are passed over; a tag without a method is no note of ours.
func readReleaseNote(message string) (n releaseNote, ok bool) {
	for line := range strings.Lines(message) {
		key, value, found := strings.Cut(strings.TrimSpace(line), ": ")
		name, isCondition := strings.CutPrefix(key, noteCondition)
		switch {
		case !found:
		case key == noteRevision:
			n.revision = value
		case key == noteMethod:
			n.method = value
		case isCondition:
			n.conditions = append(n.conditions, evaluate.Condition{Name: name, Text: value})
		default:
			if f, ok := readNotedFigure(key, value); ok {
				n.figures = append(n.figures, f)
			}
		}
	}
	return n, n.method != "" && n.revision != ""
}

// readNotedFigure reads "0.165 kg" or "0.165 kg ± 0.003".
func readNotedFigure(key, text string) (f evaluate.Figure, ok bool) {
	text, tolerance, _ := strings.Cut(text, noteTolerance)
	number, unit, found := strings.Cut(text, " ")
	value, err := strconv.ParseFloat(number, 64)
	if !found || err != nil {
		return f, false
	}
	f = evaluate.Figure{Key: key, Value: value, Unit: unit}
	if t, err := strconv.ParseFloat(tolerance, 64); err == nil {
		f.Tolerance = t
	}
	return f, true
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
func (n releaseNote) drifted(now *evaluate.Figures) []Drifted {
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
func (n releaseNote) why(rev *Revision, now *evaluate.Figures, set *models.Settings) []string {
	var why []string
	if n.method != now.Method {
		why = append(why, fmt.Sprintf("the method of working out was %s and is %s", n.method, now.Method))
	}
	if n.revision != rev.ID {
		why = append(why, otherSpec(rev.Spec))
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
	var builtin []string
	for name, m := range s.Materials {
		if m.Builtin {
			builtin = append(builtin, name)
		}
	}
	if len(builtin) == 0 {
		return "rodlore reads the spec otherwise"
	}
	slices.Sort(builtin)
	return "rodlore's built-in materials changed, of which it uses " + strings.Join(builtin, ", ")
}
