package stacking

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
	doubted  bool    // some blade is
	least    float64 // smallest variance of a ring of the kit
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
	for i, p := range w.kit.pieces {
		if i == 0 || p.Variance < w.least {
			w.least = p.Variance
		}
	}
	for i := range w.needs {
		n := &w.needs[i]
		w.doubted = w.doubted || n.Doubt != nil
		n.Highest = min(n.Highest, w.whole)
		if low, high := n.Goal(0, w.flange).span(); n.Highest >= 0 && min(low, (low+high)/2) > n.Highest {
			fit, _ := w.kit.Best(n.Goal(0, w.flange)) // was checked
			w.under[i] = &rung{fit.Height, len(fit.Rings)}
		}
	}
}

// search goes up in reaches, each twice as high as the last, on a ladder just high
// enough: what the lowest standing stacks achieve mostly rules out all the others, which
// need more rings for height alone, long before the millions of heights up there are
// listed. partly: the heights that it would take are too many, and what is found is the best
// of the standing stacks up to looked.
func (w *walk) search() (looked model.Length, partly bool, err error) {
	if w.highest < 0 {
		return 0, false, nil
	}
	w.ready()
	var spread, thickest model.Length // highest end of a zone over the standing stack
	for i, n := range w.needs {
		if w.under[i] == nil {
			low, high := n.Goal(0, w.flange).span()
			spread = max(spread, n.Height, low, high)
		}
	}
	if len(w.kit.pieces) > 0 {
		thickest = w.kit.pieces[0].Height
	}
	top := min(w.highest, w.whole)
	margin, rungs := model.Length(0), new(room)
	for from, reach := model.Length(-1), model.Length(0); from < top; {
		l, ok := w.kit.ladder(rungs, w.flange, min(reach+spread+margin, w.whole), MaxHeights)
		if !ok {
			return max(from, 0), true, nil
		}
		done, short, err := w.climb(l, from, reach)
		switch {
		case err != nil:
			return 0, false, err
		case done:
			return top, false, nil
		case short:
			// One ring more than the nearest height below is above: no gap is wider.
			margin = thickest
		default:
			from, reach = reach, min(max(2*reach, thickest/8, 1), top)
		}
	}
	return top, false, nil
}

// climb looks at the standing stacks above from up to reach. done: none above is
// better. short: the ladder ends too low to tell.
func (w *walk) climb(l ladder, from, reach model.Length) (done, short bool, err error) {
	slides := make([]slide, len(w.needs))
	for i, n := range w.needs {
		slides[i] = w.slide(&l, n, w.under[i])
	}
	before := *w
	first, _ := slices.BinarySearch(l.sums, from+1)
	for i := first; i < len(l.sums) && l.sums[i] <= reach; i++ {
		if w.over(l, l.sums[i]) {
			return true, false, nil
		}
		s, better, short := l.score(slides, i, w.best, w.found)
		switch {
		case short:
			*w = before
			return false, true, nil
		case better && w.doubted:
			on, err := w.kit.On(l.sums[i], w.highest, w.needs, w.flange)
			if err != nil {
				return false, false, err
			}
			s, better = on.Score, !w.found || on.Score.Less(w.best)
		}
		if better {
			w.standing, w.best, w.found = l.sums[i], s, true
		}
	}
	return w.over(l, reach+1), false, nil
}

// over reports whether no standing stack of this height or a greater one is better.
func (w *walk) over(l ladder, standing model.Length) bool {
	return w.found && !l.atLeast(w.needs, standing).Less(w.best)
}

// slide is what one blade's zones hold as the standing stack rises.
type slide struct {
	window              // the zone of the goal
	sure   *window      // the widest zone in which a stack can be sure; nil: that of the goal
	same   model.Length // how far outside the blade is on the very stack that stands
}

func (w *walk) slide(l *ladder, n Need, under *rung) slide {
	s := slide{window: window{ladder: l, Need: n, under: under}}
	if n.Doubt == nil {
		return s
	}
	// A stack differs from what the offset holds in one ring at least, unless it is that
	// very stack, on which the blade stands as it does without rings.
	zone := n.Doubt.widest(w.least)
	s.same = n.Doubt.widest(0).Excess(Residual(w.flange, 0, n.Height))
	if n.Doubt.Judged != nil || s.same == 0 {
		zone, s.same = n.Doubt.widest(0), model.MaxLength
	}
	n.Zone = Zone{min(zone.Toward, n.Zone.Toward), min(zone.Away, n.Zone.Away)}
	s.sure = &window{ladder: l, Need: n}
	return s
}

// score is what the standing stack sums[at] is worth, or, where there is doubt, the least that it
// can be worth, and whether that is less than the best so far. It stops as soon as it
// cannot be. short: the ladder ends too low to tell.
func (l ladder) score(slides []slide, at int, best Score, found bool) (s Score, better, short bool) {
	s = Score{Rings: int(l.fewest[at])}
	certain := make([]bool, len(slides))
	for i := range slides {
		w := &slides[i]
		rings, excess, fits, unsure := w.at(l.sums[at])
		short = short || unsure
		certain[i] = fits
		if !fits {
			s.Cannot++
		}
		if w.sure != nil {
			most, beyond, in, _ := w.sure.at(l.sums[at])
			certain[i] = in
			if in {
				rings = most
			}
			excess = max(excess, min(beyond, w.same))
		}
		if !certain[i] {
			s.Unsure++
			s.Excess = max(s.Excess, excess)
		}
		s.Rings += rings
		if found && (s.Cannot > best.Cannot || s.Cannot == best.Cannot && (s.Unsure > best.Unsure || s.Unsure == best.Unsure && s.Excess > best.Excess) || best.Unsure == 0 && s.Rings > best.Rings) {
			return s, false, false
		}
	}
	if short {
		return s, false, true
	}
	if found && best.Less(s) {
		return s, false, false
	}
	for i := range slides {
		w := &slides[i].window
		switch {
		case slides[i].sure == nil:
		case certain[i]:
			w = slides[i].sure
		default:
			continue // of these nothing is known yet
		}
		s.Worst = max(s.Worst, w.miss(l.sums[at]))
		if found && !s.Less(best) {
			return s, false, false
		}
	}
	return s, true, false
}
