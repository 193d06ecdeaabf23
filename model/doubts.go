package model

import (
	"fmt"
	"slices"
	"time"
)

// Doubts are what the limits say of a profile that can be read: of its working width, and of
// what stands in force by its records. It is used all the same; records stay as they are, and
// a newer one takes an older one's place.
func (p Profile) Doubts() []Finding {
	var out []Finding
	tell := func(l Length) string { return l.Show(p.Units, 0) }
	add := func(path string, reasons []Reason) {
		for _, r := range reasons {
			if r.Weight != Explains {
				out = append(out, Doubt(path, r))
			}
		}
	}
	if p.WorkingWidth.Unit != NoUnit {
		add("working_width", WorkingWidth(p.WorkingWidth.Length, tell))
		if opens := p.Instruments.CaliperRange; opens.Unit != NoUnit {
			add("working_width", CaliperReaches(p.WorkingWidth.Length, opens.Length, tell))
		}
	}
	s := Fold(p)
	at := func(r *Record, key string) string {
		i := slices.IndexFunc(p.Records, func(o Record) bool { return o.Ref() == r.Ref() })
		return fmt.Sprintf("records[%d].%s", i, key)
	}
	if r, caliper := s.HeelToe, p.Instruments.Caliper.Length; r != nil && r.Span.Length > 0 {
		add(at(r, "span"), ToothWay(r.Span.Length, tell))
		add(at(r, "slot_rear"), BladeLies(r.SlotRear.Length-r.SlotFront.Length, r.Span.Length, LeanDoubt(r.SlotFront.Length, caliper), tell))
		add(at(r, "fence_rear"), FenceLies(r.FenceRear.Length-r.FenceFront.Length, r.Span.Length, LeanDoubt(r.FenceFront.Length, caliper), tell))
	}
	if r := s.Boards; r != nil {
		add(at(r, "lead"), RipWidth(r.Lead.Length, p.WorkingWidth.Length, tell))
		add(at(r, "tail"), RipWidth(r.Tail.Length, p.WorkingWidth.Length, tell))
		add(at(r, "tail"), BoardTaper(r.Tail.Length-r.Lead.Length, tell))
	}
	for _, strip := range s.Strips {
		if strip.Lock != s.Lock || s.Lock == "" {
			continue
		}
		for _, l := range Lengths(strip.Readings) {
			if wrong := RipWidth(l, s.Width.Length, tell); wrong != nil {
				add(fmt.Sprintf("records[%d].readings", strip.Index), wrong)
				break
			}
		}
	}
	for _, k := range p.Knives {
		if r := s.Knives[k.ID].Set; r != nil {
			add(at(r, "gaps"), FeelerGaps(Lengths(r.Gaps), MostFeelerGap, tell))
		}
		gone := s.Gone[k.ID]
		if gone == nil {
			continue
		}
		if r := seenSince(p, k.ID, gone); r != nil {
			add(at(r, "knife"), Because("knife-seen", Warns, "the knife of %s is gone (%s) by a record of %s %s, and was in the saw after that: is it there again?", k.Thickness, gone.Text, gone.By, gone.At.UTC().Format(time.DateOnly)))
		}
	}
	if r := p.newestLine(); r != nil {
		add(at(r, "tip_gap"), TipGap(r.TipGap.Length, p.Rules, tell))
	}
	return out
}

// seenSince is the first record after one by which a knife is gone that has it in the saw all
// the same; nil: none. Copies of two shifts come together so.
func seenSince(p Profile, knife string, gone *Record) *Record {
	for _, r := range Counted(p.Records) {
		if r.At.After(gone.At) && (r.Knife == knife && r.Kind != KnifeGone && r.Kind != Box || r.Left == knife) {
			return &r
		}
	}
	return nil
}

// Doubt is a finding of what can be used and is hardly so at any saw.
func Doubt(path string, r Reason) Finding {
	return Finding{Path: path, Fault: r.Text, Cure: "look at it again", Doubt: true}
}

// newestLine is the last look along knife and teeth that nobody has voided; nil: none.
func (p Profile) newestLine() *Record {
	for i := len(p.Records) - 1; i >= 0; i-- {
		r := &p.Records[i]
		voided := slices.ContainsFunc(p.Records, func(v Record) bool { return v.Kind == Void && v.Of == r.Ref() })
		if r.Kind == Line && !voided {
			return r
		}
	}
	return nil
}
