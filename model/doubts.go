package model

import (
	"fmt"
	"slices"
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
				out = append(out, Finding{Path: path, Fault: r.Text, Cure: "look at it again", Doubt: true})
			}
		}
	}
	if p.WorkingWidth.Unit != NoUnit {
		add("working_width", WorkingWidth(p.WorkingWidth.Length, tell))
	}
	s := Fold(p)
	at := func(r *Record, key string) string {
		i := slices.IndexFunc(p.Records, func(o Record) bool { return o.Ref() == r.Ref() })
		return fmt.Sprintf("records[%d].%s", i, key)
	}
	if r, doubt := s.Seated, p.Instruments.Caliper.Length; r != nil && r.Span.Length > 0 {
		add(at(r, "span"), ToothWay(r.Span.Length, tell))
		add(at(r, "slot_rear"), BladeLies(r.SlotRear.Length-r.SlotFront.Length, r.Span.Length, doubt, tell))
		add(at(r, "fence_rear"), FenceLies(r.FenceRear.Length-r.FenceFront.Length, r.Span.Length, doubt, tell))
	}
	if r := s.Boards; r != nil {
		add(at(r, "lead"), BoardWidth(r.Lead.Length, p.WorkingWidth.Length, tell))
		add(at(r, "tail"), BoardWidth(r.Tail.Length, p.WorkingWidth.Length, tell))
		add(at(r, "tail"), BoardTaper(r.Tail.Length-r.Lead.Length, tell))
	}
	if r := s.Knife; r != nil {
		add(at(r, "gaps"), FeelerGaps(Lengths(r.Gaps), MostFeelerGap, tell))
		add(at(r, "tip_gap"), TipGap(r.TipGap.Length, p.Gap, tell))
	}
	return out
}
