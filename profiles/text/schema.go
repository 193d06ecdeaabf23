package text

import _ "embed" // the schema

// Schema is the JSON Schema of the profile file, for editors. It is made from the
// tables that reader and writer follow; what compares two values (a kerf with its
// plate, an id with the list that it stands in, a time with the one before) is
// beyond it, and is checked when the file is read.
//
//go:embed sawdatum.schema.json
var Schema []byte

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
