package wizard

import (
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/picture"
)

// driven is the shop with a blade that was proved often, the last time far off, and
// sharpened once.
func driven() model.Profile {
	p := shop()
	blade := p.Rack()[1].ID
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	add := func(r model.Record) {
		at = at.Add(24 * time.Hour)
		r.At, r.By, r.Lock = at, "KB", "L"
		p.Records = append(p.Records, r)
	}
	width := func(nm model.Length) []model.Measure {
		m := (p.WorkingWidth.Length + nm).Of(model.MM)
		return []model.Measure{m, m, m}
	}
	if p.Reference == "" {
		p.Reference, p.Standing = p.Rack()[0].ID, []string{}
	}
	add(model.Record{Kind: model.FenceLock, Width: p.WorkingWidth})
	add(model.Record{Kind: model.ReferenceCut, Blade: p.Reference, Rings: p.Standing, Piece: blade, Readings: width(0)})
	for i, off := range []model.Length{10_000, -10_000, 0, 10_000, 0, -10_000, 10_000, 0, 10_000, 0, 10_000, 120_000} {
		if i == 6 {
			add(model.Record{Kind: model.Sharpened, Blade: blade, Plate: p.Rack()[1].Plate, Kerf: p.Rack()[1].Kerf})
		}
		add(model.Record{Kind: model.BladeCut, Blade: blade, Rings: []string{}, Piece: "same", Readings: width(off)})
	}
	return p
}

func TestDriftIsInTheRecords(t *testing.T) {
	p := driven()
	charts := drifts(p)
	if len(charts) != 1 {
		t.Fatalf("%d charts, want the one of the blade that was proved more than once", len(charts))
	}
	points := charts[0].Points
	if len(points) != 12 || !points[11].Beyond || points[10].Beyond {
		t.Errorf("of %d proofs only the last is beyond the limits: %+v", len(points), points)
	}
	for i, point := range points {
		if point.Sharpened != (i == 6) {
			t.Errorf("proof %d: sharpened before it: %v", i+1, point.Sharpened)
		}
	}
	page := strings.Join(newRecords(newLook(true, picture.ASCII), p).body(78), "\n")
	if !strings.Contains(page, "Proofs over time") || !strings.Contains(page, "beyond") {
		t.Errorf("the records do not show the drift:\n%s", page)
	}
}
