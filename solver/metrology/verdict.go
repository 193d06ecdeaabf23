package metrology

import (
	"example.com/sawdatum/model"
)

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

// Guard decides on a predicted residual, whose uncertainty u is Offset.WithRings, and says why.
func Guard(residual, u, tolerance model.Length, w Words) (model.Verdict, []model.Reason) {
	v := Decide(residual, u, tolerance)
	return v, model.Because("predicted-"+string(v), model.Explains, "predicted: %s, give or take %s; the tolerance is %s, and its strips decide", Where(residual, w), w.Result(u), w.Result(tolerance))
}

// Where says in words where a residual puts the cut face: positive is toward the fence. One
// that shows as zero has no side.
func Where(residual model.Length, w Words) string {
	shown := w.Result(residual.Abs())
	switch {
	case shown == w.Result(0):
		return "the cut face lies on the datum face"
	case residual > 0:
		return "the cut face lies " + shown + " from the datum face, toward the fence"
	}
	return "the cut face lies " + shown + " from the datum face, away from the fence"
}
