package models_test

import (
	"os"
	"strings"
	"testing"

	"rodlore/models"
)

// Every part and material of the starter goes into its own file again under
// another name, and is the same but for that.
func TestAddEntries(t *testing.T) {
	src, err := os.ReadFile("starter/parts.yaml")
	if err != nil {
		t.Fatal(err)
	}
	parts, err := models.ParseParts("parts.yaml", src)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range parts.All {
		out, err := models.AddPart("parts.yaml", src, p, p.Name+"-2021")
		if err != nil {
			t.Error(err)
			continue
		}
		before, after, found := strings.Cut(string(out), "  "+p.Name+"-2021: {")
		if _, rest, _ := strings.Cut(after, "\n"); !found || before+rest != string(src) {
			t.Errorf("%s: more was changed than a line was added:\n%s", p.Name, out)
		}
	}
	materials, err := models.ParseMaterials("materials.yaml", nil)
	if err != nil {
		t.Fatal(err)
	}
	text := []byte("carbon: {modulus: 105 GPa, density: 1550 kg/m3}")
	for _, m := range materials.All {
		if text, err = models.AddMaterial("materials.yaml", text, m, m.Name+"-2021"); err != nil {
			t.Error(err)
		}
	}
	again, err := models.ParseMaterials("materials.yaml", text)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := len(again.All), 2*len(materials.All)+1; got != want {
		t.Errorf("%d materials, not %d", got, want)
	}
}

func TestAddPartRefuses(t *testing.T) {
	parts, err := models.ParseParts("parts.yaml", []byte("seats: {tube-16: {length: 95 mm, diameter: 22 mm, mass: 28 g}}\n"))
	if err != nil {
		t.Fatal(err)
	}
	for src, want := range map[string]string{
		"seats: {tube-16: {length: 95 mm, diameter: 22 mm, mass: 28 g}}\n":  "parts.yaml:1:8: expected each entry on a line of its own; put this in by hand: tube-18: {",
		"seats:\n  tube-18: {length: 95 mm, diameter: 22 mm, mass: 28 g}\n": "parts.yaml: tube-18 cannot be written into it: ",
		"seats: [\n": "parts.yaml: it has faults; put them right first",
		"seats:\n":   "parts.yaml:1:7: nothing stands under seats; put this there by hand: tube-18: {",
	} {
		if out, err := models.AddPart("parts.yaml", []byte(src), parts.All[0], "tube-18"); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q gave %q, %v; want %s", src, out, err, want)
		}
	}
}

func TestRenameUsed(t *testing.T) {
	src := models.StarterModel("Gull 9")
	out, err := models.RenameUsed("gull-9.yaml", src, map[string]string{"one-foot-8": "one-foot-8-2021", "cork": "old cork", "seat-16": "seat-16-2021"})
	if err != nil {
		t.Fatal(err)
	}
	want := strings.NewReplacer("one-foot-8", "one-foot-8-2021", "material: cork", "material: old cork", "seat-16", "seat-16-2021").Replace(string(src))
	if string(out) != want {
		t.Errorf("got\n%s\nwant\n%s", out, want)
	}
}

// A top has its parts by their new names too.
func TestRenameUsedOfTops(t *testing.T) {
	out, err := models.RenameUsed("skerry-10.yaml", topped(t), map[string]string{"SL-6": "SL-6-2021", "carbon-30t": "older"})
	if err != nil {
		t.Fatal(err)
	}
	want := strings.NewReplacer("SL-6", "SL-6-2021", "carbon-30t", "older").Replace(string(topped(t)))
	if string(out) != want {
		t.Errorf("got\n%s\nwant\n%s", out, want)
	}
}

// What a blank was bought as is no material of the range, though one may be called so.
func TestRenameUsedBesideBoughtBlank(t *testing.T) {
	src := boughtSpec + "  grips: [{from: 0 mm, to: 200 mm, diameter: 26 mm, material: carbon}]\n"
	out, err := models.RenameUsed("gull.yaml", []byte(src), map[string]string{"carbon": "carbon-2021"})
	if err != nil {
		t.Fatal(err)
	}
	if want := strings.Replace(src, "material: carbon}", "material: carbon-2021}", 1); string(out) != want {
		t.Errorf("got\n%s\nwant\n%s", out, want)
	}
}
