package model

import (
	"fmt"
	"slices"
)

// wholeChecks hold the keys of a record to one another.
var wholeChecks = map[Kind]func(v *validation, known *ledger, r *Record){
	StripCut: (*validation).strip,
	Found:    (*validation).ofMounting,
	Kept: func(v *validation, known *ledger, r *Record) {
		if first := known.refs[r.Of]; first != nil && (RefKind(r.Of) != StripCut || first.Of != "") {
			v.record(known, "of", firstRecord, "%q is not the first record of a strip", Clip(r.Of))
		}
	},
	HeelToe: func(v *validation, known *ledger, r *Record) {
		v.rear(known, "slot_rear", r.SlotFront, r.SlotRear)
		v.rear(known, "fence_rear", r.FenceFront, r.FenceRear)
	},
	Sharpened:  (*validation).newReadings,
	Remeasured: (*validation).newReadings,
	TakenOff: func(v *validation, known *ledger, r *Record) {
		if r.Knife != "" && r.Left != "" {
			v.record(known, "left", "write knife where it came out, left where it stays in the saw, one of the two", "a saw has one knife at a time")
		}
	},
	Note: func(v *validation, known *ledger, r *Record) {
		if r.About != AboutTalk && r.Blade == "" {
			v.record(known, "blade", "write the id of the blade that the note is about", "is missing")
		}
	},
}

const firstRecord = "write time, initials and kind of the first record of that strip"

// rear holds the reading of a tooth at the rear to the one at the front: only a dial that was
// zeroed there shows nothing, or less.
func (v *validation) rear(known *ledger, key string, front, rear Measure) {
	if front.Length > 0 && rear.Unit != NoUnit && rear.Length <= 0 {
		v.record(known, key, "write the distance at the rear; or, where a dial was zeroed at the front, 0 there and here what it shows, + where the tooth lies farther away", "%s cannot be a distance, and one of %s stands for the front", rear, front)
	}
}

func (v *validation) newReadings(known *ledger, r *Record) {
	at := fmt.Sprintf("records[%d]", known.at)
	v.plateAndKerf(at, r.Plate, r.Kerf)
	v.toothPlate(at, r.ToothPlate, r.Kerf)
}

// ofMounting holds the blade to the mounting that the record names.
func (v *validation) ofMounting(known *ledger, r *Record) {
	if m := known.refs[r.Mounting]; m != nil && m.Blade != r.Blade {
		v.record(known, "blade", "write the blade of that mounting, or name another mounting", "%q was on the arbor in that mounting, not %q", Clip(m.Blade), Clip(r.Blade))
	}
}

// strip holds a strip to its mounting, and its readings to its lock, to the strip that
// they go on with and to those that the caliper was zeroed on.
func (v *validation) strip(known *ledger, r *Record) {
	v.ofMounting(known, r)
	if m := known.refs[r.Mounting]; m != nil && m.Blade == r.Blade && !slices.Equal(m.Rings, r.Rings) {
		v.record(known, "rings", "write the rings of that mounting, or name another mounting", "other rings were on the arbor in that mounting")
	}
	const datum = "write time, initials and kind of a strip for datum under the same lock before this one"
	switch {
	case (len(r.Readings) == 0) == (len(r.Differences) == 0):
		v.record(known, "readings", "write readings (widths) or differences, one of the two", "a strip has either widths or differences")
	case r.For == Datum && len(r.Differences) > 0:
		v.record(known, "differences", "write its widths as readings: the other strips are compared with them", "a datum strip has widths")
	case r.Round && r.For != ForBlade:
		v.record(known, "round", "take the key out: only strips for a blade are of a round", "a %s strip is of no round", r.For)
	case len(r.Zeroed) > 0 && len(r.Zeroed) != len(r.Differences):
		v.record(known, "zeroed", "name one strip for each reading, or take the key out where the caliper was not zeroed anew before each", "%d strips for %d readings", len(r.Zeroed), len(r.Differences))
	}
	for i, ref := range r.Zeroed {
		if z := known.refs[ref]; z == nil || z.For != Datum || z.Lock != r.Lock {
			v.record(known, fmt.Sprintf("zeroed[%d]", i), datum, "no such strip is called %q", Clip(ref))
		}
	}
	if first := known.refs[r.Of]; r.Kind == StripCut && first != nil {
		switch {
		case RefKind(r.Of) != StripCut || first.Of != "":
			v.record(known, "of", firstRecord, "%q is not the first record of a strip", Clip(r.Of))
		case first.Lock != r.Lock || first.Blade != r.Blade || first.Mounting != r.Mounting || first.For != r.For:
			v.record(known, "of", "write lock, blade, mounting and for as that record has them", "these readings are of another strip than %q", Clip(r.Of))
		}
	}
}
