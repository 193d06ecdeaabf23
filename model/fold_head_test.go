package model

import (
	"reflect"
	"slices"
	"testing"
	"time"
)

// TestNothingOnRecord: of each blade and knife of the head what stands there, of no other
// anything, whatever the records name.
func TestNothingOnRecord(t *testing.T) {
	d := stripShop()
	d.p.Blades[1].ToothPlate, d.p.Blades[1].Runout = []Measure{mmOf(2.3)}, mmOf(0.05)
	blank := KnifeState{Unknown: true}
	knives := map[string]KnifeState{"k25": blank, "k22": blank}
	s := Fold(d.p)
	want := BladeState{Plate: []Measure{mmOf(2.2)}, Kerf: []Measure{mmOf(3)}, ToothPlate: []Measure{mmOf(2.3)}, Runout: mmOf(0.05), Life: -1}
	if len(s.Blades) != 4 || !reflect.DeepEqual(s.Blades["rip"], want) || !reflect.DeepEqual(s.Knives, knives) {
		t.Errorf("the head says %+v", s)
	}
	d.add(Mount, Record{Blade: "gone", Knife: "lost"})
	d.add(Mount, Record{Blade: "rip", Knife: "k25"})
	d.sharpen("gone", "")
	if s = Fold(d.p); len(s.Blades) != 4 || !reflect.DeepEqual(s.Knives, knives) {
		t.Errorf("strangers are in %+v", s)
	}
}

// TestRunDown: the longest counts until somebody answers for the brake.
func TestRunDown(t *testing.T) {
	d := stripShop()
	for _, c := range []struct {
		kind Kind
		r    Record
		want time.Duration
	}{
		{Isolation, Record{RunDown: 8 * time.Second}, 8 * time.Second},
		{Isolation, Record{RunDown: 13 * time.Second}, 13 * time.Second},
		{Isolation, Record{RunDown: 4 * time.Second}, 13 * time.Second},
		{Isolation, Record{RunDown: 20 * time.Second, Answers: "R. Moor"}, 13 * time.Second},
		{Note, Record{Text: "brake squeals"}, 13 * time.Second},
		{Note, Record{Text: "brake mended", Answers: "R. Moor"}, 0},
		{Isolation, Record{RunDown: 3 * time.Second}, 3 * time.Second},
	} {
		if d.add(c.kind, c.r); Fold(d.p).RunDown != c.want {
			t.Errorf("after %+v: %v, want %v", c.r, Fold(d.p).RunDown, c.want)
		}
	}
}

// TestKept: a strip that was looked at counts, with the readings that it had then.
func TestKept(t *testing.T) {
	kept := func(what string, want bool, then func(d *diary, strip string)) {
		t.Helper()
		d := stripShop()
		_, _, _, strip := d.round("a")
		d.add(Kept, Record{Of: strip})
		then(d, strip)
		for _, s := range Fold(d.p).Strips {
			if s.Kept != (want && s.Blade == "rip") {
				t.Errorf("%s: the strip of %s: %v", what, s.Blade, s.Kept)
			}
		}
	}
	more := func(d *diary, strip string) {
		r := d.p.Records[slices.IndexFunc(d.p.Records, func(r Record) bool { return r.Ref() == strip })]
		r.Of = strip
		d.add(StripCut, r)
	}
	shorter := func(d *diary, strip string) {
		d.correct(strip, func(r *Record) { r.Readings = r.Readings[:2] })
	}
	again := func(d *diary, strip string) { d.add(Kept, Record{Of: strip}) }
	kept("looked at", true, func(*diary, string) {})
	kept("looked at, and another strip corrected", true, func(d *diary, strip string) {
		shorter(d, d.p.Records[2].Ref())
	})
	kept("read further", false, more)
	kept("corrected", false, shorter)
	kept("corrected and looked at again", true, func(d *diary, s string) { shorter(d, s); again(d, s) })
	kept("read further and looked at again", true, func(d *diary, s string) { more(d, s); again(d, s) })
}

// TestWhatTheOldDatumHad: boards, heel and toe and runout are of the datum under which they
// were read.
func TestWhatTheOldDatumHad(t *testing.T) {
	d := stripShop()
	d.lock("a")
	d.mount("rip", "r10")
	d.add(Boards, Record{Blade: "rip", Rings: []string{"r10"}, Lock: "a"})
	d.add(HeelToe, Record{Blade: "ref"})
	d.add(Rim, Record{Blade: "ref"})
	if s := Fold(d.p); s.Boards == nil || s.HeelToe == nil || s.Rim == nil {
		t.Fatalf("%+v", s)
	}
	d.sharpen("ref", DatumMoves)
	if s := Fold(d.p); s.Boards != nil || s.HeelToe != nil || s.Rim != nil {
		t.Errorf("%+v", s)
	}
}

// TestReadAgain: what was read last of a blade is in force; whether the datum stayed is said of
// the reference alone.
func TestReadAgain(t *testing.T) {
	d := stripShop()
	d.add(Remeasured, Record{Blade: "rip", Plate: []Measure{mmOf(2.1)}, Kerf: []Measure{mmOf(2.9)}})
	if b := Fold(d.p).Blades["rip"]; b.Plate[0] != mmOf(2.1) || b.Kerf[0] != mmOf(2.9) || b.Life != -1 {
		t.Errorf("read again: %+v", b)
	}
	d.sharpen("rip", DatumStays)
	if b := Fold(d.p).Blades["rip"]; b.Plate[0] != mmOf(2.2) || b.DatumStays || b.Life != 1 {
		t.Errorf("sharpened: %+v", b)
	}
}

// TestAStripAsItWasRipped: a strip has what its record says, and blade and rings of its mounting,
// where there is one on record.
func TestAStripAsItWasRipped(t *testing.T) {
	d := stripShop()
	_, datum, mount, _ := d.round("a")
	r := Record{Lock: "a", Blade: "rip", Rings: []string{"r10"}, Mounting: mount, For: ForBlade, Round: true, Differences: []Measure{mmOf(0.1)}, Zeroed: []string{datum}}
	d.add(StripCut, r)
	want := Strip{Index: 5, Record: &d.p.Records[5], Lock: "a", Blade: "rip", Rings: []string{"r10"}, Mounting: mount, For: ForBlade, Round: true, Differences: r.Differences, Zeroed: r.Zeroed, Present: true, Held: true}
	if got := Fold(d.p).Strips[2]; !reflect.DeepEqual(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	d.p.Records[5].Mounting = ""
	if got := Fold(d.p).Strips[2]; got.Blade != "rip" || !slices.Equal(got.Rings, r.Rings) {
		t.Errorf("without a mounting: %+v", got)
	}
	d.p.Records[5].Mounting, d.p.Records[5].Blade = mount, "ref"
	if got := Fold(d.p).Strips[2]; got.Blade != "rip" {
		t.Errorf("its mounting was of the rip: %+v", got)
	}
	r.Blade, r.Mounting = "ref", d.void(d.mount("fine"), "mistyped")
	d.add(StripCut, r)
	if got := Fold(d.p).Strips; len(got) != 4 || got[3].Blade != "ref" {
		t.Errorf("a void is no mounting: %+v", got)
	}
}

// TestKnifeSetToACutThatTellsNothing: a knife that was squared to the cut of a blade stands
// somewhere as long as something tells where that cut lies: the blade defines the datum, or its
// strips compare it.
func TestKnifeSetToACutThatTellsNothing(t *testing.T) {
	gone := KnifeState{Unknown: true}
	for _, c := range []struct {
		name, blade string
		rings       []string
		then        func(d *diary)
		stands      bool
	}{
		{"the reference", "ref", []string{"r10"}, func(d *diary) {}, true},
		{"it has another stack now", "ref", []string{"r10"}, func(d *diary) { d.p.Standing = []string{"r15"} }, false},
		{"another is the reference now", "ref", []string{"r10"}, func(d *diary) { d.p.Reference = "fine" }, false},
		{"none is", "ref", []string{"r10"}, func(d *diary) { d.p.Reference = "" }, true},
		{"a blade that was compared", "rip", []string{"r10"}, func(d *diary) { d.round("b") }, true},
		{"with other rings", "rip", []string{"r15"}, func(d *diary) { d.round("b") }, false},
		{"another was compared", "fine", []string{"r10"}, func(d *diary) { d.round("b") }, false},
		{"it was sharpened since", "rip", []string{"r10"}, func(d *diary) { d.round("b"); d.sharpen("rip", "") }, false},
		{"it only carries the datum", "rip", []string{"r10"}, func(d *diary) { d.carries("b") }, false},
		{"it closed a round", "rip", []string{"r10"}, func(d *diary) { d.lock("b"); d.mount("rip", "r10"); d.strip(Closing) }, false},
	} {
		d := stripShop()
		d.lock("a")
		set := Record{Knife: "k25", Lock: "a", Blade: c.blade, Rings: c.rings, Gaps: []Measure{mmOf(0), mmOf(0), mmOf(0), mmOf(0)}}
		d.add(KnifeSet, set)
		c.then(d)
		if k := Fold(d.p).Knives["k25"]; (k.Set != nil) != c.stands || !c.stands && k != gone {
			t.Errorf("%s: %+v", c.name, k)
		}
	}
}
