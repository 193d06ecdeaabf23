package solver

import (
	"fmt"

	"example.com/sawdatum/model"
)

// Need is what one blade wants of the kit. Height is the stack it would want if no
// ring stood behind the reference; it may be negative. Within and Highest are as in
// Goal.
type Need struct {
	ID      string
	Height  model.Length
	Within  model.Length
	Highest model.Length
}

// RackFit is a standing stack and what it does for every blade. The standing stack
// is the height that every other blade is raised by.
type RackFit struct {
	Standing Fit
	Blades   []Fit // in the order of the needs
	Score
}

// Score is the goal of a rack, the earlier field first; smaller is better.
type Score struct {
	Cannot int          // blades that no stack brings into their acceptance zone
	Excess model.Length // worst distance beyond the zone among those
	Rings  int          // over the rack, the standing stack counted once
	Worst  model.Length // worst |residual|
}

// Less orders scores.
func (s Score) Less(o Score) bool {
	switch {
	case s.Cannot != o.Cannot:
		return s.Cannot < o.Cannot
	case s.Excess != o.Excess:
		return s.Excess < o.Excess
	case s.Rings != o.Rings:
		return s.Rings < o.Rings
	}
	return s.Worst < o.Worst
}

// MaxHeights bounds the different stack heights that a rack plan looks through.
const MaxHeights = 1 << 25

// Rack finds the standing stack, no higher than highest, with the least Score, and
// of equals the lowest. Each blade takes the stack that Best gives it, and may use
// the whole kit, since one blade at a time is on the arbor. The result is exact:
// every height that the kit makes is looked at, or ruled out by a bound. It refuses
// what Best refuses, and a kit that makes more than MaxHeights heights.
func (k Kit) Rack(needs []Need, highest model.Length, flange model.Flange) (RackFit, error) {
	for _, n := range needs {
		if err := n.goal(0, flange).check(); err != nil {
			return RackFit{}, fmt.Errorf("blade %s: %w", model.Clip(n.ID), err)
		}
	}
	top := highest
	for _, n := range needs {
		top = max(top, n.Highest)
	}
	l, err := k.ladder(top, MaxHeights)
	if err != nil {
		return RackFit{}, err
	}
	windows := make([]window, len(needs))
	for i, n := range needs {
		windows[i] = window{ladder: &l, Need: n}
	}
	standing, found := model.Length(0), false
	var best Score
	for i := 0; i < len(l.sums) && l.sums[i] <= highest; i++ {
		if found && best.Cannot == 0 && l.atLeast(needs, l.sums[i]) > best.Rings {
			break
		}
		if s, better := l.score(windows, i, best, found); better {
			standing, best, found = l.sums[i], s, true
		}
	}
	return k.On(standing, highest, needs, flange)
}

// On is the rack with a standing stack of the given height, made of the fewest
// rings. A height that the kit does not make gives a Standing with verdict Cannot,
// and the blades are fitted to the height as given.
func (k Kit) On(standing, highest model.Length, needs []Need, flange model.Flange) (RackFit, error) {
	var out RackFit
	var err error
	if out.Standing, err = k.Best(Goal{Want: standing, Highest: highest, Flange: flange}); err != nil {
		return RackFit{}, err
	}
	out.Rings = len(out.Standing.Rings)
	for _, n := range needs {
		fit, err := k.Best(n.goal(standing, flange))
		if err != nil {
			return RackFit{}, fmt.Errorf("blade %s: %w", model.Clip(n.ID), err)
		}
		if fit.Verdict == model.Cannot {
			out.Cannot++
			out.Excess = max(out.Excess, fit.Excess())
		}
		out.Rings += len(fit.Rings)
		out.Worst = max(out.Worst, fit.Residual().Abs())
		out.Blades = append(out.Blades, fit)
	}
	return out, nil
}

func (n Need) goal(standing model.Length, flange model.Flange) Goal {
	return Goal{Want: n.Height + standing, Within: n.Within, Highest: n.Highest, Flange: flange}
}

// score is what the standing stack sums[at] is worth, and whether that is less than
// the best so far. It stops as soon as it cannot be.
func (l ladder) score(windows []window, at int, best Score, found bool) (Score, bool) {
	s := Score{Rings: int(l.fewest[at])}
	for i := range windows {
		rings, excess, fits := windows[i].at(l.sums[at])
		s.Rings += rings
		if !fits {
			s.Cannot++
			s.Excess = max(s.Excess, excess)
		}
		if found && (s.Cannot > best.Cannot || s.Cannot == best.Cannot && s.Excess > best.Excess || best.Cannot == 0 && s.Rings > best.Rings) {
			return s, false
		}
	}
	if found && best.Less(s) {
		return s, false
	}
	for i := range windows {
		s.Worst = max(s.Worst, windows[i].miss(l.sums[at]))
		if found && !s.Less(best) {
			return s, false
		}
	}
	return s, true
}
