package stacking

import (
	"slices"
	"sort"

	"example.com/sawdatum/model"
)

// allSets lists every different set of rings of each half of a kit, by number, sums
// ascending: of rings of one sort the first so many. A sort is never split.
func allSets(pieces []Piece) [2]byNumber {
	middle := len(pieces) / 2
	for middle > 0 && middle < len(pieces) && pieces[middle].ID == pieces[middle-1].ID {
		middle++
	}
	var out [2]byNumber
	for h, half := range [2][2]int{{0, middle}, {middle, len(pieces)}} {
		sets := byNumber{{{0, 0}}}
		for from, to := half[0], 0; from < half[1]; from = to {
			for to = from + 1; to < half[1] && pieces[to].ID == pieces[from].ID; to++ {
			}
			next := make(byNumber, len(sets)+to-from)
			for y := 0; y <= to-from; y++ {
				sum, mask := model.Length(y)*pieces[from].Height, uint32(1)<<y-1
				mask <<= len(pieces) - from - y
				for n := range sets {
					for _, c := range sets[n] {
						next[n+y] = append(next[n+y], choice{c.sum + sum, c.mask | mask})
					}
				}
			}
			sets = next
		}
		for n := range sets {
			slices.SortFunc(sets[n], func(a, b choice) int { return int(a.sum - b.sum) })
		}
		out[h] = sets
	}
	return out
}

// each visits every different set of n rings whose height lies from low to high.
func (k Kit) each(n int, low, high model.Length, visit func(mask uint32, sum model.Length)) {
	sets := k.sets()
	for i := max(0, n-len(sets[1])+1); i < len(sets[0]) && i <= n; i++ {
		up, down := sets[0][i], sets[1][n-i]
		for _, a := range up {
			b := sort.Search(len(down), func(j int) bool { return a.sum+down[j].sum >= low })
			for ; b < len(down) && a.sum+down[b].sum <= high; b++ {
				visit(a.mask|down[b].mask, a.sum+down[b].sum)
			}
		}
	}
}

// height is what a set of rings comes to.
func (k Kit) height(mask uint32) model.Length {
	var sum model.Length
	for i, p := range k.pieces {
		if mask>>(len(k.pieces)-1-i)&1 == 1 {
			sum += p.Height
		}
	}
	return sum
}
