package procedure_test

import (
	"strings"

	"example.com/sawdatum/model/procedure"
)

// spoiled lists texts that no gate may take in this field.
func spoiled(f procedure.Field, step string) []string {
	texts := map[procedure.FieldKind][]string{
		procedure.FieldWord:     {"yes"},
		procedure.FieldChoice:   {"maybe"},
		procedure.FieldCount:    {"0", "fourteen"},
		procedure.FieldSeconds:  {"0", "soon"},
		procedure.FieldLength:   {"-900", "12 furlongs"},
		procedure.FieldLengths:  {"0.3", "a b c"},
		procedure.FieldPairs:    {"60", "60=60 60=60"},
		procedure.FieldInitials: {"K1"},
		procedure.FieldKit:      {"0"},
		procedure.FieldRing:     {"0.10 0.101 78", "0.10 - 78 some"},
		procedure.FieldDegrees:  {"400"},
		procedure.FieldRings:    {"0.25 0.10", "0.77"},
	}[f.Kind]
	texts = append(texts, map[string][]string{
		"final":  {"120.06"},
		"length": {"659"},
		"gaps":   {"0 0.11 0 0"}, "tip_gap": {"2.9", "8.1"}, "spare_thread": {"1.9"},
	}[f.Key]...)
	if f.Key == "name" {
		texts = append(texts, map[bool]string{true: "somebody's", false: "thin"}[step == "power"])
	}
	if f.Key == "teeth" && step != "power" {
		texts = append(texts, "60", "24", "48") // another blade was put on
	}
	if !f.Optional {
		texts = append(texts, "")
	}
	return texts
}

// believed reports whether rings are those that are there, or those that the program
// believes to be there: whoever types these without looking is found out by nobody.
func believed(v procedure.View, there, text string) bool {
	ids := ringIDs.Replace(text)
	return ids == there || ids == none(strings.Join(v.Rings, " "))
}

// ringIDs turns thicknesses into the names of the rings.
