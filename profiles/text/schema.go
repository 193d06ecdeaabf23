package text

import (
	_ "embed" // the schema
	"encoding/json"
	"maps"

	"example.com/sawdatum/model"
)

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

// makeSchema is the text of the schema file.
func makeSchema() ([]byte, error) {
	root := objectSchema(headFields)
	properties := root["properties"].(schema)
	properties[versionKey] = schema{"const": model.FormatVersion, "description": "version of the format"}
	var records []schema
	for _, k := range kinds {
		records = append(records, recordSchema(k))
	}
	properties[recordsKey] = schema{"type": []string{"array", "null"}, "items": schema{"oneOf": records}, "description": "what was done and read, oldest first; never edited, only added to"}
	root["required"] = append([]string{versionKey}, root["required"].([]string)...)
	root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	root["title"] = "sawdatum shop profile"
	out, err := json.MarshalIndent(root, "", "  ")
	return append(out, '\n'), err
}

func recordSchema(k model.Kind) schema {
	fields := recordFields[k]
	if k == model.Correction {
		fields = anyFields // a schema cannot look up what is corrected
	}
	s := objectSchema(fields)
	properties := maps.Clone(s["properties"].(schema))
	properties["kind"] = schema{"const": k}
	s["properties"], s["title"] = properties, string(k)
	switch k {
	case model.Isolation:
		s["oneOf"] = []schema{{"required": []string{"run_down"}}, {"required": []string{"still"}}}
	case model.StripCut:
		s["oneOf"] = []schema{{"required": []string{"readings"}}, {"required": []string{"differences"}}}
		s["dependentRequired"] = schema{"zeroed": []string{"differences"}}
	case model.Note:
		s["dependentRequired"] = schema{"about": []string{"blade"}}
	}
	return s
}
