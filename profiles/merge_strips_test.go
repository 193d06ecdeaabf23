package profiles

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
)

// TestTwoShiftsUnderOneLock: two copies that were carried on by two shifts tell the same
// whichever takes in the other, and the strips of both count under the lock that both
// found.
func TestTwoShiftsUnderOneLock(t *testing.T) {
	rec := func(second int, by string, kind model.Kind, r model.Record) model.Record {
		r.At, r.By, r.Kind = at(second), by, kind
		return r
	}
	strip := func(second int, by string, m model.Record, purpose model.StripFor, widths ...int) model.Record {
		r := model.Record{Lock: "a", Blade: m.Blade, Rings: m.Rings, Mounting: m.Ref(), For: purpose}
		for _, w := range widths {
			r.Readings = append(r.Readings, mm(w))
		}
		return rec(second, by, model.StripCut, r)
	}
	common := []model.Record{rec(0, "KB", model.FenceLock, model.Record{Lock: "a", Width: mm(140_000_000)}), rec(1, "KB", model.Mount, model.Record{Blade: "general-48", Rings: []string{"r10"}})}
	common = append(common, strip(2, "KB", common[1], model.Datum, 140_000_000, 140_010_000))
	early := rec(10, "KB", model.Mount, model.Record{Blade: "rip-24", Rings: []string{"r10"}})
	late := rec(20, "AB", model.Mount, model.Record{Blade: "laminate-96", Rings: []string{"r15"}})
	first, second := strip(11, "KB", early, model.ForBlade, 140_020_000), strip(21, "AB", late, model.ForBlade, 139_990_000)
	again := strip(12, "KB", early, model.ForBlade, 140_030_000)
	again.Of = first.Ref()
	corrected := second
	corrected.Kind, corrected.Of, corrected.At, corrected.Readings = model.Correction, second.Ref(), at(23), []model.Measure{mm(139_980_000), mm(139_970_000)}
	spoiled := strip(22, "AB", late, model.ForBlade, 150_000_000)
	mine := []model.Record{early, first, again, rec(30, "KB", model.FenceMoved, model.Record{Lock: "a"})}
	theirs := []model.Record{late, second, spoiled, corrected, rec(24, "AB", model.Void, model.Record{Of: spoiled.Ref(), Why: "burr"}), strip(31, "AB", late, model.ForBlade, 139_980_000)}

	p := chosenDemo()
	a, b := withRecords(p, slices.Concat(common, mine)), withRecords(p, slices.Concat(common, theirs))
	ab, _ := Merge(a, b)
	ba, _ := Merge(b, a)
	twice, _ := Merge(ba, ab)
	for _, x := range []model.Profile{a, b, ab} {
		if f := x.Validate(); len(f) > 0 {
			t.Fatal(f)
		}
	}
	s := model.Fold(ab)
	if !reflect.DeepEqual(s, model.Fold(ba)) || !reflect.DeepEqual(s, model.Fold(twice)) {
		t.Error("the order of the merge shows")
	}
	var got []string
	for _, x := range s.Strips {
		w := x.Blade
		for _, m := range x.Readings {
			w += " " + m.String()
		}
		if x.Present {
			w += " present"
		}
		got = append(got, w)
	}
	want := []string{"general-48 140 mm 140.01 mm present", "rip-24 140.02 mm 140.03 mm present", "laminate-96 139.98 mm 139.97 mm present", "laminate-96 139.98 mm"}
	if !slices.Equal(got, want) {
		t.Errorf("got  %s\nwant %s", strings.Join(got, "; "), strings.Join(want, "; "))
	}
	if s.Lock != "" || s.Locks["a"].Ended < 0 {
		t.Errorf("the fence may have moved: %+v", s.Locks)
	}
}
