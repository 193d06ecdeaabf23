package solver

import (
	"testing"
	"time"

	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

func thrice(v float64) []model.Measure { return given.Readings(v, v, v) }

// shop is an invented bay: a far-flange saw, four blades, a small kit.
func shop() model.Profile {
	blade := func(id string, plate, kerf float64) model.Blade {
		return model.Blade{ID: id, Label: id, Diameter: given.Typed(250), Teeth: 48, Bore: given.Typed(30), Plate: thrice(plate), Kerf: thrice(kerf), Knife: "k25"}
	}
	ring := func(id string, t float64, n int) model.Ring {
		return model.Ring{ID: id, Thickness: given.Typed(t), Measured: given.Typed(t), Count: n, Outer: given.Typed(78)}
	}
	return model.Profile{
		Version: 1, Name: "bay-two", Units: model.MM, Tolerance: given.Typed(0.05), WorkingWidth: given.Typed(120), Rules: model.RulesEN,
		Saw: model.Saw{Label: "Bay 2 saw", Tilt: model.TiltLeft, FenceSide: model.SideRight, Flange: model.Far,
			FlangeDiameter: given.Typed(80), FlangeRelief: given.Typed(50), ArborDiameter: given.Typed(30),
			ThreadEnd: given.Typed(31.2), LooseFlange: given.Typed(8), Nut: given.Typed(12), ThreadPitch: given.Typed(2), ThroatLength: given.Typed(360)},
		Knives:      []model.Knife{{ID: "k25", Thickness: given.Typed(2.5)}},
		Instruments: model.Instruments{Caliper: given.Typed(0.01), Micrometer: given.Typed(0.001)},
		Blades:      []model.Blade{blade("general", 2.2, 3.2), blade("rip", 2.0, 3.0), blade("fine", 2.2, 2.8), blade("thin", 1.8, 2.4)},
		Rings:       []model.Ring{ring("r10", 0.10, 2), ring("r20", 0.20, 2), ring("r50", 0.50, 1)},
		Reference:   "general", Standing: []string{},
	}
}

// planned is the plan of a profile at any time.
func planned(p model.Profile) model.Plan { return Judge(p, time.Time{}) }

func row(t *testing.T, p model.Profile, id string) model.BladeRow {
	t.Helper()
	b, ok := planned(p).Row(id)
	if !ok {
		t.Fatalf("no row for %s", id)
	}
	return b
}
