package main

import (
	"testing"

	"example.com/sawdatum/model"
)

// TestABladeIsNamedByItsIDFirst: a label never leads to another blade than the id that
// stands there, nor one of the rack to one that has left it.
func TestABladeIsNamedByItsIDFirst(t *testing.T) {
	p := model.Profile{Blades: []model.Blade{{ID: "old", Label: "general", Retired: true}, {ID: "b", Label: "rip"}, {ID: "rip", Label: "General"}, {ID: "c", Label: "80-tooth fine crosscut"}}}
	for name, want := range map[string]string{"rip": "rip", "Rip": "b", "general": "rip", "old": "old", "none": "", "cross": "c", "80": "", "4": ""} {
		if got, err := bladeNamed(p, name); got != want || (err != nil) != (want == "") {
			t.Errorf("%s is %q, want %q: %v", name, got, want, err)
		}
	}
}
