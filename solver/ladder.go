package solver

import (
	"fmt"
	"slices"
	"sort"

	"example.com/sawdatum/model"
)

// ladder is every height that a kit makes up to top, ascending, with the fewest rings
// that make it.
type ladder struct {
	top     model.Length
	whole   bool // the kit makes nothing above top
	sums    []model.Length
	fewest  []uint8
	byCount [][]model.Length // the same heights by their fewest rings
	tallest []model.Length   // greatest height of n rings
}

// ladder lists the heights up to top, and refuses to list more than most of them.
func (k Kit) ladder(top model.Length, most int) (ladder, error) {
	l := ladder{top: top, sums: []model.Length{0}, fewest: []uint8{0}, tallest: k.tallest()}
	l.whole = top >= l.tallest[len(k.pieces)]
	// Two ladders take turns: each ring makes one of the other.
	var spare ladder
	for _, p := range k.pieces {
		spare = spare.with(l, p.Height)
		l.sums, l.fewest, spare.sums, spare.fewest = spare.sums, spare.fewest, l.sums, l.fewest
		if len(l.sums) > most {
			return ladder{}, fmt.Errorf("these rings make more than %d different stack heights, too many to look through: write their thickness in fewer digits or leave some out", most)
		}
	}
	size := make([]int, len(k.pieces)+1)
	for _, n := range l.fewest {
		size[n]++
	}
	l.byCount = make([][]model.Length, len(size))
	for n := range size {
		l.byCount[n] = make([]model.Length, 0, size[n])
	}
	for i, s := range l.sums {
		l.byCount[l.fewest[i]] = append(l.byCount[l.fewest[i]], s)
	}
	return l, nil
}

// tallest lists the greatest height of 0, 1, 2 ... rings.
func (k Kit) tallest() []model.Length {
	out := make([]model.Length, 1, len(k.pieces)+1)
	for i, p := range k.pieces {
		out = append(out, out[i]+p.Height)
	}
	return out
}

// with is l and one more ring: the heights without it and the heights with it, merged
// into what to held before.
func (to ladder) with(l ladder, ring model.Length) ladder {
	end := sort.Search(len(l.sums), func(i int) bool { return l.sums[i]+ring > l.top })
	sums, fewest := slices.Grow(to.sums[:0], len(l.sums)+end), slices.Grow(to.fewest[:0], len(l.sums)+end)
	for a, b := 0, 0; a < len(l.sums) || b < end; {
		switch {
		case b >= end || a < len(l.sums) && l.sums[a] < l.sums[b]+ring:
			sums, fewest = append(sums, l.sums[a]), append(fewest, l.fewest[a])
			a++
		case a >= len(l.sums) || l.sums[a] > l.sums[b]+ring:
			sums, fewest = append(sums, l.sums[b]+ring), append(fewest, l.fewest[b]+1)
			b++
		default:
			sums, fewest = append(sums, l.sums[a]), append(fewest, min(l.fewest[a], l.fewest[b]+1))
			a, b = a+1, b+1
		}
	}
	return ladder{sums: sums, fewest: fewest}
}

// atLeast is a lower bound of the score of this standing stack and every higher one.
// Blades whose zone lies over the thread cannot, and the higher the further; the others
// need so many of the thickest rings for height alone.
func (l ladder) atLeast(needs []Need, standing model.Length) Score {
	s := Score{Rings: l.toReach(standing)}
	for _, n := range needs {
		low := n.Height + standing - n.Within
		if low > n.Highest || n.Highest < 0 {
			s.Cannot, s.Excess = s.Cannot+1, max(s.Excess, low-max(n.Highest, 0))
			continue
		}
		s.Rings += l.toReach(low)
	}
	return s
}

func (l ladder) toReach(height model.Length) int {
	n := 0
	for n < len(l.tallest)-1 && l.tallest[n] < height {
		n++
	}
	return n
}

// window is one blade's acceptance zone as it slides up the ladder with the
// standing stack.
type window struct {
	Need
	*ladder
	under *rung // the stack that it takes whatever stands, where its zone is out of reach
	next  int   // first rung above the zone so far
	low   []int // rungs not below it that no later one with as few rings makes idle, fewest first
}

// at moves the window to a standing stack, not lower than the last, and gives the
// rings of the best stack, how far it lies outside the acceptance zone, and whether
// there is one inside. Where a height above the ladder might lie nearer, that is the
// least that it can be outside, and the ladder is short.
func (w *window) at(standing model.Length) (rings int, excess model.Length, fits, short bool) {
	want := w.Height + standing
	if w.under != nil {
		return w.under.rings, want - w.under.height - w.Within, false, false
	}
	for top := min(want+w.Within, w.Highest); w.next < len(w.sums) && w.sums[w.next] <= top; w.next++ {
		for len(w.low) > 0 && w.fewest[w.low[len(w.low)-1]] >= w.fewest[w.next] {
			w.low = w.low[:len(w.low)-1]
		}
		w.low = append(w.low, w.next)
	}
	below := 0
	for below < len(w.low) && w.sums[w.low[below]] < want-w.Within {
		below++
	}
	w.low = slices.Delete(w.low, 0, below)
	if len(w.low) > 0 {
		return int(w.fewest[w.low[0]]), 0, true, false
	}
	near, ok := w.beside(want)
	if !ok {
		return 0, max(want.Abs()-w.Within, 0), false, false
	}
	miss := (w.sums[near] - want).Abs()
	if w.next == len(w.sums) && !w.whole && w.top < w.Highest && w.top-want < miss {
		return 0, max(w.top-want-w.Within, 0), false, true
	}
	return int(w.fewest[near]), miss - w.Within, false, false
}

// beside is the rung nearest to the wanted height when none is in the zone: the one
// below or the one above, of equals the one with fewer rings.
func (w *window) beside(want model.Length) (int, bool) {
	below, above := w.next-1, w.next
	if above >= len(w.sums) || w.sums[above] > w.Highest {
		return below, below >= 0
	}
	if below < 0 {
		return above, true
	}
	down, up := want-w.sums[below], w.sums[above]-want
	if up < down || up == down && w.fewest[above] < w.fewest[below] {
		return above, true
	}
	return below, true
}

// miss is the |residual| of the best stack: by number of rings, the nearest height
// that takes so many, until one lies in the zone.
func (w *window) miss(standing model.Length) model.Length {
	want := w.Height + standing
	if w.under != nil {
		return want - w.under.height
	}
	best, target := model.Length(-1), min(want, w.Highest)
	for _, heights := range w.byCount {
		i, _ := slices.BinarySearch(heights, target)
		for _, j := range []int{i - 1, i} {
			if j < 0 || j >= len(heights) || heights[j] > w.Highest {
				continue
			}
			if miss := (heights[j] - want).Abs(); best < 0 || miss < best {
				best = miss
			}
		}
		if best >= 0 && best <= w.Within {
			break
		}
	}
	if best < 0 {
		return want.Abs()
	}
	return best
}
