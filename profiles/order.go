package profiles

import (
	"cmp"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// rank orders records of one instant, so that what one step of the procedure writes
// at once stays in the order in which it is to be read.
var rank = map[model.Kind]int{
	model.Isolation: 0, model.TakenOff: 1, model.Arbor: 2, model.Found: 3, model.KnifeGone: 4, model.KnifeBack: 4, model.Sharpened: 4, model.Remeasured: 4,
	model.FenceMoved: 5, model.Scale: 6, model.FenceLock: 7, model.Mount: 8, model.KnifeMoved: 9, model.Line: 10, model.Felt: 10, model.HeelToe: 11, model.Rim: 12, model.Boards: 13, model.KnifeSet: 14,
	model.StripCut: 15, model.Kept: 16, model.Box: 17, model.Note: 18, model.Correction: 19, model.Void: 20,
}

// union is every record of a and b once, in time order. It is a set: whichever copy
// comes first, and however often one is taken in, the outcome is the same.
func union(a, b []model.Record) []model.Record {
	all := make([]model.Record, 0, max(len(a), len(b)))
	seen := make(map[string][]int, len(a))
	for _, list := range [][]model.Record{a, b} {
		for i := range list {
			ref := list[i].Ref()
			known := slices.ContainsFunc(seen[ref], func(k int) bool { return text.SameRecord(&all[k], &list[i]) })
			if !known {
				seen[ref] = append(seen[ref], len(all))
				all = append(all, list[i])
			}
		}
	}
	slices.SortStableFunc(all, inOrder)
	for from, to := 0, 0; from < len(all); from = to {
		for to = from + 1; to < len(all) && all[to].At.Equal(all[from].At); to++ {
		}
		if to-from > 1 {
			behindNamed(all[from:to])
		}
	}
	return all
}

// Added counts the records that theirs has and mine does not.
func Added(mine, theirs model.Profile) int {
	return len(union(mine.Records, theirs.Records)) - len(union(mine.Records, nil))
}

// behindNamed puts records of one instant that name another of them behind it: what was
// done under a fence lock behind the lock, a void behind what it voids, further readings
// behind the first.
func behindNamed(records []model.Record) {
	waitsFor := func(r *model.Record) string {
		switch {
		case r.Of != "":
			return r.Of
		case r.Lock != "" && r.Kind != model.FenceLock:
			return "lock " + r.Lock
		}
		return ""
	}
	gives := func(r *model.Record) (names [2]string) {
		names[0] = r.Ref()
		if r.Kind == model.FenceLock {
			names[1] = "lock " + r.Lock
		}
		return names
	}
	to := map[string]int{} // how often a name is still to come
	for i := range records {
		for _, name := range gives(&records[i]) {
			to[name]++
		}
	}
	rest := slices.Clone(records)
	out := records[:0]
	for len(rest) > 0 {
		var later []model.Record
		for i := range rest {
			own := 0
			if waitsFor(&rest[i]) == rest[i].Ref() {
				own = 1
			}
			if name := waitsFor(&rest[i]); name != "" && to[name] > own {
				later = append(later, rest[i])
				continue
			}
			for _, name := range gives(&rest[i]) {
				to[name]--
			}
			out = append(out, rest[i])
		}
		if len(later) == len(rest) { // each waits for another
			later, out = nil, append(out, later...)
		}
		rest = later
	}
}

func inOrder(a, b model.Record) int {
	if c := cmp.Or(a.At.Compare(b.At), cmp.Compare(rank[a.Kind], rank[b.Kind])); c != 0 {
		return c
	}
	return cmp.Compare(text.FormatRecord(a), text.FormatRecord(b))
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
		if !text.SameRecord(&records[i], &next[i]) {
			return false
		}
	}
	return true
}
