package model

import (
	"testing"
	"time"
)

// TestHalf: what a blade ripped last, whatever became of the readings, and when heights of
// stacks tell how the next cut lies to it.
func TestHalf(t *testing.T) {
	first := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	at := func(i int) time.Time { return first.Add(time.Duration(i) * time.Second) }
	three := []Measure{mmOf(120), mmOf(120), mmOf(120)}
	lock := Record{Kind: FenceLock, Lock: "a", Width: mmOf(120)}
	reference := Record{Kind: ReferenceCut, Lock: "a", Blade: "general-48", Piece: "rip-24", Rings: []string{"r10"}, Readings: three}
	cut := func(piece Piece, more bool, rings ...string) Record {
		return Record{Kind: BladeCut, Lock: "a", Blade: "rip-24", Piece: string(piece), Rings: rings, Readings: three, More: more}
	}
	void := func(i int, kind Kind) Record {
		return Record{Kind: Void, Of: at(i).Format(time.RFC3339) + " KB " + string(kind), Why: "mistyped"}
	}
	sharpened := Record{Kind: Sharpened, Blade: "rip-24", Plate: []Measure{mmOf(2.2)}, Kerf: []Measure{mmOf(2.9)}}
	for _, c := range []struct {
		name          string
		records       []Record // behind a lock and a reference cut
		unsure        bool
		fresh, first  bool // for a stack of 0.10 mm
		fewer, pooled bool // fresh without a ring; on a fresh piece
	}{
		{"none yet", nil, false, false, true, false, false},
		{"cut without a ring", []Record{cut(SamePiece, false)}, false, false, false, true, false},
		{"cut with one", []Record{cut(SamePiece, false, "r10")}, false, true, false, true, false},
		{"and voided", []Record{cut(SamePiece, false), void(2, BladeCut)}, true, true, false, true, false},
		{"sharpened and then voided", []Record{cut(SamePiece, false), sharpened, void(2, BladeCut)}, true, true, false, true, false},
		{"a fresh one voided", []Record{cut(SamePiece, false), cut(FreshPiece, false, "r10"), void(3, BladeCut)}, true, true, false, true, true},
		{"voided and cut again", []Record{cut(SamePiece, false), void(2, BladeCut), cut(FreshPiece, false)}, false, false, false, true, true},
		{"more readings voided", []Record{cut(SamePiece, false), cut(SamePiece, true), void(3, BladeCut)}, false, false, false, true, false},
		{"sharpened", []Record{cut(SamePiece, false), sharpened}, true, true, false, true, false},
		{"read further once sharpened", []Record{cut(SamePiece, false), sharpened, cut(SamePiece, true)}, true, true, false, true, false},
		{"the arbor worked on", []Record{cut(SamePiece, false), {Kind: Arbor, SpareThread: mmOf(9)}}, true, true, false, true, false},
		{"and that voided", []Record{cut(SamePiece, false), {Kind: Arbor, SpareThread: mmOf(9)}, void(3, Arbor)}, true, true, false, true, false},
		{"under another lock", []Record{cut(SamePiece, false), {Kind: FenceLock, Lock: "b", Width: mmOf(120)}}, false, true, true, true, false},
	} {
		p := shop()
		p.Records = append([]Record{lock, reference}, c.records...)
		for i := range p.Records {
			p.Records[i].At, p.Records[i].By = at(i), "KB"
		}
		if f := p.Validate(); len(f) > 0 {
			t.Errorf("%s: %v", c.name, f)
		}
		s := Fold(p)
		half := s.Blades["rip-24"].Half
		if half.Unsure != c.unsure || half.pooled != c.pooled {
			t.Errorf("%s: the half is %+v", c.name, half)
		}
		if fresh, first := s.NeedsFreshPiece(p, "rip-24", []string{"r10"}); fresh != c.fresh || first != c.first {
			t.Errorf("%s: with a ring, fresh %v, first %v", c.name, fresh, first)
		}
		if fewer, _ := s.NeedsFreshPiece(p, "rip-24", []string{}); fewer != (c.fewer || c.first && c.fresh) {
			t.Errorf("%s: without a ring, fresh %v", c.name, fewer)
		}
	}
}
