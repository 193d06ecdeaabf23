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
		return Record{Kind: HeelToe, Blade: "general", SlotFront: mm(95), SlotRear: mm(95 + slot), FenceFront: mm(120), FenceRear: mm(120 + fence), Span: mm(span)}
	}
	dialled := func(slot, fence float64) Record {
		return Record{Kind: HeelToe, Blade: "general", SlotFront: mm(0), SlotRear: mm(slot), FenceFront: mm(0), FenceRear: mm(fence), Span: mm(200)}
	}
	lock := Record{Kind: FenceLock, Lock: "l1", Width: mm(120)}
	on := Record{Kind: Mount, Blade: "general", Knife: "k25"}
	boards := func(lead, tail float64) Record {
		return Record{Kind: Boards, Lock: "l1", Blade: "general", Length: mm(900), Lead: mm(lead), Tail: mm(tail)}
	}
	knife := func(gap float64) Record {
		return Record{Kind: KnifeSet, Knife: "k25", Lock: "l1", Blade: "general", Gaps: []Measure{mm(0), mm(gap), mm(0), mm(0)}}
	}
	line := func(tip float64) Record {
		return Record{Kind: Line, Blade: "general", Knife: "k25", TipGap: mm(tip)}
	}
	strip := func(of StripFor, read float64) Record {
		return Record{Kind: StripCut, Lock: "l1", Blade: "general", For: of, Readings: []Measure{mm(120), mm(read), mm(120)}}
	}
	for _, v := range []struct {
		name    string
		width   float64
		rule    Rules
		records []Record
		want    []string
	}{
		{"as it should be", 120, RulesEN, []Record{align(0.02, 0.03, 200), lock, on, boards(120.02, 120.03), knife(0.05), line(5)}, nil},
		{"too narrow", 99, RulesEN, nil, []string{"working_width"}},
		{"a fence that closes, a blade askew", 120, RulesEN, []Record{align(2.9, -0.05, 200)}, []string{"records[0].slot_rear", "records[0].fence_rear"}},
		{"by a dial, a fence that closes", 120, RulesEN, []Record{dialled(0.03, -0.03)}, []string{"records[0].fence_rear"}},
		{"by a dial, as it should be", 120, RulesEN, []Record{dialled(-0.03, 0.05)}, nil},
		{"a short way", 120, RulesEN, []Record{align(0, 0, 20)}, []string{"records[0].span"}},
		{"a board 60 mm off", 120, RulesEN, []Record{lock, on, boards(60, 60)}, []string{"records[2].lead", "records[2].tail"}},
		{"a board with taper", 120, RulesEN, []Record{lock, on, boards(120, 120.2)}, []string{"records[2].tail"}},
		{"gaps", 120, RulesEN, []Record{lock, knife(0.3), line(2.9)}, []string{"records[1].gaps", "records[2].tip_gap"}},
		{"a blade that touches", 120, RulesUS, []Record{lock, knife(0), line(0)}, []string{"records[2].tip_gap"}},
		{"a strip 60 mm off", 120, RulesEN, []Record{lock, on, strip(Datum, 120.01), strip(Datum, 60)}, []string{"records[3].readings"}},
		{"a knife that is gone, seen since", 120, RulesEN, []Record{{Kind: KnifeGone, Knife: "k25", Text: "lost"}, {Kind: Note, Text: "seen"}, on}, []string{"records[2].knife"}},
		{"left in the saw since", 120, RulesEN, []Record{{Kind: KnifeGone, Knife: "k25", Text: "lost"}, {Kind: TakenOff, Left: "k25"}}, []string{"records[1].knife"}},
		{"gone, and only seen before", 120, RulesEN, []Record{on, line(5), {Kind: KnifeGone, Knife: "k25", Text: "lost"}, {Kind: Box, Blade: "general", Knife: "k25"}}, nil},
		{"there again", 120, RulesEN, []Record{{Kind: KnifeGone, Knife: "k25", Text: "lost"}, on, {Kind: KnifeBack, Knife: "k25"}}, nil},
		{"replaced", 120, RulesEN, []Record{lock, knife(0.3), line(2.9), knife(0.05), line(5)}, nil},
	} {
		p := Profile{Units: MM, WorkingWidth: mm(v.width), Rules: v.rule, Reference: "general", Instruments: Instruments{Caliper: mm(0.01)}, Knives: []Knife{{ID: "k25"}}, Blades: []Blade{{ID: "general"}}}
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
