package solver

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/given"
)

// What rounds, proofs and the reference say.
var lockHistories = []history{
	{"a round under way", "plan general rip fine", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).mount("fine", "r20").rip(model.ForBlade, 120.01, 120)
	})},
	{"a round that is closed", "plan general rip fine", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).mount("fine", "r20").rip(model.ForBlade, 120.01, 120).mount("general").rip(model.Closing, 120.01)
	})},
	{"a round whose closing strip is uncertain", "plan rip", after(func(p *model.Profile) {}, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.09).mount("fine", "r20").rip(model.ForBlade, 120.01, 119.93).mount("general").rip(model.Closing, 120.01)
	})},
	{"another lock, with a strip of the reference", "plan general rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).mount("general").fence("l2").rip(model.Datum, 119)
	})},
	{"another lock, with nothing", "plan", after(asItIs, func(d *days) { d.fence("l2") })},
	{"no lock", "plan", after(asItIs, func(d *days) { d.do(model.Record{Kind: model.FenceMoved, Lock: "l1"}) })},
	{"a strip that stands apart: the reference", "plan", after(asItIs, func(d *days) { d.rip(model.Datum, 120.2) })},
	{"a strip that stands apart: a blade", "plan", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.15) })},
	{"a strip that stands apart: the closing one", "plan", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120, 120).mount("general").rip(model.Closing, 120, 120.3)
	})},
	{"strips that stand apart under a lock that is over", "plan", after(asItIs, func(d *days) { d.rip(model.Datum, 120.2).fence("l2") })},
	{"strips that stand apart, and no tolerance", "plan", after(func(p *model.Profile) { p.Tolerance = model.Measure{} }, func(d *days) { d.rip(model.Datum, 120.2) })},
	{"strips that stand apart, of a datum that moved", "plan", after(asItIs, func(d *days) { d.rip(model.Datum, 120.2).sharpened("general", 3.1, model.DatumMoves) })},
	{"proved", "plan general rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).nextDay(1).pair("l2", "rip", []string{"r20"}, []float64{120.01, 120}, 120, 120)
	})},
	{"proved twice in one mounting, once in the first", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).fence("l2").rip(model.ForBlade, 120.01, 120).mount("general").rip(model.Datum, 120, 120)
		d.pair("l3", "rip", []string{"r20"}, []float64{120.01, 120}, 120, 120)
	})},
	{"a proof is begun", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).mount("rip", "r20").fence("l2").rip(model.ForBlade, 120.01)
	})},
	{"a pair that is out, narrow", "general rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).pair("l2", "rip", []string{"r20"}, []float64{119.8, 119.8}, 120, 120)
	})},
	{"and the other blade of it agrees with a third one since", "rip fine", after(asItIs, func(d *days) {
		d.mount("fine", "r20").rip(model.ForBlade, 120, 120.01).mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).mount("general").rip(model.Closing, 120)
		d.pair("l2", "rip", []string{"r20"}, []float64{119.8, 119.8}, 120, 120).pair("l3", "fine", []string{"r20"}, []float64{120, 120.01}, 120, 120)
	})},
	{"and not with a third one either", "rip fine", after(asItIs, func(d *days) {
		d.mount("fine", "r20").rip(model.ForBlade, 120, 120.01).mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).mount("general").rip(model.Closing, 120)
		d.pair("l2", "rip", []string{"r20"}, []float64{119.8, 119.8}, 120, 120).pair("l3", "fine", []string{"r20"}, []float64{119.8, 119.8}, 120, 120)
	})},
	{"the third one was proved before, or stands in doubt", "rip", after(asItIs, func(d *days) {
		d.mount("fine", "r20").rip(model.ForBlade, 120, 120.01).mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).mount("general").rip(model.Closing, 120)
		d.pair("l2", "fine", []string{"r20"}, []float64{120, 120.01}, 120, 120).pair("l3", "rip", []string{"r20"}, []float64{119.8, 119.8}, 120, 120)
		d.pair("l4", "fine", []string{"r20"}, []float64{119.92, 119.905}, 120, 120)
	})},
	{"two pairs that are out: it lies there now", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02)
		d.pair("l2", "rip", []string{"r20"}, []float64{119.8, 119.8}, 120, 120, 120).pair("l3", "rip", []string{"r20"}, []float64{119.81, 119.82, 119.81}, 120, 120)
	})},
	{"a pair in doubt that a strip of either settles", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).pair("l2", "rip", []string{"r20"}, []float64{119.92, 119.915}, 120, 120)
	})},
	{"a pair in doubt that two more strips settle", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).pair("l2", "rip", []string{"r20"}, []float64{119.93, 119.915}, 120, 120)
	})},
	{"and another lock since", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).pair("l2", "rip", []string{"r20"}, []float64{119.92, 119.915}, 120, 120).fence("l3")
	})},
	{"a pair in doubt that only another lock settles", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).pair("l2", "rip", []string{"r20"}, []float64{119.92, 119.905}, 120, 120)
	})},
	{"a pair in doubt, rather out", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).pair("l2", "rip", []string{"r20"}, []float64{119.88, 119.89}, 120, 120)
	})},
	{"mounted again and again", "plan rip", after(asItIs, func(d *days) {
		for i := range 8 {
			d.pair("m"+string(rune('a'+i)), "rip", []string{"r20"}, []float64{120.01, 120.01}, 120, 120, 120)
		}
	})},
	{"mounted twice", "plan", after(asItIs, func(d *days) {
		for i := range 2 {
			d.pair("m"+string(rune('a'+i)), "rip", []string{"r20"}, []float64{120.01 + float64(i)*0.02, 120.01 + float64(i)*0.02}, 120, 120, 120)
		}
	})},
	{"out, and no mounting is known", "plan", after(asItIs, func(d *days) { d.mount("rip", "r20").rip(model.ForBlade, 119.8, 119.8) })},
	{"the reference sharpened, and the datum stays", "plan general rip", after(func(p *model.Profile) { p.Standing = []string{"r10"} }, func(d *days) {
		d.mount("rip", "r20", "r10").rip(model.ForBlade, 120.01, 120.02).sharpened("general", 3.16, model.DatumStays)
	})},
	{"and compared with a stand-in", "plan general rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120).sharpened("general", 3.16, model.DatumStays)
		d.mount("rip", "r20").fence("l2").rip(model.Datum, 119, 119.01, 119).mount("general").rip(model.ForBlade, 119.02, 119.02)
	})},
	{"and it has one strip", "general", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120).sharpened("general", 3.16, model.DatumStays)
		d.mount("rip", "r20").fence("l2").rip(model.Datum, 119, 119.01, 119).mount("general").rip(model.ForBlade, 119.02)
	})},
	{"and with other rings behind it", "general fine", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120).sharpened("general", 3.16, model.DatumStays)
		d.mount("rip", "r20").fence("l2").rip(model.Datum, 119, 119.01, 119).mount("general", "r10").rip(model.ForBlade, 118.99, 118.99)
		d.p.Standing = []string{"r10"}
		d.fence("l3").rip(model.Datum, 130, 130, 130).mount("fine", "r20").rip(model.ForBlade, 130, 130)
	})},
	{"and out", "plan general", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120).sharpened("general", 3.16, model.DatumStays)
		d.mount("rip", "r20").fence("l2").rip(model.Datum, 119, 119.01, 119).mount("general").rip(model.ForBlade, 119.2, 119.2)
	})},
	{"a round under way, of a reference that was sharpened", "plan general fine", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120).sharpened("general", 3.16, model.DatumStays)
		d.mount("rip", "r20").fence("l2").rip(model.Datum, 119, 119.01, 119).mount("general").rip(model.ForBlade, 119.02, 119.02).mount("fine", "r20").rip(model.ForBlade, 119, 119)
	})},
	{"a blade compared with a stand-in proves no reference", "general fine", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120).nextDay(1).mount("rip", "r20").fence("l2").rip(model.Datum, 119, 119.01, 119).mount("fine", "r20").rip(model.ForBlade, 119, 119)
	})},
	{"ready, and in a round that is under way", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120).mount("general").fence("l2").rip(model.Datum, 119, 119, 119)
		d.mount("rip", "r20").rip(model.ForBlade, 119, 119).mount("fine", "r20").rip(model.ForBlade, 119, 119)
	})},
	{"the flange cleaned, and then a round that is under way", "rip", after(asItIs, func(d *days) {
		d.do(model.Record{Kind: model.Arbor}).mount("general").fence("l2").rip(model.Datum, 119, 119, 119)
		d.mount("rip", "r20").rip(model.ForBlade, 119, 119).mount("fine", "r20").rip(model.ForBlade, 119, 119)
	})},
	{"closed, and another blade since", "plan rip fine", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120, 120).mount("fine", "r20").rip(model.ForBlade, 120, 120).mount("general").rip(model.Closing, 120.01)
		d.mount("thin", "r10", "r50").rip(model.ForBlade, 120, 120)
	})},
	{"compared, and the datum moved under the same lock", "plan", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120, 120).mount("fine", "r20").rip(model.ForBlade, 120, 120).sharpened("general", 3.1, model.DatumMoves)
	})},
	{"a pair that scatters about the datum", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120.02).pair("l2", "rip", []string{"r20"}, []float64{119.95, 120.05}, 120, 120)
	})},
	{"a knife that was never squared", "rip", after(func(p *model.Profile) {
		p.Knives = append(p.Knives, model.Knife{ID: "k24", Thickness: given.Typed(2.4)})
		p.Blades[1].Knife = "k24"
	}, func(d *days) {
		d.do(model.Record{Kind: model.Mount, Blade: "rip", Rings: []string{"r20"}, Knife: "k24"}).rip(model.ForBlade, 120.01, 120)
	})},
	{"a knife that is too thick, taken out, of a blade that is in", "thin", after(asItIs, func(d *days) {
		d.mount("thin", "r10", "r50").rip(model.ForBlade, 120.01, 120).off("thin", "r10", "r50")
	})},
	{"the reference sharpened and in again, and what stood in is to be checked", "plan", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120).sharpened("general", 3.16, model.DatumStays)
		d.mount("rip", "r20").fence("l2").rip(model.Datum, 119, 119.01, 119).mount("general").rip(model.ForBlade, 119.02, 119.02).do(model.Record{Kind: model.Arbor})
	})},
	{"no reference is named, and no runout is read", "plan", head(func(p *model.Profile) { p.Reference, p.Blades[2].Kerf = "", thrice(3.18) })},
	{"ripped after the fence may have moved", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").do(model.Record{Kind: model.FenceMoved, Lock: "l1"}).rip(model.ForBlade, 120.01, 120)
	})},
	{"the datum moved, then the reference was sharpened and has another stack", "general rip", after(func(p *model.Profile) { p.Standing = []string{"r10"} }, func(d *days) {
		d.sharpened("general", 3.18, model.DatumMoves)
		d.p.Standing = []string{}
		d.mount("fine", "r50").fence("l2").rip(model.Datum, 120).mount("general", "r50").rip(model.ForBlade, 120)
		d.mount("general").rip(model.Datum, 120, 120, 120).mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01).sharpened("general", 3.16, model.DatumStays)
		d.p.Standing = []string{"r20"}
	})},
	{"in doubt, another stack out, and the first once more", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.93, 119.96).mount("rip", "r10").rip(model.ForBlade, 119.8, 119.8).mount("rip", "r20").rip(model.ForBlade, 119.94)
	})},
	{"and another lock since, with strips of the reference", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.93, 119.96).mount("rip", "r10").rip(model.ForBlade, 119.8, 119.8).mount("rip", "r20").rip(model.ForBlade, 119.94)
		d.mount("general").fence("l9").rip(model.Datum, 120, 120, 120)
	})},
	{"in doubt, another stack in, and the first in at last", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 119.95, 119.93).mount("rip", "r10").rip(model.ForBlade, 120, 120).mount("rip", "r20").rip(model.ForBlade, 119.97, 119.96)
	})},
	{"one strip of a stack, and another stack out", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r10").rip(model.ForBlade, 120.09).mount("rip", "r20").rip(model.ForBlade, 119.85, 119.85)
	})},
	{"left for later: what is ready, and what is not", "rip fine", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120)
		for _, b := range []string{"rip", "fine"} {
			d.do(model.Record{Kind: model.Note, About: model.AboutLeft, Blade: b, Text: "it wants another knife"})
		}
	})},
	{"left for later: what is due, and what is not closed", "rip fine", after(func(p *model.Profile) { p.ProveEvery = 30 }, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120).nextDay(40).mount("general").fence("l2").rip(model.Datum, 119, 119, 119)
		d.mount("fine", "r20").rip(model.ForBlade, 119, 119).mount("thin", "r10", "r50").rip(model.ForBlade, 119, 119)
		for _, b := range []string{"rip", "fine"} {
			d.do(model.Record{Kind: model.Note, About: model.AboutLeft, Blade: b, Text: "no time"})
		}
	})},
	{"out against a stand-in that was sharpened since", "fine", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120).fence("l2").rip(model.Datum, 119, 119.01, 119).mount("fine", "r20").rip(model.ForBlade, 118.85, 118.85)
		d.sharpened("rip", 2.97, "")
	})},
	{"another reference, that was compared by three strips", "rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120, 120)
		d.p.Reference, d.p.Standing = "rip", []string{"r20"}
	})},
	{"another reference, that was compared before", "plan general rip", after(asItIs, func(d *days) {
		d.mount("rip", "r20").rip(model.ForBlade, 120.01, 120)
		d.p.Reference, d.p.Standing = "rip", []string{"r20"}
	})},
}
