package model

import (
	"slices"
	"testing"
	"time"
)

// TestDoubts: a file that holds what is refused or asked again at its field is told of it,
// with the place; what a newer record has replaced is not.
func TestDoubts(t *testing.T) {
	mm := func(v float64) Measure { return Measure{Length(v * 1e6), MM} }
	align := func(slot, fence, span float64) Record {
		return Record{Kind: Mount, Blade: "general", SlotFront: mm(95), SlotRear: mm(95 + slot), FenceFront: mm(120), FenceRear: mm(120 + fence), Span: mm(span)}
	}
	lock := Record{Kind: FenceLock, Lock: "l1", Width: mm(120)}
	boards := func(lead, tail float64) Record {
		return Record{Kind: Boards, Lock: "l1", Blade: "general", Length: mm(900), Lead: mm(lead), Tail: mm(tail)}
	}
	knife := func(gap, tip float64) Record {
		return Record{Kind: KnifeSet, Knife: "k25", Lock: "l1", Blade: "general", Gaps: []Measure{mm(0), mm(gap), mm(0), mm(0)}, TipGap: mm(tip)}
	}
	for _, v := range []struct {
		name    string
		width   float64
		rule    GapRule
		records []Record
		want    []string
	}{
		{"as it should be", 120, GapEN, []Record{align(0.02, 0.03, 200), lock, boards(120.02, 120.03), knife(0.05, 5)}, nil},
		{"too narrow", 99, GapEN, nil, []string{"working_width"}},
		{"a fence that closes, a blade askew", 120, GapEN, []Record{align(2.9, -0.05, 200)}, []string{"records[0].slot_rear", "records[0].fence_rear"}},
		{"a short way", 120, GapEN, []Record{align(0, 0, 20)}, []string{"records[0].span"}},
		{"a board 60 mm off", 120, GapEN, []Record{lock, boards(60, 60)}, []string{"records[1].lead", "records[1].tail"}},
		{"a board with taper", 120, GapEN, []Record{lock, boards(120, 120.2)}, []string{"records[1].tail"}},
		{"gaps", 120, GapEN, []Record{lock, knife(0.3, 2.9)}, []string{"records[1].gaps", "records[1].tip_gap"}},
		{"a blade that touches", 120, GapUS, []Record{lock, knife(0, 0)}, []string{"records[1].tip_gap"}},
		{"replaced", 120, GapEN, []Record{lock, knife(0.3, 2.9), knife(0.05, 5)}, nil},
	} {
		p := Profile{Units: MM, WorkingWidth: mm(v.width), Gap: v.rule, Reference: "general", Instruments: Instruments{Caliper: mm(0.01)}, Blades: []Blade{{ID: "general"}}}
		for i, r := range v.records {
			r.At, r.By = time.Date(2026, 3, 2, 7, i, 0, 0, time.UTC), "KB"
			p.Records = append(p.Records, r)
		}
		var got []string
		for _, f := range p.Doubts() {
			if got = append(got, f.Path); !f.Doubt || f.Missing {
				t.Errorf("%s: %+v", v.name, f)
			}
		}
		if !slices.Equal(got, v.want) {
			t.Errorf("%s: %v, want %v", v.name, got, v.want)
		}
	}
}
