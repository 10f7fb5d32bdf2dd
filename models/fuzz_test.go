package models_test

import (
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
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
	for _, text := range append(texts,
		"", "a: [", "? [a]: b", "? ", "{{{{{{", "a: |\n\tx", "a: &b {c: *b}", "<<: {a: b}", "a: &b \"\\e[2J\"",
		"- \"\\e\\0\"", "\"a\\tb\\L\\x9b\": x", "a: !!binary eA==", "!<%1b> a: ! b", "%TAG ! tag:x,2000:\n---\n!y a: b",
		"%YAML 1.1\n--- a\n...\n---\nb: c", "\ufeffname: x", "a: b\r\"c", "a: b\u2028: :\r\nc", "bare: true\ntops: [1]",
		"reel: none\nhandle: {}\nrings: [{at: 0 mm}, {part: a}]", "rings: {~: {size: 1e400 mm}, \"\": {feet: NaN}}") {
		f.Add([]byte(text))
	}
}

// lineEnds are the line breaks of YAML 1.1, section 4.2, but for a control character.
var lineEnds = regexp.MustCompile("\r\n|[\n\r\u2028\u2029]")

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
	lines := lineEnds.Split(strings.TrimPrefix(string(src), "\ufeff"), -1)
	for _, fault := range faults {
		at := fault.Pos
		if at.File != file || at.Line < 1 || at.Line > len(lines) || at.Col < 1 || at.Col > 1+utf8.RuneCountInString(lines[at.Line-1]) {
			t.Errorf("%v is no place in %d lines", at, len(lines))
		}
		if text := fault.Error(); !utf8.ValidString(text) || strings.ContainsFunc(text, unicode.IsControl) || len(text) > 2000 {
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
		mustBeTold(t, "m.yaml", src, spec.Gaps(spec.Tops...))
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

// FuzzEdits edits anything: what comes of it can be read and says what was asked for,
// or nothing comes of it.
func FuzzEdits(f *testing.F) {
	for _, file := range []string{"skerry-10.yaml", "long-drift.yaml", "parts.yaml", "materials.yaml"} {
		for i, text := range []string{"7 mm", "\"x", "a: b", "[", "'", "# c", "\t", "~"} {
			f.Add(read(f, "good/"+file), text, uint(11*i))
		}
	}
	f.Add([]byte("-"), "a", uint(0))
	parts, materials := goodShared(f)
	f.Fuzz(func(t *testing.T, src []byte, text string, which uint) {
		must := func(err error, out []byte, ok func() bool) {
			t.Helper()
			if err != nil || !ok() {
				t.Errorf("%v: %q", err, out)
			}
		}
		if out, err := models.AddPart("f.yaml", src, parts.Get("SL-6"), text); err == nil {
			got, err := models.ParseParts("f.yaml", out)
			must(err, out, func() bool { return got.Get(text) != nil })
		}
		if out, err := models.AddMaterial("f.yaml", src, materials.Get("cork"), text); err == nil {
			got, err := models.ParseMaterials("f.yaml", out)
			must(err, out, func() bool { return got.Get(text) != nil })
		}
		models.Append("f.yaml", src, "blank.measured", []models.Pair{{Key: "weight", Value: text}})
		model, err := models.ParseModel("f.yaml", src)
		if err != nil {
			return
		}
		rings := append(slices.Clip(model.Rings), models.Ring{At: models.Millimetres(model.Length.Value / 2), Part: models.Word{Text: text}})
		rings = rings[which%uint(len(rings)):]
		if out, err := models.SpliceRings("f.yaml", src, rings); err == nil {
			got, err := models.ParseModel("f.yaml", out)
			must(err, out, func() bool { return len(got.Rings) == len(rings) })
		}
		if out, err := models.SpliceFitted("f.yaml", src, &models.Fitted{To: models.Word{Text: text}, Date: models.Date{Text: "2026-11-07"}}); err == nil {
			got, err := models.ParseModel("f.yaml", out)
			must(err, out, func() bool { return got.Fitted.Date.Text == "2026-11-07" })
		}
		if out, err := models.RenameUsed("f.yaml", src, map[string]string{"carbon-30t": text}); err == nil {
			_, err := models.ParseModel("f.yaml", out)
			must(err, out, func() bool { return true })
		}
		values, err := models.Values("f.yaml", src)
		if err != nil {
			return
		}
		v := values[which%uint(len(values))]
		path, entry := v.Path.String(), v.Path.Entry().String()
		models.AddEntry("f.yaml", src, entry)
		models.RemoveEntry("f.yaml", src, entry)
		models.SetValues("f.yaml", src, map[string]string{entry + "." + text: "1"})
		if out, err := models.SetValues("f.yaml", src, map[string]string{path: text}); err == nil {
			now, _ := models.Values("f.yaml", out) // none where it is no spec any more
			for _, w := range now {
				if w.Path.String() == path {
					must(nil, out, func() bool { return w.Text == text })
				}
			}
		}
	})
}
