package stacking

import (
	"fmt"

	"example.com/sawdatum/model"
)

// Need is what one blade wants of the kit. Height is the stack it would want if no
// ring stood behind the reference; it may be negative. Zone and Highest are as in
// Goal; the zone holds those of the doubt.
type Need struct {
	ID      string
	Height  model.Length
	Zone    Zone
	Highest model.Length
	Doubt   *Doubt // nil: nothing is unknown of the rings
}

// RackFit is a standing stack and what it does for every blade. The standing stack
// is the height that every other blade is raised by.
type RackFit struct {
	Standing Fit
	Blades   []Fit // in the order of the needs
	Score
	Looked model.Length // standing stacks were looked through up to this height; Partly: higher ones were not, and one may be better
	Partly bool
}

// Score is the goal of a rack, the earlier field first; smaller is better.
type Score struct {
	Cannot int          // blades that no stack brings into their acceptance zone
	Unsure int          // those, and blades that are not in whatever is not known of the rings
	Excess model.Length // worst distance beyond the zone where they would be, among those
	Rings  int          // over the rack, the standing stack counted once
	Worst  model.Length // worst |residual|
}

// Less orders scores.
func (s Score) Less(o Score) bool {
	switch {
	case s.Cannot != o.Cannot:
		return s.Cannot < o.Cannot
	case s.Unsure != o.Unsure:
		return s.Unsure < o.Unsure
	case s.Excess != o.Excess:
		return s.Excess < o.Excess
	case s.Rings != o.Rings:
		return s.Rings < o.Rings
	}
	return s.Worst < o.Worst
}

// MaxHeights bounds the different stack heights that a rack plan lists at once: a rack of twelve blades
// and 32 rings of any thickness is looked through whole where the blades have 0.003 mm of zone.
const MaxHeights = 700_000

// Rack finds the standing stack, no higher than highest, with the least Score, and
// of equals the lowest. Each blade takes the stack that Surest gives it, and may use
// the whole kit, since one blade at a time is on the arbor. The result is exact:
// every height that the kit makes is looked at, or ruled out by a bound; but where more
// than MaxHeights heights would have to be listed for that, it is the best of the standing
// stacks up to Looked, and says so. It refuses what Best refuses.
func (k Kit) Rack(needs []Need, highest model.Length, flange model.Flange) (RackFit, error) {
	for _, n := range needs {
		if err := n.Goal(0, flange).check(); err != nil {
			return RackFit{}, fmt.Errorf("blade %s: %w", model.Clip(n.ID), err)
		}
	}
	w := walk{kit: k, needs: needs, flange: flange, highest: highest, whole: k.tallest()[len(k.pieces)]}
	looked, partly, err := w.search()
	if err != nil {
		return RackFit{}, err
	}
	out, err := k.On(w.standing, highest, needs, flange)
	out.Looked, out.Partly = looked, partly
	return out, err
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
		fit, err := k.Surest(n.Goal(standing, flange), n.Doubt, n.Judged(out.Standing.IDs()))
		if err != nil {
			return RackFit{}, fmt.Errorf("blade %s: %w", model.Clip(n.ID), err)
		}
		if fit.Verdict == model.Cannot {
			out.Cannot++
		}
		if !fit.Sure {
			out.Unsure++
			out.Excess = max(out.Excess, fit.Beyond)
		}
		out.Rings += len(fit.Rings)
		out.Worst = max(out.Worst, fit.Residual().Abs())
		out.Blades = append(out.Blades, fit)
	}
	return out, nil
}

// Judged lists the rings that the offset holds: those behind the reference, until a cut
// judged others.
func (n Need) Judged(standing []string) []string {
	if n.Doubt == nil || n.Doubt.Judged == nil {
		return standing
	}
	return n.Doubt.Judged
}

// Goal is what a blade asks of the kit with a standing stack behind the reference.
func (n Need) Goal(standing model.Length, flange model.Flange) Goal {
	return Goal{Want: n.Height + standing, Zone: n.Zone, Highest: n.Highest, Flange: flange}
}
