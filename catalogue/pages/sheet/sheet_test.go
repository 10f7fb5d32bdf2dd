package sheet

import (
	"bytes"
	"context"
	"io"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/pages/document"
	"rodlore/catalogue/pages/pagetest"
	"rodlore/cmd/rodlore/demo"
	"rodlore/models/units"
)

// demoModels are all that the demo has now.
var demoModels = []string{"ferry-8", "groyne-13", "overfall-11", "rill-7", "skerry-10", "wrack-9"}

// edit puts one text for another into a file.
type edit struct{ file, old, new string }

// demoRange is the demo as it stands now, edited.
func demoRange(t testing.TB, edits ...edit) *catalogue.Range {
	t.Helper()
	states, err := demo.States()
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, s := range states {
		maps.Copy(files, s.Files)
	}
	for _, e := range edits {
		if !bytes.Contains(files[e.file], []byte(e.old)) {
			t.Fatalf("%s lacks %q", e.file, e.old)
		}
		files[e.file] = bytes.Replace(files[e.file], []byte(e.old), []byte(e.new), 1)
	}
	dir := t.TempDir()
	for name, content := range files {
		if content == nil {
			continue
		}
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, content, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	folder, err := catalogue.OpenFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	r, err := catalogue.Open(context.Background(), folder)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func draft(t testing.TB, r *catalogue.Range, model string) *catalogue.Revision {
	t.Helper()
	rev, err := r.Draft(model)
	if err == nil {
		err = rev.Fault()
	}
	if err != nil {
		t.Fatal(err)
	}
	return rev
}

func laidOut(t testing.TB, r *catalogue.Range, model string, o Options) *document.Document {
	t.Helper()
	d, err := Of(t.Context(), r, draft(t, r, model), o)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func written(t testing.TB, write func(io.Writer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// spaced is a text whose numbers may be on another line than their units.
func spaced(text string) string { return strings.ReplaceAll(text, "\u00a0", " ") }

// A sheet on paper tells the place of every ring in both units, which is read
// back from the file by another program.
func TestSheetTellsEveryRing(t *testing.T) {
	r := demoRange(t)
	for _, model := range demoModels {
		t.Run(model, func(t *testing.T) {
			pdf := written(t, laidOut(t, r, model, Options{}).PDF)
			text := spaced(pagetest.PDFText(t, pdf))
			for i, g := range draft(t, r, model).Spec().Rings {
				at := float64(g.At.Value)
				name := "tip"
				if i > 0 {
					name = `\d+`
				}
				row := `(?m)^ *` + name + ` +` + spaced(millimetres(at)) + ` +` + regexp.QuoteMeta(units.Sixteenths(at)) + ` +\d+ mm +` + g.Part.Text + ` `
				if !regexp.MustCompile(row).MatchString(text) {
					t.Errorf("no row %s in\n%s", row, text)
				}
			}
			if pages := pagetest.PDFPages(t, pdf); len(pages) > 5 {
				t.Errorf("%d pages", len(pages))
			}
		})
	}
}

func TestSheetInABrowser(t *testing.T) {
	r := demoRange(t)
	pages := map[string][]byte{}
	for _, model := range []string{"ferry-8", "groyne-13", "skerry-10"} {
		pages[model+".html"] = written(t, laidOut(t, r, model, Options{}).HTML)
	}
	pagetest.Validate(t, pages)
	b := pagetest.Open(t, pages)
	for name := range pages {
		b.Accessible(t, name)
		b.Lettered(t, name)
		pdf := written(t, laidOut(t, r, strings.TrimSuffix(name, ".html"), Options{Print: true}).PDF)
		sheets := len(pagetest.PDFPages(t, pdf))
		b.Show(t, name, pagetest.Views[0])
		if n := len(pagetest.PDFPages(t, b.Printed(t))); n > sheets {
			t.Errorf("%s prints on %d sheets, its PDF on %d", name, n, sheets)
		}
	}
}

// tipTube is the tip's tube in the spec of the Skerry.
const tipTube = `    tube:
      - {at: 0 mm,    outside: 1.8 mm,   wall: 0.65 mm}
      - {at: 500 mm,  outside: 3.95 mm,  wall: 0.75 mm}
      - {at: 1000 mm, outside: 6.2 mm,   wall: 0.8 mm}
      - {at: 1487 mm, outside: 9.25 mm,  wall: 0.9 mm}
      - {at: 1561 mm, outside: 9.7 mm,   wall: 1.0 mm}
    material: carbon-std
`

// What a spec may leave out or have otherwise is told as well as the rest.
func TestSheetOfOtherRods(t *testing.T) {
	const file = "models/skerry-10.yaml"
	tests := []struct {
		name       string
		edits      []edit
		says, none []string
	}{
		{"no thread", []edit{{file, "thread: A, ", ""}},
			[]string{"The spec names no thread, so the turns are not known.", "varnish two coats"}, []string{"thread A"}},
		{"no finish", []edit{{file, "thread: A, varnish: two coats, ", ""}}, []string{"names no thread"}, []string{"on the rod<", "varnish two"}},
		{"imperial places", []edit{{file, "at: 310 mm", "at: 12 1/4 in"}}, []string{">311 mm<", ">12 1/4<"}, nil},
		{"a spigot", []edit{{file, "kind: overlap, length: 74 mm", "kind: spigot, length: 74 mm, outside: 7 mm, material: carbon-std"}, {file, "10 ft", "3122 mm"}},
			[]string{"spigot", "7 mm outside, carbon-std", "carbon-std for a plug or sleeve", "74 mm of 7 mm"}, []string{">overlap<"}},
		{"another seat", []edit{{file, "part: pipe-18", "part: pipe-16"}}, []string{"seat, pipe-16", ">431 mm<"}, nil},
		{"no price", []edit{{"parts.yaml", "mass: 0.6 g, price: 2.40", "mass: 0.6 g"}}, []string{"a price is missing"}, []string{"EUR</strong>"}},
		{"a rolled section", []edit{{file, tipTube, "    rolled:\n" +
			"      mandrel: [{at: 0 mm, diameter: 1.1 mm}, {at: 1561 mm, diameter: 8.1 mm}]\n" +
			"      plies:\n        - {material: sheet, angle: 0, wraps: {tip: 3, butt: 2.5}}\n" +
			"        - {material: sheet, angle: 90, wraps: 1, from: 0 mm, to: 400 mm}\n"},
			{"materials.yaml", "carbon-mid:", "sheet: {along: 120 GPa, across: 8 GPa, shear: 4 GPa, poisson: 0.3, thickness: 0.12 mm, density: 1550 kg/m3}\ncarbon-mid:"}},
			[]string{"tip, 1561 mm, rolled on a mandrel", ">8.1 mm<", "plies of tip", ">90.0°<", "0 mm to 400 mm", "all of it", "3 – 2.5"}, nil},
		{"a section that was measured", []edit{{file, tipTube, "    stiffness:\n" +
			"      - {at: 0 mm, ei: 0.05 N.m2, mass: 6 g/m, outside: 1.8 mm}\n      - {at: 1561 mm, ei: 20 N.m2, mass: 45 g/m, outside: 9.7 mm}\n"}},
			[]string{"tip, 1561 mm<", ">20 N.m2<", ">45 g/m<"}, nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			r := demoRange(t, test.edits...)
			page := spaced(string(written(t, laidOut(t, r, "skerry-10", Options{}).HTML)))
			for _, want := range test.says {
				if !strings.Contains(page, want) {
					t.Errorf("%q is missing", want)
				}
			}
			for _, none := range test.none {
				if strings.Contains(page, none) {
					t.Errorf("%q is there", none)
				}
			}
		})
	}
}

func TestSheetIsDated(t *testing.T) {
	r := demoRange(t)
	day := time.Date(2027, 3, 1, 12, 0, 0, 0, time.UTC)
	if d := laidOut(t, r, "wrack-9", Options{Now: day}); !d.Date.Equal(day) {
		t.Errorf("a draft's sheet is of %v", d.Date)
	}
	saved := *draft(t, r, "wrack-9")
	saved.Status, saved.Labels, saved.When = catalogue.Released, []string{"2026", "2027"}, day.AddDate(-1, 0, 0)
	d, err := Of(t.Context(), r, &saved, Options{Now: day, Serial: "0150"})
	if err != nil {
		t.Fatal(err)
	}
	if want := "Tarrowmouth Rods, releases 2026 and 2027, saved on 2026-03-01, revision " + saved.ShortID() + ", rod 0150"; d.Subtitle != want {
		t.Errorf("%q, want %q", d.Subtitle, want)
	}
	if !d.Date.Equal(saved.When) {
		t.Errorf("the sheet of a saved revision is of %v", d.Date)
	}
}

func BenchmarkSheet(b *testing.B) {
	r := demoRange(b)
	rev := draft(b, r, "skerry-10")
	forms := []struct {
		name  string
		write func(*document.Document, io.Writer) error
	}{
		{"laid out", func(*document.Document, io.Writer) error { return nil }},
		{"HTML", (*document.Document).HTML},
		{"PDF", (*document.Document).PDF},
	}
	for _, form := range forms {
		b.Run(form.name, func(b *testing.B) {
			for b.Loop() {
				d, err := Of(b.Context(), r, rev, Options{})
				if err == nil {
					err = form.write(d, io.Discard)
				}
				if err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
