package solver

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/given"
)

// What the strips of blades say.
var stripHistories = []history{
	{"one strip", "rip", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 120.01) })},
	{"one strip with a stack that is foretold beside the datum", "rip", after(asItIs, func(d *days) { d.mount("rip", "r10", "r20").rip(model.ForBlade, 119.92) })},
	{"one strip, and the knife stands outside: wide", "rip", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 120.2) })},
	{"one strip, and the knife stands outside: narrow, flange near, a standing stack", "rip", after(func(p *model.Profile) {
		p.Saw.Flange, p.Saw.Tilt, p.Standing, p.Reference = model.Near, model.TiltRight, []string{"r10"}, "general"
	}, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 119.4) })},
	{"in", "general rip", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02) })},
	{"in, without a tolerance", "general rip", after(func(p *model.Profile) { p.Tolerance = model.Measure{} }, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02) })},
	{"out, the knife inside: wide", "rip", after(asItIs, func(d *days) { d.square(0, 0, 0, 0).mount("rip", "r20").rip(model.ForBlade, 120.13, 120.13) })},
	{"out, the knife inside: narrow", "rip", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 119.85, 119.85) })},
	{"out, cleaned, and nothing found", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.85, 119.85)
		d.do(model.Record{Kind: model.Found, Blade: "rip", Mounting: d.on.Ref(), Text: model.NothingFound})
	})},
	{"out, and nothing in the kit", "rip", after(func(p *model.Profile) { p.Rings = p.Rings[1:2] }, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.85, 119.85)
		d.do(model.Record{Kind: model.Found, Blade: "rip", Mounting: d.on.Ref(), Text: model.NothingFound})
	})},
	{"out, and the rings are nominal", "rip", after(func(p *model.Profile) {
		p.Tolerance = given.Typed(0.04)
		for i := range p.Rings {
			p.Rings[i].Measured = model.Measure{}
		}
	}, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 119.93, 119.93) })},
	{"out by two stacks: the second is what is said", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.85, 119.85).mount("rip", "r10").rip(model.ForBlade, 119.8, 119.8)
	})},
	{"in with one stack, and out with a later one", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01).mount("rip", "r10", "r20").rip(model.ForBlade, 119.8, 119.8)
	})},
	{"in with one stack, and a strip of a later one", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01).mount("rip", "r10", "r20").rip(model.ForBlade, 119.95)
	})},
	{"in with one stack, proved out, and out with a later one", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01).pair("l2", "rip", []string{"r20"}, []float64{119.8, 119.8}, 120, 120, 120)
		d.mount("rip", "r10", "r20").rip(model.ForBlade, 119.8, 119.8)
	})},
	{"one strip, and the knife stands outside, without a tolerance", "rip", after(func(p *model.Profile) { p.Tolerance = model.Measure{} }, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 120.2) })},
	{"out, nothing found, and mounted again", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.85, 119.85)
		d.do(model.Record{Kind: model.Found, Blade: "rip", Mounting: d.on.Ref(), Text: model.NothingFound}).mount("rip", "r20").rip(model.ForBlade, 119.85, 119.85)
	})},
	{"in doubt for good, nothing found, and nothing in the kit", "rip", after(func(p *model.Profile) { p.Rings = p.Rings[1:2] }, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.88, 119.93, 119.88, 119.93, 119.905)
		d.do(model.Record{Kind: model.Found, Blade: "rip", Mounting: d.on.Ref(), Text: model.NothingFound})
	})},
	{"out, nothing found, and nothing in the kit, in inches", "rip", after(func(p *model.Profile) {
		p.Rings, p.Units = p.Rings[1:2], model.IN
	}, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.88, 119.88)
		d.do(model.Record{Kind: model.Found, Blade: "rip", Mounting: d.on.Ref(), Text: model.NothingFound})
	})},
	{"the same, and no unit is chosen yet", "rip", after(func(p *model.Profile) { p.Rings, p.Units = p.Rings[1:2], model.NoUnit }, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.88, 119.88)
		d.do(model.Record{Kind: model.Found, Blade: "rip", Mounting: d.on.Ref(), Text: model.NothingFound})
	})},
	{"the same without a working width", "rip", after(func(p *model.Profile) {
		p.Rings, p.WorkingWidth = p.Rings[1:2], model.Measure{}
	}, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.88, 119.88)
		d.do(model.Record{Kind: model.Found, Blade: "rip", Mounting: d.on.Ref(), Text: model.NothingFound})
	})},
	{"out, and the reference sharpened since, whose datum stays", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.85, 119.85).sharpened("general", 3.16, model.DatumStays)
	})},
	{"a coarse caliper", "rip", after(func(p *model.Profile) { p.Instruments.Caliper, p.Tolerance = given.Typed(0.1), given.Typed(0.08) }, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.9, 119.9)
	})},
	{"out, where mounting again moves every cut", "rip", after(asItIs, func(d *days) {
		for i := range 8 {
			off := 0.06 * float64(i%2)
			d.mount("general").fence("s"+string(rune('a'+i))).rip(model.Datum, 121, 121, 121).mount("fine", "r20").rip(model.ForBlade, 121+off, 121+off)
		}
		d.mount("general").fence("l2").rip(model.Datum, 120, 120.01, 120).mount("rip", "r20").rip(model.ForBlade, 119.85, 119.85)
	})},
	{"out, after rips that repeat worse", "rip", after(asItIs, func(d *days) {
		for i := range 4 {
			d.mount("thin", "r50").fence("h"+string(rune('a'+i))).rip(model.Closing, 121, 121.02, 121.04)
		}
		d.mount("general").fence("l2").rip(model.Datum, 120, 120, 120).mount("rip", "r20").rip(model.ForBlade, 119.8, 119.8)
	})},
	{"in doubt", "rip", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 119.93, 119.96) })},
	{"in doubt, that a strip of its own settles", "rip", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 119.93, 119.92) })},
	{"in doubt for good, and the knife outside", "rip", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 120.08, 120.13, 120.08, 120.13, 120.12) })},
	{"in doubt for good, without a tolerance", "rip", after(func(p *model.Profile) { p.Tolerance = model.Measure{} }, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.001, 120.01, 119.99, 120.001, 120)
	})},
	{"far narrow, without a tolerance", "rip", after(func(p *model.Profile) { p.Tolerance = model.Measure{} }, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 119.85, 119.85) })},
	{"in doubt under two locks, and the knife checked behind it", "rip general", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.05, 120.08).fence("l2").rip(model.ForBlade, 120.03).mount("general").rip(model.Datum, 120, 120, 120)
		d.mount("rip", "r20").line("rip", "k25", 0.01, 0.03)
	})},
	{"in doubt under two locks, by the second the knife stands outside", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.05, 120.08).fence("l2").rip(model.ForBlade, 120.16).mount("general").rip(model.Datum, 120, 120, 120)
	})},
	{"in doubt, and the reference strips of the newest lock voided", "rip plan", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.93, 119.96).mount("general").fence("l2").rip(model.Datum, 120, 120, 120)
		datum := d.p.Records[len(d.p.Records)-3:]
		d.mount("rip", "r20").rip(model.ForBlade, 119.95)
		for _, strip := range datum {
			d.do(model.Record{Kind: model.Void, Of: strip.Ref(), Why: "chip under the fence"})
		}
	})},
	{"in doubt, and one of the reference strips of the newest lock voided", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.93, 119.96).mount("general").fence("l2").rip(model.Datum, 120, 120, 120)
		last := d.last()
		d.mount("rip", "r20").rip(model.ForBlade, 119.95).do(model.Record{Kind: model.Void, Of: last.Ref(), Why: "burr"})
	})},
	{"in doubt, and a lock without a reference strip behind it", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.93, 119.96).fence("l2").rip(model.ForBlade, 119.95).fence("l3")
	})},
	{"in, and by one strip of a proof the knife stands outside", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).mount("general").fence("l2").rip(model.Datum, 120, 120).mount("rip", "r20").rip(model.ForBlade, 120.2)
	})},
	{"in, the knife far back: its kerf has room there, that of the datum has none", "rip", after(func(p *model.Profile) { p.Blades[1].Kerf = thrice(2.57) }, func(d *days) {
		d.line("general", "k25", 0.1, 0.1).mount("rip", "r20", "r20").rip(model.ForBlade, 120.05, 120.05)
	})},
	{"in, of little play, and the knife taken out", "rip", after(func(p *model.Profile) { p.Blades[1].Kerf = thrice(2.57) }, func(d *days) {
		d.mount("rip", "r20", "r20").rip(model.ForBlade, 120, 120.01).off("rip")
	})},
	{"in doubt, of little play, and the knife taken out", "rip", after(func(p *model.Profile) { p.Blades[1].Kerf = thrice(2.57) }, func(d *days) {
		d.mount("rip", "r20", "r20").rip(model.ForBlade, 120, 120.06).off("rip")
	})},
	{"the reference, of little play, and the knife taken out", "general", after(func(p *model.Profile) { p.Blades[0].Kerf = thrice(2.57) }, func(d *days) { d.off("general") })},
	{"in doubt for good", "rip", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 119.88, 119.93, 119.88, 119.93, 119.905) })},
	{"a caliper that cannot tell", "rip", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 119.907, 119.907) })},
	{"zeroed once", "rip", after(asItIs, func(d *days) {
		for i := range d.p.Records {
			if d.p.Records[i].Kind == model.StripCut {
				d.p.Records[i].Readings = given.Readings(119.99, 120, 120.01)
			}
		}
		d.mount("rip", "r20").differ(nil, 0.08, 0.08)
	})},
	{"zeroed on a strip that was voided", "rip", after(asItIs, func(d *days) {
		on := d.p.Records[len(d.p.Records)-1].Ref()
		d.mount("rip", "r20").differ([]string{on, on, on}, 0.02, 0.02)
		d.do(model.Record{Kind: model.Void, Of: on, Why: "burr"}).mount("general").rip(model.Datum, 120)
	})},
	{"one reading zeroed on a strip that was voided", "rip", after(asItIs, func(d *days) {
		first, on := d.p.Records[len(d.p.Records)-2].Ref(), d.p.Records[len(d.p.Records)-1].Ref()
		d.mount("rip", "r20").differ([]string{first, on, on}, 0.02, 0.02)
		d.do(model.Record{Kind: model.Void, Of: on, Why: "burr"}).mount("general").rip(model.Datum, 120)
	})},
	{"zeroed once, on one of the strips of which one was voided", "rip", after(asItIs, func(d *days) {
		on := d.p.Records[len(d.p.Records)-1].Ref()
		d.mount("rip", "r20").differ(nil, 0.02, 0.02)
		d.do(model.Record{Kind: model.Void, Of: on, Why: "burr"}).mount("general").rip(model.Datum, 120)
	})},
	{"zeroed once, after one was voided", "rip", after(asItIs, func(d *days) {
		d.voidLast().rip(model.Datum, 120).mount("rip", "r20").differ(nil, 0.02, 0.02)
	})},
	{"a strip zeroed on one that was voided, before the blade was sharpened", "rip", after(asItIs, func(d *days) {
		on := d.p.Records[len(d.p.Records)-1].Ref()
		d.mount("rip", "r20").differ([]string{on, on, on}, 0.02)
		d.do(model.Record{Kind: model.Void, Of: on, Why: "burr"}).sharpened("rip", 2.9, "")
	})},
	{"the farthest is the reference, and a blade cuts farther still", "rip", after(func(p *model.Profile) {
		p.Tolerance, p.Blades[1].Plate, p.Blades[1].Kerf = given.Typed(0.03), thrice(2.2), thrice(3.2)
	}, func(d *days) {
		d.mount("rip", "r20", "r20").rip(model.ForBlade, 119.558, 119.558)
		d.p.Rings[1].Count = 1
	})},
	{"a blade that was not read, beyond what is foretold of others", "rip", after(func(p *model.Profile) { p.Blades[1].Kerf = nil }, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.06, 120.06)
	})},
	{"strips voided: of the blade, of the reference, of another blade, and readings that came later", "rip", after(asItIs, func(d *days) {
		d.mount("fine", "r20").rip(model.ForBlade, 120).voidLast().mount("rip", "r20").rip(model.ForBlade, 120.01, 120.2).voidLast()
		last := d.p.Records[len(d.p.Records)-3]
		last.Of = last.Ref()
		d.rip(model.ForBlade, 120.02).do(last).voidLast()
		d.mount("general").rip(model.Closing, 120).voidLast().rip(model.Datum, 120.4).voidLast()
		d.mount("fine", "r20").rip(model.Datum, 120.4).voidLast()
		d.do(model.Record{Kind: model.KnifeSet, Knife: "k24", Lock: "l1", Blade: "rip", Rings: []string{"r20"}, Gaps: given.Readings(0, 0, 0, 0)}).voidLast()
		d.mount("general").fence("l2").rip(model.Datum, 120.4).voidLast()
	})},
	{"a ring of its stack is lost", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.85, 119.85)
		d.p.Rings = d.p.Rings[:1]
	})},
	{"sharpened, which was voided", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).sharpened("rip", 2.9, "").voidLast()
	})},
	{"away and back", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02)
		d.do(model.Record{Kind: model.Remeasured, Blade: "rip", Plate: thrice(2), Kerf: thrice(3), Back: true})
	})},
	{"read again", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02)
		d.do(model.Record{Kind: model.Remeasured, Blade: "rip", Plate: thrice(2), Kerf: thrice(3)})
	})},
	{"sharpened, and cut again with another stack", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.8, 119.8).sharpened("rip", 2.9, "")
		d.mount("rip", "r20").rip(model.ForBlade, 119.86, 119.86)
	})},
	{"the flange cleaned, and its box tells another knife", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02)
		d.do(model.Record{Kind: model.Box, Blade: "rip", Rings: []string{"r20"}, Knife: "k24"}).do(model.Record{Kind: model.Arbor})
	})},
	{"its box tells no knife; that of the reference is another", "general rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02)
		d.do(model.Record{Kind: model.Box, Blade: "rip", Rings: []string{"r20"}}).do(model.Record{Kind: model.Box, Blade: "general", Rings: []string{"r20"}})
	})},
	{"the knife taken out, of a blade that is in and due", "rip general", after(func(p *model.Profile) { p.ProveEvery = 30 }, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).off("rip", "r20").nextDay(40)
	})},
	{"the knife taken out, of a blade that is in", "rip", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).off("rip", "r20") })},
	{"the knife taken out, and the flange cleaned", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).off("rip", "r20").do(model.Record{Kind: model.Arbor})
	})},
	{"the knife taken out, of little play, before a strip", "rip", after(func(p *model.Profile) { p.Blades[1].Kerf = thrice(2.57) }, func(d *days) { d.off("general") })},
	{"the knife taken out, of little play, out", "rip", after(func(p *model.Profile) { p.Blades[1].Kerf = thrice(2.57) }, func(d *days) {
		d.mount("rip").rip(model.ForBlade, 119.88, 119.88).off("rip")
	})},
	{"the knife checked behind a blade that cuts wide", "rip general", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.05, 120.05).line("rip", "k25", 0.01, 0.03)
	})},
	{"the knife checked behind a blade of one strip", "rip general", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.05).line("rip", "k25", 0.01, 0.03)
	})},
	{"two knives, smaller blades: the gap to the tips is foretold by what was read of each last", "rip fine", after(func(p *model.Profile) {
		p.Knives = append(p.Knives, model.Knife{ID: "k24", Thickness: given.Typed(2.4)})
		p.Blades[2].Knife = "k24"
		p.Blades[1].Diameter, p.Blades[2].Diameter = given.Typed(240), given.Typed(230)
	}, func(d *days) {
		d.tips("general", "k25", 6).tips("general", "k25", 4).tips("general", "k25", 7).voidLast().tips("general", "k24", 3)
		d.do(model.Record{Kind: model.KnifeMoved, Knife: "k25"})
	})},
	{"a blade that was not read, and the gap to its tips", "rip", after(func(p *model.Profile) {
		p.Blades[1].Diameter, p.Blades[1].Kerf = given.Typed(240), nil
	}, func(d *days) { d.tips("general", "k25", 6) })},
}
