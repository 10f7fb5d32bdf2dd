package evaluate_test

import (
	"fmt"
	"math"

	"rodlore/evaluate"
	"rodlore/models"
)

// blank is a bare blank of glass, of a material that every range knows.
var blank = []byte(`
name: Teal 6
bare: true
length: 1.8 m
held: {to: 200 mm}
sections:
  - {name: blank, length: 1.8 m, material: glass, tube: [{at: 0 mm, outside: 2 mm, wall: 0.6 mm}, {at: 1.8 m, outside: 9 mm, wall: 1 mm}]}
`)

// Spec in, figures out.
func ExampleRod_Figures() {
	materials, _ := models.ParseMaterials("materials.yaml", nil)
	spec, err := models.ParseSpec("models/teal-6.yaml", blank, &models.Parts{}, materials)
	if err != nil {
		fmt.Println(err)
		return
	}
	all, _ := evaluate.New(spec, models.DefaultSettings()).Figures()
	weight, _ := all.Get("weight")
	load, _ := all.Get("third-load")
	fmt.Printf("%.1f g, and %.2f N lower the tip by a third of what is free\n", 1e3*weight.Value, load.Value)
	// Output: 43.9 g, and 0.82 N lower the tip by a third of what is free
}

// A weight of 50 g at its tip.
func ExampleRod_Bend() {
	materials, _ := models.ParseMaterials("materials.yaml", nil)
	spec, err := models.ParseSpec("models/teal-6.yaml", blank, &models.Parts{}, materials)
	if err != nil {
		fmt.Println(err)
		return
	}
	bent, _ := evaluate.New(spec, models.DefaultSettings()).Bend(evaluate.BendCase{Force: 0.49, Direction: math.Pi / 2, Weight: true})
	fmt.Printf("The tip hangs %.2f m below the butt.\n", bent.Tip.Y)
	// Output: The tip hangs 0.38 m below the butt.
}
