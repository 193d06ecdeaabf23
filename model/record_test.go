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
