package demo_test

import (
	"maps"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rodlore/models"
	"rodlore/testdata/demo"
)

// broken is the state that was saved with a fault in it, and faulty its model.
const (
	broken = "2023-02-12"
	faulty = "wrack-9"
)

// day is how tests name a state.
func day(s demo.State) string { return s.When.Format(time.DateOnly) }

func states(t *testing.T) []demo.State {
	t.Helper()
	list, err := demo.States()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// snapshot is every model of the range as one state leaves it; fault holds
// what is wrong with those that do not resolve.
type snapshot struct {
	day   string
	specs map[string]*models.Spec
	fault map[string]error
}

// snapshots replays the history.
func snapshots(t *testing.T) []snapshot {
	t.Helper()
	files := map[string][]byte{}
	var list []snapshot
	for _, s := range states(t) {
		maps.Copy(files, s.Files)
		list = append(list, resolved(t, day(s), files))
	}
	return list
}

// resolved reads every file of the range; nil stands for a file that is gone.
func resolved(t *testing.T, day string, files map[string][]byte) snapshot {
	t.Helper()
	parts, err := models.ParseParts("parts.yaml", files["parts.yaml"])
	if err != nil {
		t.Errorf("%s: %v", day, err)
	}
	materials, err := models.ParseMaterials("materials.yaml", files["materials.yaml"])
	if err != nil {
		t.Errorf("%s: %v", day, err)
	}
	if _, err := models.ParseSettings("range.yaml", files["range.yaml"]); err != nil {
		t.Errorf("%s: %v", day, err)
	}
	snap := snapshot{day, map[string]*models.Spec{}, map[string]error{}}
	for file, src := range files {
		if src == nil || path.Dir(file) != "models" {
			continue
		}
		name := strings.TrimSuffix(path.Base(file), ".yaml")
		m, err := models.ParseModel(file, src)
		if err == nil {
			snap.specs[name], err = models.Resolve(m, parts, materials)
		}
		if err != nil {
			snap.fault[name] = err
		}
	}
	return snap
}

// on gives the snapshot of a day and the one before it.
func on(t *testing.T, list []snapshot, day string) (before, after snapshot) {
	t.Helper()
	i := slices.IndexFunc(list, func(s snapshot) bool { return s.day == day })
	if i < 1 {
		t.Fatalf("no state of %s with one before it", day)
	}
	return list[i-1], list[i]
}

func TestHistoryIsLongEnough(t *testing.T) {
	list := states(t)
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

// TestEveryStateResolves holds that one state alone has a fault, and that in
// one model.
func TestEveryStateResolves(t *testing.T) {
	for _, snap := range snapshots(t) {
		for name, err := range snap.fault {
			if snap.day != broken || name != faulty {
				t.Errorf("%s: %v", snap.day, err)
			}
		}
		if snap.day == broken && snap.fault[faulty] == nil {
			t.Errorf("%s: %s has no fault, want one", snap.day, faulty)
		}
	}
}

// TestReleases holds that what went on sale was without fault, had changed
// since the last time and bears the year as its label.
func TestReleases(t *testing.T) {
	snaps := snapshots(t)
	sold := map[string]string{} // the identity last released, by name as sold
	count := map[string]int{}
	for i, s := range states(t) {
		for _, r := range s.Releases {
			spec := snaps[i].specs[r.Model]
			if spec == nil {
				t.Errorf("%s: %s was released and is not in the range", day(s), r.Model)
				continue
			}
			if r.Label != strconv.Itoa(s.When.Year()) {
				t.Errorf("%s: %s has label %q, want the year", day(s), r.Model, r.Label)
			}
			if spec.ID() == sold[r.Model] {
				t.Errorf("%s: %s %s is the release before it", day(s), r.Model, r.Label)
			}
			sold[r.Model] = spec.ID()
			count[r.Model]++
		}
	}
	want := map[string]int{"skerry-10": 6, "wrack-9": 5, "groyne-13": 5, "rill-7": 3, "satchel-8": 1, "ferry-8": 3}
	if d := cmp.Diff(want, count); d != "" {
		t.Errorf("releases (-want +got):\n%s", d)
	}
}

// TestRingsGoOneByOne holds that the showpiece's releases go from nine rings
// to six and never by more than the maker's own limits.
func TestRingsGoOneByOne(t *testing.T) {
	snaps := snapshots(t)
	var rings []int
	var butt []float64 // of the butt ring, mm from the tip
	for i, s := range states(t) {
		for _, r := range s.Releases {
			if r.Model == "skerry-10" {
				list := snaps[i].specs[r.Model].Rings
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
	files := map[string][]byte{}
	for _, s := range states(t) {
		maps.Copy(files, s.Files)
	}
	saved := resolved(t, "saved", files)
	draft, err := demo.Draft()
	if err != nil {
		t.Fatal(err)
	}
	maps.Copy(files, draft)
	edited := resolved(t, "draft", files)
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
