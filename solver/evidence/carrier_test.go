package evidence

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

func (w *writer) standIn(lock string, o Outfit, widths ...float64) *writer {
	for _, v := range widths {
		w.rip(lock, o, ForDatum, "s-"+o.Blade+lock, v)
	}
	return w
}

// Only what is in carries the datum, and never for itself: else there is no look.
func TestWhatCarriesNoDatum(t *testing.T) {
	other := Outfit{Blade: "fine"}
	base := func() *writer { return new(writer).datum("l", 120, 120, 120.01) }
	old := new(writer).datum("k", 121, 121, 121.01)
	for i := range old.strips {
		old.strips[i].Present = false
	}
	for name, w := range map[string]*writer{
		"never compared":         base().standIn("k", rip, 121, 121, 121.01),
		"out":                    base().blade("l", rip, 120.5, 120.51).standIn("k", rip, 121, 121, 121.01),
		"in doubt":               base().blade("l", rip, 120.1, 120.11).standIn("k", rip, 121, 121, 121.01),
		"of a datum before this": old,
	} {
		l := w.blade("k", other, 121, 121.01).judge(0.1)
		if c := l.Course(other); c == nil || c.Looks != 0 || c.At != -1 || len(c.Strips) != 2 {
			t.Errorf("%s: %+v", name, c)
		}
		if d, ok := l.Glance(l.Course(other)); ok {
			t.Errorf("%s, at a glance: %+v", name, d)
		}
	}
	w := base().blade("l", rip, 120, 120.01).standIn("k", rip, 121, 121, 121.01).rip("k", rip, ForBlade, "again", 121).rip("k", rip, ForBlade, "again", 121.01)
	if c := w.judge(0.1).Course(rip); c.Verdict != model.In || len(c.Proofs) != 1 || c.Proofs[0].Looks != 0 || c.Proofs[0].At != -1 || c.Proofs[0].Outfit != rip {
		t.Errorf("against itself: %+v", c)
	}
}

// Of the reference and a stand-in the one with more strips carries the datum, in whatever order they
// were ripped. The stand-in cuts 0.02 - 0.01/3 wider; at a glance the blade is as far off as by a look.
func TestMoreStripsCarryTheDatum(t *testing.T) {
	other := Outfit{Blade: "fine"}
	base := func() *writer {
		return new(writer).datum("l", 120, 120, 120.01).blade("l", rip, 120.02, 120.02)
	}
	four, three := []float64{121, 121, 121.01, 121.01}, []float64{121, 121, 121}
	for _, v := range []struct {
		name    string
		w       *writer
		carrier Outfit
		value   float64
	}{
		{"the reference, first", base().datum("k", four...).standIn("k", rip, three...), ref, 0.005},
		{"the reference, last", base().standIn("k", rip, three...).datum("k", four...), ref, 0.005},
		{"the stand-in, first", base().standIn("k", rip, four...).datum("k", three...), rip, 0.005 + 0.02 - 0.01/3},
		{"the stand-in, last", base().datum("k", three...).standIn("k", rip, four...), rip, 0.005 + 0.02 - 0.01/3},
	} {
		l := v.w.blade("k", other, 121.01, 121.01).judge(0.2)
		c := l.Course(other)
		if c.Carrier != v.carrier || c.Looks != 1 {
			t.Errorf("%s: %+v", v.name, c)
		}
		given.Close(t, v.name, c.Value.Millimetres(), v.value, 2e-6)
		d, ok := l.Glance(c)
		if given.Close(t, v.name+", at a glance", d.Value/1e6, v.value, 2e-6); !ok {
			t.Errorf("%s: no glance", v.name)
		}
	}
}

// What a course tells of itself: its strips, the strip that it was looked at by, and that three more
// which decided have used nothing up.
func TestWhatACourseTells(t *testing.T) {
	l := new(writer).datum("l", 120, 120.02, 120.04).blade("l", thin, 120.05).judge(0.05)
	if c := l.Course(thin); c.At != -1 || len(c.Strips) != 1 || c.Outfit != thin {
		t.Errorf("before the first look: %+v", c)
	}
	w := new(writer).datum("l", 120, 120.02, 120.04).blade("l", thin, 120.05, 120.09).blade("l", thin, 120.07)
	if c := w.judge(0.05).Course(thin); c.At != 5 || len(c.Strips) != 3 {
		t.Errorf("%+v", c)
	}
	if c := w.datum("l", 120.02).judge(0.05).Course(thin); c.At != 6 || len(c.Strips) != 3 {
		t.Errorf("by a datum strip: %+v", c)
	}
	// What stood under an older lock without a look is history.
	w = new(writer).datum("l", 120, 120, 120).blade("l", thin, 125).datum("k", 121, 121.02, 121.04).blade("k", thin, 121.04, 121.06)
	l = w.judge(0.05)
	if c := l.Course(thin); len(c.Strips) != 2 || c.Strips[0].Lock != "k" {
		t.Errorf("%+v", c.Strips)
	}
	if !slices.Equal(l.Pages, []*Page{l.Locks["l"], l.Locks["k"]}) {
		t.Errorf("%d pages", len(l.Pages))
	}
	for _, v := range []struct {
		c      Course
		usedUp bool
	}{{Course{Verdict: model.Doubtful, Further: 2}, false}, {Course{Verdict: model.Doubtful, Further: 3}, true}, {Course{Verdict: model.In, Further: 3}, false}, {Course{Verdict: model.Out, Further: 3}, false}} {
		if v.c.UsedUp() != v.usedUp || v.c.Decided() != (v.usedUp || v.c.Verdict != model.Doubtful) {
			t.Errorf("%s after %d: used up %v", v.c.Verdict, v.c.Further, v.c.UsedUp())
		}
	}
}

// Strips that say nothing: without readings, of a datum before this one, zeroed on strips that are
// gone, or so far from each other that no U can be given.
func TestStripsThatSayNothing(t *testing.T) {
	w := new(writer).datum("l", 120, 120, 120).rip("l", thin, ForBlade, "m").rip("l", thin, ForBlade, "m")
	if c := w.judge(0.1).Course(thin); c != nil {
		t.Errorf("without readings: %+v", c)
	}
	w = new(writer).datum("l", 120, 120, 120).blade("l", thin, 120, 120)
	w.strips[3].Present, w.strips[4].Present = false, false
	if c := w.judge(0.1).Course(thin); c != nil {
		t.Errorf("of a datum before this: %+v", c)
	}
	w = new(writer).datum("l", 120, 120, 120)
	for range 2 {
		w.strips = append(w.strips, Strip{Index: len(w.strips), Lock: "l", Outfit: thin, For: ForBlade, Differences: given.Lengths(0.04), Zeroed: []int{9}, Present: true})
	}
	l := w.judge(0.1)
	if c := l.Course(thin); c.Looks != 0 || c.Estimate != (Estimate{}) {
		t.Errorf("zeroed on strips that are gone: %+v", c)
	}
	if d, ok := l.Glance(l.Course(thin)); ok {
		t.Errorf("zeroed on strips that are gone, at a glance: %+v", d)
	}
	apart := model.MaxLength.Millimetres()
	if c := new(writer).datum("l", 0, apart, 0).blade("l", thin, 0, apart).judge(0.1).Course(thin); c.Looks != 0 {
		t.Errorf("%v apart: %+v", apart, c.Estimate)
	}
	// Under a lock where nothing carries the datum a strip says nothing, and takes nothing from the rest.
	w = new(writer).datum("l", 120, 120.02, 120.04).blade("l", thin, 120.05, 120.09).blade("k", thin, 121).datum("l", 120.02)
	if c := w.judge(0.05).Course(thin); c.Looks != 2 || c.Own != 2 || c.Datum != 4 {
		t.Errorf("%+v", c)
	}
}

// A caliper that was zeroed once: as TestOneComparison, but 1/2 of the blade and 1 of the reference,
// and the reading that it was zeroed by, whose like scatter by 0.01 mm.
func TestOneZeroingScatters(t *testing.T) {
	w := new(writer)
	for _, v := range []float64{120, 120.01, 120.02} {
		w.rip("l", ref, ForDatum, "m", v-0.01, v, v+0.01)
	}
	for _, d := range []float64{0.02, 0.04} {
		w.strips = append(w.strips, Strip{Index: len(w.strips), Lock: "l", Outfit: thin, For: ForBlade, Differences: given.Lengths(d), Present: true})
	}
	c := w.judge(0.1).Course(thin)
	given.Close(t, "standard", c.Uncertainty.Standard/1e6, math.Sqrt(4e-4/3*(1./2+1)+2*1e-4/12+1e-4), 1e-9)
}

// One mounting under two locks is two proofs; six mountings under one lock are five that mount again.
func TestMountingsAndLocks(t *testing.T) {
	w := history(14)
	for _, lock := range []string{"k", "j"} {
		w.datum(lock, 121).rip(lock, thin, ForBlade, "stays on", 121)
	}
	if c := w.judge(0.1).Course(thin); len(c.Proofs) != 2 || c.Proofs[0].Own != 1 || c.Proofs[1].Lock != "j" || c.Proofs[1].Own != 1 {
		t.Errorf("%+v", c)
	}
	w = new(writer).datum("l", 100, 100.01, 100.02)
	for i := range 6 {
		off := 0.02 - 0.04*float64(i%2)
		w.rip("l", thin, ForBlade, strconv.Itoa(i), 100.005+off).rip("l", thin, ForBlade, strconv.Itoa(i), 100.015+off)
	}
	if c := w.blade("l", rip, 100, 100.02).judge(0.2).Course(rip); c.Seat.Freedom != 5 || c.Seat.Standard == 0 {
		t.Errorf("%+v", c.Seat)
	}
	// That others follow is said by the first strip, and stays so.
	w = new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120.04, 120.06)
	w.strips[3].Round = true
	if got, _ := w.judge(0.1).Round("l", 4); got != RoundOpen {
		t.Errorf("%v", got)
	}
}
