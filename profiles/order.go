package profiles

import (
	"cmp"
	"slices"

	"example.com/sawdatum/model"
)

// rank orders records of one instant, so that what one step of the procedure writes
// at once stays in the order in which it is to be read.
var rank = map[model.Kind]int{
	model.Isolation: 0, model.Arbor: 1, model.Sharpened: 2, model.Thickness: 2, model.Returned: 2, model.FenceMoved: 3, model.Scale: 4, model.FenceLock: 5,
	model.Mount: 6, model.Boards: 7, model.KnifeSet: 8, model.ReferenceCut: 9, model.BladeCut: 10, model.Note: 11, model.Void: 12,
}

// union is every record of a and b once, in time order. It is a set: whichever copy
// comes first, and however often one is taken in, the outcome is the same.
func union(a, b []model.Record) []model.Record {
	all := make([]model.Record, 0, max(len(a), len(b)))
	seen := make(map[string][]int, len(a))
	for _, list := range [][]model.Record{a, b} {
		for i := range list {
			ref := list[i].Ref()
			known := slices.ContainsFunc(seen[ref], func(k int) bool { return sameRecord(&all[k], &list[i]) })
			if !known {
				seen[ref] = append(seen[ref], len(all))
				all = append(all, list[i])
			}
		}
	}
	slices.SortStableFunc(all, inOrder)
	return all
}

func inOrder(a, b model.Record) int {
	if c := cmp.Or(a.At.Compare(b.At), cmp.Compare(rank[a.Kind], rank[b.Kind])); c != 0 {
		return c
	}
	return cmp.Compare(recordText(a), recordText(b))
}

// inTime reports that every record from first on is not before the one above it.
func inTime(records []model.Record, first int) bool {
	for i := max(first, 1); i < len(records); i++ {
		if records[i].At.Before(records[i-1].At) {
			return false
		}
	}
	return true
}

// continues reports that next is records with nothing but more behind them.
func continues(records, next []model.Record) bool {
	if len(next) < len(records) {
		return false
	}
	for i := range records {
		if !sameRecord(&records[i], &next[i]) {
			return false
		}
	}
	return true
}
