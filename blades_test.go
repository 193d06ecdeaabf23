package main

import (
	"testing"

	"example.com/sawdatum/model"
)

// TestABladeIsNamedByItsIDFirst: a label never leads to another blade than the id that
// stands there, nor one of the rack to one that has left it; a number is that of teeth, and leads to
// no blade where two have as many.
func TestABladeIsNamedByItsIDFirst(t *testing.T) {
	p := model.Profile{Blades: []model.Blade{{ID: "old", Label: "general", Retired: true}, {ID: "b", Label: "rip", Teeth: 24}, {ID: "rip", Label: "General", Teeth: 24}, {ID: "c", Label: "80-tooth fine crosscut", Teeth: 80}, {ID: "d", Label: "60-tooth fine veneer", Teeth: 60}}}
	for name, want := range map[string]string{"rip": "rip", "Rip": "b", "general": "rip", "old": "old", "none": "", "cross": "c", "80": "c", "4": "", "24": "", "fine": "", "fine v": "d"} {
		if got, err := bladeNamed(p, name); got != want || (err != nil) != (want == "") {
			t.Errorf("%s is %q, want %q: %v", name, got, want, err)
		}
	}
}
