package stacking

import (
	"fmt"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// Shortfall says why no stack fits and what would cure it, with figures. f is an
// answer of this kit. Nil: the verdict is In.
func (k Kit) Shortfall(f Fit, w metrology.Words) []model.Reason {
	say := func(code, format string, a ...any) []model.Reason {
		return model.Because(code, model.Warns, format, a...)
	}
	if f.Verdict != model.Cannot {
		return nil
	}
	allowed := f.Zone.Away
	if f.Residual() > f.Zone.Toward {
		allowed = f.Zone.Toward
	}
	excess := fmt.Sprintf(": %s more than the %s allowed", w.Figure(f.Excess()), w.Figure(allowed))
	switch {
	case allowed == 0:
		excess = ", and none is allowed"
	case allowed < 0: // its knife stands so far back that the datum face itself is out
		excess = fmt.Sprintf(": by its knife the cut face has to lie %s or more from the datum face, away from the fence", w.Figure(-allowed))
	}
	low, high := f.span()
	whole := model.Length(0)
	for _, p := range k.pieces {
		whole += p.Height
	}
	switch {
	case f.Highest < 0:
		return model.Because("thread", model.Danger, "the nut lacks %s of thread even without rings: this blade does not go on this arbor", w.Figure(-f.Highest))
	case f.Want < 0:
		return say("negative-want", "the wanted height is %s: rings only move the cut face further, so no stack can make it", w.Figure(f.Want))
	case low > f.Highest:
		return append(say("thread-limit", "the wanted height of %s is over the %s that the thread allows: the highest stack under it is %s, %s short", w.Figure(f.Want), w.Figure(f.Highest), StackWords(f.Rings, w), w.Figure(f.Want-f.Height)),
			say("cure", "lower the standing stack or choose another reference blade")...)
	case low > whole:
		return append(say("kit-short", "the whole kit is %s high and %s is wanted: %s is missing", w.Figure(whole), w.Figure(f.Want), w.Figure(f.Want-whole)),
			say("cure", "get rings of %s more", fromTo(low-whole, min(high, f.Highest)-whole, w))...)
	}
	side, miss := "over", f.Height-f.Want
	if miss < 0 {
		side, miss = "short of", -miss
	}
	out := say("kit-cannot", "the nearest stack, %s, is %s %s the wanted %s%s", StackWords(f.Rings, w), w.Figure(miss), side, w.Figure(f.Want), excess)
	base, err := k.Best(Goal{Want: low, Highest: min(low, f.Highest)}) // the highest under it
	if err != nil {
		return out
	}
	size := fromTo(low-base.Height, min(high, f.Highest)-base.Height, w)
	if len(base.Rings) == 0 {
		return append(out, say("cure", "a ring of %s would make it", size)...)
	}
	return append(out, say("cure", "one more ring of %s with %s would make it", size, StackWords(base.Rings, w))...)
}

// fromTo is what lies between two lengths, or one where they are the same.
func fromTo(from, to model.Length, w metrology.Words) string {
	if from >= to {
		return w.Figure(to)
	}
	return w.Figure(from) + " to " + w.Figure(to)
}
