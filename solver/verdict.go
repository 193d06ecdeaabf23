package solver

import (
	"fmt"

	"example.com/sawdatum/model"
)

// mostFurther is how many further readings of a half anybody is sent to take.
const mostFurther = 50

// worthReading is how many further readings of a half somebody takes who has a board to
// cut anew instead (common practice).
const worthReading = 12

// Assessment is a verdict with what it would take to settle a doubtful one. More is
// how many further readings of the blade's half are expected to do so; 0: none are
// needed, or, with MoreReference, of that half; -1: this caliper cannot settle it.
type Assessment struct {
	Verdict       model.Verdict
	More          int
	MoreReference int // further readings of the reference half, where it needs them too
	Reasons       []model.Reason
}

// Decide is guarded acceptance with a guard band of the whole expanded uncertainty
// (ILAC-G8:09/2019): in where |residual| + u <= tolerance, out where
// |residual| - u > tolerance, else doubtful. Lengths compare in whole nanometres; a
// negative u or tolerance is never in.
func Decide(residual, u, tolerance model.Length) model.Verdict {
	r := residual.Abs()
	switch {
	case u < 0 || tolerance < 0:
		return model.Doubtful
	case r <= tolerance-u:
		return model.In
	case r-u > tolerance:
		return model.Out
	}
	return model.Doubtful
}

// Assess decides on the residual of a measured offset, + = toward the fence, whose
// uncertainty is o.U. With fewer than EnoughReadings it stays doubtful.
func Assess(o Offset, residual, tolerance model.Length, w Words) Assessment {
	a := Assessment{Verdict: Decide(residual, o.U, tolerance)}
	if o.Short > 0 {
		a.Verdict, a.More = model.Doubtful, o.Short
		a.say("few-readings", model.Warns, "take %d more %s before the verdict counts", o.Short, plural(o.Short, "reading", "readings"))
		return a
	}
	switch a.Verdict {
	case model.In:
		a.say("in", model.Explains, "%s; with its uncertainty of %s it stays within the tolerance of %s", where(residual, w), w.result(o.U), w.result(tolerance))
	case model.Out:
		a.say("out", model.Warns, "%s; even with its uncertainty of %s taken off, that is more than the tolerance of %s: change the rings and cut again", where(residual, w), w.result(o.U), w.result(tolerance))
	default:
		a.further(o, residual, tolerance, w)
	}
	return a
}

// further looks for the readings that would settle a doubtful residual, if they
// fell as those before: of the blade's half alone, else of both.
func (a *Assessment) further(o Offset, residual, tolerance model.Length, w Words) {
	settles := func(blade, reference int) bool {
		u, err := Combine(Coverage, o.contributions(blade, reference)...)
		return err == nil && Decide(residual, rounded(u.Expanded), tolerance) != model.Doubtful
	}
	doubt := fmt.Sprintf("%s; with an uncertainty of %s and a tolerance of %s the verdict could go either way", where(residual, w), w.result(o.U), w.result(tolerance))
	for n := 1; n <= mostFurther && o.Basis == model.Measured; n++ {
		if settles(n, 0) {
			a.More = n
			a.say("more-readings", model.Warns, "%s: %d more %s of the blade's half should settle it", doubt, n, plural(n, "reading", "readings"))
			a.uneven(n)
			return
		}
	}
	for n := 1; n <= mostFurther && o.Basis == model.Measured && !o.zeroed; n++ {
		if settles(n, n) {
			a.More, a.MoreReference = n, n
			a.say("more-readings", model.Warns, "%s: %d more %s of each half should settle it", doubt, n, plural(n, "reading", "readings"))
			a.uneven(n)
			return
		}
	}
	a.More = -1
	if o.Basis == model.Predicted {
		a.More = 0
		a.say("cut-decides", model.Warns, "%s: the comparison cut decides", doubt)
		return
	}
	a.say("caliper-cannot", model.Warns, "%s: this caliper cannot settle it: bring the blade nearer the datum face by its rings, or use a caliper that reads finer and repeats better", doubt)
}

// uneven says what to do rather than take so many readings.
func (a *Assessment) uneven(n int) {
	if n > worthReading {
		a.say("uneven", model.Warns, "so many are hardly worth taking, since the piece reads unevenly: look for a burr on its edges, dirt on the jaws of the caliper or a board that left the fence, joint the edge that runs along it, and cut a fresh piece")
	}
}

// Guard decides on a predicted residual, whose uncertainty u is Offset.WithRings.
func Guard(residual, u, tolerance model.Length, w Words) Assessment {
	a := Assessment{Verdict: Decide(residual, u, tolerance)}
	a.say("predicted-"+string(a.Verdict), model.Explains, "predicted: %s, give or take %s; the tolerance is %s, and the comparison cut decides", where(residual, w), w.result(u), w.result(tolerance))
	return a
}

// Surprise reports a measured offset that lies farther from the predicted one than
// both expanded uncertainties together. The reading is kept; the user is told where
// to look. Nil: they agree.
func Surprise(flange model.Flange, measured, measuredU, predicted, predictedU model.Length, w Words) []model.Reason {
	gap := measured - predicted
	if gap.Abs() <= measuredU+predictedU {
		return nil
	}
	side := "wider"
	if gap < 0 {
		side = "narrower"
	}
	return []model.Reason{{Code: "off-prediction", Weight: model.Warns, Text: fmt.Sprintf(
		"the part came out %s %s than the micrometer readings say, more than the %s that both may be off: look for %s",
		w.result(gap.Abs()), side, w.result(measuredU+predictedU), model.LikelyCauses(flange, gap))}}
}

// where says a residual in words. One that shows as zero has no side.
func where(residual model.Length, w Words) string {
	shown := w.result(residual.Abs())
	switch {
	case shown == w.result(0):
		return "the cut face lies on the datum face"
	case residual > 0:
		return "the cut face lies " + shown + " from the datum face, toward the fence"
	}
	return "the cut face lies " + shown + " from the datum face, away from the fence"
}

func (a *Assessment) say(code string, weight model.Weight, format string, args ...any) {
	a.Reasons = append(a.Reasons, model.Reason{Code: code, Weight: weight, Text: fmt.Sprintf(format, args...)})
}
