package solver

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
)

// Line is y = A + B*x by least squares. The standard errors and the scatter round
// the line are not numbers where only two points were given.
type Line struct {
	A, B         float64
	StandardA    float64
	StandardB    float64
	Scatter      float64 // residual standard deviation
	Freedom      int
	Significant  bool    // B differs from zero at 95 %
	TestFigure   float64 // |B| over its standard error
	TestCritical float64
}

// fitLine needs two or more points that are not all at one x. What each y is uncertain
// by itself, since it was read in steps, joins the scatter in the slope's standard error:
// readings that round to one line prove no slope.
func fitLine(x, y []float64, step Contribution) (Line, error) {
	if len(x) < 2 || stat.Variance(x, nil) == 0 {
		return Line{}, errors.New("a line needs readings at two settings at least")
	}
	a, b := stat.LinearRegression(x, y, nil, false)
	l := Line{A: a, B: b, StandardA: math.NaN(), StandardB: math.NaN(), Scatter: math.NaN(), Freedom: len(x) - 2}
	if l.Freedom == 0 {
		return l, nil
	}
	meanX, variance := stat.MeanVariance(x, nil)
	meanY := stat.Mean(y, nil)
	left := make([]float64, len(x))
	for i := range x {
		left[i] = (y[i] - meanY) - b*(x[i]-meanX) // from the middle, the digits last longer
	}
	n, spread := float64(len(x)), variance*float64(len(x)-1)
	l.Scatter = floats.Norm(left, 2) / math.Sqrt(float64(l.Freedom))
	l.StandardB = math.Hypot(l.Scatter, step.Standard) / math.Sqrt(spread)
	l.StandardA = math.Hypot(l.Scatter, step.Standard) * math.Sqrt(1/n+meanX*meanX/spread)
	l.TestCritical = studentT(0.95, float64(l.Freedom))
	l.TestFigure = math.Abs(b) / l.StandardB
	l.Significant = l.TestFigure > l.TestCritical // 0/0, all on one level line, is not
	return l, nil
}

// ScaleFit is what the fence scale does: read - set = A + B*set, A in nanometres.
type ScaleFit struct {
	Line
	Cursor  model.Length // to be moved by, + = toward the higher numbers
	Ends    [2]End       // of the range of settings, smallest first, with the cursor moved
	Reasons []model.Reason
}

// End is what the moved cursor leaves at a setting: Error positive means that parts
// come out wider than set.
type End struct{ Setting, Error model.Length }

// FitScale fits pairs of setting and reading, and cures the scale at the working
// width. Two pairs give a line through both; three or more a least-squares line whose
// slope is called real only where its t-test says so at 95 %, the steps of the caliper
// counted in. Fewer than two
// settings, and lengths beyond model.MaxLength, are errors.
func FitScale(pairs []model.Pair, width model.Length, w Words) (ScaleFit, error) {
	if len(pairs) < 2 {
		return ScaleFit{}, errors.New("the scale wants two or more settings with what was read: set another width, rip and read")
	}
	x, y := make([]float64, len(pairs)), make([]float64, len(pairs))
	for i, p := range pairs {
		if beyond(p.Set.Length) || beyond(p.Read.Length) || beyond(width) {
			return ScaleFit{}, fmt.Errorf("pair %d is larger than anything on a saw: check the digits and the unit", i+1)
		}
		x[i], y[i] = float64(p.Set.Length), float64(p.Read.Length-p.Set.Length)
	}
	line, err := fitLine(x, y, Resolution(float64(w.Resolution)))
	if err != nil {
		return ScaleFit{}, errors.New("all settings are the same: set another width, rip and read")
	}
	f := ScaleFit{Line: line, Cursor: rounded(line.A + line.B*float64(width))}
	for i, at := range []float64{floats.Min(x), floats.Max(x)} {
		f.Ends[i] = End{rounded(at), rounded(line.B * (at - float64(width)))}
	}
	f.Reasons = f.words(width, w)
	return f, nil
}

func (f ScaleFit) words(width model.Length, w Words) []model.Reason {
	out := one("cursor", model.Explains, "%s", CursorWords(f.Cursor, w))
	per := (100 * model.Millimetre).Of(model.MM)
	if w.Unit == model.IN {
		per = (4 * model.Inch).Of(model.IN)
	}
	slope := rounded(f.B*float64(per.Length)).Signed(w.Unit, w.Resolution/10)
	test := fmt.Sprintf("t is %.1f, over %.1f", f.TestFigure, f.TestCritical)
	if math.IsInf(f.TestFigure, 0) {
		test = "all readings lie on the line"
	}
	switch {
	case f.Freedom == 0:
		out = append(out, one("slope-unproved", model.Explains, "two settings give a line, but do not tell whether its slope of %s over %s is real: read at a third", slope, per)...)
	case f.Significant:
		out = append(out, one("slope-real", model.Warns, "the slope of %s over %s is real (%s): the cursor does not cure it; see that the scale lies flat and unstretched", slope, per, test)...)
	default:
		out = append(out, one("slope-not-real", model.Explains, "a slope cannot be told from the scatter of %s round the line and the steps of the caliper", w.result(rounded(f.Scatter)))...)
	}
	if f.Ends[0].Error != 0 || f.Ends[1].Error != 0 {
		out = append(out, one("scale-ends", model.Explains, "with the cursor right at %s, parts come out %s at %s and %s at %s",
			w.set(width), wider(f.Ends[0].Error, w), w.set(f.Ends[0].Setting), wider(f.Ends[1].Error, w), w.set(f.Ends[1].Setting))...)
	}
	return out
}

func wider(l model.Length, w Words) string {
	shown := w.result(l.Abs())
	switch {
	case shown == w.result(0):
		return "right"
	case l > 0:
		return shown + " too wide"
	}
	return shown + " too narrow"
}

// CursorWords says how to move the cursor: positive is toward the higher numbers.
func CursorWords(by model.Length, w Words) string {
	switch {
	case w.set(by.Abs()) == w.set(0):
	case by > 0:
		return "move the cursor " + w.set(by) + " toward the higher numbers"
	case by < 0:
		return "move the cursor " + w.set(-by) + " toward the lower numbers"
	}
	return "leave the cursor where it is"
}
