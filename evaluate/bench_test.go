package evaluate_test

import (
	"testing"

	"rodlore/evaluate"
	"rodlore/models"
	"rodlore/testdata/demo"
)

// demoSpec is a model of the demo range as its draft stands.
func demoSpec(t testing.TB, name string) (*models.Spec, *models.Settings) {
	t.Helper()
	files := map[string][]byte{}
	states, err := demo.States()
	if err != nil {
		t.Fatal(err)
	}
	for _, st := range states {
		for path, src := range st.Files {
			files[path] = src
		}
	}
	s := resolve(t, string(files["models/"+name+".yaml"]), string(files["parts.yaml"]), string(files["materials.yaml"]))
	set, err := models.ParseSettings("range.yaml", files["range.yaml"])
	if err != nil {
		t.Fatal(err)
	}
	return s, set
}

// BenchmarkFigures works out all figures of one revision of the demo's spinning
// rod, from its resolved spec.
func BenchmarkFigures(b *testing.B) {
	s, set := demoSpec(b, "skerry-10")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := evaluate.Evaluate(s, set); err != nil {
			b.Fatal(err)
		}
	}
}
