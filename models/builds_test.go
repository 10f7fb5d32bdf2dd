package models_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/models"
)

const buildsText = `# the year
built:
  - {serial: 0147, model: skerry-10, release: 2026, date: 2026-09-19, weight: 167.7 g, test curve: 1 1/2 lb, blank: b-31, notes: first of the new cork}
  - serial: 0148
    model: rill-7
    release: 5c2e1f0a
    date: 2026-10-03
repairs:
  - {serial: 0122, date: 2026-03-02, done: new tip ring, section: tip, weight: 139.2 g}
`

func TestParseBuilds(t *testing.T) {
	b, err := models.ParseBuilds("builds/2026.yaml", []byte(buildsText))
	if err != nil {
		t.Fatal(err)
	}
	if len(b.Built) != 2 || len(b.Repairs) != 1 {
		t.Fatalf("got %d rods and %d repairs", len(b.Built), len(b.Repairs))
	}
	rod, plain, repair := b.Built[0], b.Built[1], b.Repairs[0]
	// The pound and the pull of a kilogram are exact: BIPM, 3rd CGPM (1901).
	const pounds = 1.5 * 0.45359237 * 9.80665
	if rod.Weight.Value != 0.1677 || math.Abs(float64(rod.TestCurve.Value)-pounds) > 1e-12 { // a bit or two of the product
		t.Errorf("got %v kg and %v N", rod.Weight.Value, rod.TestCurve.Value)
	}
	got := []string{rod.Serial.Text, rod.Model.Text, rod.Release.Text, rod.Date.Text, rod.Blank.Text, rod.Notes.Text}
	if diff := cmp.Diff([]string{"0147", "skerry-10", "2026", "2026-09-19", "b-31", "first of the new cork"}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if plain.Weight.Set() || plain.TestCurve.Set() || plain.Release.Text != "5c2e1f0a" || plain.Pos.Line != 4 {
		t.Errorf("got %+v", plain)
	}
	if repair.Done.Text != "new tip ring" || repair.Section.Text != "tip" || repair.Weight.Value != 0.1392 {
		t.Errorf("got %+v", repair)
	}
}

func TestParseHeard(t *testing.T) {
	h, err := models.ParseHeard("heard/rill-7.yaml", []byte("heard:\n  - {release: 2026, date: 2026-11-07, said: lighter than it looks}\n"))
	if err != nil {
		t.Fatal(err)
	}
	if len(h.Remarks) != 1 || h.Remarks[0].Said.Text != "lighter than it looks" || h.Remarks[0].Release.Text != "2026" {
		t.Errorf("got %+v", h.Remarks)
	}
}

func TestRecordsMayBeEmpty(t *testing.T) {
	for _, src := range []string{"", "# nothing yet\n"} {
		if b, err := models.ParseBuilds("b.yaml", []byte(src)); err != nil || b.Built != nil {
			t.Errorf("%q: got %v, %v", src, b, err)
		}
		if h, err := models.ParseHeard("h.yaml", []byte(src)); err != nil || h.Remarks != nil {
			t.Errorf("%q: got %v, %v", src, h, err)
		}
	}
}

func TestBuildsFaultsAllAtOnce(t *testing.T) {
	_, err := models.ParseBuilds("b.yaml", []byte(`built:
  - {serial: 0147, model: skerry-10, release: 2026, date: 19 September, weight: 167.7}
  - {serial: "a+b", model: skerry-10, date: 2026-09-19, weight: 0 g, customer: nobody}
  - {serial: 0149, serial: 0150, model: skerry-10, release: 2026, date: 2026-09-19, test curve: 640 mm}
repiars: []
repairs:
  - {serial: 0147, date: 2026-09-19}
`))
	want := `b.yaml:2:59: built[0147].date: "19 September" is not a day such as 2026-11-07
b.yaml:2:81: built[0147].weight: "167.7" has no unit; write it with one, such as 167.7 g
b.yaml:3:5: built[a+b].release: is missing; expected a word
b.yaml:3:14: built[a+b].serial: "a+b" has a "+", which a name may not have
b.yaml:3:65: built[a+b].weight: "0 g" is zero; expected more than 0 and at most 20 kg
b.yaml:3:70: built[a+b].customer: unknown key "customer"; known here: serial, model, release, top, date, weight, test curve, blank, notes
b.yaml:4:20: built[0149].serial: given twice; the first is in line 4
b.yaml:4:97: built[0149].test curve: "640 mm" is a length; expected a force such as 1.5 lb
b.yaml:5:1: repiars: unknown key "repiars"; did you mean repairs?
b.yaml:7:5: repairs[0147].done: is missing; expected a word`
	if err == nil {
		t.Fatal("no fault")
	}
	if diff := cmp.Diff(want, err.Error()); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
