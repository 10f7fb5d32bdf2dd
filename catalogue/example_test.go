package catalogue_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"rodlore/catalogue"
	"rodlore/models"
)

// starterRange is a folder with a range of one model.
func starterRange() (dir string) {
	dir, err := os.MkdirTemp("", "range")
	if err != nil {
		panic(err)
	}
	files := models.StarterShared("Saltmarsh Rods")
	files["models/skerry-9.yaml"] = models.StarterModel("Skerry 9")
	for name, content := range files {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
			panic(err)
		}
		if err := os.WriteFile(file, content, 0o666); err != nil {
			panic(err)
		}
	}
	return dir
}

// A folder in, the figures of what stands in it out. With the Source of package
// gitstore in place of the folder, a range has its revisions and releases too.
func ExampleOpen() {
	dir := starterRange()
	defer os.RemoveAll(dir)
	folder, _ := catalogue.OpenFolder(dir)
	r, err := catalogue.Open(context.Background(), folder)
	if err != nil {
		fmt.Println(err)
		return
	}
	draft, _ := r.Find("skerry-9", "draft")
	figures, _ := r.Figures(draft)
	recovery, _ := figures.Get("recovery")
	fmt.Printf("%s swings %.1f times a second.\n", draft.Model, recovery.Value)
	// Output: skerry-9 swings 3.5 times a second.
}
