package solver

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
)

func typed(v float64) model.Measure { return mm(v).Of(model.MM) }

func readings(vs ...float64) []model.Measure {
	var out []model.Measure
	for _, v := range vs {
		out = append(out, typed(v))
	}
	return out
}

func thrice(v float64) []model.Measure { return readings(v, v, v) }

// shop is an invented bay: a far-flange saw, four blades, a small kit.
func shop() model.Profile {
	blade := func(id string, plate, kerf float64) model.Blade {
		return model.Blade{ID: id, Label: id, Diameter: typed(250), Teeth: 48, Bore: typed(30), Plate: thrice(plate), Kerf: thrice(kerf), Knife: "k25"}
	}
	ring := func(id string, t float64, n int) model.Ring {
		return model.Ring{ID: id, Thickness: typed(t), Measured: typed(t), Count: n, Outer: typed(78)}
	}
	return model.Profile{
		Version: 1, Name: "bay-two", Units: model.MM, Tolerance: typed(0.05), WorkingWidth: typed(120), Rules: model.RulesEN,
		Saw: model.Saw{Label: "Bay 2 saw", Tilt: model.TiltLeft, FenceSide: model.SideRight, Flange: model.Far,
			FlangeDiameter: typed(80), FlangeRelief: typed(50), ArborDiameter: typed(30),
			ThreadEnd: typed(31.2), LooseFlange: typed(8), Nut: typed(12), ThreadPitch: typed(2), ThroatLength: typed(360)},
		Knives:      []model.Knife{{ID: "k25", Thickness: typed(2.5)}},
		Instruments: model.Instruments{Caliper: typed(0.01), Micrometer: typed(0.001)},
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

func has(reasons []model.Reason, code string, say ...string) bool {
	return slices.ContainsFunc(reasons, func(r model.Reason) bool {
		return r.Code == code && !slices.ContainsFunc(say, func(s string) bool { return !strings.Contains(r.Text, s) })
	})
}
