package main

import (
	"bytes"
	"context"
	"encoding/json"
	"maps"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rodlore/evaluate"
	"rodlore/evaluate/figures"
)

// shell runs command lines as one user at one place would.
type shell struct {
	t   *testing.T
	dir string
}

// newShell gives a shell in an empty folder. The process moves there, so tests
// that use it cannot run at the same time.
func newShell(t *testing.T) *shell {
	t.Helper()
	dir := t.TempDir()
	t.Chdir(dir)
	return &shell{t, dir}
}

// demo puts the demo range into the folder range.
func (s *shell) demo() {
	s.t.Helper()
	if err := copyDemo("range"); err != nil {
		s.t.Fatal(err)
	}
}

// try runs one command line.
func (s *shell) try(args ...string) (stdout, stderr string, code int) {
	s.t.Helper()
	var out, errs bytes.Buffer
	code = run(context.Background(), args, &out, &errs, os.Getenv, scriptClock)
	return out.String(), errs.String(), code
}

// must runs one command line that must go well and gives its output.
func (s *shell) must(args ...string) string {
	s.t.Helper()
	out, errs, code := s.try(args...)
	if code != 0 {
		s.t.Fatalf("rodlore %s: exit code %d\n%s", strings.Join(args, " "), code, errs)
	}
	return out
}

// data runs one command line with --json and reads its document.
func (s *shell) data(into any, args ...string) {
	s.t.Helper()
	out := s.must(append(args, "--json")...)
	if err := json.Unmarshal([]byte(out), into); err != nil {
		s.t.Fatalf("rodlore %s: %v", strings.Join(args, " "), err)
	}
}

// printed is what tests read of documents.
type printed struct {
	Revision  struct{ ID string }
	Figures   []printedFigure
	Revisions []struct {
		ID      string
		Figures []printedFigure
	}
	Points []evaluate.Point
	Tip    *evaluate.Point
	ByHand []struct {
		Check string
		By    *string
	} `json:"by-hand"`
	Wants []struct {
		Figure string
		Share  *float64
	}
	Counts struct{ Releases, Rods, Repairs, Remarks int }
	Models []struct {
		Model      string
		Prototypes []struct{ Date time.Time }
		Releases   []struct{ Step struct{ Date time.Time } }
	}
}

type printedFigure struct {
	Key              string
	Value            float64
	Old, New, Change *float64
}

var (
	revisionKeys = []string{"date", "id", "label", "labels[]", "state", "top", "withdrawn[]"}
	sightKeys    = []string{"aspect", "limit", "new", "old", "over", "own", "size", "unit"}
	changeKeys   = []string{"group", "kind", "new", "old", "path"}
	remarkKeys   = []string{"cast_m", "date", "release", "said", "show"}
	stepKeys     = slices.Concat(
		[]string{"aside", "author", "beside", "date", "drifts[]", "fault", "id", "label", "labels[]", "later[]", "reworded", "state", "tell", "why", "withdrawn[]"},
		under("heard[]", remarkKeys),
		under("changes[]", changeKeys), under("sights[]", sightKeys), under("figures[]", []string{"change", "change-tolerance", "error", "key", "real", "tolerance", "unit", "value"}),
		under("figures[]", answerKeys))
	answerKeys  = []string{"answer", "mean", "noticed", "often", "rods"}
	weakestKeys = []string{"new-weakest.at", "new-weakest.by", "old-weakest.at", "old-weakest.by"}
	wordsKeys   = []string{"changed[]", "open[]", "same[]", "tell"}
	figureKeys  = []string{"error", "key", "text", "tolerance", "unit", "value", "weakest.at", "weakest.by"}
	compareKeys = slices.Concat(
		[]string{"action", "old.model", "new.model", "notes[]"}, under("old.revision", revisionKeys), under("new.revision", revisionKeys),
		under("changes[]", changeKeys), under("sights[]", sightKeys), under("figures[]", []string{"change", "error", "key", "new", "old", "real", "tolerance", "unit"}),
		under("figures[]", answerKeys), under("figures[]", weakestKeys))
	reasonKeys = []string{"grave", "rule", "text", "top"}
	rodKeys    = slices.Concat(
		[]string{"blank", "top", "date", "model", "notes", "off", "release", "serial", "test-curve", "tolerance", "weight", "worked"},
		under("repairs[]", []string{"date", "done", "section", "weight"}))
	plainRodKeys = slices.DeleteFunc(append(slices.Clone(rodKeys), "repairs[]"), func(k string) bool { return strings.HasPrefix(k, "repairs[].") })
	signalKeys   = []string{"above", "from", "rule", "text", "to"}
	yearStepKeys = slices.DeleteFunc(append(slices.Clone(stepKeys), "heard[]"), func(k string) bool { return strings.HasPrefix(k, "heard[].") })
	madeKeys     = []string{"date", "id", "why"}
	// A model that stands as it was has nothing under way, and none was taken out.
	modelYearKeys = slices.Concat(
		[]string{"ahead", "began", "label", "model", "name", "renamed[]", "same-rod[]", "taken-out", "under-way"}, under("stood", revisionKeys),
		under("releases[]", []string{"again", "label", "released", "since"}), under("releases[].made[]", madeKeys),
		under("releases[].step", yearStepKeys), under("prototypes[]", madeKeys),
		under("under-way", []string{"draft", "since"}), under("under-way.saved[]", madeKeys), under("under-way.newest", yearStepKeys),
		under("rods[]", plainRodKeys), under("repairs[]", []string{"date", "done", "section", "serial", "weight"}), under("heard[]", remarkKeys))
	patternKeys = slices.Concat(
		[]string{"binding[]", "count", "fault", "like", "line[].x", "line[].y", "rod[].x", "rod[].y"},
		under("rings[]", []string{"at", "load", "part", "turn", "whipping"}), under("figures[]", figureKeys))
)

// everyFigure lists the keys of all figures.
func everyFigure() []string {
	var keys []string
	for _, f := range figures.All() {
		if f.Key != "line-share" && f.Key != "cast-line" { // of fly rods alone
			keys = append(keys, f.Key)
		}
	}
	return keys
}

func under(path string, keys []string) []string {
	out := make([]string, len(keys))
	for i, k := range keys {
		out[i] = path + "." + k
	}
	return out
}

// tracing is a command line that traces bend.png, of 400 by 300 pixels, beside the
// folder of the range.
var tracing = []string{
	"trace", "../bend.png", "--of", "skerry-10@2026", "--rod", "0160", "--load", "200g",
	"--marks", "50,100 275,100", "--apart", "1800mm", "--points", "201,119 260,138 330,194",
}

// TestJSONKeys pins the keys of every document. Programs read them, so a key
// that goes or means something else is another schema.
func TestJSONKeys(t *testing.T) {
	s := newShell(t)
	if err := greyPicture("bend.png", 400, 300); err != nil {
		t.Fatal(err)
	}
	peakKeys := []string{"s", "time", "value"}
	loadKeys := []string{"direction", "force", "friction", "through-rings", "weight"}
	tests := []struct {
		args []string
		keys []string
	}{
		{[]string{"demo", "range"}, slices.Concat([]string{"range", "model", "models[]"}, under("revisions[]", stepKeys))},
		{[]string{"new", "other"}, []string{"range", "state", "files[]"}},
		{[]string{"-C", "other", "add", "gull-9"}, []string{"model", "file"}},
		{[]string{"-C", "range", "models"}, slices.Concat(
			under("models[]", []string{"model", "name", "released", "fault", "family", "tops[]"}),
			under("models[].revision", revisionKeys), under("models[].figures[]", figureKeys))},
		{[]string{"-C", "range", "figures", "skerry-10@2025"}, slices.Concat(
			[]string{"model", "method", "notes[]"}, under("revision", revisionKeys), under("figures[]", figureKeys),
			[]string{"figures[].measured[]"},
			under("wants[]", []string{"figure", "max", "met", "min", "value", "wanted"}))},
		{[]string{"-C", "range", "bend", "skerry-10", "--load", "5N"}, slices.Concat(
			[]string{"model", "error", "flattened", "status"}, under("revision", revisionKeys),
			under("load", loadKeys),
			under("points[]", []string{"curvature", "s", "turn", "x", "y"}), under("tip", []string{"turn", "x", "y"}))},
		{[]string{"-C", "range", "bend", "skerry-10", "--through-rings", "--tension", "5N"}, slices.Concat(
			[]string{"model", "error", "flattened", "status", "line-gap", "line-touch"}, under("revision", revisionKeys),
			under("load", loadKeys), under("rings[]", []string{"at", "load", "turn"}),
			under("points[]", []string{"curvature", "s", "turn", "x", "y"}), under("tip", []string{"turn", "x", "y"}))},
		{[]string{"-C", "range", "patterns", "skerry-10", "--count", "4"}, slices.Concat(
			[]string{"model", "tension", "written", "notes[]"}, under("revision", revisionKeys),
			under("present", patternKeys), under("patterns[]", patternKeys))},
		{[]string{"-C", "range", "cast", "skerry-10"}, slices.Concat(
			[]string{"notes[]"}, under("case", []string{"drop", "from", "launch", "time", "to"}),
			under("casts[]", []string{"amplitude", "butt", "direction", "frequency", "lead", "lead-share", "model", "release",
				"settle", "speed", "tip-speed"}), under("casts[].revision", revisionKeys),
			under("casts[].moment", peakKeys), under("casts[].curvature", peakKeys), under("casts[].turn", peakKeys),
			under("casts[].energy", []string{"bent", "lead", "line", "lost", "raised", "rod", "work"}),
			under("casts[].track[]", []string{"butt", "lead-x", "lead-y", "tension", "time", "tip-x", "tip-y", "turn"}))},
		{[]string{"-C", "range", "limits", "skerry-10"}, slices.Concat(
			[]string{"model", "factor", "line", "line-angle", "lift-notes[]", "at-tip", "caution"}, under("revision", revisionKeys),
			under("lifts[]", []string{"angle", "at", "by", "pull"}),
			under("strains[]", []string{"allowed", "by", "load-limit", "s", "test-curve"}))},
		{[]string{"-C", "range", "fit", "skerry-10"}, slices.Concat(
			[]string{"model", "sheet", "rod", "date", "squares", "chance", "threshold", "for", "known", "written", "caution"},
			under("revision", revisionKeys),
			under("readings[]", []string{"after", "before", "deviation", "disagrees", "figure", "name", "off", "unit", "value"}),
			under("unknowns[]", []string{"after", "before", "free", "section", "told", "unit", "value"}),
			under("correlations[]", []string{"a", "b", "value"}), under("next[]", []string{"known", "name"}))},
		{slices.Concat([]string{"-C", "range"}, tracing), slices.Concat([]string{"file", "within"},
			under("picture", []string{"height", "pixel", "width"}), under("points[]", []string{"x", "y"}))},
		{[]string{"-C", "range", "history", "skerry-10"}, slices.Concat(
			[]string{"model", "notes[]", "taken-out[]", "same-rod[]"}, under("revisions[]", stepKeys))},
		{[]string{"-C", "range", "compare", "skerry-10@2021", "skerry-10"}, compareKeys},
		{[]string{"-C", "range", "compare", "skerry-10@2026", "skerry-10", "--only", "whipping-and-finish"}, slices.Concat(
			compareKeys, []string{"shares[].group", "shares[].standard-errors"},
			under("shares[].edits[]", changeKeys), under("shares[].figures", everyFigure()))},
		{[]string{"-C", "range", "compare", "skerry-10", "--text"}, []string{"text"}},
		{[]string{"-C", "range", "steps", "skerry-10", "--to", "skerry-10", "--releases", "1"}, slices.Concat(
			[]string{"model", "goal", "first[]", "ways", "together[]", "written", "notes[]"}, under("start", revisionKeys),
			under("figures[]", figureKeys), []string{"releases[].id", "releases[].file"}, under("releases[].changes[]", changeKeys),
			under("releases[].sights[]", sightKeys), under("releases[].figures[]", figureKeys))},
		{[]string{"-C", "range", "yearbook", "2025", "--out", "y.md"}, slices.Concat(
			[]string{"begun", "notes[]", "year"}, under("files[]", []string{"bytes", "file"}),
			under("counts", []string{"prototypes", "releases", "remarks", "repairs", "rods"}),
			under("models[]", modelYearKeys), []string{"unchanged[]"},
			under("signals[]", signalKeys),
			under("stock[]", []string{"date", "file", "why"}), under("stock[].changes[]", changeKeys))},
		{[]string{"-C", "range", "story", "skerry-10", "--out", "s.html"}, slices.Concat(
			[]string{"for", "model"}, under("files[]", []string{"bytes", "file"}))},
		{[]string{"-C", "range", "check"}, []string{"models", "faults[]", "notes[]", "releases[]"}},
		{[]string{"-C", "range", "review", "skerry-10@2026"}, slices.Concat(
			[]string{"model", "verdict", "unpriced[]", "tops[]", "notes[]", "written[]"}, under("revision", revisionKeys), under("since", revisionKeys),
			under("reasons[]", reasonKeys), under("wants[]", []string{"figure", "max", "met", "min", "share", "value", "wanted"}),
			under("sights[]", sightKeys), under("figures[]", figureKeys), []string{"figures[].change", "figures[].real"},
			under("figures[]", answerKeys), under("words", wordsKeys),
			under("figures[].measured[]", []string{"date", "deviation", "rod", "uncertainty", "value"}),
			under("strength", []string{"caution", "factor", "line", "line-angle", "low-angle", "low-at", "low-by", "low-pull"}),
			under("by-hand[]", []string{"by", "check", "date", "look"}))},
		{[]string{"-C", "range", "review", "skerry-10", "--tick", "feet", "--by", "MK"}, slices.Concat(
			[]string{"model", "ticked[]", "file", "state"}, under("revision", revisionKeys))},
		{[]string{"-C", "range", "sheet", "skerry-10@2026", "--out", "sheet.pdf"}, slices.Concat(
			[]string{"model", "serial"}, under("revision", revisionKeys), under("files[]", []string{"bytes", "file"}))},
		{[]string{"-C", "range", "built", "list"}, slices.Concat([]string{"notes[]"}, under("rods[]", rodKeys))},
		{[]string{"-C", "range", "built", "show", "0140"}, slices.Concat(
			[]string{"notes[]"}, under("rod", plainRodKeys), under("revision", revisionKeys), under("siblings[]", rodKeys), under("signals[]", signalKeys),
			under("measured[]", []string{"date", "deviation", "key", "rod", "tolerance", "uncertainty", "unit", "value", "worked"}))},
		{[]string{"-C", "range", "built", "chart"}, slices.Concat(
			[]string{"deviation", "lower", "mean", "mean-range", "notes[]", "range-limit", "unit", "upper"},
			under("points[]", slices.Concat([]string{"range", "value"}, rodKeys)), under("signals[]", signalKeys))},
		{[]string{"-C", "range", "built", "match", "0124"}, slices.Concat(
			[]string{"can", "changes[]", "fault", "gone[]"}, under("rod", rodKeys), under("revision", revisionKeys), under("now", revisionKeys),
			under("figures[]", []string{"change", "error", "key", "new", "old", "real", "tolerance", "unit"}), under("figures[]", answerKeys), under("figures[]", weakestKeys))},
		{[]string{"-C", "range", "built", "add", "rill-7@2026", "--serial", "0148"}, slices.Concat(
			[]string{"file", "notes[]", "state"}, under("rod", plainRodKeys), under("revision", revisionKeys))},
		{[]string{"-C", "range", "built", "repair", "0124", "--done", "varnished"}, slices.Concat([]string{"file", "state"}, under("rod", rodKeys))},
		{[]string{"-C", "range", "heard", "skerry-10"}, slices.Concat([]string{"file", "model", "state"}, under("remarks[]", remarkKeys))},
		{[]string{"-C", "range", "save", "--why", "five rings"}, slices.Concat(
			[]string{"state", "files[]", "models[].model", "same-rod[]", "gone[]", "left[]"}, under("models[].revision", revisionKeys), under("models[].words", wordsKeys))},
		{[]string{"-C", "range", "release", "skerry-10", "2027"}, slices.Concat(
			[]string{"model", "verdict", "despite", "signed"}, under("revision", revisionKeys), under("reasons[]", reasonKeys), under("words", wordsKeys))},
		{[]string{"-C", "range", "reword", "skerry-10@2027", "--tell", "Quick."}, slices.Concat(
			[]string{"model", "why", "tell", "file", "state"}, under("revision", revisionKeys))},
		{[]string{"-C", "range", "withdraw", "skerry-10", "2027", "--why", "the wrong draft"}, slices.Concat(
			[]string{"model", "label", "on-sale", "file", "state"}, under("revision", revisionKeys))},
		{[]string{"-C", "range", "measure", "rill-7@2026", "--rod", "x", "--what", "weight", "--reading", "60 g"}, []string{"file"}},
		{[]string{"-C", "range", "set", "skerry-10"}, slices.Concat([]string{"model", "file", "written"}, under("values[]", []string{"line", "path", "text"}))},
		{[]string{"-C", "range", "put-back", "skerry-10@2021"}, slices.Concat(
			[]string{"model", "revision", "copy", "written[]"}, under("others[]", []string{"name", "own", "gone"}))},
	}
	for _, test := range tests {
		t.Run(strings.Join(test.args, " "), func(t *testing.T) {
			var doc map[string]any
			s.data(&doc, test.args...)
			keys := map[string]bool{}
			collectKeys(keys, "", doc)
			maps.DeleteFunc(keys, func(k string, _ bool) bool { return strings.HasSuffix(k, "[]") && filledElsewhere(keys, k) })
			want := slices.Sorted(slices.Values(append([]string{"schema"}, test.keys...)))
			if diff := cmp.Diff(want, slices.Sorted(maps.Keys(keys))); diff != "" {
				t.Errorf("keys (-want +got):\n%s", diff)
			}
			if doc["schema"] != 1.0 {
				t.Errorf("schema is %v", doc["schema"])
			}
		})
	}
}

// collectKeys lists the paths of all that is no object itself.
func collectKeys(keys map[string]bool, path string, v any) {
	switch v := v.(type) {
	case map[string]any:
		for k, entry := range v {
			collectKeys(keys, strings.TrimPrefix(path+"."+k, "."), entry)
		}
	case []any:
		if len(v) == 0 || !isObject(v[0]) {
			keys[path+"[]"] = true
			return
		}
		for _, entry := range v {
			collectKeys(keys, path+"[]", entry)
		}
	default:
		keys[path] = true
	}
}

// filledElsewhere reports whether a list that is empty here has entries there.
func filledElsewhere(keys map[string]bool, list string) bool {
	for k := range keys {
		if strings.HasPrefix(k, list+".") {
			return true
		}
	}
	return false
}

func isObject(v any) bool {
	_, ok := v.(map[string]any)
	return ok
}

// TestFiguresAgree checks that figures, history and compare tell the same.
func TestFiguresAgree(t *testing.T) {
	s := newShell(t)
	s.demo()
	var a, b, compared, history printed
	s.data(&a, "-C", "range", "figures", "skerry-10@2023")
	s.data(&b, "-C", "range", "figures", "skerry-10@2024")
	s.data(&compared, "-C", "range", "compare", "skerry-10@2023", "skerry-10@2024")
	s.data(&history, "-C", "range", "history", "skerry-10", "--releases")
	i := 0
	for ; history.Revisions[i].ID != b.Revision.ID; i++ {
	}
	if len(b.Figures) != len(compared.Figures) || len(b.Figures) != len(history.Revisions[i].Figures) {
		t.Fatalf("%d figures, %d compared, %d in the history", len(b.Figures), len(compared.Figures), len(history.Revisions[i].Figures))
	}
	for n, f := range b.Figures {
		old, c, h := a.Figures[n], compared.Figures[n], history.Revisions[i].Figures[n]
		if f.Key != c.Key || f.Key != h.Key || f.Key != old.Key {
			t.Fatalf("figure %d is %s, %s, %s and %s", n, old.Key, f.Key, c.Key, h.Key)
		}
		// The same sums on the same numbers: not even rounding may differ.
		if *c.Old != old.Value || *c.New != f.Value || h.Value != f.Value || *c.Change != f.Value-old.Value || *h.Change != *c.Change {
			t.Errorf("%s: %g to %g by figures, %g to %g by compare with change %g, %g by history with change %g",
				f.Key, old.Value, f.Value, *c.Old, *c.New, *c.Change, h.Value, *h.Change)
		}
	}
}

// TestBendAxes checks the axes that the data is documented to have.
func TestBendAxes(t *testing.T) {
	s := newShell(t)
	s.demo()
	var bent printed
	s.data(&bent, "-C", "range", "bend", "skerry-10@2026", "--load", "3N")
	last := len(bent.Points) - 1
	if last+1 < 100 {
		t.Fatalf("%d points, fewer than 100", last+1)
	}
	tip, hold := bent.Points[0], bent.Points[last]
	if tip.S != 0 || tip.X != bent.Tip.X || tip.Y != bent.Tip.Y || tip.Turn != bent.Tip.Turn {
		t.Errorf("the first point %+v is not the tip %+v", tip, *bent.Tip)
	}
	if hold.X != 0 || hold.Y != 0 || hold.Turn != 0 {
		t.Errorf("the last point %+v is not where the rod is held", hold)
	}
	if tip.X <= 0 || tip.Y <= 0 || tip.Turn <= 0 || tip.Turn >= math.Pi/2 {
		t.Errorf("a hung load does not bend the rod forward and down: %+v", tip)
	}
	// Chords between points are as long as the blank between them, but for the
	// bend within: κ²h³/24 a chord, well under a tenth of a millimetre in all.
	var length float64
	for i := range last {
		length += math.Hypot(bent.Points[i].X-bent.Points[i+1].X, bent.Points[i].Y-bent.Points[i+1].Y)
	}
	if math.Abs(length-hold.S) > 1e-4 {
		t.Errorf("the points are %g m apart along a blank of %g m", length, hold.S)
	}
}
