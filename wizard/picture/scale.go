package picture

import (
	"math"

	"example.com/sawdatum/model"
)

// steps are the figures that a scale may have, so that people can count in it.
var steps = []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8}

// niceStep is the smallest step of such figures that covers span with n cells. span
// and step are in nanometres; in an inch shop the figures are in inches.
func niceStep(span float64, n int, u model.Unit) float64 {
	least := max(span/float64(max(n, 1)), 100)
	unit := unitSize(u)
	decade := math.Pow(10, math.Floor(math.Log10(least/unit)))
	for range 3 {
		for _, s := range steps {
			if step := math.Round(s * decade * unit); step >= least*(1-1e-9) {
				return step
			}
		}
		decade *= 10
	}
	return least
}

func unitSize(u model.Unit) float64 {
	if u == model.NoUnit || u == model.MM {
		return float64(model.Millimetre)
	}
	return float64(model.Inch)
}

func decimalUnit(u model.Unit) model.Unit {
	if u == model.NoUnit || u == model.MM {
		return model.MM
	}
	return model.IN
}

// scaleText is a step as people say it: 0.1 mm, 0.004 in.
func scaleText(step float64, u model.Unit) string {
	return model.Length(math.Round(step)).Of(decimalUnit(u)).String()
}

// axis turns lengths into columns. The anchor lies on the edge of a column, so that
// what coincides with it is seen to coincide.
type axis struct {
	step   float64 // nanometres a column
	anchor float64 // nanometres
	column float64 // column of the anchor
	dir    float64 // +1: lengths grow to the right
	x0, x1 int     // columns of the drawing
}

// newAxis fits lo..hi into the columns x0..x1 less margin at either end.
func newAxis(lo, hi, anchor float64, x0, x1, margin int, dir float64, u model.Unit) axis {
	n := max(x1-x0-2*margin, 4)
	before, after := max(anchor-lo, 0), max(hi-anchor, 0)
	if dir < 0 {
		before, after = after, before
	}
	step := niceStep(before+after, n, u)
	for math.Ceil(before/step-1e-9)+math.Ceil(after/step-1e-9) > float64(n) {
		next := niceStep(step*1.01*float64(n), n, u)
		if next <= step {
			break
		}
		step = next
	}
	left, right := math.Ceil(before/step-1e-9), math.Ceil(after/step-1e-9)
	spare := math.Floor(max(float64(n)-left-right, 0) / 2)
	return axis{step, anchor, float64(x0+margin) + spare + left, dir, x0, x1}
}

// at is the column of a length, with its fraction.
func (a axis) at(x float64) float64 { return a.column + a.dir*(x-a.anchor)/a.step }

// off tells on which side of the drawing a length lies: -1 left, +1 right, 0 inside.
func (a axis) off(x float64) int {
	switch at := a.at(x); {
	case at < float64(a.x0):
		return -1
	case at > float64(a.x1):
		return 1
	}
	return 0
}

// span is the range of some lengths.
func span(xs ...float64) (lo, hi float64) {
	if len(xs) == 0 {
		return 0, 0
	}
	lo, hi = xs[0], xs[0]
	for _, x := range xs {
		lo, hi = min(lo, x), max(hi, x)
	}
	return lo, hi
}
