package models_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"rodlore/models"
)

// seeds gives a fuzzer files that are right and bits that tend to be wrong.
func seeds(f *testing.F, texts ...string) {
	f.Helper()
	files, err := filepath.Glob("testdata/good/*.yaml")
	if err != nil || len(files) == 0 {
		f.Fatal(files, err)
	}
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		texts = append(texts, string(src))
	}
	for _, text := range append(texts, "", "a: [", "a: &b {c: *b}", "? [a]: b", "\ufeffname: x", "- \"\\e\\0\"", "a: !!binary x", "{{{{{{", "a: |\n\tx") {
		f.Add([]byte(text))
	}
}

// mustBeTold checks what a reader of files gives: faults that stand in the file
// and can be shown, and nothing else that goes wrong.
func mustBeTold(t *testing.T, file string, src []byte, err error) {
	t.Helper()
	if err == nil {
		return
	}
	var faults models.Faults
	if !errors.As(err, &faults) || len(faults) == 0 {
		t.Fatalf("no faults but %v", err)
	}
	lines := 1
	for _, ends := range []string{"\n", "\r", "\u2028", "\u2029"} {
		lines += strings.Count(string(src), ends)
	}
	for _, fault := range faults {
		if fault.Pos.File != file || fault.Pos.Line < 1 || fault.Pos.Line > lines || fault.Pos.Col < 1 {
			t.Errorf("%v is no place in %d lines", fault.Pos, lines)
		}
		if text := fault.Error(); !utf8.ValidString(text) || strings.ContainsAny(text, "\x00\x1b\u009b") {
			t.Errorf("the fault cannot be shown: %q", text)
		}
	}
}

// FuzzSpec reads anything as a spec by itself and with parts and materials. One
// that is read has an identity and can be read again.
func FuzzSpec(f *testing.F) {
	seeds(f)
	parts, materials := goodShared(f)
	f.Fuzz(func(t *testing.T, src []byte) {
		_, err := models.ParseModel("m.yaml", src)
		mustBeTold(t, "m.yaml", src, err)
		spec, err := models.ParseSpec("m.yaml", src, parts, materials)
		mustBeTold(t, "m.yaml", src, err)
		if err != nil {
			return
		}
		again, err := models.ParseSpec("m.yaml", src, parts, materials)
		if err != nil || spec.ID() != again.ID() {
			t.Errorf("%s, and %s when it is read again, %v", spec.ID(), again.ID(), err)
		}
		if len(spec.Rings) > 60 || len(spec.Sections) > 20 {
			t.Errorf("%d rings, %d sections", len(spec.Rings), len(spec.Sections))
		}
	})
}

// FuzzShared reads anything as each of the files that models share.
func FuzzShared(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, src []byte) {
		_, err := models.ParseParts("f.yaml", src)
		mustBeTold(t, "f.yaml", src, err)
		_, err = models.ParseMaterials("f.yaml", src)
		mustBeTold(t, "f.yaml", src, err)
		_, err = models.ParseSettings("f.yaml", src)
		mustBeTold(t, "f.yaml", src, err)
	})
}

// FuzzRecords reads anything as each kind of record, and adds an entry to it
// where that can be done: all that was there before stays.
func FuzzRecords(f *testing.F) {
	seeds(f,
		string(sheet("{weight: 165.8 g ± 0.5 g}", "{trace: [{x: 1 m, y: 80 mm}], load: 200 g}")),
		"built:\n  - {serial: \"0148\", model: skerry-10, release: \"2026\", date: 2026-11-07, weight: 166.2 g}\n",
		"built: [{serial: 1, model: a, release: b, date: 2026-01-01}] # flow\nrepairs:\n  - serial: 1\n    date: 2026-02-01\n    done: x\n",
		"heard:\n  - {release: \"2026\", date: 2026-11-07, said: \"Light.\"}\n",
		"ticked:\n  - {check: feet, revision: 01234567, date: 2026-11-07, by: MK}\n",
		"reworded:\n  - {release: \"2026\", date: 2026-11-07, tell: Quieter.}\nwithdrawn:\n  - {label: 2025, date: 2026-11-09, why: x}\n")
	entry := []models.Pair{{Key: "release", Value: "2026"}, {Key: "date", Value: "2026-11-08"}, {Key: "said", Value: "It's: \"#1\""}}
	f.Fuzz(func(t *testing.T, src []byte) {
		_, err := models.ParseBench("f.yaml", src)
		mustBeTold(t, "f.yaml", src, err)
		_, err = models.ParseBuilds("f.yaml", src)
		mustBeTold(t, "f.yaml", src, err)
		_, err = models.ParseReviews("f.yaml", src)
		mustBeTold(t, "f.yaml", src, err)
		_, err = models.ParseNotes("f.yaml", src)
		mustBeTold(t, "f.yaml", src, err)
		before, err := models.ParseHeard("f.yaml", src)
		mustBeTold(t, "f.yaml", src, err)
		if err != nil {
			return
		}
		content, err := models.Append("f.yaml", src, "heard", entry)
		if err != nil {
			return
		}
		after, err := models.ParseHeard("f.yaml", content)
		if err != nil || len(after.Remarks) != len(before.Remarks)+1 {
			t.Fatalf("after %q: %v\n%s", src, err, content)
		}
		for i, m := range before.Remarks {
			if after.Remarks[i].Said.Text != m.Said.Text {
				t.Errorf("%q became %q", m.Said.Text, after.Remarks[i].Said.Text)
			}
		}
	})
}
