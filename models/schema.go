package models

import (
	"encoding/json"
	"strings"

	"rodlore/evaluate/figures"
	"rodlore/models/units"
)

// schema is a fragment of JSON Schema, draft 7.
type schema map[string]any

// SchemaModel gives the JSON Schema of a model's spec, for editors that
// complete and check while typing. It knows keys and kinds of values but not
// what ParseModel checks beyond them, such as units.
func SchemaModel() []byte { return modelTable.schema().document("a fishing rod model") }

// SchemaParts gives the JSON Schema of parts.yaml; see SchemaModel.
func SchemaParts() []byte { return partsTable.schema().document("bought parts") }

// SchemaMaterials gives the JSON Schema of materials.yaml; see SchemaModel.
func SchemaMaterials() []byte { return namedSchema(materialTable.schema()).document("materials") }

// SchemaSettings gives the JSON Schema of range.yaml; see SchemaModel.
func SchemaSettings() []byte { return settingsTable.schema().document("settings of a range") }

// SchemaBench gives the JSON Schema of a file of bench/; see SchemaModel.
func SchemaBench() []byte { return benchTable.schema().document("measurements of a rod") }

// SchemaReviews gives the JSON Schema of a file of reviews/; see SchemaModel.
func SchemaReviews() []byte { return reviewsTable.schema().document("checks by hand") }

// SchemaBuilds gives the JSON Schema of a file of builds/; see SchemaModel.
func SchemaBuilds() []byte { return buildsTable.schema().document("rods built in a year") }

// SchemaHeard gives the JSON Schema of a file of heard/; see SchemaModel.
func SchemaHeard() []byte { return heardTable.schema().document("what customers said of a model") }

// SchemaNotes gives the JSON Schema of a file of notes/; see SchemaModel.
func SchemaNotes() []byte { return notesTable.schema().document("what was put right later") }

// document writes the schema as a file of its own.
func (s schema) document(title string) []byte {
	s["$schema"] = "http://json-schema.org/draft-07/schema#"
	s["title"] = title
	text, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		panic("models: " + err.Error()) // only maps, lists and texts are in it
	}
	return append(text, '\n')
}

// textSchema admits numbers and truth values, which YAML takes a name such as
// 12 or yes for.
func textSchema() schema { return schema{"type": []string{"string", "number", "boolean"}} }

func quantitySchema(d *units.Dimension) schema {
	types := []string{"string"}
	if d.Bare != "" {
		types = append(types, "number")
	}
	return schema{"type": types, "description": d.Expected()}
}

func choiceSchema(words []string) schema { return schema{"enum": words} }

func countSchema(least, most int) schema {
	return schema{"type": "integer", "minimum": least, "maximum": most}
}

func listSchema(of schema, most int) schema {
	return schema{"type": "array", "minItems": 1, "maxItems": most, "items": of}
}

func namedSchema(of schema) schema {
	return schema{"type": "object", "additionalProperties": of}
}

func anyOf(of ...schema) schema { return schema{"anyOf": of} }

func (tab *table[T]) schema() schema {
	properties := schema{}
	var needed []string
	for _, k := range tab.keys {
		properties[k.name] = k.schema()
		if k.need == required {
			needed = append(needed, k.name)
		}
	}
	s := schema{"type": "object", "properties": properties, "additionalProperties": false}
	if needed != nil {
		s["required"] = needed
	}
	return s
}

// wantsSchema lists every figure in either spelling.
func wantsSchema() schema {
	properties := schema{}
	for _, f := range figures.All() {
		limit := schema{
			"type":        []string{"string", "number"},
			"description": "at most, at least or A to B, each " + units.BySI(f.Unit).Expected(),
		}
		properties[f.Key] = limit
		properties[strings.ReplaceAll(f.Key, "-", " ")] = limit
	}
	return schema{"type": "object", "properties": properties, "additionalProperties": false}
}
