package evaluate_test

import (
	"os"
	"testing"

	"rodlore/evaluate"
	"rodlore/models"
)

// spec reads a model of the range that package models is tested with.
func spec(t testing.TB, name string) *models.Spec {
	t.Helper()
	const dir = "../models/testdata/good/"
	read := func(file string) []byte {
		src, err := os.ReadFile(dir + file)
		if err != nil {
			t.Fatal(err)
		}
		return src
	}
	m, err := models.ParseModel(name+".yaml", read(name+".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	parts, err := models.ParseParts("parts.yaml", read("parts.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	materials, err := models.ParseMaterials("materials.yaml", read("materials.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := models.Resolve(m, parts, materials)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestPrint(t *testing.T) {
	for _, name := range []string{"skerry-10", "long-drift"} {
		f, err := evaluate.Evaluate(spec(t, name), models.DefaultSettings())
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range f.List {
			t.Logf("%-18s %14.8g %-6s ±%.2g  %s", x.Key, x.Value, x.Unit, x.Error, x.Text)
		}
		t.Log(f.Notes)
	}
}

func BenchmarkFigures(b *testing.B) {
	s := spec(b, "skerry-10")
	set := models.DefaultSettings()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := evaluate.Evaluate(s, set); err != nil {
			b.Fatal(err)
		}
	}
}
