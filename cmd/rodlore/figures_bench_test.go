package main

import (
	"maps"
	"testing"

	"rodlore/cmd/rodlore/demo"
	"rodlore/evaluate"
	"rodlore/models"
)

// demoFiles are the files of the demo range as they were saved last.
func demoFiles(t testing.TB) map[string][]byte {
	t.Helper()
	states, err := demo.States()
	if err != nil {
		t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, st := range states {
		maps.Copy(files, st.Files)
	}
	return files
}

// demoRod is a model of the demo range as it was saved last.
func demoRod(t testing.TB, model string) (*models.Spec, *models.Settings) {
	t.Helper()
	files := demoFiles(t)
	return resolvedFile(t, files, "models/"+model+".yaml"), parsedFile(t, files, "range.yaml", models.ParseSettings)
}

func resolvedFile(t testing.TB, files map[string][]byte, path string) *models.Spec {
	t.Helper()
	m := parsedFile(t, files, path, models.ParseModel)
	parts := parsedFile(t, files, "parts.yaml", models.ParseParts)
	materials := parsedFile(t, files, "materials.yaml", models.ParseMaterials)
	spec, err := models.Resolve(m, parts, materials)
	if err != nil {
		t.Fatal(err)
	}
	return spec
}

func parsedFile[T any](t testing.TB, files map[string][]byte, path string, parse func(string, []byte) (T, error)) T {
	t.Helper()
	v, err := parse(path, files[path])
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// BenchmarkFigures works out all figures of one revision of the demo's spinning
// rod, from its resolved spec.
func BenchmarkFigures(b *testing.B) {
	spec, set := demoRod(b, "skerry-10")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := evaluate.New(spec, set).Figures(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPatterns lays out the patterns of 5 to 11 rings of the demo's
// spinning rod, with all their figures, one after the other.
func BenchmarkPatterns(b *testing.B) {
	spec, set := demoRod(b, "skerry-10")
	b.ReportAllocs()
	for b.Loop() {
		p, err := evaluate.New(spec, set).Patterns()
		if err != nil {
			b.Fatal(err)
		}
		for count := 5; count <= 11; count++ {
			if _, err := p.Lay(count, 0); err != nil {
				b.Fatal(err)
			}
		}
	}
}
