package evaluate_test

import (
	"fmt"

	"rodlore/evaluate"
	"rodlore/models"
)

// starter is the rod that a new range begins with.
func starter() (*models.Spec, *models.Settings) {
	files := models.StarterShared("Saltmarsh Rods")
	parts, _ := models.ParseParts("parts.yaml", files["parts.yaml"])
	materials, _ := models.ParseMaterials("materials.yaml", files["materials.yaml"])
	spec, err := models.ParseSpec("models/new.yaml", models.StarterModel("Skerry 9"), parts, materials)
	if err != nil {
		panic(err)
	}
	return spec, models.DefaultSettings()
}

// Spec in, figures out.
func ExampleRod_Figures() {
	spec, settings := starter()
	all, err := evaluate.New(spec, settings).Figures()
	if err != nil {
		fmt.Println(err)
		return
	}
	weight, _ := all.Get("weight")
	fmt.Println(settings.Display().Value(weight.Key, weight.Unit, weight.Value))
	// Output: 135.9 g
}

// A rod with a weight of 100 g at its tip.
func ExampleRod_Bend() {
	spec, settings := starter()
	bent, err := evaluate.New(spec, settings).Bend(evaluate.BendCase{Force: 0.981, Direction: 1.5708, Weight: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("The tip hangs %.2f m below the butt.\n", bent.Tip.Y)
	// Output: The tip hangs 0.43 m below the butt.
}
