package text

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"strconv"
	"testing"

	"example.com/sawdatum/testdata/update"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

func TestSchemaFileIsThatOfTheTables(t *testing.T) {
	want, err := makeSchema()
	if err != nil {
		t.Fatal(err)
	}
	if *update.Goldens {
		if err := os.WriteFile(SchemaName, want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(Schema, want) {
		t.Error("the schema file is not that of the tables: go test ./profiles/text -run TestSchemaFile -update")
	}
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

func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource(SchemaName, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(SchemaName)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// plainValue is a YAML tree as an editor hands it to a schema (YAML 1.2: a time is
// text).
func plainValue(n *yaml.Node) any {
	switch n.Kind {
	case yaml.DocumentNode:
		return plainValue(n.Content[0])
	case yaml.MappingNode:
		out := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			out[n.Content[i].Value] = plainValue(n.Content[i+1])
		}
		return out
	case yaml.SequenceNode:
		out := []any{}
		for _, c := range n.Content {
			out = append(out, plainValue(c))
		}
		return out
	}
	switch n.Tag {
	case "!!null":
		return nil
	case "!!bool":
		return n.Value == "true"
	case "!!int", "!!float":
		f, _ := strconv.ParseFloat(n.Value, 64)
		return f
	}
	return n.Value
}

func schemaSays(t *testing.T, s *jsonschema.Schema, text string) error {
	t.Helper()
	var n yaml.Node
	if err := yaml.Unmarshal([]byte(text), &n); err != nil {
		t.Fatal(err)
	}
	return s.Validate(plainValue(&n))
}
