package diffing

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rodlore/models"
)

const stockBefore = `rings:
  T-6: {size: 6 mm, height: 6 mm, feet: 0, mass: 0.6 g, price: 2.40, frame: steel}
  SL-6: {size: 6 mm, height: 7 mm, feet: 1, foot: {length: 9 mm, width: 1.6 mm, thickness: 0.35 mm}, mass: 0.32 g, price: 2.10, frame: steel}
seats:
  pipe-16: {length: 95 mm, mass: 28 g}
`

func TestParts(t *testing.T) {
	tests := []struct {
		name, old, new string
		want           []string
	}{
		{"nothing", "", "", nil},
		{"another price", "price: 2.10", "price: 2.35", []string{"altered parts[SL-6].price: 2.10 → 2.35"}},
		{"a foot and a mass", "length: 9 mm, width: 1.6 mm, thickness: 0.35 mm}, mass: 0.32 g", "length: 8 mm, width: 1.6 mm, thickness: 0.35 mm}, mass: 0.3 g",
			[]string{"altered parts[SL-6].foot.length: 9 mm → 8 mm", "altered parts[SL-6].mass: 0.32 g → 0.3 g"}},
		{"a price where there was none", "mass: 28 g", "mass: 28 g, price: 14", []string{"added parts[pipe-16].price:  → 14"}},
		{"a price no more", ", price: 2.40", "", []string{"removed parts[T-6].price: 2.40 → "}},
		{"a new part", "  pipe-16:", "  pipe-18: {length: 95 mm, mass: 31 g, price: 15}\n  pipe-16:", []string{"added parts[pipe-18]:  → length 95 mm, mass 31 g, price 15"}},
		{"a part gone", "  T-6: {size: 6 mm, height: 6 mm, feet: 0, mass: 0.6 g, price: 2.40, frame: steel}\n", "",
			[]string{"removed parts[T-6]: size 6 mm, height 6 mm, feet 0, mass 0.6 g, price 2.40 → "}},
		{"the same in other words", "mass: 28 g", "mass: 0.028 kg", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var got []string
			for _, e := range Edits(Parts(partsOf(t, "", ""), partsOf(t, tt.old, tt.new))) {
				for _, c := range e.Changes {
					got = append(got, toldChange(c))
				}
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// toldChange tells a change of texts in a line.
func toldChange(c Change) string {
	return fmt.Sprintf("%s %s: %s → %s", c.Kind, c.Path, asWritten(c.Old), asWritten(c.New))
}

// partsOf are the parts of stockBefore with one text put for another.
func partsOf(t *testing.T, old, now string) *models.Parts {
	t.Helper()
	parts, err := models.ParseParts("parts.yaml", []byte(strings.Replace(stockBefore, old, now, 1)))
	if err != nil {
		t.Fatal(err)
	}
	return parts
}

func TestMaterials(t *testing.T) {
	read := func(src string) *models.Materials {
		t.Helper()
		m, err := models.ParseMaterials("materials.yaml", []byte(src))
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	old, now := read("cork-fine: {density: 190 kg/m3}\n"), read("cork-fine: {density: 200 kg/m3}\ncork-hard: {density: 300 kg/m3}\n")
	var got []string
	for _, c := range Materials(old, now) {
		got = append(got, toldChange(c))
	}
	want := []string{"altered materials[cork-fine].density: 190 kg/m3 → 200 kg/m3", "added materials[cork-hard]:  → density 300 kg/m3"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
