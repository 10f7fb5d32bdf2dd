package catalogue

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"rodlore/diffing"
	"rodlore/models"
)

// whys are the reasons of a model's revisions, newest first.
func whys(t *testing.T, r *Range, model string) []string {
	t.Helper()
	revs, err := r.Revisions(model)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, rev := range revs {
		out = append(out, rev.Why)
	}
	return out
}

// history is every revision of a model, each against the last sound one before.
func history(t testing.TB, r *Range, model string) ([]*Step, error) {
	revs, err := r.Timeline(model)
	if err != nil {
		return nil, err
	}
	return r.Steps(t.Context(), revs, (*Revision).LastSound)
}

func wantWhys(t *testing.T, r *Range, model string, want ...string) {
	t.Helper()
	if got := whys(t, r, model); !slices.Equal(got, want) {
		t.Errorf("%s has revisions %q, want %q", model, got, want)
	}
}

func TestSharedPartIsARevisionOfItsUsersOnly(t *testing.T) {
	m := twoModels()
	m.then("heavier high ring", map[string]string{partsFile: strings.Replace(testParts, "mass: 2.4 g", "mass: 2.6 g", 1)})
	m.then("a part nobody uses", map[string]string{partsFile: strings.Replace(testParts, "mass: 2.4 g", "mass: 2.6 g", 1) +
		"grips:\n  fore-90: {length: 90 mm, diameter: 25 mm, mass: 7 g}\n"})
	r := m.open(t)
	wantWhys(t, r, "brook", "a range")
	wantWhys(t, r, "ditch", "heavier high ring", "a range")
}

func TestLayoutIsNoRevision(t *testing.T) {
	m := twoModels()
	spelt := strings.Replace(m.working["models/brook.yaml"], "length: 2 m\nsections", "# two metres\nlength:   2000 mm\nsections", 1)
	m.then("spell it out", map[string]string{"models/brook.yaml": spelt})
	wantWhys(t, m.open(t), "brook", "a range")
}

func TestRename(t *testing.T) {
	t.Run("told by was", func(t *testing.T) {
		m := twoModels()
		m.then("new name", map[string]string{
			"models/brook.yaml": "",
			"models/beck.yaml":  strings.Replace(testModel("Beck", "low-6@310 mm"), "job:", "was: brook\njob:", 1),
		})
		wantWhys(t, m.open(t), "beck", "new name", "a range")
	})
	t.Run("seen by the same content", func(t *testing.T) {
		m := twoModels()
		content := m.working["models/brook.yaml"]
		m.then("move the file", map[string]string{"models/brook.yaml": "", "models/beck.yaml": content})
		m.then("one ring less", map[string]string{"models/beck.yaml": testModel("Brook", "low-6@300 mm")})
		wantWhys(t, m.open(t), "beck", "one ring less", "move the file", "a range")
	})
	t.Run("old release keeps its label", func(t *testing.T) {
		m := twoModels()
		m.log.Tags = []Tag{{Name: "brook/2021", State: m.log.Head}}
		m.then("move the file", map[string]string{"models/brook.yaml": "", "models/beck.yaml": m.working["models/brook.yaml"]})
		r := m.open(t)
		for rev, file := range map[string]string{"2021": "models/brook.yaml", "draft": "models/beck.yaml", "saved": "models/beck.yaml"} {
			if got, err := r.Find("beck", rev); err != nil || got.File != file || got.Status != Released {
				t.Errorf("beck@%s has the file %s, %v; want %s", rev, got.File, err, file)
			}
		}
		steps, err := history(t, r, "beck")
		want := diffing.Change{Kind: diffing.Altered, Path: models.Path{{Key: "file"}}, Old: diffing.Content{What: "brook"}, New: diffing.Content{What: "beck"}, Group: diffing.Wording}
		if err != nil || len(steps) != 2 || !reflect.DeepEqual(steps[0].Changes, []diffing.Change{want}) {
			t.Errorf("the history of the renamed model is %+v, %v", steps, err)
		}
	})
	t.Run("names in a ring", func(t *testing.T) {
		m := twoModels()
		m.then("a muddle", map[string]string{
			"models/brook.yaml": strings.Replace(testModel("Brook"), "job:", "was: ditch\njob:", 1),
			"models/ditch.yaml": strings.Replace(testModel("Ditch"), "job:", "was: brook\njob:", 1),
		})
		wantWhys(t, m.open(t), "brook", "a muddle", "a range")
	})
}

// wantTakenOut holds how often a model was taken out, the last time first.
func wantTakenOut(t *testing.T, r *Range, model string, want ...string) {
	t.Helper()
	out, err := r.TakenOut(model)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, o := range out {
		text := fmt.Sprintf("%s: %s after %s", o.Why(), o.Day(), o.Last.Why)
		if o.Now != "" {
			text += ", now " + o.Now
		}
		got = append(got, text)
	}
	if !slices.Equal(got, want) {
		t.Errorf("%s was taken out %q, want %q", model, got, want)
	}
}

func TestTakenOut(t *testing.T) {
	brook := map[string]string{"models/brook.yaml": testModel("Brook")}
	gone := map[string]string{"models/brook.yaml": ""}
	t.Run("and back again", func(t *testing.T) {
		m := twoModels() // March 2021
		m.then("out", gone)
		m.then("back", brook)
		m.then("out for good", gone)
		wantTakenOut(t, m.open(t), "brook", "out for good: 2021-06-01 after back", "out: 2021-04-01 after a range")
	})
	t.Run("on one side of a merge", func(t *testing.T) {
		m := twoModels()
		base := m.log.Head
		trunk := m.commit("other ditch", []string{base}, map[string]string{"models/ditch.yaml": testModel("Ditch")})
		side := m.commit("out", []string{base}, gone)
		m.commit("merge", []string{trunk, side}, gone)
		wantTakenOut(t, m.open(t), "brook", "out: 2021-05-01 after a range")
	})
	t.Run("by a merge", func(t *testing.T) {
		m := twoModels()
		base := m.log.Head
		trunk := m.commit("other ditch", []string{base}, map[string]string{"models/ditch.yaml": testModel("Ditch")})
		side := m.commit("other brook", []string{base}, brook)
		m.commit("merge", []string{side, trunk}, gone)
		wantTakenOut(t, m.open(t), "brook", "merge: 2021-06-01 after other brook")
	})
	t.Run("on another branch", func(t *testing.T) {
		m := twoModels()
		base := m.log.Head
		m.commit("out", []string{base}, gone)
		m.commit("main goes on", []string{base}, brook)
		wantTakenOut(t, m.open(t), "brook")
	})
	t.Run("renamed", func(t *testing.T) {
		m := twoModels()
		m.then("new name", map[string]string{
			"models/brook.yaml": "",
			"models/beck.yaml":  strings.Replace(testModel("Beck"), "job:", "was: brook\njob:", 1),
		})
		r := m.open(t)
		wantTakenOut(t, r, "beck")
		wantTakenOut(t, r, "brook", "new name: 2021-04-01 after a range, now beck")
	})
	t.Run("moved", func(t *testing.T) {
		m := twoModels()
		m.then("move", map[string]string{"models/brook.yaml": "", "models/beck.yaml": m.working["models/brook.yaml"]})
		wantTakenOut(t, m.open(t), "brook", "move: 2021-04-01 after a range, now beck")
	})
}

func TestFaultInThePast(t *testing.T) {
	m := twoModels()
	good := m.working["models/brook.yaml"]
	m.then("a slip", map[string]string{"models/brook.yaml": strings.Replace(good, "at: 300 mm", "at: 300", 1)})
	m.then("mended, and lighter", map[string]string{"models/brook.yaml": strings.Replace(good, "low-12", "low-6", 1)})
	steps, err := history(t, m.open(t), "brook")
	if err != nil {
		t.Fatal(err)
	}
	if len(steps) != 3 {
		t.Fatalf("%d steps, want 3", len(steps))
	}
	var faults models.Faults
	if !errors.As(steps[1].Fault(), &faults) || faults[0].Pos.Line == 0 {
		t.Errorf("the slip's fault is %v, want one with its line", steps[1].Fault())
	}
	if steps[1].Figures != nil {
		t.Error("a revision with a fault has figures")
	}
	if steps[0].Against != steps[2].Revision || len(steps[0].Changes) == 0 || len(steps[0].Shifts) == 0 {
		t.Error("the mended revision is not compared with the last sound one")
	}
}

// TestMerge holds what git's own rule for a merge gives: a merge that takes
// either side as it was has brought nothing new (git-log(1), History
// Simplification: "TREESAME to any parent").
func TestMerge(t *testing.T) {
	m := twoModels()
	base := m.log.Head
	lighter := testModel("Brook", "low-6@300 mm", "low-6@900 mm")
	side := m.commit("lighter on a branch", []string{base}, map[string]string{"models/brook.yaml": lighter})
	trunk := m.commit("other ditch", []string{base}, map[string]string{"models/ditch.yaml": testModel("Ditch")})
	m.commit("merge", []string{trunk, side}, map[string]string{"models/brook.yaml": lighter})
	r := m.open(t)
	wantWhys(t, r, "brook", "lighter on a branch", "a range")
	wantWhys(t, r, "ditch", "other ditch", "a range")

	m.commit("merge by hand", []string{trunk, side}, map[string]string{"models/brook.yaml": testModel("Brook", "low-6@800 mm")})
	wantWhys(t, m.open(t), "brook", "merge by hand", "lighter on a branch", "a range")
}

// TestSetAside holds that what a merge did not take is told apart: in git the
// revisions stay among the ancestors of the working files.
func TestSetAside(t *testing.T) {
	brook := func(rings ...string) map[string]string {
		return map[string]string{"models/brook.yaml": testModel("Brook", rings...)}
	}
	for _, tc := range []struct {
		name  string
		merge func(m *memory, trunk, side string)
		want  []string // reasons of what is set aside
	}{
		{"nothing merged", func(*memory, string, string) {}, nil},
		{"ours", func(m *memory, trunk, side string) {
			m.commit("merge", []string{trunk, side}, nil)
		}, []string{"side one", "side two"}},
		{"theirs", func(m *memory, trunk, side string) {
			m.commit("merge", []string{trunk, side}, brook("low-6@400 mm"))
		}, []string{"trunk"}},
		{"both by hand", func(m *memory, trunk, side string) {
			m.commit("merge", []string{trunk, side}, brook("low-6@450 mm"))
		}, nil},
		{"ours, then further", func(m *memory, trunk, side string) {
			m.commit("merge", []string{trunk, side}, nil)
			m.then("further", brook("low-6@600 mm"))
		}, []string{"side one", "side two"}},
		{"ours, then the side by hand", func(m *memory, trunk, side string) {
			merge := m.commit("merge", []string{trunk, side}, nil)
			m.commit("second merge", []string{merge, side}, brook("low-6@450 mm"))
		}, nil},
		{"both alike", func(m *memory, trunk, side string) {
			alike := m.commit("the same again", []string{trunk}, brook("low-6@400 mm"))
			m.commit("merge", []string{alike, side}, nil)
		}, nil},
	} {
		t.Run(tc.name, func(t *testing.T) {
			m := twoModels()
			base := m.log.Head
			m.commit("side one", []string{base}, brook("low-6@300 mm"))
			side := m.then("side two", brook("low-6@400 mm"))
			trunk := m.commit("trunk", []string{base}, brook("low-6@500 mm"))
			tc.merge(m, trunk, side)
			revs, err := m.open(t).Revisions("brook")
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, rev := range revs {
				if rev.Aside == nil {
					continue
				}
				got = append(got, rev.Why)
				if rev.Aside.Message != "merge" {
					t.Errorf("%s is set aside by %q", rev.Why, rev.Aside.Message)
				}
			}
			if slices.Sort(got); !slices.Equal(got, tc.want) {
				t.Errorf("set aside are %q, want %q", got, tc.want)
			}
		})
	}
}

func TestOtherBranchIsFoundButNoHistory(t *testing.T) {
	m := twoModels()
	base := m.log.Head
	m.commit("a try", []string{base}, map[string]string{"models/brook.yaml": testModel("Brook")})
	try := m.log.Head
	m.commit("main goes on", []string{base}, map[string]string{"models/brook.yaml": testModel("Brook", "low-6@400 mm")})
	r := m.open(t)
	wantWhys(t, r, "brook", "main goes on", "a range")
	if rev, err := r.Find("brook", try); err != nil || rev.Why != "a try" {
		t.Errorf("brook@%s is %v, %v", try, rev, err)
	}
}

func TestFind(t *testing.T) {
	m := twoModels() // March 2021
	first := m.log.Head
	m.log.Tags = []Tag{{Name: "brook/2021", State: first}, {Name: "brook/2021/odd", State: first}, {Name: "other", State: first}}
	m.then("second", map[string]string{"models/brook.yaml": testModel("Brook", "low-6@500 mm")}) // April
	m.working["models/brook.yaml"] = testModel("Brook", "low-6@510 mm")
	r := m.open(t)
	draft, err := r.Find("brook", "")
	if err != nil || draft.Status != Draft || draft.Before.Why != "second" {
		t.Fatalf("draft is %+v, %v", draft, err)
	}
	saved, err := r.Find("brook", "saved")
	if err != nil || saved.Status != Prototype {
		t.Fatalf("saved is %+v, %v", saved, err)
	}
	for _, row := range []struct{ rev, why string }{
		{"2021", "a range"}, // the label goes before the year
		{"2022", "second"},
		{"2021-03", "a range"},
		{"2021-04-01", "second"},
		{"2021-03-31", "a range"},
		{first, "a range"},
		{saved.ID[:6], "second"},
	} {
		rev, err := r.Find("brook", row.rev)
		if err != nil || rev.Why != row.why {
			t.Errorf("brook@%s is %v, %v; want %q", row.rev, rev, err, row.why)
		}
	}
	for _, bad := range []string{"2020", "1999-12", "zzzz", "abc", first[:3]} {
		if rev, err := r.Find("brook", bad); !errors.Is(err, ErrNotFound) {
			t.Errorf("brook@%s is %v, %v; want ErrNotFound", bad, rev, err)
		}
	}
	if _, err := r.Find("brok", ""); !errors.Is(err, ErrNotFound) || !strings.Contains(err.Error(), "brook") {
		t.Errorf("an unknown model gives %v, want the names there are", err)
	}
}

func TestDraftAsSavedIsTheSavedRevision(t *testing.T) {
	m := twoModels()
	m.working["models/brook.yaml"] += "# a thought\n"
	rev, err := m.open(t).Draft("brook")
	if err != nil || rev.Status != Prototype || rev.State == "" {
		t.Errorf("draft is %+v, %v; want the saved revision", rev, err)
	}
}

// A fault that was saved is no draft, whatever else is at work.
func TestSavedFaultIsNoDraft(t *testing.T) {
	m := twoModels()
	m.then("in haste", map[string]string{"models/brook.yaml": "name: Brook\nlenght: 9 ft\n"})
	rev, err := m.open(t).Draft("brook")
	if err != nil || rev.Fault() == nil || rev.Status != Prototype {
		t.Errorf("got %+v, %v", rev, err)
	}
}

// A comment is no revision, but the text has it.
func TestDraftKeepsItsText(t *testing.T) {
	m := twoModels()
	m.working["models/brook.yaml"] += "# a note\n"
	r := m.open(t)
	rev, err := r.Draft("brook")
	if err != nil || rev.Status == Draft {
		t.Fatalf("got %+v, %v", rev, err)
	}
	if src, err := r.Source(rev); err != nil || src != m.working["models/brook.yaml"] {
		t.Errorf("the source is %q, %v", src, err)
	}
	saved, err := r.Find("brook", "saved")
	if err != nil {
		t.Fatal(err)
	}
	if src, err := r.Source(saved); err != nil || strings.Contains(src, "a note") {
		t.Errorf("the saved source is %q, %v", src, err)
	}
}

// TestBackToARelease holds that a rod edited back to what is on sale is known
// for it.
func TestBackToARelease(t *testing.T) {
	m := twoModels()
	released := m.working["models/brook.yaml"]
	m.log.Tags = []Tag{{Name: "brook/2021", State: m.log.Head}}
	m.then("a try", map[string]string{"models/brook.yaml": testModel("Brook", "low-6@400 mm")})
	m.then("taken back", map[string]string{"models/brook.yaml": released})
	r := m.open(t)
	back, err := r.Find("brook", "saved")
	if err != nil || back.Why != "taken back" || back.Status != Prototype || back.Again != "2021" {
		t.Errorf("brook@saved is %+v, %v", back, err)
	}
	if rev, err := r.Find("brook", back.ID); err != nil || rev.Label() != "2021" {
		t.Errorf("its identity finds %+v, %v; want the release", rev, err)
	}
}

// TestDateIsTheMakers holds that a revision belongs to the day that the clock
// of its maker showed, not to that of the reader.
func TestDateIsTheMakers(t *testing.T) {
	m := twoModels()
	m.clock = time.Date(2021, 10, 4, 0, 30, 0, 0, time.FixedZone("", 3600)) // still the third in UTC
	m.then("just past midnight", map[string]string{"models/brook.yaml": testModel("Brook")})
	r := m.open(t)
	for date, why := range map[string]string{"2021-10-03": "a range", "2021-10-04": "just past midnight"} {
		if rev, err := r.Find("brook", date); err != nil || rev.Why != why {
			t.Errorf("brook@%s is %v, %v; want %q", date, rev, err, why)
		}
	}
}
