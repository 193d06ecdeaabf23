package solver

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/given"
)

// feel is where a knife was felt behind the tips of the blade that is on, before power.
func (d *days) feel(knife string, faces ...float64) *days {
	return d.do(model.Record{Kind: model.Felt, Blade: d.on.Blade, Rings: d.on.Rings, Knife: knife, Faces: given.Readings(faces...)})
}

// twoKnives has the rip run with a knife of its own.
func twoKnives(p *model.Profile) {
	p.Knives = append(p.Knives, model.Knife{ID: "k24", Thickness: given.Typed(2.4)})
	p.Blades[1].Knife = "k24"
}

// What a knife says that was felt behind a blade. It was squared 0.03 behind the datum.
var feltHistories = []history{
	{"felt inside, and the strip that put it outside voided", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.2)
		strip := d.p.Records[len(d.p.Records)-1].Ref()
		d.feel("k25", 0.05, 0.05).do(model.Record{Kind: model.Void, Of: strip, Why: "felt inside"})
	})},
	{"and in by strips since", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.2)
		strip := d.p.Records[len(d.p.Records)-1].Ref()
		d.feel("k25", 0.05, 0.05).do(model.Record{Kind: model.Void, Of: strip, Why: "felt inside"})
		d.mount("general").fence("l2").rip(model.Datum, 120, 120, 120).mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01)
	})},
	{"felt inside twice, the second time since it is in", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01).feel("k25", 0.05, 0.05)
		d.mount("general").fence("l2").rip(model.Datum, 120, 120, 120).mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01).feel("k25", 0.06, 0.06)
	})},
	{"checked outside by a knife that is too thick, out by its strip", "thin", after(asItIs, func(d *days) {
		d.mount("thin", "r10", "r50").line("thin", "k25", 0.05, 0.05).rip(model.ForBlade, 120.4)
	})},
	{"checked elsewhere before rings were refused", "rip", after(asItIs, func(d *days) {
		d.line("general", "k25", 0.2, 0.2).mount("rip", "r20").feel("k25", -0.4, -0.4).mount("general").line("general", "k25", 0.25, 0.25)
	})},
	{"felt outside, in front of the tips", "rip general", after(asItIs, func(d *days) { d.mount("rip", "r20").feel("k25", -0.3, -0.2) })},
	{"felt outside, far behind the tips", "rip", after(asItIs, func(d *days) { d.mount("rip", "r20").feel("k25", 0.7, 0.6) })},
	{"felt by one reading", "rip", after(asItIs, func(d *days) { d.mount("rip", "r20").feel("k25", -0.3) })},
	{"felt outside, behind another blade", "rip", after(asItIs, func(d *days) { d.mount("fine", "r20").feel("k25", -0.3, -0.3) })},
	{"felt outside, by a knife that it does not run with any more", "rip", after(func(p *model.Profile) {
		p.Knives = append(p.Knives, model.Knife{ID: "k24", Thickness: given.Typed(2.4)})
	}, func(d *days) { d.mount("rip", "r20").feel("k24", -0.3, -0.3) })},
	{"felt outside, and the datum moved", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").feel("k25", -0.3, -0.3).sharpened("general", 3.2, model.DatumMoves)
	})},
	{"felt outside, by a knife of which nobody knows where it stands", "rip", after(twoKnives, func(d *days) { d.mount("rip", "r20").feel("k24", -0.3, -0.3) })},
	{"felt outside, by a knife that is too thick", "thin", after(asItIs, func(d *days) { d.mount("thin", "r10", "r50").feel("k25", -0.3, -0.3) })},
	{"checked outside: that is no refusal of its rings", "rip", after(asItIs, func(d *days) { d.mount("rip", "r20").line("rip", "k25", -0.3, -0.3) })},
	{"felt outside, checked elsewhere before", "rip", after(asItIs, func(d *days) { d.line("general", "k25", 0.3, 0.3).mount("rip", "r20").feel("k25", -0.1, -0.1) })},
	{"felt outside, checked behind a blade that cuts wide", "fine", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.05, 120.05).line("rip", "k25", 0.01, 0.03).mount("fine", "r20").feel("k25", -0.2, -0.2)
	})},
	{"felt outside, squared to a blade that cuts wide", "fine", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.05, 120.05)
		d.do(model.Record{Kind: model.KnifeSet, Knife: "k25", Lock: "l1", Blade: "rip", Rings: []string{"r20"}, Gaps: given.Readings(0, 0.02, 0, 0.02)}).mount("fine", "r20").feel("k25", -0.2, -0.2)
	})},
	{"felt outside with rings that are gone", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r50").feel("k25", 0.7, 0.6)
		d.p.Rings = d.p.Rings[:2]
	})},
	{"felt outside with every stack that serves", "rip", after(func(p *model.Profile) { p.Rings = p.Rings[1:2]; p.Rings[0].Count = 1 }, func(d *days) {
		d.mount("rip", "r20").feel("k25", -0.3, -0.3)
	})},
	{"felt outside with four stacks", "rip", after(asItIs, func(d *days) {
		for _, stack := range [][]string{{"r20"}, {"r10"}, {"r50"}, {"r10", "r20"}} {
			d.mount("rip", stack...).feel("k25", -0.3, -0.3)
		}
	})},
	{"felt inside, out by strips before", "rip general", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 120.2).feel("k25", 0.05, 0.05) })},
	{"felt outside as its strip said: one stack", "rip", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 120.2).feel("k25", -0.2, -0.2) })},
	{"felt outside without rings, and out with some: none is not offered", "rip", after(asItIs, func(d *days) {
		d.mount("rip").feel("k25", 0.7, 0.6).mount("rip", "r20").rip(model.ForBlade, 119.85, 119.85)
	})},
	{"felt outside with the rings that it wants by its strips: others are offered", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r10").feel("k25", 0.7, 0.6).mount("rip", "r20").rip(model.ForBlade, 119.87, 119.87)
	})},
	{"felt inside, in by strips before", "rip", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01).feel("k25", 0.05, 0.05) })},
	{"felt inside with other rings than it was cut with", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.2, 120.2).mount("rip", "r10", "r20").feel("k25", 0.05, 0.05)
	})},
	{"checked inside, and a strip puts it outside", "rip general fine", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01).line("rip", "k25", 0.05, 0.05).mount("rip", "r20").line("rip", "k25", 0.05, 0.05).rip(model.ForBlade, 120.4)
	})},
	{"checked inside, and a strip puts it outside: what is not in is told nothing", "fine", after(asItIs, func(d *days) {
		d.mount("fine", "r20").rip(model.ForBlade, 119.8, 119.8).mount("rip", "r20").line("rip", "k25", 0.05, 0.05).rip(model.ForBlade, 120.4)
	})},
	{"checked inside, and by its strip it stands just inside", "rip general", after(asItIs, func(d *days) { d.mount("rip", "r20").line("rip", "k25", 0.05, 0.05).rip(model.ForBlade, 119.55) })},
	{"felt outside, with rings that are not measured", "rip", after(func(p *model.Profile) {
		for i := range p.Rings {
			p.Rings[i].Measured = model.Measure{}
		}
	}, func(d *days) { d.mount("rip", "r20").feel("k25", -0.3, -0.2) })},
	{"checked inside, and the first strip puts it outside", "rip general", after(asItIs, func(d *days) { d.mount("rip", "r20").line("rip", "k25", 0.05, 0.05).rip(model.ForBlade, 120.4) })},
	{"checked inside, and a strip says the same", "rip general", after(asItIs, func(d *days) { d.mount("rip", "r20").line("rip", "k25", 0.05, 0.05).rip(model.ForBlade, 120.01) })},
	{"checked inside, seen on, and a strip puts it outside", "rip general", after(asItIs, func(d *days) {
		d.off("general")
		d.do(model.Record{Kind: model.Line, Blade: "rip", Rings: []string{"r20"}, Knife: "k25", TipGap: given.Typed(5), Faces: given.Readings(0.05, 0.05)})
		d.do(model.Record{Kind: model.StripCut, Lock: d.lock, Blade: "rip", Rings: []string{"r20"}, For: model.ForBlade, Readings: thrice(120.4)})
	})},
	{"checked inside, and the strip that put it outside was of another knife", "rip general", after(twoKnives, func(d *days) {
		d.mount("rip", "r20").line("rip", "k25", 0.05, 0.05).rip(model.ForBlade, 120.4)
	})},
}
