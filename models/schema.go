package models

// schema is a fragment of JSON Schema, draft 7.
type schema map[string]any

func textSchema() schema { return schema{"type": []string{"string", "number"}} }

func quantitySchema(d *dimension) schema {
	return schema{
		"type":        []string{"string", "number"},
		"description": d.name + ", such as " + d.example,
	}
}

func choiceSchema(words []string) schema { return schema{"enum": words} }

func countSchema(least, most int) schema {
	return schema{"type": "integer", "minimum": least, "maximum": most}
}

func listSchema(of schema) schema {
	return schema{"type": "array", "minItems": 1, "items": of}
}

func anyOf(of ...schema) schema { return schema{"anyOf": of} }

func (tab *table[T]) schema() schema {
	properties := schema{}
	var needed []string
	for _, k := range tab.keys {
		properties[k.name] = k.schema
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
