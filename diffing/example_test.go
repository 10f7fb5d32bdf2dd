package diffing_test

import (
	"context"
	"fmt"
	"strings"

	"rodlore/diffing"
	"rodlore/evaluate"
	"rodlore/models"
)

// blank is a bare blank of glass, of a material that every range knows.
const blank = `
name: Teal 6
bare: true
length: 1.8 m
held: {to: 200 mm}
sections:
  - {name: blank, length: 1.8 m, material: glass, tube: [{at: 0 mm, outside: 2 mm, wall: 0.6 mm}, {at: 1.8 m, outside: 9 mm, wall: 1 mm}]}
`

// Two revisions compared: what a thicker wall does to the weight, and whether that is
// more than blanks of one spec differ by.
func ExampleFigures() {
	set := models.DefaultSettings()
	materials, _ := models.ParseMaterials("materials.yaml", nil)
	figures := func(src string) *evaluate.Figures {
		spec, _ := models.ParseSpec("models/teal-6.yaml", []byte(src), &models.Parts{}, materials)
		all, _ := evaluate.New(spec, set).FiguresWithTolerances(context.Background())
		return all
	}
	thicker := strings.Replace(blank, "wall: 1 mm", "wall: 1.3 mm", 1)
	weight, _ := diffing.Find(diffing.Figures(figures(blank), figures(thicker), set), "weight")
	fmt.Printf("%+.1f g ± %.1f, a real change: %v\n", 1e3*weight.Change, 1e3*weight.Tolerance(), weight.Real())
	// Output: +7.8 g ± 2.7, a real change: yes
}
