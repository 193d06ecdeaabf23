package shop

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/wizard/stages/form"
)

// kitBore is the bore of the kit's rings, as the last of them has it; not known where none has.
func kitBore(c context) (bore model.Measure) {
	for _, r := range c.Profile.Rings {
		if Known(r.Bore) {
			bore = r.Bore
		}
	}
	return bore
}

// ringBore asks for the bore of a ring, once a kit; what the kit has is offered, else the
// arbor's diameter.
func ringBore(c context, label string) field {
	bore := kitBore(c)
	if !Known(bore) {
		bore = c.Profile.Saw.ArborDiameter
	}
	return form.Length(c, "bore", label, c.Pick("30", "5/8 in"), bore, 5*mm, 150*mm).Against(func(t *taking) {
		arbor := t.Profile.Saw.ArborDiameter
		r := model.Ring{Bore: t.Length("bore"), Outer: t.Length("outer")}
		switch play := r.Bore.Length - arbor.Length; {
		case play < 0:
			t.Fault("bore", "a ring bored %s does not go over the arbor of %s: leave it out of the kit", r.Bore, arbor)
		case r.Outer.Length > arbor.Length && r.Bore.Length >= r.Outer.Length: // else its outer diameter is refused
			t.Fault("bore", "a bore of %s is as large as the ring of %s: were the two swapped?", r.Bore, r.Outer)
		case !r.Sits(arbor.Length):
			t.Question("bore", "a ring bored %s hangs %s off centre on the arbor of %s, and no stack is made with it", r.Bore, t.Show(play/2), arbor)
		}
	})
}

// checkOuter refuses a ring without an outer diameter, or one that does not go over the arbor,
// and asks again of one that does not bear on the flange.
func checkOuter(t *taking, r model.Ring) {
	saw := t.Profile.Saw
	switch {
	case !Known(r.Outer):
		t.Fault("outer", "its outer diameter tells whether it bears on the flange: measure it")
	case r.Outer.Length <= saw.ArborDiameter.Length:
		t.Fault("outer", "a ring of %s does not go over the arbor of %s: type its outer diameter", r.Outer, saw.ArborDiameter)
	default:
		for _, told := range solver.CheckRing(r, saw.FlangeDiameter.Length, saw.FlangeRelief.Length, metrology.WordsOf(t.Profile)) {
			t.Question("outer", "%s", told.Text)
		}
	}
}
