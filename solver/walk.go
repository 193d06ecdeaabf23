package solver

import (
	"slices"

	"example.com/sawdatum/model"
)

// walk looks for the best standing stack of a rack.
type walk struct {
	kit      Kit
	needs    []Need
	flange   model.Flange
	highest  model.Length // of the standing stack
	whole    model.Length // height of the whole kit
	standing model.Length // the best so far
	best     Score
	found    bool
	under    []*rung // by blade: the highest stack that goes on, where its zone is out of reach
}

// rung is one height of a kit.
type rung struct {
	height model.Length
	rings  int
}

// ready limits every blade to the whole kit, and finds the blades whose zone lies beyond
// what may go on: they only lie farther beyond the higher the standing stack, and take
// the same stack on all of them.
func (w *walk) ready() {
	w.needs, w.under = slices.Clone(w.needs), make([]*rung, len(w.needs))
	for i := range w.needs {
		n := &w.needs[i]
		n.Highest = min(n.Highest, w.whole)
		if low, high := n.goal(0, w.flange).span(); n.Highest >= 0 && min(low, (low+high)/2) > n.Highest {
			fit, _ := w.kit.Best(n.goal(0, w.flange)) // was checked
			w.under[i] = &rung{fit.Height, len(fit.Rings)}
		}
	}
}

// search goes up in reaches, each twice as high as the last, on a ladder just high
// enough: what the lowest standing stacks achieve mostly rules out all the others, which
// need more rings for height alone, long before the millions of heights up there are
// listed.
func (w *walk) search() error {
	if w.highest < 0 {
		return nil
	}
	w.ready()
	var spread, thickest model.Length // highest zone of a blade over the standing stack
	for i, n := range w.needs {
		if w.under[i] == nil {
			_, high := n.goal(0, w.flange).span()
			spread = max(spread, n.Height, high)
		}
	}
	if len(w.kit.pieces) > 0 {
		thickest = w.kit.pieces[0].Height
	}
	top := min(w.highest, w.whole)
	margin := model.Length(0)
	for from, reach := model.Length(-1), model.Length(0); from < top; {
		l, err := w.kit.ladder(w.flange, min(reach+spread+margin, w.whole), MaxHeights)
		if err != nil {
			return err
		}
		done, short := w.climb(l, from, reach)
		switch {
		case done:
			return nil
		case short:
			// One ring more than the nearest height below is above: no gap is wider.
			margin = thickest
		default:
			from, reach = reach, min(max(2*reach, thickest/8, 1), top)
		}
	}
	return nil
}

// climb looks at the standing stacks above from up to reach. done: none above is
// better. short: the ladder ends too low to tell.
func (w *walk) climb(l ladder, from, reach model.Length) (done, short bool) {
	windows := make([]window, len(w.needs))
	for i, n := range w.needs {
		windows[i] = window{ladder: &l, Need: n, under: w.under[i]}
	}
	before := *w
	first, _ := slices.BinarySearch(l.sums, from+1)
	for i := first; i < len(l.sums) && l.sums[i] <= reach; i++ {
		if w.over(l, l.sums[i]) {
			return true, false
		}
		s, better, short := l.score(windows, i, w.best, w.found)
		if short {
			*w = before
			return false, true
		}
		if better {
			w.standing, w.best, w.found = l.sums[i], s, true
		}
	}
	return w.over(l, reach+1), false
}

// over reports whether no standing stack of this height or a greater one is better.
func (w *walk) over(l ladder, standing model.Length) bool {
	return w.found && !l.atLeast(w.needs, standing).Less(w.best)
}

// score is what the standing stack sums[at] is worth, and whether that is less than
// the best so far. It stops as soon as it cannot be. short: the ladder ends too low to
// tell.
func (l ladder) score(windows []window, at int, best Score, found bool) (s Score, better, short bool) {
	s = Score{Rings: int(l.fewest[at])}
	for i := range windows {
		rings, excess, fits, unsure := windows[i].at(l.sums[at])
		s.Rings += rings
		short = short || unsure
		if !fits {
			s.Cannot++
			s.Excess = max(s.Excess, excess)
		}
		if found && (s.Cannot > best.Cannot || s.Cannot == best.Cannot && s.Excess > best.Excess || best.Cannot == 0 && s.Rings > best.Rings) {
			return s, false, false
		}
	}
	if short {
		return s, false, true
	}
	if found && best.Less(s) {
		return s, false, false
	}
	for i := range windows {
		s.Worst = max(s.Worst, windows[i].miss(l.sums[at]))
		if found && !s.Less(best) {
			return s, false, false
		}
	}
	return s, true, false
}
