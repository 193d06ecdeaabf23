package model

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestTheSawByTheRecords: what is on the arbor, where the knives stand and whether the
// fence is locked (job.md: R3 to R5, Back).
func TestTheSawByTheRecords(t *testing.T) {
	out := Record{Blade: "rip", Rings: []string{"r10"}}
	left := out
	left.Left = "k25"
	pulled := out
	pulled.Knife = "k25"
	set := func(d *diary, knife, lock string) string {
		return d.add(KnifeSet, Record{Knife: knife, Lock: lock, Blade: "ref", Rings: []string{"r10"}, Gaps: []Measure{mmOf(0), mmOf(0), mmOf(0.05), mmOf(0)}})
	}
	line := func(d *diary, blade, knife string, faces ...Measure) string {
		return d.add(Line, Record{Blade: blade, Rings: []string{"r10"}, Knife: knife, TipGap: mmOf(5), Faces: faces})
	}
	mount := func(d *diary, blade, knife string) string {
		return d.add(Mount, Record{Blade: blade, Rings: []string{"r10"}, Knife: knife})
	}
	aligned := func(d *diary) {
		d.lock("a")
		mount(d, "ref", "k25")
		d.add(TakenOff, Record{Blade: "ref", Rings: []string{"r10"}, Left: "k25"})
		set(d, "k25", "a")
	}
	checked := []Measure{mmOf(0), mmOf(0.05)}
	for _, c := range []struct {
		name string
		do   func(d *diary)
		want string // on the arbor | k25 | k22 | fence lock
	}{
		{"nothing on record", func(*diary) {}, "? | unknown | unknown | "},
		{"mounted", func(d *diary) { mount(d, "rip", "k25") }, "rip[r10] k25 mounted | unknown | unknown | "},
		{"taken off", func(d *diary) {
			mount(d, "rip", "k25")
			d.add(TakenOff, pulled)
		}, "empty | unknown | unknown | "},
		{"and the knife left in", func(d *diary) { d.add(TakenOff, left) }, "empty k25 | unknown | unknown | "},
		{"mounted behind the knife that is there", func(d *diary) {
			aligned(d)
			d.mount("rip", "r10")
		}, "rip[r10] k25 mounted | set | unknown | a"},
		{"the mounting voided", func(d *diary) {
			aligned(d)
			d.void(d.mount("rip", "r10"), Again)
		}, "? k25 | set | unknown | a"},
		{"and mounted again", func(d *diary) {
			aligned(d)
			d.void(d.mount("rip", "r10"), Again)
			d.mount("rip", "r15")
		}, "rip[r15] k25 mounted | set | unknown | a"},
		{"the mounting corrected", func(d *diary) {
			aligned(d)
			m := d.mount("rip", "r10")
			line(d, "rip", "k25")
			d.correct(m, func(r *Record) { r.Rings = []string{"r15"} })
		}, "rip[r15] k25 mounted | set | unknown | a"},
		{"what came off voided", func(d *diary) {
			aligned(d)
			d.mount("rip", "r10")
			d.void(d.add(TakenOff, left), "mistyped")
		}, "? | set unknown | unknown | a"},
		{"the flange cleaned", func(d *diary) {
			aligned(d)
			d.mount("rip", "r10")
			d.add(Arbor, Record{})
		}, "empty k25 | set | unknown | a"},
		{"which was voided", func(d *diary) {
			aligned(d)
			d.mount("rip", "r10")
			d.void(d.add(Arbor, Record{}), "mistyped")
		}, "? k25 | set | unknown | a"},
		{"the blade that is on sharpened", func(d *diary) {
			aligned(d)
			d.mount("rip", "r10")
			d.sharpen("rip", "")
		}, "? k25 | set | unknown | a"},
		{"and that voided: it was off all the same", func(d *diary) {
			aligned(d)
			d.mount("rip", "r10")
			d.void(d.sharpen("rip", ""), "mistyped")
		}, "? k25 | set | unknown | a"},
		{"another one sharpened", func(d *diary) {
			aligned(d)
			d.mount("rip", "r10")
			d.sharpen("fine", "")
		}, "rip[r10] k25 mounted | set | unknown | a"},
		{"seen on it, with no mounting on record", func(d *diary) { line(d, "rip", "k25") }, "rip[r10] k25 | unknown | unknown | "},
		{"another one seen than was mounted", func(d *diary) {
			mount(d, "rip", "k25")
			line(d, "fine", "k25")
		}, "fine[r10] k25 | unknown | unknown | "},
		{"the knife squared with the blade off", func(d *diary) {
			d.lock("a")
			mount(d, "ref", "k25")
			set(d, "k25", "a")
		}, "empty k25 | set | unknown | a"},
		{"and voided", func(d *diary) {
			aligned(d)
			d.void(set(d, "k25", "a"), Again)
		}, "? k25 | unknown | unknown | a"},
		{"squared to what is no longer the reference", func(d *diary) {
			aligned(d)
			d.p.Reference = "rip"
		}, "empty k25 | unknown | unknown | a"},
		{"a knife taken out and put in", func(d *diary) {
			aligned(d)
			d.add(TakenOff, pulled)
			mount(d, "rip", "k25")
		}, "rip[r10] k25 mounted | set unknown | unknown | a"},
		{"seen in line only", func(d *diary) {
			aligned(d)
			d.add(TakenOff, pulled)
			mount(d, "rip", "k25")
			line(d, "rip", "k25")
		}, "rip[r10] k25 mounted | set unknown | unknown | a"},
		{"and checked with the blade on", func(d *diary) {
			aligned(d)
			d.add(TakenOff, pulled)
			mount(d, "rip", "k25")
			line(d, "rip", "k25", checked...)
		}, "rip[r10] k25 mounted | set checked | unknown | a"},
		{"moved in its slot", func(d *diary) {
			aligned(d)
			mount(d, "rip", "k25")
			d.add(KnifeMoved, Record{Knife: "k25"})
		}, "rip[r10] k25 mounted | set unknown | unknown | a"},
		{"another knife moved than was put in: that one came out", func(d *diary) {
			aligned(d)
			mount(d, "rip", "k25")
			d.add(KnifeMoved, Record{Knife: "k22"})
		}, "rip[r10] k22 mounted | set unknown | unknown | a"},
		{"which was voided: it is checked all the same", func(d *diary) {
			aligned(d)
			mount(d, "rip", "k25")
			d.void(d.add(KnifeMoved, Record{Knife: "k25"}), "mistyped")
		}, "rip[r10] k25 mounted | set unknown | unknown | a"},
		{"moved, and checked", func(d *diary) {
			aligned(d)
			mount(d, "rip", "k25")
			d.add(KnifeMoved, Record{Knife: "k25"})
			line(d, "rip", "k25", checked...)
		}, "rip[r10] k25 mounted | set checked | unknown | a"},
		{"the check voided: it may have been moved in its slot", func(d *diary) {
			aligned(d)
			d.mount("rip", "r10")
			d.void(line(d, "rip", "k25", checked...), "misread")
		}, "rip[r10] k25 mounted | set unknown | unknown | a"},
		{"seen in line, and that voided", func(d *diary) {
			aligned(d)
			d.mount("rip", "r10")
			d.void(line(d, "rip", "k25"), "misread")
		}, "rip[r10] k25 mounted | set | unknown | a"},
		{"taken out without a word of it: nothing is left in", func(d *diary) {
			aligned(d)
			d.add(TakenOff, out)
		}, "empty | set unknown | unknown | a"},
		{"another knife left in than was put in", func(d *diary) {
			aligned(d)
			other := out
			other.Left = "k22"
			d.add(TakenOff, other)
		}, "empty k22 | set unknown | unknown | a"},
		{"another knife put in", func(d *diary) {
			aligned(d)
			mount(d, "thin", "k22")
			line(d, "thin", "k22", checked...)
		}, "thin[r10] k22 mounted | set unknown | checked | a"},
		{"and the first one again", func(d *diary) {
			aligned(d)
			mount(d, "thin", "k22")
			line(d, "thin", "k22", checked...)
			mount(d, "rip", "k25")
		}, "rip[r10] k25 mounted | set unknown | checked unknown | a"},
		{"another knife put in behind the blade that is on", func(d *diary) {
			aligned(d)
			d.mount("thin", "r10")
			line(d, "thin", "k22", checked...)
		}, "thin[r10] k22 mounted | set unknown | checked | a"},
		{"a mounting with another knife voided: it went in all the same", func(d *diary) {
			aligned(d)
			d.void(mount(d, "thin", "k22"), Again)
		}, "? k22 | set unknown | unknown | a"},
		{"two knives squared in turn", func(d *diary) {
			aligned(d)
			set(d, "k22", "a")
		}, "empty k22 | set unknown | set | a"},
		{"the second one voided: it went in all the same", func(d *diary) {
			aligned(d)
			d.void(set(d, "k22", "a"), Again)
		}, "? k22 | set unknown | unknown | a"},
		{"the blade that is on came back to the rack", func(d *diary) {
			aligned(d)
			d.mount("rip", "r10")
			r := sharpening
			r.Blade, r.Back = "rip", true
			d.add(Remeasured, r)
		}, "? k25 | set | unknown | a"},
		{"squared anew: the older check is over", func(d *diary) {
			aligned(d)
			line(d, "ref", "k25", checked...)
			set(d, "k25", "a")
		}, "empty k25 | set | unknown | a"},
		{"lost: it is in no saw", func(d *diary) {
			aligned(d)
			d.mount("rip", "r10")
			d.add(KnifeGone, Record{Knife: "k25", Text: "lost"})
		}, "rip[r10] mounted | set unknown | unknown | a | k25 is gone"},
		{"another one lost", func(d *diary) {
			aligned(d)
			d.mount("rip", "r10")
			d.add(KnifeGone, Record{Knife: "k22", Text: "lost"})
		}, "rip[r10] k25 mounted | set | unknown | a | k22 is gone"},
		{"lost, and squared all the same by another shift", func(d *diary) {
			aligned(d)
			d.add(KnifeGone, Record{Knife: "k25", Text: "lost"})
			set(d, "k25", "a")
		}, "empty k25 | set | unknown | a | k25 is gone"},
		{"lost, and the datum moved", func(d *diary) {
			aligned(d)
			d.add(KnifeGone, Record{Knife: "k25", Text: "lost"})
			d.sharpen("ref", DatumMoves)
		}, "empty | unknown | unknown | a | k25 is gone"},
		{"found again", func(d *diary) {
			aligned(d)
			d.add(KnifeGone, Record{Knife: "k25", Text: "lost"})
			d.add(KnifeBack, Record{Knife: "k25"})
		}, "empty | set unknown | unknown | a"},
		{"lost, squared all the same, and found again: nobody knows where it stands", func(d *diary) {
			aligned(d)
			d.add(KnifeGone, Record{Knife: "k25", Text: "lost"})
			set(d, "k25", "a")
			d.add(KnifeBack, Record{Knife: "k25"})
		}, "empty k25 | set unknown | unknown | a"},
		{"taken for lost, and that voided: nobody knows where it stands", func(d *diary) {
			aligned(d)
			d.void(d.add(KnifeGone, Record{Knife: "k25", Text: "lost"}), "it was in the drawer")
		}, "empty k25 | set unknown | unknown | a"},
		{"found again, and that voided", func(d *diary) {
			aligned(d)
			d.add(KnifeGone, Record{Knife: "k25", Text: "lost"})
			d.void(d.add(KnifeBack, Record{Knife: "k25"}), "it was another")
		}, "empty | set unknown | unknown | a | k25 is gone"},
		{"the datum moved: nobody knows how a knife stands to it", func(d *diary) {
			aligned(d)
			d.sharpen("ref", DatumMoves)
		}, "empty k25 | unknown | unknown | a"},
		{"the datum stayed", func(d *diary) {
			aligned(d)
			d.sharpen("ref", DatumStays)
		}, "empty k25 | set | unknown | a"},
		{"moved, and checked since", func(d *diary) {
			aligned(d)
			d.sharpen("ref", DatumMoves)
			line(d, "rip", "k25", checked...)
		}, "rip[r10] k25 | checked | unknown | a"},
		{"the fence may have moved", func(d *diary) {
			d.lock("a")
			d.add(FenceMoved, Record{Lock: "a"})
		}, "? | unknown | unknown | "},
		{"another lock", func(d *diary) {
			d.lock("a")
			d.lock("b")
		}, "? | unknown | unknown | b"},
		{"which was voided: nobody knows where the fence is", func(d *diary) {
			d.lock("a")
			d.void(d.lock("b"), "mistyped")
		}, "? | unknown | unknown | "},
		{"a moved fence told of an older lock", func(d *diary) {
			d.lock("a")
			d.lock("b")
			d.add(FenceMoved, Record{Lock: "a"})
		}, "? | unknown | unknown | "},
	} {
		d := stripShop()
		c.do(d)
		if f := d.p.Validate(); len(f) > 0 {
			t.Errorf("%s: %v", c.name, f)
		}
		s := Fold(d.p)
		got := fmt.Sprintf("%s | %s | %s | %s", onIt(s), knife(d.p, s.Knives["k25"]), knife(d.p, s.Knives["k22"]), s.Lock)
		for _, k := range d.p.Knives {
			if !slices.Contains(s.There(d.p.Knives), k) {
				got += " | " + k.ID + " is gone"
			}
		}
		if got != c.want {
			t.Errorf("%s:\n got  %s\n want %s", c.name, got, c.want)
		}
		if (s.Width.Unit != NoUnit) != (s.Lock != "") {
			t.Errorf("%s: lock %q at %v", c.name, s.Lock, s.Width)
		}
	}
}

func onIt(s State) string {
	w := "empty"
	switch {
	case !s.Seen:
		w = "?"
	case s.On.Blade != "":
		w = fmt.Sprintf("%s[%s]", s.On.Blade, strings.Join(s.On.Rings, " "))
	}
	if s.On.Knife != "" {
		w += " " + s.On.Knife
	}
	if s.On.Mounting != "" {
		w += " mounted"
	}
	return w
}

func knife(p Profile, k KnifeState) string {
	var w []string
	if k.Set != nil && k.Set.Kind == KnifeSet && k.Set == &p.Records[k.SetAt] {
		w = append(w, "set")
	}
	if k.Check != nil && k.Check.Kind == Line && k.Check == &p.Records[k.CheckAt] {
		w = append(w, "checked")
	}
	if k.Unknown {
		w = append(w, "unknown")
	}
	return strings.Join(w, " ")
}

// TestLocksBeginAndEnd: whether a lock was over before its round was closed.
func TestLocksBeginAndEnd(t *testing.T) {
	d := stripShop()
	d.lock("a")                                // 0
	d.add(FenceMoved, Record{Lock: "a"})       // 1
	d.lock("b")                                // 2
	d.lock("c")                                // 3
	gone := d.lock("d")                        // 4
	d.void(gone, "mistyped")                   // 5
	d.lock("e")                                // 6
	d.add(Note, Record{Text: "nothing to do"}) // 7
	want := map[string]LockSpell{"a": {0, 1}, "b": {2, 3}, "c": {3, 4}, "e": {6, -1}}
	if got := Fold(d.p).Locks; fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestWorkAtTheSaw: what counts of arbor, heel and toe, rim, gauge board and scale.
func TestWorkAtTheSaw(t *testing.T) {
	tooth := Record{Blade: "ref", Span: mmOf(200), SlotFront: mmOf(95), SlotRear: mmOf(95), FenceFront: mmOf(140), FenceRear: mmOf(140)}
	rim := Record{Blade: "ref", Dial: []Measure{mmOf(0), mmOf(0.01), mmOf(0), mmOf(-0.01)}}
	board := func(d *diary, lock string) string {
		return d.add(Boards, Record{Lock: lock, Blade: "ref", Rings: []string{"r10"}, Length: mmOf(900), Lead: mmOf(140), Tail: mmOf(140)})
	}
	scale := Record{Pairs: []Pair{{mmOf(60), mmOf(60)}, {mmOf(140), mmOf(140)}}}
	whole := func(d *diary) (arbor, scaled string) {
		arbor = d.add(Arbor, Record{})
		d.lock("a")
		d.mount("ref", "r10")
		d.add(HeelToe, tooth)
		d.add(Rim, rim)
		board(d, "a")
		return arbor, d.add(Scale, scale)
	}
	for _, c := range []struct {
		name string
		do   func(d *diary)
		want string
	}{
		{"nothing", func(*diary) {}, "arbor -1"},
		{"all of it", func(d *diary) { whole(d) }, "cleaned heel rim board scale arbor 0"},
		{"under the next lock", func(d *diary) {
			whole(d)
			d.lock("b")
		}, "cleaned heel rim board scale arbor 0"},
		{"the datum moved", func(d *diary) {
			whole(d)
			d.sharpen("ref", DatumMoves)
		}, "cleaned arbor 0"},
		{"the datum stayed", func(d *diary) {
			whole(d)
			d.sharpen("ref", DatumStays)
		}, "cleaned heel rim board scale arbor 0"},
		{"the scale voided: the cursor was moved", func(d *diary) {
			_, s := whole(d)
			d.void(s, Again)
		}, "cleaned heel rim board arbor 0"},
		{"and the one before no longer tells where it is", func(d *diary) {
			whole(d)
			d.void(d.add(Scale, scale), Again)
		}, "cleaned heel rim board arbor 0"},
		{"the arbor voided: hands were at the flange all the same", func(d *diary) {
			whole(d)
			d.void(d.add(Arbor, Record{}), Again)
		}, "heel rim board scale arbor 7"},
		{"another standing stack", func(d *diary) {
			whole(d)
			d.p.Standing = []string{"r15"}
		}, "cleaned heel rim arbor 0"},
		{"another reference", func(d *diary) {
			whole(d)
			d.p.Reference = "rip"
		}, "cleaned heel rim board arbor 0"}, // whose board it is, it says
		{"a board of another blade than the reference", func(d *diary) {
			d.lock("a")
			d.mount("rip", "r10")
			d.add(Boards, Record{Lock: "a", Blade: "rip", Rings: []string{"r10"}, Length: mmOf(900), Lead: mmOf(120), Tail: mmOf(120)})
		}, "board arbor -1"},
		{"a board of another lock", func(d *diary) {
			d.lock("a")
			d.mount("ref", "r10")
			d.lock("b")
			board(d, "a")
		}, "arbor -1"},
		{"a board while another blade is on", func(d *diary) {
			d.lock("a")
			d.mount("rip", "r10")
			board(d, "a")
			d.add(Scale, scale)
		}, "arbor -1"},
		{"a board whose mounting was corrected to another stack", func(d *diary) {
			d.lock("a")
			m := d.mount("ref", "r10")
			board(d, "a")
			d.correct(m, func(r *Record) { r.Rings = nil })
		}, "arbor -1"},
	} {
		d := stripShop()
		c.do(d)
		s := Fold(d.p)
		var w []string
		for _, x := range []struct {
			word string
			r    *Record
		}{{"cleaned", s.Cleaned}, {"heel", s.HeelToe}, {"rim", s.Rim}, {"board", s.Boards}, {"scale", s.Scaled}} {
			if x.r != nil {
				w = append(w, x.word)
			}
		}
		if got := strings.Join(append(w, fmt.Sprint("arbor ", s.Arbor)), " "); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// TestBladesByTheRecords: readings, life, box and what was left for later.
func TestBladesByTheRecords(t *testing.T) {
	again := Record{Blade: "rip", Plate: []Measure{mmOf(2.21)}, Kerf: []Measure{mmOf(2.95)}, ToothPlate: []Measure{mmOf(2.3)}, Runout: mmOf(0.04)}
	only := Record{Blade: "rip", Plate: []Measure{mmOf(2.21)}, Kerf: []Measure{mmOf(2.9)}}
	back := only
	back.Back = true
	leave := Record{About: AboutLeft, Blade: "rip", Text: "later"}
	box := Record{Blade: "rip", Rings: []string{"r10"}, Knife: "k25"}
	set := Record{Knife: "k25", Lock: "a", Blade: "ref", Rings: []string{"r10"}, Gaps: []Measure{mmOf(0), mmOf(0), mmOf(0), mmOf(0)}}
	for _, c := range []struct {
		name string
		do   func(d *diary)
		want string
	}{
		{"as in the head", func(*diary) {}, "kerf 3 mm life -1"},
		{"read again", func(d *diary) { d.add(Remeasured, again) }, "kerf 2.95 mm tooth 2.3 mm runout 0.04 mm life -1"},
		{"then plate and kerf only: the rest stands", func(d *diary) {
			d.add(Remeasured, again)
			d.add(Remeasured, only)
		}, "kerf 2.9 mm tooth 2.3 mm runout 0.04 mm life -1"},
		{"back on the rack: nothing stands but its box", func(d *diary) {
			d.add(Remeasured, again)
			d.add(Box, box)
			d.add(Remeasured, back)
		}, "kerf 2.9 mm life 2 box r10"},
		{"and that voided", func(d *diary) {
			d.add(Remeasured, again)
			d.void(d.add(Remeasured, back), "mistyped")
		}, "kerf 2.95 mm life 1"},
		{"read again, and that voided: it was not away", func(d *diary) { d.void(d.add(Remeasured, only), "mistyped") }, "kerf 3 mm life -1"},
		{"sharpened", func(d *diary) {
			d.add(Remeasured, again)
			d.add(Box, box)
			d.sharpen("rip", "")
		}, "kerf 2.9 mm tooth 2.3 mm runout 0.04 mm life 2 sharpened box r10"},
		{"and that voided", func(d *diary) { d.void(d.sharpen("rip", ""), "another blade") }, "kerf 3 mm life -1"},
		{"and corrected", func(d *diary) {
			d.correct(d.sharpen("rip", ""), func(r *Record) { r.Kerf = []Measure{mmOf(2.85)} })
		}, "kerf 2.85 mm life 0 sharpened"},
		{"the box written anew", func(d *diary) {
			d.add(Box, box)
			other := box
			other.Rings = []string{"r15"}
			d.add(Box, other)
		}, "kerf 3 mm life -1 box r15"},
		{"which was voided: nobody knows what stands there", func(d *diary) {
			d.add(Box, box)
			d.void(d.add(Box, box), "another box")
		}, "kerf 3 mm life -1"},
		{"left", func(d *diary) { d.add(Note, leave) }, "kerf 3 mm life -1 left now"},
		{"which was voided", func(d *diary) { d.void(d.add(Note, leave), "no") }, "kerf 3 mm life -1"},
		{"talked of", func(d *diary) { d.add(Note, Record{Blade: "rip", Text: "it whistles"}) }, "kerf 3 mm life -1"},
		{"left, and the datum moved", func(d *diary) {
			d.add(Note, leave)
			d.sharpen("ref", DatumMoves)
		}, "kerf 3 mm life -1 left"},
		{"left, and its knife set", func(d *diary) {
			d.lock("a")
			d.add(Note, leave)
			d.add(KnifeSet, set)
		}, "kerf 3 mm life -1 left"},
		{"left, and its knife set and voided: it was moved", func(d *diary) {
			d.lock("a")
			d.add(Note, leave)
			d.void(d.add(KnifeSet, set), Again)
		}, "kerf 3 mm life -1 left"},
		{"left, and another knife set", func(d *diary) {
			d.lock("a")
			d.add(Note, leave)
			other := set
			other.Knife = "k22"
			d.add(KnifeSet, other)
		}, "kerf 3 mm life -1 left now"},
		{"left after its knife was set", func(d *diary) {
			d.lock("a")
			d.add(KnifeSet, set)
			d.add(Note, leave)
		}, "kerf 3 mm life -1 left now"},
		{"left, and ripped with", func(d *diary) {
			d.add(Note, leave)
			d.round("a")
		}, "kerf 3 mm life -1"},
		{"left, and sharpened", func(d *diary) {
			d.add(Note, leave)
			d.sharpen("rip", "")
		}, "kerf 2.9 mm life 1 sharpened"},
	} {
		d := stripShop()
		c.do(d)
		if f := d.p.Validate(); len(f) > 0 {
			t.Errorf("%s: %v", c.name, f)
		}
		b := Fold(d.p).Blades["rip"]
		if got := blade(b); got != c.want || len(b.Plate) == 0 {
			t.Errorf("%s: %s, plate %v, want %s", c.name, got, b.Plate, c.want)
		}
	}
	d := stripShop()
	d.sharpen("ref", DatumStays)
	if b := Fold(d.p).Blades["ref"]; !b.DatumStays || b.Life != 0 {
		t.Errorf("%+v", b)
	}
	moved := stripShop()
	moved.sharpen("ref", DatumMoves)
	if s := Fold(moved.p); s.Blades["ref"].DatumStays || s.Datum != 0 {
		t.Errorf("the datum moved: %+v", s)
	}
	d.add(Remeasured, Record{Blade: "ref", Plate: back.Plate, Kerf: back.Kerf, Back: true})
	if s := Fold(d.p); s.Blades["ref"].DatumStays || s.Datum != 1 {
		t.Errorf("back on the rack: %+v", s)
	}
}

func blade(b BladeState) string {
	w := fmt.Sprint("kerf ", b.Kerf[0])
	if len(b.ToothPlate) > 0 {
		w += fmt.Sprint(" tooth ", b.ToothPlate[0])
	}
	if b.Runout.Unit != NoUnit {
		w += fmt.Sprint(" runout ", b.Runout)
	}
	w += fmt.Sprint(" life ", b.Life)
	if b.Sharpened != nil {
		w += " sharpened"
	}
	if b.Box != nil {
		w += " box " + strings.Join(b.Box.Rings, " ")
	}
	if b.Left != nil {
		w += " left"
	}
	if b.LeftNow {
		w += " now"
	}
	return w
}
