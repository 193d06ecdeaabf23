package stacking

import (
	"cmp"
	"slices"
	"sort"

	"example.com/sawdatum/model"
)

// ladder is every height that a kit makes up to top, ascending, with the fewest rings
// that make it.
type ladder struct {
	flange  model.Flange
	top     model.Length
	whole   bool // the kit makes nothing above top
	sums    []model.Length
	fewest  []uint8
	byCount [][]model.Length // the same heights by their fewest rings
	tallest []model.Length   // greatest height of n rings
}

// room is what ladders are written into, one after the other: a new one takes the place of
// the last.
type room struct {
	sums    [2][]model.Length
	fewest  [2][]uint8
	byCount []model.Length
}

// ladder lists the heights up to top; false where they are more than most.
func (k Kit) ladder(r *room, flange model.Flange, top model.Length, most int) (ladder, bool) {
	l := ladder{flange: flange, top: top, sums: append(r.sums[0][:0], 0), fewest: append(r.fewest[0][:0], 0), tallest: k.tallest()}
	l.whole = top >= l.tallest[len(k.pieces)]
	// Two ladders take turns: each ring makes one of the other.
	spare := ladder{sums: r.sums[1], fewest: r.fewest[1]}
	defer func() {
		r.sums, r.fewest = [2][]model.Length{l.sums, spare.sums}, [2][]uint8{l.fewest, spare.fewest}
	}()
	for _, p := range k.pieces {
		spare = spare.with(l, p.Height, most)
		l.sums, l.fewest, spare.sums, spare.fewest = spare.sums, spare.fewest, l.sums, l.fewest
		if len(l.sums) > most {
			return ladder{}, false
		}
	}
	size := make([]int, len(k.pieces)+1)
	for _, n := range l.fewest {
		size[n]++
	}
	l.byCount = make([][]model.Length, len(size))
	r.byCount = slices.Grow(r.byCount[:0], len(l.sums))
	for n, at := 0, 0; n < len(size); n++ {
		l.byCount[n] = r.byCount[at : at : at+size[n]]
		at += size[n]
	}
	for i, s := range l.sums {
		l.byCount[l.fewest[i]] = append(l.byCount[l.fewest[i]], s)
	}
	return l, true
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
// into what to held before; where they are more than most, the lowest of them, and one too many.
func (to ladder) with(l ladder, ring model.Length, most int) ladder {
	end := sort.Search(len(l.sums), func(i int) bool { return l.sums[i]+ring > l.top })
	size := min(len(l.sums)+end, most+1)
	sums, fewest := slices.Grow(to.sums[:0], size), slices.Grow(to.fewest[:0], size)
	for a, b := 0, 0; (a < len(l.sums) || b < end) && len(sums) <= most; {
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
		low, high := n.Goal(standing, l.flange).span()
		if low > min(high, n.Highest) || n.Highest < 0 {
			s.Cannot, s.Unsure, s.Excess = s.Cannot+1, s.Unsure+1, max(s.Excess, low-min(max(n.Highest, 0), (low+high)/2))
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
	g := w.Goal(standing, w.flange)
	if w.under != nil {
		return w.under.rings, w.excess(g, w.under.height), false, false
	}
	low, high := g.span()
	for top := min(high, w.Highest); w.next < len(w.sums) && w.sums[w.next] <= top; w.next++ {
		for len(w.low) > 0 && w.fewest[w.low[len(w.low)-1]] >= w.fewest[w.next] {
			w.low = w.low[:len(w.low)-1]
		}
		w.low = append(w.low, w.next)
	}
	below := 0
	for below < len(w.low) && w.sums[w.low[below]] < low {
		below++
	}
	w.low = slices.Delete(w.low, 0, below)
	if len(w.low) > 0 {
		return int(w.fewest[w.low[0]]), 0, true, false
	}
	near := w.beside(g)
	if near < 0 {
		return 0, w.excess(g, 0), false, false
	}
	if !w.whole && w.top < w.Highest && 2*w.top-low-high < (2*w.sums[near]-low-high).Abs() {
		return 0, w.excess(g, max(w.top, (low+high)/2)), false, true
	}
	return int(w.fewest[near]), w.excess(g, w.sums[near]), false, false
}

// excess is how far a stack of a height lies outside the zone.
func (w *window) excess(g Goal, height model.Length) model.Length {
	return g.Zone.Excess(Residual(w.flange, height, g.Want))
}

// beside is the rung nearest to the middle of the zone, of two the one with fewer rings,
// then the one nearer to the wanted height; -1: there is none.
func (w *window) beside(g Goal) int {
	low, high := g.span()
	above := sort.Search(len(w.sums), func(i int) bool { return w.sums[i] > w.Highest || 2*w.sums[i] >= low+high })
	off := func(i int) model.Length { return (2*w.sums[i] - low - high).Abs() }
	switch {
	case above == len(w.sums) || w.sums[above] > w.Highest:
		return above - 1
	case above == 0:
		return 0
	}
	return slices.MinFunc([]int{above - 1, above}, func(a, b int) int {
		return cmp.Or(cmp.Compare(off(a), off(b)), cmp.Compare(w.fewest[a], w.fewest[b]), cmp.Compare((w.sums[a]-g.Want).Abs(), (w.sums[b]-g.Want).Abs()))
	})
}

// miss is the |residual| of the best stack: by number of rings, the nearest height
// that takes so many, until one lies in the zone.
func (w *window) miss(standing model.Length) model.Length {
	g := w.Goal(standing, w.flange)
	if w.under != nil {
		return (g.Want - w.under.height).Abs()
	}
	low, high := g.span()
	high = min(high, w.Highest)
	for _, heights := range w.byCount {
		if miss := nearestTo(heights, g.Want, low, high); miss >= 0 {
			return miss
		}
	}
	if near := w.beside(g); near >= 0 {
		return (w.sums[near] - g.Want).Abs()
	}
	return g.Want.Abs()
}

// nearestTo is the distance of the nearest of ascending heights from low to high; -1:
// none lies there.
func nearestTo(heights []model.Length, want, low, high model.Length) model.Length {
	miss := model.Length(-1)
	i, _ := slices.BinarySearch(heights, max(min(want, high), low))
	for _, j := range []int{i - 1, i} {
		if j < 0 || j >= len(heights) || heights[j] < low || heights[j] > high {
			continue
		}
		if m := (heights[j] - want).Abs(); miss < 0 || m < miss {
			miss = m
		}
	}
	return miss
}
