package catalogue

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/models"
)

// withRods is a range of two models on sale and three rods, one mended twice.
func withRods(t *testing.T) *memory {
	t.Helper()
	m := twoModels()
	ctx := context.Background()
	for _, model := range []string{"brook", "ditch"} {
		r := m.open(t)
		rev, err := r.Find(model, "saved")
		if err != nil {
			t.Fatal(err)
		}
		if _, err := r.Release(ctx, rev, ReleaseRequest{Label: "2021", When: m.clock}); err != nil {
			t.Fatal(err)
		}
	}
	m.then("rods", map[string]string{
		"builds/2021.yaml": `built:
  - {serial: 0101, model: brook, release: 2021, date: 2021-05-01, weight: 90 g}
  - {serial: 0103, model: ditch, release: 2021, date: 2021-04-01}
repairs:
  - {serial: 0103, date: 2021-12-01, done: new tip ring}
`,
		"builds/2022.yaml": `built:
  - {serial: 0102, model: brook, release: 2021, date: 2022-02-01, weight: 91 g}
repairs:
  - {serial: 0103, date: 2022-07-01, done: seat glued, section: whole}
  - {serial: 0103, date: 2022-03-01, done: new butt ring}
`,
		"heard/brook.yaml": `heard:
  - {release: 2021, date: 2022-06-01, said: bends nicely}
  - {release: 2021, date: 2021-06-01, said: fine}
`,
	})
	return m
}

func serials(rods []*Build) []string {
	var list []string
	for _, b := range rods {
		list = append(list, b.Serial.Text)
	}
	return list
}

func TestBuilds(t *testing.T) {
	r := withRods(t).open(t)
	for _, tt := range []struct {
		model string
		want  []string
	}{
		{"", []string{"0103", "0101", "0102"}}, // by the day they were built
		{"brook", []string{"0101", "0102"}},
		{"ditch", []string{"0103"}},
	} {
		rods, err := r.Builds(tt.model)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(tt.want, serials(rods)); diff != "" {
			t.Errorf("rods of %q (-want +got):\n%s", tt.model, diff)
		}
	}
	if _, err := r.Builds("bruk"); !errors.Is(err, ErrNotFound) {
		t.Errorf("an unknown model gives %v", err)
	}
	b, err := r.Build("0103")
	if err != nil {
		t.Fatal(err)
	}
	var done []string
	for _, repair := range b.Repairs {
		done = append(done, repair.Done.Text)
	}
	if diff := cmp.Diff([]string{"new tip ring", "new butt ring", "seat glued"}, done); diff != "" {
		t.Errorf("repairs (-want +got):\n%s", diff)
	}
	rev, err := r.BuiltTo(b)
	if err != nil || rev.Label() != "2021" || rev.Model != "ditch" {
		t.Errorf("built to %+v, %v", rev, err)
	}
	_, err = r.Build("103")
	var advised *Advised
	if !errors.As(err, &advised) || advised.Do != ListRods || err.Error() != "rod 103: not found; did you mean 0103?" {
		t.Errorf("got %v", err)
	}
}

// TestRecordsFollowAName holds that what was written down stays with a model that
// got another name.
func TestRecordsFollowAName(t *testing.T) {
	m := withRods(t)
	first, err := m.open(t).Find("brook", "2021")
	if err != nil {
		t.Fatal(err)
	}
	m.then("looked at", map[string]string{
		"bench/0101.yaml":    strings.Replace(testSheet("brook", "of: 2021\n"), "0147", "0101", 1),
		"reviews/brook.yaml": "ticked:\n  - {check: feet, revision: " + first.ShortID() + ", date: 2022-02-02, by: MK}\n",
	})
	m.then("another name", map[string]string{
		"models/brook.yaml": "", "models/beck.yaml": strings.Replace(m.working["models/brook.yaml"], "job:", "was: brook\njob:", 1),
	})
	r := m.open(t)
	rods, err := r.Builds("beck")
	if err != nil || !slices.Equal(serials(rods), []string{"0101", "0102"}) {
		t.Errorf("got %v, %v", serials(rods), err)
	}
	if faults, err := r.Check(t.Context()); err != nil || faults != nil {
		t.Errorf("got %v, %v", faults, err)
	}
	remarks, err := r.Heard("beck")
	if err != nil || len(remarks) != 2 {
		t.Errorf("heard %v, %v", remarks, err)
	}

	// The rod on sale is the revision that was put on sale, not the renamed one.
	sold, err := r.BuiltTo(rods[0])
	if err != nil || sold.State != first.State || sold.Model != "beck" {
		t.Fatalf("built to %s of %s, %v; want beck, %s", sold.Model, sold.State, err, first.State)
	}
	if said, err := r.HeardOf(sold); err != nil || len(said) != 2 {
		t.Errorf("heard of it %v, %v", said, err)
	}
	if found, err := r.MeasuredOn(t.Context(), sold); err != nil || found.Sheets != 1 || len(found.Unread) > 0 {
		t.Errorf("measured %+v, %v", found, err)
	}
	if found, err := r.MeasuredOnRod(rods[0]); err != nil || found.Sheets != 1 {
		t.Errorf("measured on rod 0101 %+v, %v", found, err)
	}
	checks, err := r.ByHand(sold)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range checks {
		if (c.Tick != nil) != (c.Check.Text == "feet") {
			t.Errorf("%s is ticked: %v", c.Check, c.Tick != nil)
		}
	}
}

func TestNextSerial(t *testing.T) {
	for _, tt := range []struct{ name, last, want string }{
		{"none yet", "", "0001"},
		{"digits", "0103", "0104"},
		{"letters before them", "SK-9", "SK-10"},
		{"no number", "prototype", "0103"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := withRods(t)
			switch tt.last {
			case "":
				delete(m.working, "builds/2021.yaml")
				delete(m.working, "builds/2022.yaml")
			default:
				m.working["builds/2022.yaml"] = strings.Replace(m.working["builds/2022.yaml"], "0102", tt.last, 1)
				m.working["builds/2021.yaml"] = strings.Replace(m.working["builds/2021.yaml"], "0103", "0102", 1)
				if letters, _, ok := strings.Cut(tt.last, "-"); ok { // as all rods are numbered
					m.working["builds/2021.yaml"] = strings.ReplaceAll(m.working["builds/2021.yaml"], "010", letters+"-")
				}
			}
			if got, err := m.open(t).NextSerial(); err != nil || got != tt.want {
				t.Errorf("got %s, %v, want %s", got, err, tt.want)
			}
		})
	}
	m := withRods(t)
	m.working["builds/2023.yaml"] = "built:\n  - {serial: F1, model: brook, release: 2021, date: 2023-02-01}\n"
	if got, err := m.open(t).NextSerial(); err != nil || got != "0104" {
		t.Errorf("behind one odd number among others comes %s, %v", got, err)
	}
	m = withRods(t)
	m.working["bench/one.yaml"] = strings.Replace(testSheet("brook", ""), "0147", "0200", 1)
	if got, err := m.open(t).NextSerial(); err != nil || got != "0201" {
		t.Errorf("behind a measured rod comes %s, %v", got, err)
	}
}

func TestHeard(t *testing.T) {
	r := withRods(t).open(t)
	rev, err := r.Find("brook", "2021")
	if err != nil {
		t.Fatal(err)
	}
	remarks, err := r.HeardOf(rev)
	if err != nil || len(remarks) != 2 || remarks[0].Said.Text != "fine" {
		t.Errorf("heard %v, %v", remarks, err)
	}
	if other, err := r.Heard("ditch"); err != nil || other != nil {
		t.Errorf("of ditch %v, %v", other, err)
	}
}

func TestRecordFaults(t *testing.T) {
	m := withRods(t)
	m.working["builds/2022.yaml"] = `built:
  - {serial: 0101, model: brook, release: 2021, date: 2021-02-01}
  - {serial: 0104, model: brok, release: 2021, date: 2022-02-01}
  - {serial: 0105, model: brook, release: 2020, date: 2022-02-01}
  - {serial: 0106, model: brook, release: draft, date: 2022-02-01}
repairs:
  - {serial: 0109, date: 2022-07-01, done: x}
  - {serial: 0103, date: 2022-03-01, done: x, section: tip}
  - {serial: 0106, date: 2022-01-01, done: x}
`
	m.working["builds/rods.yaml"] = "repairs:\n  - {serial: 0103, date: 2022-03-01, done: x}\n"
	m.working["heard/bruck.yaml"] = "heard:\n  - {release: 2021, date: 2022-03-01, said: x}\n"
	m.working["heard/brook.yaml"] = "heard:\n  - {release: 1921, date: 2022-03-01, said: x}\n"
	faults, err := m.open(t).Check(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	want := `builds/2022.yaml:2:14: built[0101].serial: "0101" is the number of another rod already, at builds/2021.yaml:2:14
builds/2022.yaml:2:55: built[0101].date: "2021-02-01" is not of 2022, the year of this file; it belongs into builds/2021.yaml
builds/2022.yaml:3:27: built[0104].model: no model is named "brok"; did you mean brook?
builds/2022.yaml:4:43: built[0105].release: brook@2020: not found: the releases are 2021
builds/2022.yaml:5:43: built[0106].release: brook@draft: not found: the releases are 2021
builds/2022.yaml:7:14: repairs[0109].serial: no rod has the number "0109"; did you mean 0101?
builds/2022.yaml:8:56: repairs[0103].section: the rod has no section named "tip"
builds/2022.yaml:9:26: repairs[0106].date: "2022-01-01" is before the rod was built, on 2022-02-01
builds/rods.yaml:1:1: "rods" is no year; name the file for the year that its rods were built in, such as builds/2026.yaml
heard/brook.yaml:2:15: heard[1].release: brook@1921: not found: the releases are 2021
heard/bruck.yaml:1:1: heard[1].model: no model is named "bruck"; did you mean brook?`
	if diff := cmp.Diff(want, faults.Error()); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	// A rod in a file that cannot be read is no unknown one.
	m.working = withRods(t).working
	m.working["builds/2021.yaml"] += "bulit: []\n"
	if faults, err := m.open(t).Check(t.Context()); err != nil || len(faults) != 1 {
		t.Errorf("got %v, %v", faults, err)
	}
	// A save refuses what it would record, and nothing else keeps it.
	m.working["heard/bruck.yaml"] = "heard:\n  - {release: 2021, date: 2022-03-01, said: x}\n"
	_, err = m.open(t).Save(context.Background(), SaveRequest{Files: []string{"heard/bruck.yaml"}, Why: "x"})
	var found models.Faults
	if !errors.As(err, &found) || len(found) != 1 {
		t.Errorf("got %v", err)
	}
}

// TestSaveTakesRecordsAlong holds which records go with a save.
func TestSaveTakesRecordsAlong(t *testing.T) {
	for _, tt := range []struct {
		name string
		req  SaveRequest
		want []string
	}{
		{"a model", SaveRequest{Models: []string{"ditch"}}, []string{"builds/2022.yaml", "models/ditch.yaml", partsFile}},
		{"the other", SaveRequest{Models: []string{"brook"}}, []string{"builds/2022.yaml", "heard/brook.yaml", "models/brook.yaml", partsFile, "reviews/brook.yaml"}},
		{"a file", SaveRequest{Files: []string{"builds/2022.yaml"}}, []string{"builds/2022.yaml"}},
		{"a file and a model", SaveRequest{Files: []string{"heard/brook.yaml"}, Models: []string{"ditch"}},
			[]string{"builds/2022.yaml", "heard/brook.yaml", "models/ditch.yaml", partsFile}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := withRods(t)
			for file := range m.working {
				if file != "builds/2021.yaml" && file != rangeFile && file != materialsFile {
					m.working[file] += "# edited\n"
				}
			}
			m.working["reviews/brook.yaml"] = "# ticked\n"
			tt.req.Why = "x"
			saved, err := m.open(t).Save(context.Background(), tt.req)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(tt.want, saved.Files); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

func TestAlike(t *testing.T) {
	r := withRods(t).open(t)
	for _, tt := range []struct{ serial, want string }{
		{"0101", ""}, // that rod itself
		{"101", "0101"},
		{"00101", "0101"},
		{"1010", ""},
		{"A101", ""},
		{"club rod", ""},
	} {
		t.Run(tt.serial, func(t *testing.T) {
			got := ""
			b, err := r.Alike(tt.serial)
			if b != nil {
				got = b.Serial.Text
			}
			if err != nil || got != tt.want {
				t.Errorf("%q, %v, want %q", got, err, tt.want)
			}
		})
	}
}
