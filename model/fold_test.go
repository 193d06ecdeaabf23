package model

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"
)

// diary writes records one second apart, all by KB, and gives the Ref of each.
type diary struct {
	p Profile
}

// stripShop is a shop with a reference, ref, with one ring behind it, two blades of one
// knife and one of another.
func stripShop() *diary {
	blade := func(id, knife string, kerf float64) Blade {
		return Blade{ID: id, Diameter: mmOf(250), Teeth: 48, Bore: mmOf(30), Plate: []Measure{mmOf(2.2)}, Kerf: []Measure{mmOf(kerf)}, Knife: knife}
	}
	p := shop()
	p.Knives = []Knife{{"k25", mmOf(2.5)}, {"k22", mmOf(2.2)}}
	p.Blades = []Blade{blade("ref", "k25", 3.2), blade("rip", "k25", 3), blade("fine", "k25", 2.8), blade("thin", "k22", 2.6)}
	p.Rings = []Ring{{ID: "r10", Thickness: mmOf(0.1), Count: 4}, {ID: "r15", Thickness: mmOf(0.15), Count: 1}}
	p.Reference, p.Standing, p.Records = "ref", []string{"r10"}, nil
	return &diary{p}
}

func (d *diary) add(kind Kind, r Record) string {
	r.At, r.By, r.Kind = time.Date(2026, 3, 2, 7, 0, len(d.p.Records), 0, time.UTC), "KB", kind
	d.p.Records = append(d.p.Records, r)
	return r.Ref()
}

func (d *diary) void(ref, why string) string { return d.add(Void, Record{Of: ref, Why: why}) }
func (d *diary) lock(name string) string {
	return d.add(FenceLock, Record{Lock: name, Width: mmOf(140)})
}

func (d *diary) mount(blade string, rings ...string) string {
	return d.add(Mount, Record{Blade: blade, Rings: rings})
}

// strip is one of the last mounting under the last lock of the diary.
func (d *diary) strip(purpose StripFor) string {
	r := Record{For: purpose, Readings: []Measure{mmOf(140), mmOf(140.01), mmOf(140)}}
	for _, o := range d.p.Records {
		switch o.Kind {
		case FenceLock:
			r.Lock = o.Lock
		case Mount:
			r.Blade, r.Rings, r.Mounting = o.Blade, o.Rings, o.Ref()
		}
	}
	return d.add(StripCut, r)
}

// last is the record written last, to be corrected or read further.
func (d *diary) last() Record { return d.p.Records[len(d.p.Records)-1] }

func (d *diary) correct(ref string, change func(r *Record)) string {
	i := slices.IndexFunc(d.p.Records, func(r Record) bool { return r.Ref() == ref })
	r := d.p.Records[i]
	change(&r)
	r.Of = ref
	return d.add(Correction, r)
}

// round is a lock with a datum strip of the reference and a strip of rip with one ring.
func (d *diary) round(lock string) (refMount, refStrip, ripMount, ripStrip string) {
	d.lock(lock)
	refMount = d.mount("ref", "r10")
	refStrip = d.strip(Datum)
	ripMount = d.mount("rip", "r10")
	ripStrip = d.strip(ForBlade)
	return refMount, refStrip, ripMount, ripStrip
}

// carries is a lock under which the rip stands in for the reference: a datum strip of it.
func (d *diary) carries(lock string) {
	d.lock(lock)
	d.mount("rip", "r10")
	d.strip(Datum)
}

var sharpening = Record{Plate: []Measure{mmOf(2.2)}, Kerf: []Measure{mmOf(2.9)}}

func (d *diary) sharpen(blade string, goes DatumGoes) string {
	r := sharpening
	r.Blade, r.Datum = blade, goes
	return d.add(Sharpened, r)
}

// told is each strip in words: blade and rings, what for, lock, number of readings, and
// how it counts.
func told(s State) string {
	var out []string
	for _, x := range s.Strips {
		w := fmt.Sprintf("%s[%s] %s %s %d", x.Blade, strings.Join(x.Rings, " "), x.For, x.Lock, len(x.Readings)+len(x.Differences))
		for _, is := range []struct {
			so   bool
			word string
		}{{x.Present, "present"}, {x.Carried, "carried"}, {x.FoundOut, "found-out"}, {x.Further > 0, fmt.Sprintf("+%d", x.Further)}} {
			if is.so {
				w += " " + is.word
			}
		}
		out = append(out, w)
	}
	return strings.Join(out, "; ")
}

// TestStripsThatCount: which strips are there, and which count under the present datum
// (job.md: R3, R5, OUT, sharpened).
func TestStripsThatCount(t *testing.T) {
	const ref, rip = "ref[r10] datum a 3 present", "rip[r10] blade a 3 present"
	for _, c := range []struct {
		name string
		do   func(d *diary)
		want string
	}{
		{"nothing", func(*diary) {}, ""},
		{"a round", func(d *diary) { d.round("a") }, ref + "; " + rip},
		{"no fence lock", func(d *diary) {
			d.mount("ref", "r10")
			d.strip(Datum)
		}, "ref[r10] datum  3"},
		{"ripped after the fence may have moved", func(d *diary) {
			d.round("a")
			d.add(FenceMoved, Record{Lock: "a"})
			d.strip(ForBlade)
		}, ref + "; " + rip + "; rip[r10] blade a 3"},
		{"which was voided: it had not moved", func(d *diary) {
			d.round("a")
			moved := d.add(FenceMoved, Record{Lock: "a"})
			d.strip(ForBlade)
			d.void(moved, "mistyped")
		}, ref + "; " + rip + "; " + rip},
		{"the lock voided", func(d *diary) {
			l := d.lock("a")
			d.mount("ref", "r10")
			d.strip(Datum)
			d.void(l, "never locked")
		}, "ref[r10] datum a 3"},
		{"under a lock that another one ended", func(d *diary) {
			d.round("a")
			d.lock("b")
			d.strip(ForBlade)
			d.p.Records[len(d.p.Records)-1].Lock = "a"
		}, ref + "; " + rip + "; rip[r10] blade a 3"},
		{"a strip before the datum strip of its lock, as a proof rips them", func(d *diary) {
			d.lock("a")
			d.mount("rip", "r10")
			d.strip(ForBlade)
			d.mount("ref", "r10")
			d.strip(Datum)
		}, rip + "; " + ref},
		{"and before there is any", func(d *diary) {
			d.lock("a")
			d.mount("rip", "r10")
			d.strip(ForBlade)
		}, rip},
		{"and where the fence had moved before there was any", func(d *diary) {
			d.lock("a")
			d.mount("rip", "r10")
			d.strip(ForBlade)
			d.add(FenceMoved, Record{Lock: "a"})
			d.mount("ref", "r10")
			d.strip(Datum)
		}, rip + "; ref[r10] datum a 3"},
		{"two datum strips of one lock do not compare their blades", func(d *diary) {
			d.lock("a")
			d.mount("ref", "r10")
			d.strip(Datum)
			d.mount("rip", "r10")
			d.strip(Datum)
			d.carries("b")
		}, ref + "; rip[r10] datum a 3 carried; rip[r10] datum b 3 carried"},
		{"compared after the fence moved is not compared", func(d *diary) {
			d.lock("a")
			d.mount("ref", "r10")
			d.strip(Datum)
			d.add(FenceMoved, Record{Lock: "a"})
			d.mount("rip", "r10")
			d.strip(ForBlade)
			d.carries("b")
		}, ref + "; rip[r10] blade a 3; rip[r10] datum b 3 carried"},
		{"compared before the datum moved is not compared", func(d *diary) {
			d.round("a")
			d.sharpen("ref", DatumMoves)
			d.carries("b")
		}, "ref[r10] datum a 3; rip[r10] blade a 3; rip[r10] datum b 3 carried"},
		{"the reference, sharpened under its lock, is not compared with what it ripped itself", func(d *diary) {
			d.lock("a")
			d.mount("ref", "r10")
			d.strip(Datum)
			d.sharpen("ref", DatumStays)
			d.mount("ref", "r10")
			d.strip(ForBlade)
			d.lock("b")
			d.mount("ref", "r10")
			d.strip(Datum)
		}, ref + "; ref[r10] blade a 3 present; ref[r10] datum b 3 carried"},
		{"closed", func(d *diary) {
			d.round("a")
			d.mount("ref", "r10")
			d.strip(Closing)
		}, ref + "; " + rip + "; ref[r10] closing a 3 present"},
		{"one voided", func(d *diary) {
			_, _, _, s := d.round("a")
			d.void(s, "burr")
		}, ref},
		{"a void is not undone by another", func(d *diary) {
			_, _, _, s := d.round("a")
			d.void(d.void(s, "burr"), "no burr")
		}, ref},
		{"further readings", func(d *diary) {
			_, _, _, s := d.round("a")
			r := d.last()
			r.Of = s
			d.add(StripCut, r)
			d.add(FenceMoved, Record{Lock: "a"}) // a strip can be read at any time
			d.add(StripCut, r)
		}, ref + "; rip[r10] blade a 9 present +2"},
		{"further differences", func(d *diary) {
			_, datum, _, s := d.round("a")
			r := d.last()
			r.Of, r.Readings, r.Differences, r.Zeroed = s, nil, []Measure{mmOf(0.01), mmOf(0)}, []string{datum, datum}
			d.add(StripCut, r)
		}, ref + "; rip[r10] blade a 5 present +1"},
		{"further readings of a voided strip", func(d *diary) {
			_, _, _, s := d.round("a")
			r := d.last()
			r.Of = s
			d.add(StripCut, r)
			d.void(s, "burr")
		}, ref},
		{"further readings voided", func(d *diary) {
			_, _, _, s := d.round("a")
			r := d.last()
			r.Of = s
			d.void(d.add(StripCut, r), "misread")
		}, ref + "; " + rip},
		{"corrected", func(d *diary) {
			_, _, _, s := d.round("a")
			d.correct(s, func(r *Record) { r.Readings = r.Readings[:2] })
		}, ref + "; rip[r10] blade a 2 present"},
		{"corrected twice: the newest counts", func(d *diary) {
			_, _, _, s := d.round("a")
			d.correct(s, func(r *Record) { r.Readings = r.Readings[:2] })
			d.correct(s, func(r *Record) { r.Readings = r.Readings[:1] })
		}, ref + "; rip[r10] blade a 1 present"},
		{"a correction voided: the one before counts", func(d *diary) {
			_, _, _, s := d.round("a")
			d.correct(s, func(r *Record) { r.Readings = r.Readings[:2] })
			d.void(d.correct(s, func(r *Record) { r.Readings = r.Readings[:1] }), "it was right")
		}, ref + "; rip[r10] blade a 2 present"},
		{"corrected, then voided", func(d *diary) {
			_, _, _, s := d.round("a")
			d.correct(s, func(r *Record) { r.Readings = r.Readings[:2] })
			d.void(s, "burr")
		}, ref},
		{"further readings corrected stay those of their strip", func(d *diary) {
			_, _, _, s := d.round("a")
			r := d.last()
			r.Of = s
			d.correct(d.add(StripCut, r), func(r *Record) { r.Readings = r.Readings[:1] })
		}, ref + "; rip[r10] blade a 4 present +1"},
		{"the mounting corrected: its rings are those of its strips", func(d *diary) {
			_, _, m, _ := d.round("a")
			d.correct(m, func(r *Record) { r.Rings = []string{"r15"} })
		}, ref + "; rip[r15] blade a 3 present"},
		{"the mounting of the reference corrected: another stack makes no datum", func(d *diary) {
			m, _, _, _ := d.round("a")
			d.correct(m, func(r *Record) { r.Rings = nil })
		}, "ref[] datum a 3; rip[r10] blade a 3"},
		{"the mounting done again: nobody knows what its strips were ripped with", func(d *diary) {
			_, _, m, _ := d.round("a")
			d.void(m, Again)
			d.mount("rip", "r15")
			d.strip(ForBlade)
		}, ref + "; rip[r15] blade a 3 present"},
		{"a chip found", func(d *diary) {
			_, _, m, _ := d.round("a")
			d.strip(ForBlade)
			d.add(Found, Record{Blade: "rip", Mounting: m, Text: "a chip under the ring"})
			d.mount("rip", "r10")
			d.strip(ForBlade)
		}, ref + "; " + rip},
		{"nothing found", func(d *diary) {
			_, _, m, _ := d.round("a")
			d.add(Found, Record{Blade: "rip", Mounting: m, Text: NothingFound})
			d.mount("rip", "r10")
			d.strip(ForBlade)
		}, ref + "; " + rip + " found-out; " + rip},
		{"nothing found, and then something", func(d *diary) {
			_, _, m, _ := d.round("a")
			d.add(Found, Record{Blade: "rip", Mounting: m, Text: NothingFound})
			d.add(Found, Record{Blade: "rip", Mounting: m, Text: "resin"})
			d.add(Found, Record{Blade: "rip", Mounting: m, Text: NothingFound})
		}, ref},
		{"what was found voided", func(d *diary) {
			_, _, m, _ := d.round("a")
			d.void(d.add(Found, Record{Blade: "rip", Mounting: m, Text: "a chip"}), "of another blade")
		}, ref + "; " + rip},
		{"what was found corrected", func(d *diary) {
			_, _, m, _ := d.round("a")
			d.correct(d.add(Found, Record{Blade: "rip", Mounting: m, Text: "a chip"}), func(r *Record) { r.Text = NothingFound })
		}, ref + "; " + rip + " found-out"},
		{"the blade sharpened", func(d *diary) {
			d.round("a")
			d.sharpen("rip", "")
		}, ref + "; rip[r10] blade a 3"},
		{"which was voided", func(d *diary) {
			d.round("a")
			d.void(d.sharpen("rip", ""), "another blade")
		}, ref + "; " + rip},
		{"the blade back on the rack, and that voided: it was away", func(d *diary) {
			d.round("a")
			r := sharpening
			r.Blade, r.Back = "rip", true
			d.void(d.add(Remeasured, r), "misread")
		}, ref + "; rip[r10] blade a 3"},
		{"the blade read again", func(d *diary) {
			d.round("a")
			r := sharpening
			r.Blade = "rip"
			d.add(Remeasured, r)
		}, ref + "; " + rip},
		{"the flange cleaned: each blade is to be checked, by Arbor", func(d *diary) {
			d.round("a")
			d.add(Arbor, Record{})
		}, ref + "; " + rip},
		{"another standing stack", func(d *diary) {
			d.round("a")
			d.p.Standing = []string{}
		}, "ref[r10] datum a 3; rip[r10] blade a 3"},
		{"another reference: what it was compared with was never compared with it", func(d *diary) {
			d.round("a")
			d.p.Reference = "rip"
		}, "ref[r10] datum a 3 carried; rip[r10] blade a 3"},
		{"the reference sharpened and the datum moved", func(d *diary) {
			d.round("a")
			d.sharpen("ref", DatumMoves)
			d.round("b")
		}, "ref[r10] datum a 3; rip[r10] blade a 3; ref[r10] datum b 3 present; rip[r10] blade b 3 present"},
		{"sharpened and nothing said of the datum: it moved", func(d *diary) {
			d.round("a")
			d.sharpen("ref", "")
		}, "ref[r10] datum a 3; rip[r10] blade a 3"},
		{"and that voided", func(d *diary) {
			d.round("a")
			d.void(d.sharpen("ref", DatumMoves), "another blade")
		}, ref + "; " + rip},
		{"corrected: the datum stayed", func(d *diary) {
			d.round("a")
			d.correct(d.sharpen("ref", DatumMoves), func(r *Record) { r.Datum = DatumStays })
		}, ref + "; " + rip},
		{"the reference away and back", func(d *diary) {
			d.round("a")
			r := sharpening
			r.Blade, r.Back = "ref", true
			d.add(Remeasured, r)
		}, "ref[r10] datum a 3; rip[r10] blade a 3"},
		{"the reference read again, and not away: nothing moved", func(d *diary) {
			d.round("a")
			r := sharpening
			r.Blade = "ref"
			d.add(Remeasured, r)
		}, ref + "; " + rip},
		{"another blade sharpened before: the reference cuts as it did", func(d *diary) {
			d.sharpen("rip", "")
			d.round("a")
		}, ref + "; " + rip},
		{"sharpened where the datum stayed, and then it moved", func(d *diary) {
			d.sharpen("ref", DatumStays)
			d.sharpen("ref", DatumMoves)
			d.round("a")
		}, ref + "; " + rip},
		{"sharpened where the datum stayed, and then back on the rack", func(d *diary) {
			d.sharpen("ref", DatumStays)
			r := sharpening
			r.Blade, r.Back = "ref", true
			d.add(Remeasured, r)
			d.round("a")
		}, ref + "; " + rip},
		{"sharpened twice where the datum stayed: between, nothing carried it", func(d *diary) {
			d.sharpen("ref", DatumStays)
			d.round("a")
			d.sharpen("ref", DatumStays)
		}, "ref[r10] datum a 3 carried; rip[r10] blade a 3"},
		{"the datum stays: a stand-in carries it, and the reference is compared", func(d *diary) {
			d.round("a")
			d.mount("ref", "r10")
			d.strip(Closing)
			d.sharpen("ref", DatumStays)
			d.carries("b")
			d.mount("ref", "r10", "r10")
			d.strip(ForBlade)
		}, ref + "; " + rip + "; ref[r10] closing a 3 present; rip[r10] datum b 3 present carried; ref[r10 r10] blade b 3 present"},
		{"what the reference ripped to be compared, before it was sharpened", func(d *diary) {
			d.round("a")
			d.mount("ref", "r10")
			d.strip(ForBlade)
			d.sharpen("ref", DatumStays)
		}, ref + "; " + rip + "; ref[r10] blade a 3"},
		{"a round that a stand-in closed, and which was sharpened since", func(d *diary) {
			d.round("a")
			d.strip(Closing)
			d.sharpen("rip", "")
		}, ref + "; rip[r10] blade a 3; rip[r10] closing a 3"},
		{"then the reference carries it with its own offset, in the stack that was compared", func(d *diary) {
			d.round("a")
			d.sharpen("ref", DatumStays)
			d.carries("b")
			d.mount("ref", "r10", "r10")
			d.strip(ForBlade)
			d.lock("c")
			d.mount("ref", "r10", "r10")
			d.strip(Datum)
			d.mount("ref", "r10")
			d.strip(Datum)
		}, ref + "; " + rip + "; rip[r10] datum b 3 present carried; ref[r10 r10] blade b 3 present; ref[r10 r10] datum c 3 present carried; ref[r10] datum c 3 carried"},
		{"sharpened, the datum stays, and nothing carries it", func(d *diary) {
			d.round("a")
			d.sharpen("ref", DatumStays)
			d.round("b")
		}, ref + "; " + rip + "; ref[r10] datum b 3 carried; rip[r10] blade b 3"},
		{"which was the first thing on record", func(d *diary) {
			d.sharpen("ref", DatumStays)
			d.round("b")
		}, "ref[r10] datum b 3 carried; rip[r10] blade b 3"},
		{"a stand-in that was never compared", func(d *diary) {
			d.round("a")
			d.lock("b")
			d.mount("fine", "r10")
			d.strip(Datum)
			d.mount("rip", "r10")
			d.strip(ForBlade)
		}, ref + "; " + rip + "; fine[r10] datum b 3 carried; rip[r10] blade b 3"},
		{"a stand-in with other rings than it was compared with", func(d *diary) {
			d.round("a")
			d.lock("b")
			d.mount("rip", "r15")
			d.strip(Datum)
		}, ref + "; " + rip + "; rip[r15] datum b 3 carried"},
		{"a stand-in sharpened since it was compared", func(d *diary) {
			d.round("a")
			d.sharpen("rip", "")
			d.carries("b")
		}, ref + "; rip[r10] blade a 3; rip[r10] datum b 3 carried"},
		{"a stand-in away and back since it was compared", func(d *diary) {
			d.round("a")
			r := sharpening
			r.Blade, r.Back = "rip", true
			d.add(Remeasured, r)
			d.carries("b")
		}, ref + "; rip[r10] blade a 3; rip[r10] datum b 3 carried"},
		{"a stand-in sharpened since it carried the datum", func(d *diary) {
			d.round("a")
			d.carries("b")
			d.mount("fine")
			d.strip(ForBlade)
			d.sharpen("rip", "")
		}, ref + "; rip[r10] blade a 3; rip[r10] datum b 3 present carried; fine[] blade b 3 present"}, // what it carried stands
		{"a stand-in that was compared with another stand-in", func(d *diary) {
			d.round("a")
			d.carries("b")
			d.mount("fine")
			d.strip(ForBlade)
			d.lock("c")
			d.mount("fine")
			d.strip(Datum)
		}, ref + "; " + rip + "; rip[r10] datum b 3 present carried; fine[] blade b 3 present; fine[] datum c 3 carried"},
	} {
		d := stripShop()
		c.do(d)
		if c.name != "no fence lock" {
			if f := d.p.Validate(); len(f) > 0 {
				t.Errorf("%s: %v", c.name, f)
			}
		}
		if got := told(Fold(d.p)); got != c.want {
			t.Errorf("%s:\n got  %s\n want %s", c.name, got, c.want)
		}
	}
}

// TestFurtherReadingsKeepTheirStrips: what each further difference was zeroed on.
func TestFurtherReadingsKeepTheirStrips(t *testing.T) {
	d := stripShop()
	_, first, _, s := d.round("a")
	d.mount("ref", "r10")
	second := d.strip(Datum)
	r := d.p.Records[4]
	r.Of, r.Readings, r.Differences, r.Zeroed = s, nil, []Measure{mmOf(0.01), mmOf(0)}, []string{first, second}
	d.add(StripCut, r)
	r.Zeroed = []string{second, first}
	d.add(StripCut, r)
	got := Fold(d.p).Strips[1]
	if want := []string{first, second, second, first}; !slices.Equal(got.Zeroed, want) || len(got.Differences) != 4 || len(got.Readings) != 3 {
		t.Errorf("%+v", got)
	}
}

// TestNamed: of records of one instant, that of the hand and the kind which are named.
func TestNamed(t *testing.T) {
	at := time.Date(2026, 3, 2, 7, 0, 0, 5_000_000, time.UTC)
	records := []Record{{At: at.Add(-time.Second), By: "KB", Kind: Note}, {At: at, By: "KB", Kind: Mount}, {At: at, By: "AB", Kind: Note}, {At: at, By: "KB", Kind: Note}}
	for i := range records {
		if got := named(records, records[i].Ref()); !slices.Equal(got, []int{i}) {
			t.Errorf("%s is %v", records[i].Ref(), got)
		}
	}
	if got := named([]Record{{By: "KB", Kind: Note}}, "yesterday KB note"); got != nil {
		t.Errorf("what names no time names %v", got)
	}
	last := records[3]
	last.At = at.Add(time.Second)
	for _, ref := range []string{"", "KB note", "2026-03-02T07:00:00.005Z", "2026-03-02T07:00:00.005Z AB mount", last.Ref()} {
		if got := named(records, ref); got != nil {
			t.Errorf("%q is %v", ref, got)
		}
	}
}

// TestACorrectionThatChangesNothing: as if it were not there, whatever it repeats.
func TestACorrectionThatChangesNothing(t *testing.T) {
	p := shop()
	p.Blades = append(p.Blades, Blade{ID: "other"})
	for i, r := range p.Records {
		if !Correctable(r.Kind) {
			continue
		}
		again := p
		r.Of, r.Kind, r.At = r.Ref(), Correction, p.Records[len(p.Records)-1].At.Add(time.Second)
		again.Records = append(slices.Clip(p.Records), r)
		if i == 22 { // it was corrected before, and the newest counts
			continue
		}
		if got, want := Fold(again), Fold(p); !reflect.DeepEqual(got, want) {
			t.Errorf("%s repeated:\n got  %+v\n want %+v", p.Records[i].Kind, got, want)
		}
	}
}
