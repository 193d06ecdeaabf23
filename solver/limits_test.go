package solver

import (
	"slices"
	"testing"

	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// Worked by hand: 40 - 8 - 12 - 2 - 2.2 = 15.8 mm of thread; 12 - 1.1 = 10.9 mm of plain part.
func TestStackLimit(t *testing.T) {
	whole := model.Saw{ThreadEnd: given.Typed(40), LooseFlange: given.Typed(8), Nut: given.Typed(12), ThreadPitch: given.Typed(2)}
	plain := whole
	plain.PlainPart = given.Typed(12)
	for _, v := range []struct {
		name  string
		saw   model.Saw
		want  float64
		known bool
	}{
		{"thread", whole, 15.8, true},
		{"plain part", plain, 10.9, true},
		{"plain part alone", model.Saw{PlainPart: given.Typed(12)}, 10.9, true},
		{"a nut short of thread", model.Saw{ThreadEnd: given.Typed(23.2), LooseFlange: given.Typed(8), Nut: given.Typed(12), ThreadPitch: given.Typed(2)}, -1, true},
		{"nothing known", model.Saw{ThreadEnd: given.Typed(40)}, 0, false},
	} {
		if got, known := StackLimit(v.saw, given.MM(2.2)); got != given.MM(v.want) || known != v.known {
			t.Errorf("%s: %v, %v", v.name, got, known)
		}
	}
	for stack, bad := range map[float64]bool{10.9: false, 10.900001: true} {
		if got := CheckPlainPart(plain, given.MM(stack), given.MM(2.2), metric); (got != nil) != bad {
			t.Errorf("%v mm on the plain part: %v", stack, got)
		}
	}
}

// A kerf of 2.8 beside a knife of 2.5 leaves 0.3; the knife stands up to 0.1 behind the
// datum face before its gaps are read, so a cut face may lie 0.2 toward the fence, and
// 0.1 away from it, whatever the tolerance.
func TestTheKnifeLimitsTheZone(t *testing.T) {
	p := shop()
	p.Tolerance = given.Typed(0.3)
	p.Rings = []model.Ring{{ID: "r41", Thickness: given.Typed(0.41), Measured: given.Typed(0.41), Count: 1, Outer: given.Typed(78)}}
	if b := row(t, p, "fine"); b.Verdict != model.Cannot {
		t.Errorf("0.21 mm toward the fence: %+v", b)
	}
	p.Rings[0].Measured = given.Typed(0.4)
	if b := row(t, p, "fine"); b.Verdict == model.Cannot || b.Residual != given.MM(0.2) {
		t.Errorf("0.2 mm toward the fence: %+v", b)
	}
	p.Rings[0].Measured = given.Typed(0.1)
	if b := row(t, p, "fine"); b.Verdict == model.Cannot || b.Residual != given.MM(-0.1) {
		t.Errorf("0.1 mm away from the fence: %+v", b)
	}
	p.Rings[0].Measured = given.Typed(0.09)
	if b := row(t, p, "fine"); b.Verdict != model.Cannot {
		t.Errorf("0.11 mm away from the fence: %+v", b)
	}
}

// Of two stacks of one ring the plan takes the measured one where the nominal one may
// turn out otherwise.
func TestPlanPrefersWhatIsSure(t *testing.T) {
	p := shop()
	p.Standing = []string{}
	p.Rings = []model.Ring{
		{ID: "nominal", Thickness: given.Typed(0.17), Count: 1, Outer: given.Typed(78)},
		{ID: "measured", Thickness: given.Typed(0.25), Measured: given.Typed(0.24), Count: 1, Outer: given.Typed(78)},
	}
	p.Blades = slices.Clone(p.Blades)
	for i := range p.Blades {
		p.Blades[i].Runout = given.Typed(0)
	}
	b := row(t, p, "rip") // wants 0.2: 0.03 off by nominal, 0.04 off measured, of 0.05
	if b.Verdict != model.In || len(b.Stack) != 1 || b.Stack[0] != "measured" {
		t.Errorf("%+v", b)
	}
}
