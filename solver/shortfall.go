package solver

import (
	"fmt"
	"strings"

	"example.com/sawdatum/model"
)

// Shortfall says why no stack fits and what would cure it, with figures. f is an
// answer of this kit. Nil: the verdict is In.
func (k Kit) Shortfall(f Fit, w Words) []model.Reason {
	say := func(code, format string, a ...any) []model.Reason { return one(code, model.Warns, format, a...) }
	if f.Verdict != model.Cannot {
		return nil
	}
	allowed := f.Zone.Toward
	if f.Residual() < 0 {
		allowed = f.Zone.Away
	}
	excess := fmt.Sprintf(": %s more than the %s allowed", w.figure(f.Excess()), w.figure(allowed))
	if allowed <= 0 {
		excess = ", and none is allowed"
	}
	low, high := f.span()
	whole := model.Length(0)
	for _, p := range k.pieces {
		whole += p.Height
	}
	switch {
	case f.Highest < 0:
		return one("thread", model.Danger, "the nut lacks %s of thread even without rings: this blade does not go on this arbor", w.figure(-f.Highest))
	case f.Want < 0:
		return say("negative-want", "the wanted height is %s: rings only move the cut face further, so no stack can make it", w.figure(f.Want))
	case low > f.Highest:
		return append(say("thread-limit", "the wanted height of %s is over the %s that the thread allows: the highest stack under it is %s, %s short", w.figure(f.Want), w.figure(f.Highest), w.stack(f.Rings), w.figure(f.Want-f.Height)),
			say("cure", "lower the standing stack or choose another reference blade")...)
	case low > whole:
		return append(say("kit-short", "the whole kit is %s high and %s is wanted: %s is missing", w.figure(whole), w.figure(f.Want), w.figure(f.Want-whole)),
			say("cure", "get rings of %s to %s more", w.figure(low-whole), w.figure(min(high, f.Highest)-whole))...)
	}
	side, miss := "over", f.Height-f.Want
	if miss < 0 {
		side, miss = "short of", -miss
	}
	out := say("kit-cannot", "the nearest stack, %s, is %s %s the wanted %s%s", w.stack(f.Rings), w.figure(miss), side, w.figure(f.Want), excess)
	base, err := k.Best(Goal{Want: f.Want, Highest: min(f.Want, f.Highest), Flange: f.Flange})
	if err != nil {
		return out
	}
	from, to := low-base.Height, min(high, f.Highest)-base.Height
	size := w.figure(from) + " to " + w.figure(to)
	if from >= to {
		size = w.figure(to)
	}
	if len(base.Rings) == 0 {
		return append(out, say("cure", "a ring of %s would make it", size)...)
	}
	return append(out, say("cure", "one more ring of %s with %s would make it", size, w.stack(base.Rings))...)
}

// figure is a length in a sentence about stacks: as a computed length where the
// shop's caliper is known, else with every digit.
func (w Words) figure(l model.Length) string {
	if w.Resolution == 0 {
		return l.Of(w.Unit).String()
	}
	return w.result(l)
}

// signed is a residual: plus is toward the fence.
func (w Words) signed(l model.Length) string {
	if l > 0 {
		return "+" + w.result(l)
	}
	return w.result(l)
}

// stack names rings by their height, flange first.
func (w Words) stack(rings []Piece) string {
	if len(rings) == 0 {
		return "no rings"
	}
	var heights []string
	var sum model.Length
	for _, r := range rings {
		heights = append(heights, r.Height.Of(w.Unit).String())
		sum += r.Height
	}
	if len(rings) == 1 {
		return heights[0]
	}
	return strings.Join(heights, " + ") + " = " + sum.Of(w.Unit).String()
}
