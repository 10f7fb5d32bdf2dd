package models_test

import (
	"testing"

	"rodlore/models"
)

func TestStarterResolves(t *testing.T) {
	for _, name := range []string{"Skerry 10", "No: 5", "12", "yes", `the "long" one`, "Ærø #2"} {
		t.Run(name, func(t *testing.T) {
			files := models.StarterShared(name)
			settings, err := models.ParseSettings("range.yaml", files["range.yaml"])
			if err != nil {
				t.Fatal(err)
			}
			if settings.Maker.Text != name {
				t.Errorf("the maker is %q", settings.Maker)
			}
			parts, err := models.ParseParts("parts.yaml", files["parts.yaml"])
			if err != nil {
				t.Fatal(err)
			}
			materials, err := models.ParseMaterials("materials.yaml", files["materials.yaml"])
			if err != nil {
				t.Fatal(err)
			}
			m, err := models.ParseModel("models/new.yaml", models.StarterModel(name))
			if err != nil {
				t.Fatal(err)
			}
			if m.Name.Text != name {
				t.Errorf("the model's name is %q", m.Name)
			}
			if _, err := models.Resolve(m, parts, materials); err != nil {
				t.Error(err)
			}
		})
	}
}

// The settings of a new range must be the built-in ones spelt out, or a maker
// who deletes a line would change figures unawares.
func TestStarterSettingsAreTheDefaults(t *testing.T) {
	got, err := models.ParseSettings("", models.StarterShared("x")["range.yaml"])
	if err != nil {
		t.Fatal(err)
	}
	want := models.DefaultSettings()
	if got.StrainFactor != want.StrainFactor || got.BenchLoad.Value != want.BenchLoad.Value ||
		got.TestCurve.Turn.Value != want.TestCurve.Turn.Value || got.Tolerances.Wall.Value != want.Tolerances.Wall.Value ||
		got.Steps.Handle.Value != want.Steps.Handle.Value || got.Steps.Sections.Value != want.Steps.Sections.Value ||
		got.Steps.BlankColour.Word != want.Steps.BlankColour.Word ||
		got.BenchTimes.Foot.Value != want.BenchTimes.Foot.Value || got.BenchTimes.Cap.Value != want.BenchTimes.Cap.Value {
		t.Errorf("got %+v, want %+v", got, want)
	}
}
