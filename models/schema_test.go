package models_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"

	"rodlore/models"
)

// compiled reads a schema with a validator that is none of ours.
func compiled(t *testing.T, text []byte) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// asJSON gives what YAML makes of src, in the validator's types.
func asJSON(t *testing.T, src []byte) any {
	t.Helper()
	var v any
	if err := yaml.Unmarshal(src, &v); err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func TestSchemasTakeGoodFiles(t *testing.T) {
	starter := models.StarterShared("Saltmarsh Rods")
	for _, tt := range []struct {
		name   string
		schema []byte
		src    []byte
	}{
		{"tubes and plies", models.SchemaModel(), read(t, "good/skerry-10.yaml")},
		{"every other key", models.SchemaModel(), read(t, "good/long-drift.yaml")},
		{"starter model", models.SchemaModel(), models.StarterModel("12")},
		{"parts", models.SchemaParts(), read(t, "good/parts.yaml")},
		{"reviews", models.SchemaReviews(), []byte("ticked:\n  - {check: feet, revision: 53d3cc7b, date: 2026-11-07, by: MK}\n")},
		{"bench", models.SchemaBench(), sheet("{weight: 165.8 g ± 0.5 g}", "{oscillations: 31, in: 10 s}", "{trace: [{x: 1 m, y: 8 mm}], load: 1 N}")},
		{"builds", models.SchemaBuilds(), []byte(buildsText)},
		{"notes", models.SchemaNotes(), []byte("withdrawn:\n  - {label: 2026, date: 2026-11-07, why: the wrong draft}\n")},
		{"heard", models.SchemaHeard(), []byte("heard:\n  - {release: 2026, date: 2026-11-07, said: it's light}\n")},
		{"starter parts", models.SchemaParts(), starter["parts.yaml"]},
		{"materials", models.SchemaMaterials(), read(t, "good/materials.yaml")},
		{"built-in materials", models.SchemaMaterials(), mustRead(t, "builtin/materials.yaml")},
		{"settings", models.SchemaSettings(), read(t, "good/range.yaml")},
		{"built-in settings", models.SchemaSettings(), mustRead(t, "builtin/range.yaml")},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if err := compiled(t, tt.schema).Validate(asJSON(t, tt.src)); err != nil {
				t.Error(err)
			}
		})
	}
}

func TestSchemaRefuses(t *testing.T) {
	schema := compiled(t, models.SchemaModel())
	for _, tt := range []struct{ name, old, bad string }{
		{"unknown key", "job: bass", "jbo: bass"},
		{"missing key", "length: 10 ft\n", ""},
		{"length without unit", "length: 10 ft", "length: 10"},
		{"unknown reel", "reel: fixed-spool", "reel: spinning"},
		{"unknown figure", "recovery: at least", "recvery: at least"},
		{"joint between one", "[butt, tip]", "[butt]"},
		{"misspelt key of a station", "wall: 1.05 mm", "wal: 1.05 mm"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if schema.Validate(asJSON(t, edited(t, "skerry-10.yaml", tt.old, tt.bad))) == nil {
				t.Error("passed")
			}
		})
	}
}
