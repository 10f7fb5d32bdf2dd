package catalogue

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"rodlore/models"
)

func TestSave(t *testing.T) {
	m := twoModels()
	m.working["models/brook.yaml"] = testModel("Brook", "low-6@500 mm")
	m.working["models/ditch.yaml"] = testModel("Ditch")
	m.working[partsFile] = strings.Replace(testParts, "mass: 2.4 g", "mass: 2.6 g", 1)
	saved, err := m.open(t).Save(context.Background(), SaveRequest{
		Models: []string{"brook"}, Why: "one ring  ", Tell: "lighter\nand quicker",
	})
	if err != nil {
		t.Fatal(err)
	}
	// Ditch as saved uses the ring that got heavier; its own edit stays a draft.
	if !slices.Equal(saved.Models, []string{"brook", "ditch"}) || !slices.Equal(saved.Files, []string{"models/brook.yaml", partsFile}) {
		t.Errorf("saved %+v", saved)
	}
	m.working["models/ditch.yaml"] = testModel("Ditch")
	r := m.open(t)
	rev, err := r.Find("brook", "saved")
	if err != nil || rev.Why != "one ring" || rev.Tell != "lighter\nand quicker" {
		t.Errorf("brook@saved is %+v, %v", rev, err)
	}
	if draft, err := r.Draft("ditch"); err != nil || draft.Status != Draft {
		t.Errorf("ditch's edit is lost: %+v, %v", draft, err)
	}
}

// TestSaveTakesTheFormerNameAlong holds that saving a renamed model by name
// leaves no second model behind.
func TestSaveTakesTheFormerNameAlong(t *testing.T) {
	m := twoModels()
	m.working["models/beck.yaml"] = strings.Replace(m.working["models/brook.yaml"], "job:", "was: brook\njob:", 1)
	delete(m.working, "models/brook.yaml")
	saved, err := m.open(t).Save(context.Background(), SaveRequest{Models: []string{"beck"}, Why: "another name"})
	if err != nil || !slices.Equal(saved.Files, []string{"models/beck.yaml", "models/brook.yaml"}) || len(saved.Gone) > 0 {
		t.Fatalf("saved %+v, %v", saved, err)
	}
	wantWhys(t, m.open(t), "beck", "another name", "a range")
}

func TestSaveRefuses(t *testing.T) {
	ctx := context.Background()
	t.Run("nothing changed", func(t *testing.T) {
		_, err := twoModels().open(t).Save(ctx, SaveRequest{Why: "x"})
		if !errors.Is(err, ErrUnchanged) {
			t.Errorf("got %v", err)
		}
	})
	t.Run("line ends alone", func(t *testing.T) {
		m := twoModels()
		m.working["models/brook.yaml"] = strings.ReplaceAll(m.working["models/brook.yaml"], "\n", "\r\n")
		if _, err := m.open(t).Save(ctx, SaveRequest{Why: "x"}); !errors.Is(err, ErrUnchanged) {
			t.Errorf("got %v", err)
		}
	})
	t.Run("no reason", func(t *testing.T) {
		m := twoModels()
		m.working["models/brook.yaml"] = testModel("Brook")
		if _, err := m.open(t).Save(ctx, SaveRequest{Why: " \n"}); err == nil || !strings.Contains(err.Error(), "say why") {
			t.Errorf("got %v", err)
		}
	})
	t.Run("a reason that would be read as words for customers", func(t *testing.T) {
		m := twoModels()
		m.working["models/brook.yaml"] = testModel("Brook")
		if _, err := m.open(t).Save(ctx, SaveRequest{Why: "shorter\n\nTell: nobody"}); err == nil || !strings.Contains(err.Error(), "put it in other words") {
			t.Errorf("got %v", err)
		}
	})
	t.Run("faults, all of them", func(t *testing.T) {
		m := twoModels()
		before := m.log.Head
		m.working["models/brook.yaml"] = testModel("Brook", "low-6@300", "nothing@900 mm")
		m.working[rangeFile] = "maker: Test Rods\nbench load: heavy\n"
		_, err := m.open(t).Save(ctx, SaveRequest{Why: "x"})
		var faults models.Faults
		if !errors.As(err, &faults) || len(faults) < 2 {
			t.Errorf("got %v, want the faults of both files", err)
		}
		if m.log.Head != before {
			t.Error("something was saved")
		}
	})
	t.Run("unknown model", func(t *testing.T) {
		_, err := twoModels().open(t).Save(ctx, SaveRequest{Models: []string{"eel"}, Why: "x"})
		if !errors.Is(err, ErrNotFound) {
			t.Errorf("got %v", err)
		}
	})
	t.Run("saved otherwise by another meanwhile", func(t *testing.T) {
		m := twoModels()
		r := m.open(t)
		m.then("another", map[string]string{"models/brook.yaml": testModel("Brook", "low-6@400 mm")})
		m.working["models/brook.yaml"] = testModel("Brook")
		if _, err := r.Save(ctx, SaveRequest{Models: []string{"brook"}, Why: "x"}); !errors.Is(err, ErrMoved) || !strings.Contains(err.Error(), "models/brook.yaml") {
			t.Errorf("got %v", err)
		}
	})
}

// TestSaveGoesOnTopOfOthers holds that what another saves meanwhile keeps nobody
// from saving something else, and that this has an end.
func TestSaveGoesOnTopOfOthers(t *testing.T) {
	ctx := context.Background()
	m := twoModels()
	r := m.open(t)
	m.then("another", map[string]string{"models/ditch.yaml": testModel("Ditch")})
	m.working["models/brook.yaml"] = testModel("Brook")
	saved, err := r.Save(ctx, SaveRequest{Models: []string{"brook"}, Why: "x"})
	if err != nil || !slices.Equal(saved.Files, []string{"models/brook.yaml"}) {
		t.Fatalf("saved %+v, %v", saved, err)
	}
	wantWhys(t, m.open(t), "ditch", "another", "a range")

	m.working["models/brook.yaml"] = testModel("Brook", "low-6@500 mm")
	r, err = Open(ctx, &alwaysMoved{memory: m})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.Save(ctx, SaveRequest{Why: "x"}); !errors.Is(err, ErrMoved) || !strings.Contains(err.Error(), "nothing of yours is saved") {
		t.Errorf("a range that never holds still gives %v", err)
	}
}

// alwaysMoved is a range that somebody else has always just saved.
type alwaysMoved struct{ *memory }

func (*alwaysMoved) Save(context.Context, Save) (string, error) { return "", ErrMoved }

const benchSheet = "model: brook\nrod: \"7\"\ndate: 2021-05-01\nmeasured:\n  - {weight: 100 g}\n"

// TestSaveTakesRecordsOut holds that a record that is gone, or has another name,
// goes along with its model, so that no reading stands twice.
func TestSaveTakesRecordsOut(t *testing.T) {
	const builds = "built:\n  - {serial: \"7\", model: brook, release: \"2021\", date: 2021-05-01}\n"
	for _, row := range []struct {
		name  string
		alter func(working map[string]string)
		files []string
	}{
		{"a sheet renamed", func(w map[string]string) {
			w["bench/b.yaml"] = w["bench/a.yaml"]
			delete(w, "bench/a.yaml")
		}, []string{"bench/a.yaml", "bench/b.yaml"}},
		{"a sheet taken away", func(w map[string]string) { delete(w, "bench/a.yaml") }, []string{"bench/a.yaml"}},
		{"a sheet that is of another model now", func(w map[string]string) {
			w["bench/a.yaml"] = strings.Replace(benchSheet, "brook", "ditch", 1)
		}, []string{"bench/a.yaml"}},
		{"a year taken away", func(w map[string]string) { delete(w, "builds/2021.yaml") }, []string{"builds/2021.yaml"}},
		{"a sheet of another model", func(w map[string]string) {
			w["models/brook.yaml"] = testModel("Brook")
			delete(w, "bench/other.yaml")
		}, []string{"models/brook.yaml"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			m := twoModels()
			m.release("2021")
			m.then("measured", map[string]string{
				"bench/a.yaml": benchSheet, "builds/2021.yaml": builds,
				"bench/other.yaml": strings.Replace(benchSheet, "brook", "ditch", 1),
			})
			row.alter(m.working)
			saved, err := m.open(t).Save(context.Background(), SaveRequest{Models: []string{"brook"}, Why: "x"})
			if err != nil || !slices.Equal(saved.Files, row.files) {
				t.Fatalf("saved %+v, %v, want %v", saved, err, row.files)
			}
		})
	}
}

// TestSaveLeavesIgnoredFiles holds that what git leaves alone is saved by none
// but who told git otherwise.
func TestSaveLeavesIgnoredFiles(t *testing.T) {
	m := twoModels()
	m.working["models/try.yaml"] = testModel("Try")
	m.working["models/brook.yaml"] = testModel("Brook", "low-6@500 mm")
	m.ignored = map[string]bool{"models/try.yaml": true, "models/brook.yaml": true}
	for _, req := range []SaveRequest{{Models: []string{"try"}, Why: "x"}, {Files: []string{"models/try.yaml"}, Why: "x"}} {
		if _, err := m.open(t).Save(context.Background(), req); err == nil || !strings.Contains(err.Error(), "to be left alone") {
			t.Errorf("saving %+v gives %v", req, err)
		}
	}
	saved, err := m.open(t).Save(context.Background(), SaveRequest{Why: "all of it"})
	if err != nil || !slices.Equal(saved.Files, []string{"models/brook.yaml"}) {
		t.Errorf("saved %+v, %v", saved, err)
	}
}

func TestSaveTakesAModelOut(t *testing.T) {
	m := twoModels()
	delete(m.working, "models/brook.yaml")
	if gone, err := m.open(t).Gone(context.Background()); err != nil || !slices.Equal(gone, []string{"brook"}) {
		t.Errorf("gone are %q, %v", gone, err)
	}
	if _, err := m.open(t).Save(context.Background(), SaveRequest{Why: "all"}); !errors.Is(err, ErrUnchanged) {
		t.Errorf("a save that does not name it gives %v", err)
	}
	saved, err := m.open(t).Save(context.Background(), SaveRequest{Models: []string{"brook"}, Why: "no longer made"})
	if err != nil || !slices.Equal(saved.Files, []string{"models/brook.yaml"}) || !slices.Equal(saved.Gone, []string{"brook"}) {
		t.Fatalf("saved %+v, %v", saved, err)
	}
	r := m.open(t)
	wantWhys(t, r, "brook", "a range")
	wantTakenOut(t, r, "brook", "no longer made: 2021-04-01 after a range")
	wantTakenOut(t, r, "ditch")
	if _, err := r.Draft("brook"); !errors.Is(err, ErrNotFound) || !strings.Contains(err.Error(), "taken out") {
		t.Errorf("the draft of a model taken out gives %v", err)
	}
}

func TestRelease(t *testing.T) {
	ctx := context.Background()
	m := twoModels()
	r := m.open(t)
	rev, err := r.Draft("brook")
	if err != nil {
		t.Fatal(err)
	}
	day := time.Date(2021, 4, 2, 0, 0, 0, 0, time.UTC)
	if _, err := r.Release(ctx, rev, ReleaseRequest{Label: "2021", When: day}); err != nil {
		t.Fatal(err)
	}
	note := m.log.Tags[0].Message
	for _, want := range []string{"Brook 2021\n", "Revision: " + rev.ID, "weight: 0.0", "rings: 2\n"} {
		if !strings.Contains(note, want) {
			t.Errorf("the tag's message lacks %q:\n%s", want, note)
		}
	}
	r = m.open(t)
	rev, err = r.Find("brook", "2021")
	if err != nil || rev.Status != Released {
		t.Fatalf("brook@2021 is %+v, %v", rev, err)
	}
	if _, err := r.Release(ctx, rev, ReleaseRequest{Label: "2021", When: day}); !errors.Is(err, ErrTagTaken) {
		t.Errorf("a label used twice gives %v", err)
	}
	for _, label := range []string{"", "a b", "a/b", "draft", "saved", "-x", "x..y", "x.", "x.lock", "grün", strings.Repeat("x", 50), rev.ShortID(), rev.ID[:12]} {
		if _, err := r.Release(ctx, rev, ReleaseRequest{Label: label, When: day}); err == nil || errors.Is(err, ErrTagTaken) {
			t.Errorf("label %q gives %v, want a refusal", label, err)
		}
	}
	m.working["models/brook.yaml"] = testModel("Brook")
	draft, err := m.open(t).Draft("brook")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.Release(ctx, draft, ReleaseRequest{Label: "2022", When: day}); err == nil || !strings.Contains(err.Error(), "save") {
		t.Errorf("releasing a draft gives %v", err)
	}
	if len(m.log.Tags) != 1 {
		t.Errorf("%d tags, want 1", len(m.log.Tags))
	}
}

func TestMessage(t *testing.T) {
	for _, row := range []struct{ name, message, why, tell string }{
		{"ours", Message("a ring fewer", "lighter"), "a ring fewer", "lighter"},
		{"two lines", Message("a ring fewer\n\nit rattled", "lighter\nquicker"), "a ring fewer\n\nit rattled", "lighter\nquicker"},
		{"no words", Message("a ring fewer", ""), "a ring fewer", ""},
		{"words in paragraphs", Message("a ring fewer", "lighter\n\n  quicker\n"), "a ring fewer", "lighter\nquicker"},
		{"a reason that looks like a trailer", "shorter joint\n\nReason: the old one cracked\n", "shorter joint\n\nReason: the old one cracked", ""},
		{"plain git", "subject\n\nbody\n", "subject\n\nbody", ""},
		{"other trailers", "subject\n\nSigned-off-by: A <a@example.org>\n", "subject", ""},
		{"colon in the reason", "note: a reason", "note: a reason", ""},
		{"empty", "", "", ""},
		{"CRLF", "subject\r\n\r\nTell: words\r\n", "subject", "words"},
	} {
		t.Run(row.name, func(t *testing.T) {
			if why, tell := readMessage(row.message); why != row.why || tell != row.tell {
				t.Errorf("got %q and %q, want %q and %q", why, tell, row.why, row.tell)
			}
		})
	}
}
