package stacking_test

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/solver/stacking"
	"example.com/sawdatum/testdata/given"
)

// The plan of random racks is what brute force finds from the readings alone.
func TestPlanIsWhatBruteForceFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := model.Profile{Units: model.MM, Rules: model.RulesEN, Instruments: model.Instruments{Caliper: given.Typed(0.01)}, // no micrometer: rings are taken as they are
			Saw: model.Saw{Tilt: model.TiltLeft, FenceSide: model.SideRight, FlangeDiameter: given.Typed(80), FlangeRelief: given.Typed(50), ArborDiameter: given.Typed(30),
				ThreadEnd: given.Typed(31.2), LooseFlange: given.Typed(8), Nut: given.Typed(12), ThreadPitch: given.Typed(2)}}
		p.Saw.Flange = rapid.SampledFrom([]model.Flange{model.Far, model.Near}).Draw(t, "flange")
		p.Tolerance = rapid.SampledFrom([]model.Measure{given.Typed(0.05), given.Typed(0.02), given.Typed(0.01)}).Draw(t, "tolerance")
		var kit []stacking.Piece
		for i := range rapid.IntRange(0, 6).Draw(t, "rings") {
			h := model.Length(rapid.Int64Range(2, 40).Draw(t, "ring")) * 25_000
			r := model.Ring{ID: fmt.Sprint("r", i), Thickness: h.Of(model.MM), Measured: h.Of(model.MM), Count: 1, Outer: given.Typed(78)}
			p.Rings, kit = append(p.Rings, r), append(kit, stacking.Piece{ID: r.ID, Height: h})
		}
		for i := range rapid.IntRange(1, 4).Draw(t, "blades") {
			plate := rapid.Int64Range(1500, 2400).Draw(t, "plate")
			kerf := plate + rapid.Int64Range(400, 1400).Draw(t, "kerf")
			um := func(v int64) []model.Measure {
				return given.Readings(float64(v)/1000, float64(v)/1000, float64(v)/1000)
			}
			knife := model.Knife{ID: fmt.Sprint("k", i), Thickness: um(plate + 200)[0]} // fits, with 0.2 mm of play at least
			p.Knives = append(p.Knives, knife)
			p.Blades = append(p.Blades, model.Blade{ID: fmt.Sprint("b", i), Plate: um(plate), Kerf: um(kerf), Knife: knife.ID})
		}
		face := func(b model.Blade) model.Length { // twice the cut face
			if p.Saw.Flange == model.Near {
				return b.Kerf[0].Length - b.Plate[0].Length
			}
			return b.Kerf[0].Length + b.Plate[0].Length
		}
		reference := p.Blades[0]
		for _, b := range p.Blades {
			if p.Saw.Flange == model.Far && face(b) > face(reference) || p.Saw.Flange == model.Near && face(b) < face(reference) {
				reference = b
			}
		}
		plan := solver.Judge(p, time.Time{})
		if plan.Reference != reference.ID {
			t.Fatalf("reference %s, want %s", plan.Reference, reference.ID)
		}
		var needs []stacking.Need
		for _, b := range p.Blades {
			if b.ID == reference.ID {
				continue
			}
			got, _ := plan.Row(b.ID)
			needs = append(needs, stacking.Symmetric(b.ID, (face(reference)-face(b)).Abs()/2, max(p.Tolerance.Length-got.Expanded, 0),
				given.MM(9.2)-b.Plate[0].Length))
		}
		_, standing := stacking.BruteRack(needs, kit, given.MM(9.2)-reference.Plate[0].Length, p.Saw.Flange)
		if plan.StandingHeight != standing {
			t.Fatalf("standing %v, want %v", plan.StandingHeight, standing)
		}
		for _, n := range needs {
			want := stacking.BruteStack(stacking.Goal{Want: n.Height + standing, Zone: n.Zone, Highest: n.Highest, Flange: p.Saw.Flange}, kit)
			got, _ := plan.Row(n.ID)
			if got.Height != want.Height || len(got.Stack) != len(want.Rings) || got.Residual != want.Residual() || (got.Verdict == model.Cannot) != (want.Verdict == model.Cannot) {
				t.Fatalf("%s: got %v %s, want %v %s", n.ID, got.Height, got.Verdict, want.Height, want.Verdict)
			}
		}
	})
}
