package demo_test

import (
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rodlore/cmd/rodlore/demo"
	"rodlore/models"
)

// broken is the state that was saved with a fault in it, and faulty its model.
const (
	broken = "2023-02-12"
	faulty = "wrack-9"
)

// snapshot is the range as one state leaves it. fault holds what is wrong, by
// model or by other file; a model with a fault has no spec.
type snapshot struct {
	demo.State
	settings *models.Settings
	specs    map[string]*models.Spec
	fault    map[string]error
}

// day is how tests name a state.
func (s snapshot) day() string { return s.When.Format(time.DateOnly) }

// history is every state of the range, read once for all tests.
var history = sync.OnceValues(func() ([]snapshot, error) {
	states, err := demo.States()
	files := map[string][]byte{}
	var list []snapshot
	for _, s := range states {
		maps.Copy(files, s.Files)
		snap := resolved(files)
		snap.State = s
		list = append(list, snap)
	}
	return list, err
})

func snapshots(t *testing.T) []snapshot {
	t.Helper()
	list, err := history()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// resolved reads every file of the range; nil stands for a file that is gone.
func resolved(files map[string][]byte) snapshot {
	snap := snapshot{specs: map[string]*models.Spec{}, fault: map[string]error{}}
	note := func(what string, err error) {
		if err != nil {
			snap.fault[what] = err
		}
	}
	parts, err := models.ParseParts("parts.yaml", files["parts.yaml"])
	note("parts.yaml", err)
	materials, err := models.ParseMaterials("materials.yaml", files["materials.yaml"])
	note("materials.yaml", err)
	snap.settings, err = models.ParseSettings("range.yaml", files["range.yaml"])
	note("range.yaml", err)
	for file, src := range files {
		switch path.Dir(file) {
		case "builds":
			_, err := models.ParseBuilds(file, src)
			note(file, err)
		case "heard":
			_, err := models.ParseHeard(file, src)
			note(file, err)
		}
		if src == nil || path.Dir(file) != "models" {
			continue
		}
		name := strings.TrimSuffix(path.Base(file), ".yaml")
		m, err := models.ParseModel(file, src)
		if err == nil {
			snap.specs[name], err = models.Resolve(m, parts, materials)
		}
		note(name, err)
	}
	return snap
}

// on gives the snapshot of a day and the one before it.
func on(t *testing.T, list []snapshot, day string) (before, after snapshot) {
	t.Helper()
	i := slices.IndexFunc(list, func(s snapshot) bool { return s.day() == day })
	if i < 1 {
		t.Fatalf("no state of %s with one before it", day)
	}
	return list[i-1], list[i]
}

func TestHistoryIsLongEnough(t *testing.T) {
	list := snapshots(t)
	if len(list) < 48 {
		t.Errorf("%d states, want at least 48", len(list))
	}
	if span := list[len(list)-1].When.Sub(list[0].When); span < 5*365*24*time.Hour {
		t.Errorf("the history spans %v, want five years", span)
	}
	for i, s := range list[1:] {
		if !s.When.After(list[i].When) {
			t.Errorf("%s does not follow %s", s.When, list[i].When)
		}
	}
}

// TestReasonsReadAsMessages holds that a reason is a short line and, after an
// empty one, text that fits a terminal, as git shows it.
func TestReasonsReadAsMessages(t *testing.T) {
	for _, s := range snapshots(t) {
		lines := strings.Split(s.Why, "\n")
		if len(lines) == 2 || len(lines) > 2 && lines[1] != "" {
			t.Errorf("%s: no empty line after the first: %q", s.day(), s.Why)
		}
		for i, line := range lines {
			if most := map[bool]int{true: 65, false: 78}[i == 0]; len(line) > most {
				t.Errorf("%s: line of %d characters, want at most %d: %q", s.day(), len(line), most, line)
			}
		}
	}
}

// TestEveryStateResolves holds that one state alone has a fault, and that in
// one model.
func TestEveryStateResolves(t *testing.T) {
	for _, snap := range snapshots(t) {
		for name, err := range snap.fault {
			if snap.day() != broken || name != faulty {
				t.Errorf("%s: %v", snap.day(), err)
			}
		}
		if snap.day() == broken && snap.fault[faulty] == nil {
			t.Errorf("%s: %s has no fault, want one", snap.day(), faulty)
		}
	}
}

// TestReleases holds that what went on sale was without fault, had changed
// since the last time and bears the year as its label.
func TestReleases(t *testing.T) {
	sold := map[string]string{} // the identity last released, by name as sold
	count := map[string]int{}
	for _, s := range snapshots(t) {
		for _, r := range s.Releases {
			spec := s.specs[r.Model]
			if spec == nil {
				t.Errorf("%s: %s was released and is not in the range", s.day(), r.Model)
				continue
			}
			if r.Label != strconv.Itoa(s.When.Year()) {
				t.Errorf("%s: %s has label %q, want the year", s.day(), r.Model, r.Label)
			}
			if spec.ID() == sold[r.Model] {
				t.Errorf("%s: %s %s is the release before it", s.day(), r.Model, r.Label)
			}
			sold[r.Model] = spec.ID()
			count[r.Model]++
		}
	}
	want := map[string]int{"skerry-10": 6, "stack-10": 1, "wrack-9": 5, "groyne-13": 5, "rill-7": 3, "satchel-8": 1, "ferry-8": 3}
	if d := cmp.Diff(want, count); d != "" {
		t.Errorf("releases (-want +got):\n%s", d)
	}
}

// TestRingsGoOneByOne holds that the showpiece's releases go from nine rings
// to six and never by more than the maker's own limits.
func TestRingsGoOneByOne(t *testing.T) {
	var rings []int
	var butt []float64 // of the butt ring, mm from the tip
	for _, s := range snapshots(t) {
		for _, r := range s.Releases {
			if r.Model == "skerry-10" {
				list := s.specs[r.Model].Rings
				rings = append(rings, len(list)-1)
				butt = append(butt, 1e3*float64(list[len(list)-1].At.Value))
			}
		}
	}
	if d := cmp.Diff([]int{9, 9, 8, 7, 7, 6}, rings); d != "" {
		t.Errorf("rings without the tip ring (-want +got):\n%s", d)
	}
	for i := range butt[1:] {
		if up := butt[i] - butt[i+1]; up < 0 || up > 100 {
			t.Errorf("the butt ring of release %d moves %g mm up the rod, want 0 to 100", i+2, up)
		}
	}
}

func TestSharedPartChangesWhatUsesIt(t *testing.T) {
	list := snapshots(t)
	for _, tc := range []struct {
		name, day string
		want      []string // the models that changed
	}{
		{"parts that no model uses", "2021-12-05", nil},
		{"settings", "2022-03-20", nil},
		{"a ring that most models use", "2022-12-11", []string{"ferry-8", "rill-7", "skerry-10", "wrack-9"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			before, after := on(t, list, tc.day)
			var got []string
			for name, spec := range after.specs {
				if spec.ID() != before.specs[name].ID() {
					got = append(got, name)
				}
			}
			slices.Sort(got)
			if d := cmp.Diff(tc.want, got); d != "" {
				t.Errorf("models changed (-want +got):\n%s", d)
			}
		})
	}
}

func TestTakenBack(t *testing.T) {
	list := snapshots(t)
	start, tried := on(t, list, "2023-08-13")
	_, back := on(t, list, "2023-09-17")
	id := func(s snapshot) string { return s.specs["skerry-10"].ID() }
	if id(tried) == id(start) {
		t.Error("the trial changed nothing")
	}
	if id(back) != id(start) {
		t.Error("taking the trial back did not give the revision before it")
	}
}

func TestRename(t *testing.T) {
	before, after := on(t, snapshots(t), "2022-07-10")
	if before.specs["satchel-8"] == nil || after.specs["satchel-8"] != nil {
		t.Error("satchel-8 should go")
	}
	if got := after.specs["ferry-8"].Was.Text; got != "satchel-8" {
		t.Errorf("ferry-8 was %q, want satchel-8", got)
	}
}

func TestDraft(t *testing.T) {
	draft, err := demo.Draft()
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	list := snapshots(t)
	for _, s := range list {
		maps.Copy(files, s.Files)
	}
	maps.Copy(files, draft)
	saved, edited := list[len(list)-1], resolved(files)
	for name, err := range edited.fault {
		t.Errorf("%s: %v", name, err)
	}
	for name, spec := range edited.specs {
		if changed := spec.ID() != saved.specs[name].ID(); changed != (name == "skerry-10") {
			t.Errorf("%s changed: %t", name, changed)
		}
	}
	if got := len(edited.specs["skerry-10"].Rings) - 1; got != 5 {
		t.Errorf("the draft has %d rings, want 5", got)
	}
}
