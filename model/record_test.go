package model

import (
	"testing"
	"time"
)

// TestShiftsOf finds where the other shift last wrote.
func TestShiftsOf(t *testing.T) {
	at := func(minute int) time.Time { return time.Date(2026, 3, 2, 7, minute, 0, 0, time.UTC) }
	of := func(by ...string) (p Profile) {
		for i, b := range by {
			p.Records = append(p.Records, Record{At: at(i), By: b, Kind: Note, Text: "x"})
		}
		return p
	}
	for _, c := range []struct {
		by   []string
		want Shifts
	}{
		{nil, Shifts{}},
		{[]string{"KB", "KB"}, Shifts{By: "KB"}},
		{[]string{"KB", "MS", "KB", "KB"}, Shifts{By: "KB", Other: "MS", Since: at(1), First: 2}},
		{[]string{"KB", "MS"}, Shifts{By: "MS", Other: "KB", Since: at(0), First: 1}},
	} {
		p := of(c.by...)
		if got := ShiftsOf(p.Records); got != c.want {
			t.Errorf("%v: %+v", c.by, got)
		}
		if got := Before(p); len(got.Records) != c.want.First || len(p.Records) != len(c.by) {
			t.Errorf("%v: %d records before", c.by, len(got.Records))
		}
	}
}

// TestBeforeHasWhatItRanWith: a knife that was put behind a blade since, and a ring that was lost since, are
// changes, though the head no longer tells what was there.
func TestBeforeHasWhatItRanWith(t *testing.T) {
	at := func(minute int) time.Time { return time.Date(2026, 3, 2, 7, minute, 0, 0, time.UTC) }
	p := Profile{
		Knives: []Knife{{ID: "k25"}, {ID: "k26"}},
		Blades: []Blade{{ID: "rip", Knife: "k26"}, {ID: "thin", Knife: "k26"}, {ID: "new", Knife: "k26"}},
		Rings:  []Ring{{ID: "r10"}, {ID: "r20", Count: 1}, {ID: "r30", Count: 3}},
		Records: []Record{
			{At: at(0), By: "MO", Kind: Line, Blade: "rip", Rings: []string{"r10"}, Knife: "k26"},
			{At: at(1), By: "MO", Kind: Box, Blade: "rip", Rings: []string{"r10", "r20", "r20"}, Knife: "k25"},
			{At: at(2), By: "MO", Kind: Line, Blade: "thin", Rings: []string{"r30"}, Knife: "gone from the file"},
			{At: at(3), By: "KB", Kind: Line, Blade: "rip", Knife: "k26"},
		},
	}
	was := Before(p)
	for i, want := range []string{"k25", "k26", "k26"} {
		if got := was.Blades[i].Knife; got != want {
			t.Errorf("%s ran with %s, want %s", was.Blades[i].ID, got, want)
		}
	}
	for i, want := range []int{1, 2, 3} {
		if got := was.Rings[i].Count; got != want {
			t.Errorf("%s: %d were there, want %d", was.Rings[i].ID, got, want)
		}
	}
	if p.Blades[0].Knife != "k26" || p.Rings[0].Count != 0 {
		t.Error("the profile itself was written to")
	}
}
