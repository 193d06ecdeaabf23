package solver

import (
	"fmt"
	"slices"

	"example.com/sawdatum/model"
)

// ladder is every height that a kit makes, ascending, with the fewest rings that
// make it.
type ladder struct {
	sums    []model.Length
	fewest  []uint8
	byCount [][]model.Length // the same heights by their fewest rings
	tallest []model.Length   // greatest height of n rings
}

// ladder lists the heights up to top, and refuses to list more than most of them.
func (k Kit) ladder(top model.Length, most int) (ladder, error) {
	l := ladder{sums: []model.Length{0}, fewest: []uint8{0}, tallest: []model.Length{0}}
	for i, p := range k.pieces {
		l = l.with(p.Height, top)
		if len(l.sums) > most {
			return ladder{}, fmt.Errorf("these rings make more than %d different stack heights, too many to look through: write their thickness in fewer digits or leave some out", most)
		}
		l.tallest = append(l.tallest, l.tallest[i]+p.Height)
	}
	l.byCount = make([][]model.Length, len(k.pieces)+1)
	for i, s := range l.sums {
		l.byCount[l.fewest[i]] = append(l.byCount[l.fewest[i]], s)
	}
	return l, nil
}

// with adds one ring: the heights without it and the heights with it, merged.
func (l ladder) with(ring, top model.Length) ladder {
	size := min(2*len(l.sums), int(max(top, 0))) + 1
	out := ladder{sums: make([]model.Length, 0, size), fewest: make([]uint8, 0, size), tallest: l.tallest}
	for a, b := 0, 0; a < len(l.sums) || b < len(l.sums) && l.sums[b]+ring <= top; {
		switch {
		case b >= len(l.sums) || l.sums[b]+ring > top || a < len(l.sums) && l.sums[a] < l.sums[b]+ring:
			out.sums, out.fewest = append(out.sums, l.sums[a]), append(out.fewest, l.fewest[a])
			a++
		case a >= len(l.sums) || l.sums[a] > l.sums[b]+ring:
			out.sums, out.fewest = append(out.sums, l.sums[b]+ring), append(out.fewest, l.fewest[b]+1)
			b++
		default:
			out.sums, out.fewest = append(out.sums, l.sums[a]), append(out.fewest, min(l.fewest[a], l.fewest[b]+1))
			a, b = a+1, b+1
		}
	}
	return out
}

// atLeast is a lower bound of the rings over the rack for this standing stack and
// every higher one: so many of the thickest rings are needed for height alone.
func (l ladder) atLeast(needs []Need, standing model.Length) int {
	rings := l.toReach(standing)
	for _, n := range needs {
		rings += l.toReach(n.Height + standing - n.Within)
	}
	return rings
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
	next int   // first rung above the zone so far
	low  []int // rungs not below it that no later one with as few rings makes idle, fewest first
}

// at moves the window to a standing stack, not lower than the last, and gives the
// rings of the best stack, how far it lies outside the acceptance zone, and whether
// there is one inside.
func (w *window) at(standing model.Length) (rings int, excess model.Length, fits bool) {
	want := w.Height + standing
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
		return int(w.fewest[w.low[0]]), 0, true
	}
	near, ok := w.beside(want)
	if !ok {
		return 0, max(want.Abs()-w.Within, 0), false
	}
	return int(w.fewest[near]), (w.sums[near] - want).Abs() - w.Within, false
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
