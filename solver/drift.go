package solver

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
)

// d2 turns the mean range of two neighbours into a standard deviation (NIST/SEMATECH
// e-Handbook 6.3.2.2).
const d2 = 1.128

// What a sharpening takes off the kerf of a 10-inch blade (from memory).
const (
	leastLoss = 10_000 * model.Nanometre
	mostLoss  = 50_000 * model.Nanometre
)

// Proof is one proof cut of a blade: its residual, + = toward the fence.
type Proof struct {
	At       time.Time
	By       string
	Residual model.Length
}

// Chart is an individuals chart of proofs over time. Limits stand three standard
// deviations from the mean, by the mean moving range.
type Chart struct {
	Mean, MeanRange, Lower, Upper float64 // nanometres
	Beyond                        []int   // proofs outside the limits, by index
	Reasons                       []model.Reason
}

// Drift charts a blade's proofs, oldest first. Fewer than two, and residuals beyond
// model.MaxLength, are errors. Limits of fewer than eight proofs are called early.
func Drift(proofs []Proof, tolerance model.Length, w Words) (Chart, error) {
	if len(proofs) < 2 {
		return Chart{}, errors.New("a chart needs two proofs at least: prove the blade again another day")
	}
	values, ranges := make([]float64, len(proofs)), make([]float64, len(proofs)-1)
	for i, p := range proofs {
		if beyond(p.Residual) {
			return Chart{}, fmt.Errorf("proof %d is larger than anything on a saw: check the digits and the unit", i+1)
		}
		values[i] = float64(p.Residual)
		if i > 0 {
			ranges[i-1] = float64((p.Residual - proofs[i-1].Residual).Abs())
		}
	}
	c := Chart{Mean: stat.Mean(values, nil), MeanRange: stat.Mean(ranges, nil)}
	c.Lower, c.Upper = c.Mean-3/d2*c.MeanRange, c.Mean+3/d2*c.MeanRange
	var named []string
	for i, v := range values {
		if v < c.Lower || v > c.Upper {
			c.Beyond = append(c.Beyond, i)
			named = append(named, strings.TrimSpace(proofs[i].At.UTC().Format("2006-01-02")+" "+proofs[i].By)+" at "+proofs[i].Residual.Signed(w.Unit, w.Resolution/10))
		}
	}
	switch {
	case len(named) > 0:
		c.Reasons = one("drift-beyond", model.Warns, "outside the limits of %s to %s: %s; find out what changed then", w.result(rounded(c.Lower)), w.result(rounded(c.Upper)), strings.Join(named, ", "))
	default:
		c.Reasons = one("drift-steady", model.Explains, "all %d proofs lie within %s and %s", len(proofs), w.result(rounded(c.Lower)), w.result(rounded(c.Upper)))
	}
	if len(proofs) < 8 {
		c.Reasons = append(c.Reasons, one("drift-early", model.Explains, "%d proofs are few: the limits are a first guess", len(proofs))...)
	}
	if c.Upper > float64(tolerance) || c.Lower < -float64(tolerance) {
		c.Reasons = append(c.Reasons, one("drift-tolerance", model.Warns, "the limits reach past the tolerance of %s: sooner or later a proof will be out; check this blade more often", w.result(tolerance))...)
	}
	return c, nil
}

// Wear is what sharpening does to a blade.
type Wear struct {
	Lost    []model.Length // kerf lost at each sharpening
	Mean    model.Length
	Stack   model.Length // what the next sharpening adds to the wanted stack
	Reasons []model.Reason
}

// WearOf looks at a blade's kerf, first on the bench and then after each sharpening,
// as means. The plate stays, so the cut face draws back by half of what the kerf loses:
// with a far flange the stack has to grow by that, with a near one to shrink. Fewer
// than two kerfs are an error.
func WearOf(flange model.Flange, kerfs []model.Length, w Words) (Wear, error) {
	if len(kerfs) < 2 {
		return Wear{}, errors.New("wear shows from the first sharpening on: measure plate and kerf when the blade comes back")
	}
	var out Wear
	for i := range kerfs[1:] {
		lost := kerfs[i] - kerfs[i+1]
		out.Lost = append(out.Lost, lost)
		switch {
		case lost < 0:
			out.Reasons = append(out.Reasons, one("kerf-grew", model.Warns, "the kerf is %s wider after sharpening %d: mistyped, or new teeth?", w.result(-lost), i+1)...)
		case lost > mostLoss:
			out.Reasons = append(out.Reasons, one("kerf-lost-much", model.Warns, "sharpening %d took %s off the kerf, where %s to %s is usual: measure again", i+1, w.result(lost), w.set(leastLoss), w.set(mostLoss))...)
		}
	}
	var err error
	if out.Mean, err = Mean(out.Lost); err != nil {
		return Wear{}, err
	}
	out.Stack = out.Mean / 2
	change := "higher"
	if flange == model.Near {
		out.Stack = -out.Stack
	}
	if out.Stack < 0 {
		change = "lower"
	}
	out.Reasons = append(out.Reasons, one("kerf-lost", model.Explains, "a sharpening takes %s off the kerf on average (%d so far): after each one the blade needs a stack %s %s", w.result(out.Mean), len(out.Lost), w.result(out.Stack.Abs()), change)...)
	return out, nil
}
