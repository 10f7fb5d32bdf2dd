package plan

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"rodlore/cmd/rodlore/demo"
	"rodlore/diffing"
	"rodlore/models"
)

// shared are the files of the demo range as they were saved last.
type shared struct {
	parts     *models.Parts
	materials *models.Materials
	files     map[string]string
}

func demoRange(t testing.TB) *shared {
	t.Helper()
	states, err := demo.States()
	if err != nil {
		t.Fatal(err)
	}
	s := &shared{files: map[string]string{}}
	for _, st := range states {
		for path, content := range st.Files {
			s.files[path] = string(content)
		}
	}
	if s.parts, err = models.ParseParts("parts.yaml", []byte(s.files["parts.yaml"])); err != nil {
		t.Fatal(err)
	}
	if s.materials, err = models.ParseMaterials("materials.yaml", []byte(s.files["materials.yaml"])); err != nil {
		t.Fatal(err)
	}
	return s
}

// sold is the text of a model as it went on sale under a label.
func sold(t testing.TB, model, label string) string {
	t.Helper()
	states, err := demo.States()
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, st := range states {
		maps.Copy(files, st.Files)
		for _, r := range st.Releases {
			if r.Model == model && r.Label == label {
				return string(files["models/"+model+".yaml"])
			}
		}
	}
	t.Fatalf("no %s %s", model, label)
	return ""
}

func (s *shared) spec(t testing.TB, text string) *models.Spec {
	t.Helper()
	spec, err := models.ParseSpec("rod.yaml", []byte(text), s.parts, s.materials)
	if err != nil {
		t.Fatal(err)
	}
	return spec
}

// task plans from one text to another with the steps of a range.yaml.
func (s *shared) task(t testing.TB, start, goal, steps string, releases int) Task {
	t.Helper()
	set, err := models.ParseSettings("range.yaml", []byte("steps: "+steps))
	if err != nil {
		t.Fatal(err)
	}
	return Task{
		Start: s.spec(t, start), Goal: s.spec(t, goal), Parts: s.parts, Materials: s.materials,
		Settings: set, Limits: diffing.NewStepLimits(set, s.parts), Releases: releases, First: []string{"weight", "recovery"},
	}
}

// edited puts new for old, which must stand there once.
func edited(t testing.TB, text string, oldNew ...string) string {
	t.Helper()
	for i := 0; i < len(oldNew); i += 2 {
		if strings.Count(text, oldNew[i]) != 1 {
			t.Fatalf("%q does not stand once in the text", oldNew[i])
		}
		text = strings.Replace(text, oldNew[i], oldNew[i+1], 1)
	}
	return text
}

// checkPlan checks what every plan must be: whole rods one after the other, each
// another than the one before, no step over a limit, and the goal at the end.
func checkPlan(t interface {
	Helper()
	Errorf(string, ...any)
}, task Task, p *Plan,
) {
	t.Helper()
	if len(p.Releases) != task.Releases {
		t.Errorf("%d releases, want %d", len(p.Releases), task.Releases)
	}
	before := task.Start
	for i, r := range p.Releases {
		m := *r.Spec.Model
		if err := m.Check(); err != nil {
			t.Errorf("release %d is no rod: %v", i+1, err)
		}
		if r.Spec.ID() == before.ID() {
			t.Errorf("release %d changes nothing", i+1)
		}
		for _, s := range diffing.Visible(before, r.Spec, task.Limits) {
			if s.Over() {
				t.Errorf("release %d: %s %v → %v is over %g", i+1, s.Aspect, s.Old, s.New, s.Limit)
			}
		}
		if r.Figures == nil || len(r.Figures.List) == 0 {
			t.Errorf("release %d has no figures", i+1)
		}
		before = r.Spec
	}
	if before.ID() != task.Goal.ID() {
		t.Errorf("the last release is not the goal")
	}
}

// checkWritten checks that every rod of a plan can be written from the texts of
// start and goal, and read again as the very same.
func (s *shared) checkWritten(t interface {
	Helper()
	Errorf(string, ...any)
}, start, goal string, p *Plan,
) {
	t.Helper()
	for i, r := range p.Releases {
		text, err := models.SpliceSpec("rod.yaml", []byte(start), []byte(goal), r.Spec.Model)
		if err != nil {
			t.Errorf("release %d: %v", i+1, err)
			continue
		}
		if got, err := models.ParseSpec("rod.yaml", text, s.parts, s.materials); err != nil || got.ID() != r.Spec.ID() {
			t.Errorf("release %d is another rod as written: %v\n%s", i+1, err, text)
		}
	}
}

const ownSteps = "{rings: 1, butt rings: 1, butt ring sizes: 1, butt ring moves: 100 mm, length: 50 mm, handle: 30 mm}"

func TestPlansOfTheDemo(t *testing.T) {
	s := demoRange(t)
	for _, row := range []struct {
		model, from, to string
		releases        int
	}{
		{"skerry-10", "2021", "2026", 3}, {"skerry-10", "2021", "2026", 5}, {"skerry-10", "2026", "2021", 4},
		{"wrack-9", "2021", "2026", 3}, {"groyne-13", "2021", "2026", 2}, {"rill-7", "2021", "2026", 2},
	} {
		t.Run(fmt.Sprintf("%s %s to %s in %d", row.model, row.from, row.to, row.releases), func(t *testing.T) {
			start, goal := sold(t, row.model, row.from), sold(t, row.model, row.to)
			task := s.task(t, start, goal, ownSteps, row.releases)
			p, err := Make(t.Context(), task)
			if err != nil {
				t.Fatal(err)
			}
			checkPlan(t, task, p)
			s.checkWritten(t, start, goal, p)
		})
	}
}

// A plan that is refused for too few releases is found with the number told.
func TestTooFewReleases(t *testing.T) {
	s := demoRange(t)
	start := sold(t, "skerry-10", "2021")
	for _, row := range []struct {
		name, goal, steps string
		releases, least   int
		stops             []diffing.Aspect
	}{
		{"rings and their butt ring", fewer(t, start), ownSteps, 2, 3, []diffing.Aspect{diffing.RingCount, diffing.ButtRingPlace}},
		{"in one step", fewer(t, start), ownSteps, 1, 3,
			[]diffing.Aspect{diffing.RingCount, diffing.ButtRingSize, diffing.ButtRingPlace}},
		{"limits of the maker", fewer(t, start), "{rings: 2, butt ring sizes: 2, butt ring moves: 60 mm}", 3, 4, []diffing.Aspect{diffing.ButtRingPlace}},
		{"a size at a time", edited(t, start, "part: DL-30", "part: DL-16"), ownSteps, 1, 3, []diffing.Aspect{diffing.ButtRingSize}},
		{"the handle", edited(t, start, "to: 620 mm", "to: 545 mm"), ownSteps, 2, 3, []diffing.Aspect{diffing.HandleLength}},
		// The butt ring, which keeps its place from the tip, goes up from the butt.
		{"the length", longer(t, start), ownSteps, 1, 3, []diffing.Aspect{diffing.RodLength, diffing.ButtRingPlace}},
	} {
		t.Run(row.name, func(t *testing.T) {
			task := s.task(t, start, row.goal, row.steps, row.releases)
			_, err := Make(t.Context(), task)
			var u *Unreachable
			if !errors.As(err, &u) {
				t.Fatalf("got %v", err)
			}
			if u.Least != row.least || u.Releases != row.releases {
				t.Errorf("it takes %d releases, %d were asked for; want %d, %d", u.Least, u.Releases, row.least, row.releases)
			}
			stops := map[diffing.Aspect]bool{}
			for _, stop := range u.Stops {
				stops[stop.Aspect] = true
			}
			for _, a := range row.stops {
				if !stops[a] {
					t.Errorf("the limit of the %s is not told: %v", a, err)
				}
			}
			if len(stops) != len(row.stops) {
				t.Errorf("stopped by %v, want %v", stops, row.stops)
			}
			task.Releases = u.Least
			p, err := Make(t.Context(), task)
			if err != nil {
				t.Fatal(err)
			}
			checkPlan(t, task, p)
			s.checkWritten(t, start, row.goal, p)
		})
	}
}

// A longer butt with its rings moved by as much keeps the butt ring in its place,
// which each edit alone would not.
func TestEditsThatOnlyGoTogether(t *testing.T) {
	s := demoRange(t)
	start := sold(t, "skerry-10", "2021")
	goal := edited(t, longer(t, start), "{at: 2020 mm, part: DL-30", "{at: 2140 mm, part: DL-30")
	task := s.task(t, start, goal, "{length: 150 mm, butt ring moves: 60 mm}", 2)
	_, err := Make(t.Context(), task)
	var u *Unreachable
	if !errors.As(err, &u) || u.Releases != 2 || u.Least != 1 || u.Hopeless() {
		t.Fatalf("got %v, want one release to be enough", err)
	}
	task.Releases = u.Least
	p, err := Make(t.Context(), task)
	if err != nil {
		t.Fatal(err)
	}
	checkPlan(t, task, p)
}

// fewer is the rod of 2021 with three rings fewer and a butt ring 230 mm further
// up and two sizes smaller.
func fewer(t testing.TB, text string) string {
	t.Helper()
	return edited(t, text,
		"  - {at: 100 mm, part: SL-8}\n", "", "  - {at: 365 mm, part: DL-8}\n", "", "  - {at: 750 mm, part: DL-10}\n", "",
		"{at: 2020 mm, part: DL-30", "{at: 1790 mm, part: DL-20")
}

// longer is the rod 120 mm longer in its butt.
func longer(t testing.TB, text string) string {
	t.Helper()
	return edited(t, text,
		"length: 10 ft", "length: 3168 mm",
		"  - name: butt\n    length: 1565 mm", "  - name: butt\n    length: 1685 mm",
		"{at: 1565 mm, outside: 11.75 mm", "{at: 1685 mm, outside: 11.75 mm")
}

func TestOutOfReach(t *testing.T) {
	s := demoRange(t)
	start := sold(t, "skerry-10", "2026")
	for _, row := range []struct {
		name, goal, steps string
		aspect            diffing.Aspect
		never             Never
	}{
		{"no ring may go", edited(t, start, "  - {at: 310 mm, part: SL-6}\n", ""), "{rings: 0}",
			diffing.RingCount, Fixed},
		{"the butt ring may not move", edited(t, start, "at: 1790 mm", "at: 1780 mm"), "{butt ring moves: 0 mm}", diffing.ButtRingPlace, Fixed},
		{"a colour that stays", edited(t, start, "trim: rust", "trim: slate"), "{whipping colour: stays}",
			diffing.WhippingColour, Fixed},
		{"another shape of handle, much shorter", edited(t, start, "    - {from: 532 mm, to: 600 mm, diameter: 26 mm, ends: 18 mm, material: cork-fine}\n", "", "held: {to: 600 mm}", "held: {to: 500 mm}"),
			"{handle: 30 mm}", diffing.HandleLength, Apart},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := Make(t.Context(), s.task(t, start, row.goal, row.steps, 3))
			var u *Unreachable
			if !errors.As(err, &u) || u.Least != 0 || !u.Hopeless() {
				t.Fatalf("got %v", err)
			}
			if !slices.ContainsFunc(u.Stops, func(s Stop) bool { return s.Aspect == row.aspect && s.Never == row.never }) {
				t.Errorf("%s, %s is not among %+v", row.aspect, row.never, u.Stops)
			}
		})
	}
}

func TestNothingToPlan(t *testing.T) {
	s := demoRange(t)
	start := sold(t, "skerry-10", "2026")
	for _, row := range []struct {
		name, goal string
		releases   int
		want       string // "" where there is a plan
	}{
		{"the same rod", start, 1, "the goal is the very rod that the plan starts from; there is nothing to plan"},
		{"the same rod in other words", edited(t, start, "length: 10 ft", "length: 3048 mm"), 2, "the very rod"},
		{"for another reel", edited(t, start, "kind: fixed-spool", "kind: multiplier"), 2, "the goal is for another reel, multiplier for fixed-spool"},
		{"more releases than edits", edited(t, start, "trim: rust", "trim: slate"), 2, "what differs is made in 1 release at the most; plan it in no more"},
		{"nothing but words", edited(t, start, "job: bass", "job: big bass"), 1, "the very rod"},
		{"words in two steps", edited(t, start, "job: bass", "job: big bass"), 2, "the very rod"},
		{"one edit at once", edited(t, start, "trim: rust", "trim: slate"), 1, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			task := s.task(t, start, row.goal, "{}", row.releases)
			p, err := Make(t.Context(), task)
			switch {
			case row.want == "" && err != nil:
				t.Fatal(err)
			case row.want == "":
				checkPlan(t, task, p)
			case err == nil || !strings.Contains(err.Error(), row.want):
				t.Errorf("got %v, want %q", err, row.want)
			}
		})
	}
}

// What is named first comes first: the lighter handle where weight is wanted
// early, the lighter tip ring where recovery is.
func TestFirst(t *testing.T) {
	s := demoRange(t)
	start := sold(t, "skerry-10", "2021")
	goal := edited(t, start, "  - {at: 0 mm, part: T-8}", "  - {at: 0 mm, part: T-6}", "to: 620 mm", "to: 595 mm")
	for key, want := range map[string]string{"weight": "handle", "recovery": "ring parts"} {
		t.Run(key, func(t *testing.T) {
			task := s.task(t, start, goal, "{}", 2)
			task.First = []string{key}
			p, err := Make(t.Context(), task)
			if err != nil {
				t.Fatal(err)
			}
			checkPlan(t, task, p)
			if got := diffing.Edits(diffing.Specs(task.Start, p.Releases[0].Spec)); len(got) != 1 || got[0].Group.String() != want {
				t.Errorf("first comes %v, want %s", got, want)
			}
			if p.Ways != 2 {
				t.Errorf("%v ways, want 2", p.Ways)
			}
		})
	}
}

// BenchmarkPlan plans the demo's spinning rod from its first release to its
// sixth in three.
func BenchmarkPlan(b *testing.B) {
	s := demoRange(b)
	task := s.task(b, sold(b, "skerry-10", "2021"), sold(b, "skerry-10", "2026"), ownSteps, 3)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Make(b.Context(), task); err != nil {
			b.Fatal(err)
		}
	}
}
