package screen

import (
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/bay"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/tell"
)

// driven is the shop with three blades that were proved week by week, the last time one of
// them far off.
func driven() (p model.Profile, odd string) {
	p = bay.Two()
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	add := func(r model.Record) model.Record {
		at = at.Add(time.Minute)
		r.At, r.By = at, "KB"
		p.Records = append(p.Records, r)
		return r
	}
	rip := func(lock, blade string, rings []string, purpose model.StripFor, off ...model.Length) {
		on := add(model.Record{Kind: model.Mount, Blade: blade, Rings: rings})
		for _, o := range off {
			m := (p.WorkingWidth.Length + o).Of(model.MM)
			add(model.Record{Kind: model.StripCut, Lock: lock, Blade: blade, Rings: rings, Mounting: on.Ref(), For: purpose, Readings: []model.Measure{m, m, m}})
		}
	}
	var proved []string
	p.Reference = p.Rack()[0].ID
	p.Standing = []string{}
	for _, b := range p.Rack()[1:4] {
		proved = append(proved, b.ID)
	}
	for week := range 10 {
		for k, b := range proved {
			off := []model.Length{0, 10_000, -10_000, 5_000}[(week+k)%4]
			if week == 9 && k == 0 {
				off = 120_000
			}
			lock := b + string(rune('A'+week))
			add(model.Record{Kind: model.FenceLock, Lock: lock, Width: p.WorkingWidth})
			rip(lock, p.Reference, p.Standing, model.Datum, 0, 10_000, 0)
			rip(lock, b, []string{}, model.ForBlade, off, off)
		}
		at = at.Add(7 * 24 * time.Hour)
	}
	return p, proved[0]
}

func TestDriftIsInTheRecords(t *testing.T) {
	p, odd := driven()
	charts := tell.Drifts(p)
	if len(charts) != 3 {
		t.Fatalf("%d charts, want those of the three blades that were proved more than once", len(charts))
	}
	for _, c := range charts {
		if len(c.Points) != 10 || !c.HasLimits || c.Points[9].Beyond != (c.Blade == p.BladeName(odd)) || c.Points[8].Beyond {
			t.Errorf("of %d proofs of the %s: %+v", len(c.Points), c.Blade, c)
		}
	}
	page := strings.Join(newRecords(frame.NewLook(true, picture.ASCII), p).body(78), "\n")
	if !strings.Contains(page, "Proofs over time") || !strings.Contains(page, "beyond") {
		t.Errorf("the records do not show the drift:\n%s", page)
	}
}
