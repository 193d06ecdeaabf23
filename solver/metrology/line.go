package metrology

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
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

// FitLine needs two or more points that are not all at one x. What each y is uncertain
// by itself, since it was read in steps, joins the scatter in the slope's standard error:
// readings that round to one line prove no slope.
func FitLine(x, y []float64, step Contribution) (Line, error) {
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
	l.TestCritical = StudentT(0.95, float64(l.Freedom))
	l.TestFigure = math.Abs(b) / l.StandardB
	l.Significant = l.TestFigure > l.TestCritical // 0/0, all on one level line, is not
	return l, nil
}
