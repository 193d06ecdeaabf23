package profiles

import (
	"cmp"
	"slices"

	"example.com/sawdatum/model"
)

// rank orders records of one instant, so that what one step of the procedure writes
// at once stays in the order in which it is to be read.
var rank = map[model.Kind]int{
	model.Isolation: 0, model.TakenOff: 1, model.Arbor: 2, model.Found: 3, model.Sharpened: 4, model.Remeasured: 4, model.Thickness: 4, model.Returned: 4,
	model.FenceMoved: 5, model.Scale: 6, model.FenceLock: 7, model.Mount: 8, model.Line: 9, model.HeelToe: 10, model.Rim: 11, model.Boards: 12, model.KnifeSet: 13,
	model.ReferenceCut: 14, model.StripCut: 14, model.BladeCut: 15, model.Box: 16, model.Note: 17, model.Correction: 18, model.Void: 19,
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
