package models_test

import (
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/models"
)

// read gives the content of a file under testdata.
func read(t testing.TB, file string) []byte {
	t.Helper()
	return mustRead(t, "testdata/"+file)
}

func mustRead(t testing.TB, file string) []byte {
	t.Helper()
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return src
}

// goodShared reads the parts and materials of the good range.
func goodShared(t testing.TB) (*models.Parts, *models.Materials) {
	t.Helper()
	parts, err := models.ParseParts("parts.yaml", read(t, "good/parts.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	materials, err := models.ParseMaterials("materials.yaml", read(t, "good/materials.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return parts, materials
}

// good reads and resolves a model of the good range.
func good(t testing.TB, name string) *models.Spec {
	t.Helper()
	return resolved(t, read(t, "good/"+name+".yaml"))
}

func resolved(t testing.TB, src []byte) *models.Spec {
	t.Helper()
	m, err := models.ParseModel("model.yaml", src)
	if err != nil {
		t.Fatal(err)
	}
	parts, materials := goodShared(t)
	spec, err := models.Resolve(m, parts, materials)
	if err != nil {
		t.Fatal(err)
	}
	return spec
}

func parseAndResolve(t testing.TB, file string, src []byte) error {
	t.Helper()
	m, err := models.ParseModel(file, src)
	if err != nil {
		return err
	}
	parts, materials := goodShared(t)
	_, err = models.Resolve(m, parts, materials)
	return err
}

// golden compares got with a file under testdata, or writes it where the
// variable UPDATE is set.
func golden(t *testing.T, file, got string) {
	t.Helper()
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile("testdata/"+file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(string(read(t, file)), got); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s", file, diff)
	}
}

func BenchmarkParseAndResolve(b *testing.B) {
	src := read(b, "good/skerry-10.yaml")
	parts, materials := goodShared(b)
	for b.Loop() {
		m, err := models.ParseModel("model.yaml", src)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := models.Resolve(m, parts, materials); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkID(b *testing.B) {
	spec := good(b, "skerry-10")
	for b.Loop() {
		spec.ID()
	}
}
