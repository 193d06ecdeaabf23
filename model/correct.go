package model

import (
	"sort"
	"strings"
	"time"
)

// counting lists the records as they were corrected last, and which of them were
// voided. Voids and corrections themselves are left out (nil). The records stand in the
// order of their times, as those of a valid profile do.
func counting(records []Record) (out []*Record, voided []bool) {
	out, voided = make([]*Record, len(records)), make([]bool, len(records))
	var corrections []int
	for i := range records {
		switch r := &records[i]; r.Kind {
		case Void:
			for _, k := range named(records, r.Of) {
				voided[k] = true
			}
		case Correction:
			corrections = append(corrections, i)
		default:
			out[i] = r
		}
	}
	for _, i := range corrections {
		for _, k := range named(records, records[i].Of) {
			if out[k] != nil && !voided[i] {
				out[k] = corrected(&records[k], &records[i])
			}
		}
	}
	return out, voided
}

// Counted lists the records that count, as they were corrected last: none that was voided,
// no void and no correction.
func Counted(records []Record) []Record {
	var out []Record
	now, voided := counting(records)
	for i, r := range now {
		if r != nil && !voided[i] {
			out = append(out, *r)
		}
	}
	return out
}

// corrected is a record as a correction of it reads: what happened when and by whose
// hand stays, and so does the strip that further readings are of.
func corrected(first, by *Record) *Record {
	now := *by
	now.At, now.By, now.Kind, now.Of = first.At, first.By, first.Kind, first.Of
	return &now
}

// named finds records by their Ref, by the order of their times.
func named(records []Record, ref string) (out []int) {
	when, rest, _ := strings.Cut(ref, " ")
	at, err := time.Parse(time.RFC3339Nano, when)
	if err != nil {
		return nil
	}
	by, kind, _ := strings.Cut(rest, " ")
	i := sort.Search(len(records), func(k int) bool { return !records[k].At.Before(at) })
	for ; i < len(records) && records[i].At.Equal(at); i++ {
		if records[i].By == by && string(records[i].Kind) == kind {
			out = append(out, i)
		}
	}
	return out
}
