package model

import (
	"reflect"
	"testing"
)

// TestFelt: every time that a knife was felt behind a blade, with the mounting and with what was
// known of the knife until then; a line that was only seen is none. What it was felt behind is on.
func TestFelt(t *testing.T) {
	d := stripShop()
	d.lock("a")
	d.add(KnifeSet, Record{Knife: "k25", Lock: "a", Blade: "ref", Rings: []string{"r10"}, Gaps: []Measure{mmOf(0), mmOf(0), mmOf(0), mmOf(0)}})
	mount := d.mount("rip", "r10")
	in, out := []Measure{mmOf(0.05), mmOf(0.05)}, []Measure{mmOf(-0.3), mmOf(-0.3)}
	d.add(Line, Record{Blade: "rip", Rings: []string{"r10"}, Knife: "k25", TipGap: mmOf(5)})            // 3
	d.add(Felt, Record{Blade: "rip", Rings: []string{"r10"}, Knife: "k25", Faces: out})                 // 4
	d.add(Line, Record{Blade: "rip", Rings: []string{"r10"}, Knife: "k25", TipGap: mmOf(5), Faces: in}) // 5
	set := KnifeState{Set: &d.p.Records[1], SetAt: 1}
	s := Fold(d.p)
	if s.On.Mounting != mount || s.On.Blade != "rip" || s.Knives["k25"].Unknown {
		t.Errorf("it stays on as it was mounted: %+v, %+v", s.On, s.Knives)
	}
	if want := []Feel{{4, &d.p.Records[4], mount, set}, {5, &d.p.Records[5], mount, set}}; !reflect.DeepEqual(s.Felt, want) {
		t.Errorf("felt\n     %+v\nwant %+v", s.Felt, want)
	}
	// Behind another blade, with another knife: that is what is in the saw.
	d.add(Felt, Record{Blade: "thin", Rings: []string{"r15"}, Knife: "k22", Faces: out})
	s = Fold(d.p)
	if want := (Fitted{Blade: "thin", Rings: []string{"r15"}, Knife: "k22"}); !s.Seen || !reflect.DeepEqual(s.On, want) || !s.Knives["k25"].Unknown || len(s.Felt) != 3 || s.Felt[2].Mounting != "" {
		t.Errorf("%+v, %+v", s.On, s.Felt)
	}
	d.void(d.p.Records[len(d.p.Records)-1].Ref(), "slip")
	if s := Fold(d.p); len(s.Felt) != 2 || s.On.Blade != "rip" {
		t.Errorf("voided: %+v", s)
	}
	// On an arbor of which nothing is known it is seen there.
	seen := stripShop()
	seen.add(Felt, Record{Blade: "rip", Rings: []string{"r10"}, Knife: "k25", Faces: in})
	if s := Fold(seen.p); !s.Seen || s.On.Blade != "rip" {
		t.Errorf("%+v", s.On)
	}
	// What was found under it takes that with it; nothing found does not.
	for what, felt := range map[string]int{NothingFound: 1, "resin": 0} {
		d := stripShop()
		mount := d.mount("rip", "r10")
		d.add(Felt, Record{Blade: "rip", Rings: []string{"r10"}, Knife: "k25", Faces: out})
		d.add(Found, Record{Blade: "rip", Mounting: mount, Text: what})
		if s := Fold(d.p); len(s.Felt) != felt {
			t.Errorf("%s: %+v", what, s.Felt)
		}
	}
}
