package solver

import (
	"fmt"
	"os"
	"slices"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/given"
)

// The blades of the exploration: a reference, a stand-in, another with the same knife, one with
// another knife.
const (
	theReference = iota
	theStandIn
	theOther
	theOtherKnife
	actors
)

var bladeIDs, knifeOf, knives = [actors]string{"general", "rip", "fine", "other"}, [actors]int{0, 0, 0, 1}, [2]string{"k25", "k24"}

// page is what was ripped under one fence lock, as far as a verdict can use it.
type page struct {
	datum  [2]int8      // of the reference, of the stand-in: three are enough
	strips [actors]int8 // with the stack that is right: two are enough
	wide   bool         // the stand-in's, with a stack that leaves the knife outside
	round  bool         // the stand-in's strips say that other blades follow under this lock
	closed bool         // a closing strip since the last comparison
}

// told is what job.md makes of a sequence of records: its state, by which equal ones are gone
// through once.
type told struct {
	locks      int8
	pages      [2]page
	knives     [2]int8 // not squared; known; moved or out since
	in         int8    // which knife is in; -1: none
	sharpened  [2]bool // the reference, and the datum stayed; the stand-in
	movedDatum bool
}

// recorded is one thing that the records tell, and what it does.
type recorded struct {
	name string
	can  func(told) bool
	does func(*told)
	tell func(*days, told) // from the state before it
}

func (s told) page() *page { return &s.pages[max(s.locks-1, 0)] }

// carries reports whether the stand-in may carry the datum: it was compared with the reference
// itself, with its right stack, in the life that it has (job.md, R3 and Stand-in).
func (s told) carries() bool {
	return slices.ContainsFunc(s.pages[:], func(p page) bool { return p.datum[0] >= 3 && p.strips[theStandIn] >= 2 })
}

// enough reports whether a page has the datum strips that a blade is compared with.
func (s told) enough(p page, blade int) bool {
	return p.datum[0] >= 3 && blade != theReference || p.datum[1] >= 3 && blade != theStandIn && s.carries()
}

// mayBeReady is R5: a verdict of in that its own strips carry, in a round that is closed, and a
// knife of which it is known where it stands.
func (s told) mayBeReady(blade int) bool {
	if s.knives[knifeOf[blade]] != 1 {
		return false
	}
	return slices.ContainsFunc(s.pages[:], func(p page) bool {
		if blade == theReference && !s.sharpened[0] {
			return p.datum[0] >= 3
		}
		compared := 0
		for i, n := range p.strips {
			if n > 0 || i == theStandIn && p.wide {
				compared++
			}
		}
		return s.enough(p, blade) && p.strips[blade] >= 2 && (compared < 2 && !p.round || p.closed)
	})
}

// puts mounts a blade with its knife: the one that was in comes out for it.
func (s *told) puts(blade int) {
	if k := int8(knifeOf[blade]); s.in != k {
		if s.in >= 0 && s.knives[s.in] == 1 {
			s.knives[s.in] = 2
		}
		s.in = k
	}
}

func (d *days) puts(blade, stack int) *days {
	knife := knives[knifeOf[blade]]
	if rings := ringsOf(blade, stack); d.on.Blade != bladeIDs[blade] || !slices.Equal(d.on.Rings, rings) || d.on.Knife != knife {
		d.do(model.Record{Kind: model.Mount, Blade: bladeIDs[blade], Rings: rings, Knife: knife})
	}
	return d
}

func ringsOf(blade, stack int) []string {
	switch {
	case blade == theReference:
		return []string{}
	case stack == 1:
		return []string{"r10"}
	}
	return []string{"r20"}
}

// recordings are everything that the records may tell. Where it is not the whole, the first lock
// has the reference and the stand-in alone, and no knife is pulled: one comes out for the other.
func recordings(whole bool) (all []recorded) {
	add := func(name string, can func(told) bool, does func(*told), tell func(*days, told)) {
		all = append(all, recorded{name, can, does, tell})
	}
	add("lock", func(s told) bool { return s.locks < 2 }, func(s *told) { s.locks++ }, func(d *days, s told) { d.fence(fmt.Sprint("l", s.locks+1)) })
	rip := func(name string, blade, stack, strips int, purpose model.StripFor, round bool, can func(told) bool, does func(*page, told)) {
		add(name, func(s told) bool { return s.locks > 0 && can(s) }, func(s *told) {
			s.puts(blade)
			does(&s.pages[s.locks-1], *s)
		}, func(d *days, _ told) {
			widths := []float64{120, 120.01, 120}[:strips]
			if stack == 1 {
				widths = []float64{120.3}
			}
			d.puts(blade, stack).rip(purpose, widths...)
			for i := range strips {
				d.p.Records[len(d.p.Records)-1-i].Round = round
			}
		})
	}
	for blade := range 2 {
		rip("datum strips of the "+bladeIDs[blade], blade, 0, 3, model.Datum, false, func(s told) bool {
			return s.page().datum == [2]int8{} && s.page().strips == [actors]int8{} && !s.page().wide && !(blade == theReference && s.sharpened[0])
		}, func(p *page, s told) {
			if blade == theReference || s.carries() {
				p.datum[blade] = 3
			}
		})
	}
	for blade, strips := range [actors]int{2, 2, 1, 2} { // one at a time of one of them
		for _, more := range []bool{false, true} {
			if more && blade != theStandIn { // of one of them
				continue
			}
			rip(fmt.Sprint("strips of the ", bladeIDs[blade], ", more follow: ", more), blade, 0, strips, model.ForBlade, more, func(s told) bool {
				return (whole || s.locks == 2 || blade < theOther && !more) && (blade != theReference || s.sharpened[0]) && s.page().strips[blade] < 2 && (blade != theStandIn || s.page().datum[1] == 0)
			}, func(p *page, _ told) {
				p.strips[blade], p.closed, p.round = p.strips[blade]+int8(strips), false, p.round || more
			})
		}
	}
	rip("a wide strip", theStandIn, 1, 1, model.ForBlade, false, func(s told) bool { return !s.page().wide }, func(p *page, _ told) { p.wide, p.closed = true, false })
	rip("closing", theReference, 0, 1, model.Closing, false, func(s told) bool {
		return !s.sharpened[0] && s.page().datum[0] >= 3 && !s.page().closed && (s.page().strips != [actors]int8{} || s.page().wide)
	}, func(p *page, _ told) { p.closed = true })
	for k, blade := range [2]int{theReference, theOtherKnife} {
		add("square "+knives[k], func(s told) bool { return s.locks == 1 && s.pages == [2]page{} && s.knives[k] == 0 }, func(s *told) {
			s.puts(blade)
			s.knives[k] = 1
		}, func(d *days, _ told) {
			d.do(model.Record{Kind: model.KnifeSet, Knife: knives[k], Lock: d.lock, Blade: "general", Rings: []string{}, Gaps: given.Readings(0.03, 0.03, 0.03, 0.03)})
			d.on = model.Record{}
		})
		add("pull "+knives[k], func(s told) bool { return whole && s.in == int8(k) && s.knives[k] == 1 && s.locks == 2 }, func(s *told) { s.knives[k], s.in = 2, -1 }, func(d *days, _ told) {
			d.do(model.Record{Kind: model.TakenOff, Blade: d.on.Blade, Rings: d.on.Rings, Knife: knives[k]})
			d.on = model.Record{}
		})
		add("check "+knives[k], func(s told) bool { return s.knives[k] == 2 && !(blade == theReference && s.sharpened[0]) }, func(s *told) {
			s.puts(blade)
			s.knives[k] = 1
		}, func(d *days, _ told) {
			d.puts(blade, 0).do(model.Record{Kind: model.Line, Blade: bladeIDs[blade], Rings: ringsOf(blade, 0), Knife: knives[k], TipGap: given.Typed(5), Faces: given.Readings(0.03, 0.05)})
		})
	}
	sharpen := func(name string, blade int, goes model.DatumGoes, does func(*told)) {
		add(name, func(s told) bool {
			return s.locks == 2 && s.pages[1] == page{} && !s.movedDatum && s.sharpened == [2]bool{}
		}, does, func(d *days, _ told) {
			d.do(model.Record{Kind: model.Sharpened, Blade: bladeIDs[blade], Plate: thrice(2.2 - 0.2*float64(blade)), Kerf: thrice(3.19 - 0.2*float64(blade)), Datum: goes})
			d.on = model.Record{}
		})
	}
	sharpen("the reference sharpened, the datum stays", theReference, model.DatumStays, func(s *told) { s.sharpened[0] = true })
	sharpen("the reference sharpened, the datum moves", theReference, model.DatumMoves, func(s *told) {
		s.movedDatum, s.pages, s.knives = true, [2]page{}, [2]int8{}
	})
	sharpen("the stand-in sharpened", theStandIn, "", func(s *told) {
		s.sharpened[1] = true
		for i := range s.pages {
			s.pages[i].strips[theStandIn], s.pages[i].datum[1], s.pages[i].wide, s.pages[i].round = 0, 0, false, false
		}
	})
	return all
}

// TestEverySequenceOfRecords goes through all that records can tell, without gates, each state
// once: a blade is called ready only where R5 has it so; no strip counts but against the
// reference, or a stand-in, under its own lock (R3); a stack that left the knife outside its
// kerf is offered for no second rip and no work (R2). SAWDATUM_RECORDS goes through the whole.
func TestEverySequenceOfRecords(t *testing.T) {
	p := shop()
	p.Tolerance = given.Typed(0.1)
	p.Knives = append(slices.Clone(p.Knives), model.Knife{ID: "k24", Thickness: given.Typed(2.4)})
	other := p.Blades[slices.IndexFunc(p.Blades, func(b model.Blade) bool { return b.ID == "fine" })]
	other.ID, other.Label, other.Knife = "other", "other", "k24"
	p.Blades = append(slices.Clone(p.Blades[:3]), other)

	type node struct {
		s told
		d days
	}
	start := told{in: -1}
	queue, seen := []node{{s: start, d: days{p: p}}}, map[told]bool{start: true}
	ready, outside, carried, transitions := [actors]int{}, 0, 0, 0
	all := recordings(os.Getenv("SAWDATUM_RECORDS") != "")
	for ; len(queue) > 0; queue = queue[1:] {
		at := queue[0]
		plan := at.d.plan()
		fail := func(format string, a ...any) {
			t.Helper()
			var way []string
			for _, r := range at.d.p.Records {
				way = append(way, fmt.Sprint(r.Kind, " ", r.Blade, r.Rings, " ", r.For, r.Lock, r.Knife, r.Datum))
			}
			t.Fatalf(format+"\n%+v\n%s", append(a, at.s, fmt.Sprint(way))...)
		}
		for blade := range actors {
			row, _ := plan.Row(bladeIDs[blade])
			if row.Ready() {
				if ready[blade]++; !at.s.mayBeReady(blade) {
					fail("R5: the %s is called ready: %v", row.ID, row.Reasons)
				}
				if blade != theReference && at.s.sharpened[0] && at.s.pages[1].datum[1] >= 3 {
					carried++
				}
			}
			felt, any, glanced := false, false, false
			for _, page := range at.s.pages {
				ripped, wide := page.strips[blade] > 0, page.wide && blade == theStandIn
				felt = felt || wide && at.s.enough(page, blade)
				any = any || at.s.enough(page, blade) && (ripped || wide)
				glanced = glanced || (ripped || wide) && (page.datum[0] > 0 || page.datum[1] > 0 && at.s.carries()) // the knife stands outside by one strip of each
			}
			if blade != theReference && row.Basis == model.Measured && !any && !(row.OutKnife && glanced) {
				fail("R3: the %s is judged with no datum strip to hold it against", row.ID)
			}
			if felt && slices.Equal(row.Stack, ringsOf(blade, 1)) {
				if outside++; row.Inside || row.Fallback.Unit != model.NoUnit {
					fail("R2: the %s is offered for a rip, or for work, with the knife outside its kerf", row.ID)
				}
			}
		}
		for _, r := range all {
			if !r.can(at.s) {
				continue
			}
			next := at
			r.does(&next.s)
			if transitions++; !seen[next.s] {
				seen[next.s] = true
				r.tell(&next.d, at.s)
				queue = append(queue, next)
			}
		}
	}
	t.Logf("%d states, %d transitions; ready %v, by a stand-in %d, knife outside %d", len(seen), transitions, ready, carried, outside)
	for blade, n := range ready {
		if n == 0 {
			t.Errorf("the %s is never ready: the exploration is empty", bladeIDs[blade])
		}
	}
	if outside == 0 || carried == 0 {
		t.Errorf("the exploration is empty: %d outside, %d by a stand-in", outside, carried)
	}
}
