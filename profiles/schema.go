package profiles

// schema is a piece of JSON Schema (draft 2020-12).
type schema map[string]any

func objectSchema[T any](fields []field[T]) schema {
	properties, required := schema{}, []string{}
	for _, f := range fields {
		properties[f.key] = f.schema
		if !f.optional {
			required = append(required, f.key)
		}
	}
	return schema{"type": "object", "properties": properties, "required": required, "additionalProperties": false}
}

// Schema is the JSON Schema of the profile file.
var Schema = []byte("{}\n")
