package solver

import (
	"slices"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/given"
)

// A blade that must not run neither counts nor hides advice, and the standing stack is
// free before anything is cut, also where one was chosen.
func TestAdviceOfARack(t *testing.T) {
	p := shop()
	p.Rings, p.Standing = p.Rings[:1], []string{} // 0.10 x2: rip and fine want 0.2
	if a, err := AdviseRack(p); err != nil || !a.Enough || len(a.Buy) > 0 {
		t.Errorf("thin, whose knife wedges, wants 0.6 and was counted: %+v, %v", a, err)
	}
	p.Blades = slices.Clone(p.Blades)
	p.Knives = append(slices.Clone(p.Knives), model.Knife{ID: "k20", Thickness: given.Typed(2.1)})
	p.Blades[3].Knife = "k20"
	if a, err := AdviseRack(p); err != nil || !a.Enough || !slices.Equal(a.Buy, given.Lengths(0.5)) {
		t.Errorf("with a knife for thin: %+v, %v", a, err)
	}
	p.Reference = "rip" // general wants -0.2: 0.2 behind the rip
	if a, err := AdviseRack(p); err != nil || !a.Enough || !a.Rack.Standing.Sure || a.Rack.Standing.Height < given.MM(0.15) {
		t.Errorf("another standing stack: %+v, %v", a, err)
	}
	if a, err := AdviseRack(model.Profile{}); err == nil {
		t.Errorf("an empty profile: %+v", a)
	}
}
