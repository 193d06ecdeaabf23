package solver_test

import (
	"math"
	"testing"

	"example.com/sawdatum/testdata/strips/trial"
)

// TestFalseAccepts is a small part of what testdata/strips does at length: a blade that
// truly lies at the tolerance is called in at most 2.3 times of a hundred, though it is
// looked at four times; one that lies at the datum comes in as design wants.
func TestFalseAccepts(t *testing.T) {
	const blades = 3000
	for _, v := range []struct {
		cell    trial.Cell
		perfect float64 // share of perfect blades that come in, at least
	}{
		{trial.Cell{Tolerance: 50_000, Step: 10_000, Rip: 20_000, Reading: 4_000}, 0.15},
		{trial.Cell{Tolerance: 58_500, Step: 10_000, Rip: 5_000, Reading: 30_000}, 0.05},
		{trial.Cell{Tolerance: 100_000, Step: 10_000, Rip: 10_000, Reading: 4_000, History: 12}, 0.99},
		{trial.Cell{Tolerance: 100_000, Step: 20_000, Rip: 20_000, Reading: 10_000}, 0.5},
	} {
		out := trial.Run(v.cell, float64(v.cell.Tolerance), trial.Stubborn, blades, 18)
		if limit := 0.023 + 3*math.Sqrt(0.023*0.977/blades); out.InShare() > limit {
			t.Errorf("%+v: %.4f of blades at the limit called in", v.cell, out.InShare())
		}
		if out.In == 0 {
			t.Errorf("%+v: not one of %d at the limit called in: the trial says nothing", v.cell, blades)
		}
		if in := trial.Run(v.cell, 0, trial.Advised, 500, 18); in.InShare() < v.perfect {
			t.Errorf("%+v: only %.3f of perfect blades called in", v.cell, in.InShare())
		}
	}
}
