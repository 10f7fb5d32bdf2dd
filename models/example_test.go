package models_test

import (
	"fmt"

	"rodlore/models"
)

func ExampleParseModel() {
	_, err := models.ParseModel("models/plover-7.yaml", []byte(`name: Plover 7
reel: fly
length: 7 ft
sections:
  - {name: rod, length: 2134 mm, material: carbon, tube: [{at: 0 mm, outside: 1.6 mm, wall: 0.9 mm}, {at: 2134 mm, outside: 8 mm, wall: 1}]}
rings:
  - {at: 0 mm, prat: tip-4}
handle: {seat: {at: 90 mm, part: seat-fly}}
`))
	fmt.Println(err)
	// Output:
	// models/plover-7.yaml:5:93: sections[rod].tube[at 0 mm].wall: "0.9 mm" is thicker than half the outside of "1.6 mm"; a wall of half the outside is solid
	// models/plover-7.yaml:5:137: sections[rod].tube[at 2134 mm].wall: "1" has no unit; write it with one, such as 1 mm
	// models/plover-7.yaml:7:5: rings[at 0 mm].part: is missing; expected a word
	// models/plover-7.yaml:7:16: rings[at 0 mm].prat: unknown key "prat"; did you mean part?
}

func ExampleResolve() {
	files := models.StarterShared("Saltmarsh Rods")
	parts, _ := models.ParseParts("parts.yaml", files["parts.yaml"])
	materials, _ := models.ParseMaterials("materials.yaml", files["materials.yaml"])
	model, _ := models.ParseModel("models/new.yaml", models.StarterModel("Skerry 9"))
	spec, err := models.Resolve(model, parts, materials)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %.0f mm, held to %.0f mm, %d rings and a tip ring\n",
		spec.Name, spec.TotalLength()*1e3, spec.HeldTo()*1e3, len(spec.Rings)-1)
	// Output: Skerry 9: 2743 mm, held to 560 mm, 8 rings and a tip ring
}
