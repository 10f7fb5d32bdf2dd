package catalogue_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"rodlore/catalogue"
	"rodlore/catalogue/gitstore"
	"rodlore/models"
)

// newRange puts a range with one model into a folder, in a git repository of its own.
func newRange(dir string) (*gitstore.Store, error) {
	files := models.StarterShared("Saltmarsh Rods")
	files["models/skerry-9.yaml"] = models.StarterModel("Skerry 9")
	for name, content := range files {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			return nil, err
		}
		if err := os.WriteFile(path, content, 0o666); err != nil {
			return nil, err
		}
	}
	return gitstore.Create(dir)
}

// save saves the range as it stands, on the first of a month.
func save(r *catalogue.Range, why string, month time.Month) {
	ctx, day := context.Background(), time.Date(2026, month, 1, 9, 0, 0, 0, time.UTC)
	r.Refresh(ctx)
	r.Save(ctx, catalogue.SaveRequest{Why: why, Author: "Maren <maren@saltmarsh.example>", When: day})
	r.Refresh(ctx)
}

// paint gives the model another colour.
func paint(dir string) {
	file := filepath.Join(dir, "models", "skerry-9.yaml")
	spec, _ := os.ReadFile(file)
	os.WriteFile(file, bytes.Replace(spec, []byte("colour: "), []byte("colour: dark "), 1), 0o666)
}

// A model saved twice, and what became of it from one time to the other.
func ExampleRange() {
	ctx := context.Background()
	dir, _ := os.MkdirTemp("", "range-")
	defer os.RemoveAll(dir)
	store, _ := newRange(dir)
	r, _ := catalogue.Open(ctx, store)
	save(r, "the first of them", time.March)
	paint(dir)
	save(r, "to be seen in the dunes", time.April)
	revs, _ := r.Revisions("skerry-9")
	steps, _ := r.Steps(ctx, revs, (*catalogue.Revision).LastSound)
	for _, s := range steps {
		fmt.Println(s.Day(), s.Why, len(s.Changes), "changed")
	}
	// Output:
	// 2026-04-01 to be seen in the dunes 1 changed
	// 2026-03-01 the first of them 0 changed
}
