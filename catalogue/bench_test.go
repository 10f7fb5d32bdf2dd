package catalogue

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"
)

// testSheet is a file of bench/.
func testSheet(model, more string) string {
	return "model: " + model + "\nrod: 0147\ndate: 2026-11-07\n" + more + "measured:\n  - {weight: 165.8 g}\n"
}

func TestSheet(t *testing.T) {
	m := twoModels()
	m.working["bench/one.yaml"] = testSheet("brook", "")
	m.working["bench/two.yaml"] = testSheet("ditch", "")
	m.working["bench/three.yaml"] = testSheet("ditch", "")
	for _, tt := range []struct{ model, name, want, fault string }{
		{model: "brook", want: "one"},
		{model: "ditch", name: "two", want: "two"},
		{model: "ditch", fault: "model ditch: several rods of it were measured; name one of three, two"},
		{model: "ditch", name: "tow", fault: `model ditch: not found: no sheet "tow" of it; did you mean two?; there is three, two`},
		{model: "brook", name: "two", fault: `model brook: not found: no sheet "two" of it; there is one`},
	} {
		t.Run(tt.model+" "+tt.name, func(t *testing.T) {
			s, err := m.open(t).Sheet(tt.model, tt.name)
			switch {
			case tt.fault != "":
				if err == nil || err.Error() != tt.fault {
					t.Errorf("got %v, want %s", err, tt.fault)
				}
			case err != nil:
				t.Error(err)
			case s.File != BenchFile(tt.want):
				t.Errorf("got %s, want %s", s.File, tt.want)
			}
		})
	}
}

func TestSheetOfNone(t *testing.T) {
	_, err := twoModels().open(t).Sheet("brook", "")
	if !errors.Is(err, ErrNotFound) || !strings.Contains(err.Error(), "write what you measure into a file of bench/") {
		t.Errorf("got %v", err)
	}
}

func TestSheetWithFaults(t *testing.T) {
	m := twoModels()
	m.working["bench/good.yaml"] = testSheet("brook", "")
	m.working["bench/bad.yaml"] = strings.Replace(testSheet("brook", ""), "165.8 g", "165.8", 1)
	if s, err := m.open(t).Sheet("brook", "good"); err != nil || s.File != BenchFile("good") {
		t.Errorf("a fault elsewhere keeps the good sheet away: %v", err)
	}
	const want = `bench/bad.yaml:5:14: measured[1].weight: "165.8" has no unit; write it with one, such as 165.8 g`
	if _, err := m.open(t).Sheet("brook", "bad"); err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

func TestCheckFindsFaultsOfSheets(t *testing.T) {
	m := twoModels()
	m.working["bench/bad.yaml"] = strings.Replace(testSheet("brook", ""), "165.8 g", "165.8", 1)
	m.working["bench/lost.yaml"] = testSheet("brok", "")
	faults, err := m.open(t).Check(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	const want = `bench/bad.yaml:5:14: measured[1].weight: "165.8" has no unit; write it with one, such as 165.8 g
bench/lost.yaml:1:8: model: no model is named "brok"; did you mean brook?`
	if faults.Error() != want {
		t.Errorf("got\n%v\nwant\n%s", faults, want)
	}
}

func TestBuilt(t *testing.T) {
	m := twoModels()
	m.working["bench/one.yaml"] = testSheet("brook", "")
	m.working["bench/two.yaml"] = testSheet("brook", "of: 1899\n")
	r := m.open(t)
	for _, tt := range []struct{ sheet, fault string }{{"one", ""}, {"two", "bench/two.yaml: brook@1899: not found"}} {
		s, err := r.Sheet("brook", tt.sheet)
		if err != nil {
			t.Fatal(err)
		}
		rev, err := r.Built(s)
		switch {
		case tt.fault == "" && (err != nil || rev.Model != "brook"):
			t.Errorf("%s: got %v", tt.sheet, err)
		case tt.fault != "" && (err == nil || !strings.HasPrefix(err.Error(), tt.fault)):
			t.Errorf("%s: got %v, want %s", tt.sheet, err, tt.fault)
		}
	}
}

// TestSaveTakesSheetsAlong saves one of two models, each with a sheet.
func TestSaveTakesSheetsAlong(t *testing.T) {
	m := twoModels()
	m.working["models/brook.yaml"] = testModel("Brook of stone")
	m.working["bench/one.yaml"] = testSheet("brook", "")
	m.working["bench/two.yaml"] = testSheet("ditch", "")
	saved, err := m.open(t).Save(context.Background(), SaveRequest{Models: []string{"brook"}, Why: "measured"})
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"bench/one.yaml", "models/brook.yaml"}; !slices.Equal(saved.Files, want) {
		t.Errorf("saved %v, want %v", saved.Files, want)
	}
}

func TestSaveRefusesFaultySheets(t *testing.T) {
	m := twoModels()
	m.working["bench/bad.yaml"] = strings.Replace(testSheet("brook", ""), "165.8 g", "165.8", 1)
	_, err := m.open(t).Save(context.Background(), SaveRequest{Why: "measured"})
	const want = `bench/bad.yaml:5:14: measured[1].weight: "165.8" has no unit; write it with one, such as 165.8 g`
	if err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// TestReadingGivenTwice holds that a copied sheet is told, and one of another day
// or rod, or with other readings, is not.
func TestReadingGivenTwice(t *testing.T) {
	const more = "  - {drop: 30 cm, load: 100 g}\n  - {drop: 30 cm, load: 200 g}\n"
	for _, row := range []struct{ name, first, second, says string }{
		{"a copy", benchSheet, benchSheet, "notes.given twice all=1 file=bench/b.yaml first=bench/a.yaml rod=7 twice=1"},
		{"some of it", benchSheet, benchSheet + more, "all=3 file=bench/b.yaml first=bench/a.yaml rod=7 twice=1"},
		{"another load", benchSheet + more[:strings.Index(more, "\n")+1], strings.Replace(benchSheet, "weight: 100 g", "drop: 30 cm, load: 150 g", 1), ""},
		{"another day", benchSheet, strings.Replace(benchSheet, "05-01", "05-02", 1), ""},
		{"another rod", benchSheet, strings.Replace(benchSheet, `"7"`, `"8"`, 1), ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			m := twoModels()
			m.working["bench/a.yaml"], m.working["bench/b.yaml"] = row.first, row.second
			notes, err := m.open(t).SheetNotes("brook")
			if err != nil {
				t.Fatal(err)
			}
			var lines []string
			for _, n := range notes {
				lines = append(lines, told(n))
			}
			if got := strings.Join(lines, "\n"); row.says == "" && got != "" || !strings.Contains(got, row.says) {
				t.Errorf("notes are %q, want %q", got, row.says)
			}
		})
	}
}
