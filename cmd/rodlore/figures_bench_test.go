package main

import (
	"testing"

	"rodlore/cmd/rodlore/demo"
	"rodlore/evaluate"
	"rodlore/models"
)

// BenchmarkFigures works out all figures of one revision of the demo's spinning
// rod, from its resolved spec.
func BenchmarkFigures(b *testing.B) {
	states, err := demo.States()
	if err != nil {
		b.Fatal(err)
	}
	files := map[string][]byte{}
	for _, st := range states {
		for path, src := range st.Files {
			files[path] = src
		}
	}
	parse := func(path string, read func(string, []byte) error) {
		if err := read(path, files[path]); err != nil {
			b.Fatal(err)
		}
	}
	var (
		m         *models.Model
		parts     *models.Parts
		materials *models.Materials
		set       *models.Settings
	)
	parse("models/skerry-10.yaml", func(f string, src []byte) (err error) { m, err = models.ParseModel(f, src); return })
	parse("parts.yaml", func(f string, src []byte) (err error) { parts, err = models.ParseParts(f, src); return })
	parse("materials.yaml", func(f string, src []byte) (err error) { materials, err = models.ParseMaterials(f, src); return })
	parse("range.yaml", func(f string, src []byte) (err error) { set, err = models.ParseSettings(f, src); return })
	spec, err := models.Resolve(m, parts, materials)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := evaluate.Evaluate(spec, set); err != nil {
			b.Fatal(err)
		}
	}
}
