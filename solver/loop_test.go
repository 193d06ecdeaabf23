package solver_test

import (
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/simsaw"
	"example.com/sawdatum/testdata/strips/trial"
)

// Over 200 invented shops, cut by a saw that shares no formula with the solver, every blade
// comes to an end in four stacks at most, none that was found out comes again, few changes
// are for the worse, and hardly a blade called in is truly out.
func TestLoopLearnsAndEnds(t *testing.T) {
	for _, v := range []struct {
		tolerance model.Length
		measured  bool
		worse     float64 // share of changes at the most, with three standard errors of 50 changes
		in        int     // Blades at the least
	}{
		{100_000, false, 0.05, 950}, {50_000, true, 0.05, 950}, {30_000, true, 0.10, 700}, {30_000, false, 0.10, 450}, {20_000, true, 0.10, 300},
	} {
		var all trial.Loop
		for seed := range uint64(200) {
			shop, err := trial.Compare(seed, v.tolerance, v.measured, simsaw.Habits{Rip: 5_000})
			if err != nil {
				t.Fatal(err)
			}
			all.Add(shop)
		}
		t.Logf("%+v: %+v", v, all)
		if all.MostGoes > 4 || all.Again > 0 || all.Endless > 0 {
			t.Errorf("%+v: %+v", v, all)
		}
		if all.Changes < 10 || float64(all.Worse) > v.worse*float64(all.Changes) {
			t.Errorf("%+v: %d of %d changes for the worse", v, all.Worse, all.Changes)
		}
		if all.In < v.in || all.In+all.Left != all.Blades || float64(all.FalseIn) > 0.023*float64(all.Blades) {
			t.Errorf("%+v: %+v", v, all)
		}
		if asked := all.Measured > 0; asked != (!v.measured && v.tolerance < 50_000) {
			t.Errorf("%+v: %d blades asked to measure rings", v, all.Measured)
		}
	}
}
