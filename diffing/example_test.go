package diffing_test

import (
	"context"
	"fmt"
	"slices"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/models"
)

// starter is the rod that a new range begins with.
func starter() *models.Spec {
	files := models.StarterShared("Saltmarsh Rods")
	parts, _ := models.ParseParts("parts.yaml", files["parts.yaml"])
	materials, _ := models.ParseMaterials("materials.yaml", files["materials.yaml"])
	spec, err := models.ParseSpec("models/new.yaml", models.StarterModel("Skerry 9"), parts, materials)
	if err != nil {
		panic(err)
	}
	return spec
}

// Two revisions compared: what a ring fewer does to the weight, and whether that
// is more than rods of one spec differ by.
func ExampleFigures() {
	old := starter()
	fewer, _ := old.WithRings(slices.Delete(slices.Clone(old.Rings), 3, 4))
	set := models.DefaultSettings()
	before, _ := evaluate.New(old, set).FiguresWithTolerances(context.Background())
	after, _ := evaluate.New(fewer, set).FiguresWithTolerances(context.Background())
	for _, s := range diffing.Figures(before, after, set) {
		if s.Key == "weight" {
			fmt.Println(set.Display().ChangeWithTolerance(s.Key, s.Unit, s.Change, s.New.Value, s.Tolerance()), s.Real())
		}
	}
	// Output: −0.4 g real change
}
