package solver

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/given"
)

// What the bench says, before anything is cut.
var benchHistories = []history{
	{"an empty head", "plan", head(func(p *model.Profile) { *p = model.Profile{Name: "new"} })},
	{"the thread alone is not known", "plan rip", head(func(p *model.Profile) { p.Saw.ThreadEnd = model.Measure{} })},
	{"the flange is not known", "plan rip", head(func(p *model.Profile) { p.Saw.Flange = "" })},
	{"the reference was not read", "rip fine", head(func(p *model.Profile) { p.Blades[0].Kerf, p.Blades[2].Plate = nil, nil })},
	{"no tolerance", "general rip", head(func(p *model.Profile) { p.Tolerance = model.Measure{} })},
	{"a saw whose flange is near, in inches", "general rip thin", head(func(p *model.Profile) {
		p.Units, p.Saw.Flange, p.Saw.Tilt, p.Reference = model.IN, model.Near, model.TiltRight, "fine"
	})},
	{"a reference that does not lie farthest", "plan general rip", head(func(p *model.Profile) { p.Reference = "rip" })},
	{"rings that are not measured, at a small tolerance", "rip fine", head(func(p *model.Profile) {
		p.Tolerance = given.Typed(0.02)
		for i := range p.Rings {
			p.Rings[i].Measured = model.Measure{}
		}
	})},
	{"rings that are not measured, at a tolerance that bears it", "rip", head(func(p *model.Profile) {
		for i := range p.Rings {
			p.Rings[i].Measured = model.Measure{}
		}
	})},
	{"the reference is gone, and a bore does not fit", "plan rip", head(func(p *model.Profile) { p.Reference, p.Blades[1].Bore = "gone", given.Typed(25) })},
	{"a bore does not fit", "rip", head(func(p *model.Profile) { p.Blades[1].Bore = given.Typed(25) })},
	{"a large kit, and a ring that drops into the relief", "plan rip", head(func(p *model.Profile) {
		p.Rings[0].Count = 32
		p.Rings = append(p.Rings, model.Ring{ID: "washer", Thickness: given.Typed(0.3), Count: 1, Outer: given.Typed(50)})
	})},
	{"the kit cannot, and a ring is left out", "rip thin", head(func(p *model.Profile) {
		p.Rings = append(p.Rings[:1], model.Ring{ID: "washer", Thickness: given.Typed(0.3), Count: 1, Outer: given.Typed(50)})
		p.Rings[0].Thickness = given.Typed(0.3)
		p.Rings[0].Measured = given.Typed(0.3)
		p.Knives = append(p.Knives, model.Knife{ID: "k20", Thickness: given.Typed(2.1)})
		p.Blades[3].Knife = "k20"
	})},
	{"a blade that names no knife, one whose knife is not there", "rip fine", head(func(p *model.Profile) { p.Blades[1].Knife, p.Blades[2].Knife = "", "k99" })},
	{"a standing stack that is too high for the thread", "plan general", head(func(p *model.Profile) {
		p.Rings = append(p.Rings, model.Ring{ID: "r9", Thickness: given.Typed(9), Measured: given.Typed(9), Count: 1, Outer: given.Typed(78)})
		p.Standing = []string{"r9"}
	})},
	{"with a standing stack", "plan general rip", head(func(p *model.Profile) { p.Standing = []string{"r10"} })},
	{"a tolerance smaller than what is not known", "rip", head(func(p *model.Profile) { p.Tolerance = given.Typed(0.002) })},
	{"a nut that finds no thread", "general thin", head(func(p *model.Profile) { p.Reference, p.Saw.ThreadEnd = "rip", given.Typed(20) })},
	{"a ring whose half width is absurd", "rip", head(func(p *model.Profile) {
		p.Rings[1].Measured, p.Rings[1].HalfWidth = model.Measure{}, model.MaxLength.Of(model.MM)
		p.Rings[0].Count = 1
	})},
	{"a standing stack that is absurd", "rip", head(func(p *model.Profile) {
		p.Rings[2].Thickness, p.Rings[2].Measured, p.Standing, p.Saw.ThreadEnd = model.MaxLength.Of(model.MM), model.Measure{}, []string{"r50"}, model.Measure{}
	})},
	{"runout that was not read", "plan rip", head(func(p *model.Profile) { p.Blades[1].Runout = given.Typed(0.1) })},
}
