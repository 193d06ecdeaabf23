package solver

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

func TestPlanTellsAWrongReference(t *testing.T) {
	p := shop()
	p.Reference = "rip"
	plan := planned(p)
	if !given.Has(plan.Reasons, "reference-by-hand", "general", "0.2") {
		t.Errorf("%v", plan.Reasons)
	}
	b, _ := plan.Row("general")
	if b.Want != given.MM(-0.2) || b.Verdict != model.Cannot || !given.Has(b.Reasons, "negative-want", "0.200 mm further toward the fence than the datum face", "make the general the reference", "behind the rip") || b.Ready() {
		t.Errorf("%+v", b)
	}
	if !given.Has(plan.Reasons, "standing-better", "0.2 mm") {
		t.Errorf("no word of the standing stack that cures it: %v", plan.Reasons)
	}
	near := shop()
	near.Saw.Flange, near.Reference, near.Standing = model.Near, "general", []string{}
	if b := row(t, near, "fine"); b.Want >= 0 || !given.Has(b.Reasons, "negative-want", "further away from the fence than the datum face", "behind the general") {
		t.Errorf("near: %+v", b)
	}
	p.Standing = []string{"r20"}
	if b := row(t, p, "general"); b.Want != 0 || b.Verdict != model.In || len(b.Stack) != 0 {
		t.Errorf("with a standing stack: %+v", b)
	}
	p.Standing = nil
	if plan := planned(p); plan.StandingHeight != given.MM(0.2) || !given.Has(plan.Reasons, "standing") {
		t.Errorf("chosen standing stack: %v, %v", plan.StandingHeight, plan.Reasons)
	}
}

func TestPlanExplainsTheStandingStack(t *testing.T) {
	p := shop()
	p.Standing = nil
	if plan := planned(p); len(plan.Standing) != 0 || given.Has(plan.Reasons, "standing") {
		t.Errorf("every blade is reached without one: %v, %v", plan.Standing, plan.Reasons)
	}
	// Of 0.40, 0.50 and 0.70 the wanted 0.2 and 0.6 cannot be made; on 0.50 behind the
	// reference they become 0.7 and 1.1, which can.
	p.Rings = []model.Ring{p.Rings[2], {ID: "r70", Thickness: given.Typed(0.7), Measured: given.Typed(0.7), Count: 1}, {ID: "r40", Thickness: given.Typed(0.4), Measured: given.Typed(0.4), Count: 1}}
	plan := planned(p)
	if !slices.Equal(plan.Standing, []string{"r50"}) || !given.Has(plan.Reasons, "standing", "0.5 mm", "could not be brought in without it") {
		t.Errorf("%v, %v", plan.Standing, plan.Reasons)
	}
	p.Standing = []string{}
	if plan := planned(p); !given.Has(plan.Reasons, "standing-better", "0.5 mm", "every blade can be brought in") {
		t.Errorf("%v", plan.Reasons)
	}
	p.Rings = p.Rings[:1]
	if plan := planned(p); given.Has(plan.Reasons, "standing-better") {
		t.Errorf("nothing is better than what is there: %v", plan.Reasons)
	}
	p = shop()
	p.Standing = []string{"r50"}
	p.Saw.ThreadEnd = given.Typed(24.6)
	if b := row(t, p, "general"); b.Verdict != model.Cannot || b.Ready() || !given.Has(b.Reasons, "thread") {
		t.Errorf("a standing stack over the thread: %+v", b)
	}
}

// Where too many heights would have to be looked through for a plan, it says how far it looked.
func TestStandingSaysHowFarItLooked(t *testing.T) {
	p := shop()
	p.Standing, p.Rings = nil, nil
	r := rand.New(rand.NewPCG(1, 1))
	for i := range 32 {
		thick := given.MM(0.05) + model.Length(r.Int64N(950_000))
		p.Rings = append(p.Rings, model.Ring{ID: fmt.Sprint("r", i), Thickness: thick.Of(model.MM), Measured: thick.Of(model.MM), Count: 1, Outer: given.Typed(78)})
	}
	if plan := planned(p); given.Has(plan.Reasons, "standing-partly") {
		t.Errorf("the tolerance leaves room: %v", plan.Reasons)
	}
	p.Tolerance = given.Typed(0.001)
	if plan := planned(p); !given.Has(plan.Reasons, "standing-partly", "were not looked through") {
		t.Errorf("%v", plan.Reasons)
	}
}
