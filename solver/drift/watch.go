// Package drift watches a blade over months: its proofs on a chart, and what sharpening takes of it.
package drift

import (
	"fmt"
	"math"
	"time"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// d2 turns the mean range of two neighbours into a standard deviation (NIST/SEMATECH
// e-Handbook 6.3.2.2).
const d2 = 1.128

// What the charts of proofs are made with. The handbook's own limits are three
// standard deviations of a known centre; these allow for a centre and a deviation that
// were estimated, and were set by simulation.
const (
	baseline         = 8   // proofs that the centre is the mean of
	rangeFreedom     = 0.6 // degrees of freedom that one moving range brings
	chartFreedom     = 12  // fewer say too little
	individualsWidth = 3.5
	ewmaWidth        = 3.0
	ewmaWeight       = 0.2
	trendCoverage    = 0.9973
)

// EWMA is the exponentially weighted moving average of values, started at a centre, and
// the half width of its limits after each of them (NIST/SEMATECH e-Handbook 6.3.2.4), both in
// the unit of the values. deviation is the standard deviation of one value, weight that of the
// newest in the average, from 0 to 1, and k how many standard deviations the limits are wide.
// centreVariance is the variance of the centre, in squares of the deviation: 0 where it is known.
func EWMA(values []float64, centre, deviation, weight, k, centreVariance float64) (averages, halfWidths []float64) {
	at := centre
	for i, v := range values {
		at += weight * (v - at)
		averages = append(averages, at)
		grown := weight / (2 - weight) * (1 - math.Pow(1-weight, 2*float64(i+1)))
		halfWidths = append(halfWidths, k*deviation*math.Sqrt(grown+centreVariance))
	}
	return averages, halfWidths
}

// MovingRanges are the distances of neighbouring values, one fewer than there are values.
func MovingRanges(values []float64) []float64 {
	var out []float64
	for i := 1; i < len(values); i++ {
		out = append(out, math.Abs(values[i]-values[i-1]))
	}
	return out
}

// Repeatability is how proofs of a saw repeat, by the moving ranges of the baselines of
// all its blades.
type Repeatability struct {
	Deviation float64 // nanometres
	Freedom   float64
}

// RepeatabilityOf pools the moving ranges of baselines, each the first eight proofs of
// a blade, or what there are of them. least is the deviation that strips and caliper
// alone give a proof.
func RepeatabilityOf(baselines [][]float64, least float64) Repeatability {
	var ranges []float64
	for _, b := range baselines {
		ranges = append(ranges, MovingRanges(b[:min(len(b), baseline)])...)
	}
	if len(ranges) == 0 {
		return Repeatability{}
	}
	return Repeatability{max(stat.Mean(ranges, nil)/d2, least), rangeFreedom * float64(len(ranges))}
}

// Watch is what the proofs of one blade tell, with one stack and nothing moved since.
// Lengths are residuals in nanometres, + = toward the fence; proofs are counted from 0.
type Watch struct {
	Centre    float64
	Deviation float64
	Limit     float64   // of single proofs, on either side of the centre
	Averages  []float64 // weighted, one for each proof behind the baseline
	Widths    []float64 // and their limits
	Beyond    []int     // proofs at which it showed that something had moved
	Moved     bool      // it shows at the last one
	Since     int       // then: the first proof that lies as it does now, about
	By        float64   // and the mean of the proofs since, less the centre
	Trend     Trend
}

// Trend is a steady drift; Rate is zero where none shows.
type Trend struct {
	Rate      float64   // nanometres a day
	Likeliest time.Time // when the cut leaves the tolerance; zero: not within ten years
	Earliest  time.Time // and at the earliest, with 95 %
}

// Dated is the residual of a proof.
type Dated struct {
	At       time.Time
	Residual float64
}

// WatchOf charts the proofs of one blade, oldest first. With fewer than eight, or too
// little known of how proofs repeat, it is an error that says what is missing.
func WatchOf(proofs []Dated, r Repeatability, tolerance, resolution model.Length) (Watch, error) {
	if missing := baseline - len(proofs); missing > 0 {
		return Watch{}, &TooFew{Proofs: missing}
	}
	if r.Freedom < chartFreedom {
		return Watch{}, &TooFew{Ranges: int(math.Ceil((chartFreedom - r.Freedom) / rangeFreedom))}
	}
	values := make([]float64, len(proofs))
	for i, p := range proofs {
		values[i] = p.Residual
	}
	w := Watch{Centre: stat.Mean(values[:baseline], nil), Deviation: r.Deviation}
	w.Limit = individualsWidth * r.Deviation * math.Sqrt(1+1./baseline)
	w.Averages, w.Widths = EWMA(values[baseline:], w.Centre, r.Deviation, ewmaWeight, ewmaWidth, 1./baseline)
	for i, v := range values[baseline:] {
		if math.Abs(v-w.Centre) > w.Limit || math.Abs(w.Averages[i]-w.Centre) > w.Widths[i] {
			w.Beyond = append(w.Beyond, baseline+i)
		}
	}
	if n := len(w.Beyond); n > 0 && w.Beyond[n-1] == len(values)-1 {
		w.Moved = true
		w.Since, w.By = stepOf(values, w.Centre)
	}
	w.Trend = trendOf(proofs, metrology.Contribution{Standard: metrology.Resolution(float64(resolution)).Standard * math.Sqrt2}, tolerance)
	return w, nil
}

// stepOf is where a step from the centre to where the last proofs lie most likely was,
// and how large it is. The baseline lies before it.
func stepOf(values []float64, centre float64) (since int, by float64) {
	best := -1.0
	for k := baseline; k < len(values); k++ {
		off := stat.Mean(values[k:], nil) - centre
		if weight := float64(len(values)-k) * off * off; weight > best {
			best, since, by = weight, k, off
		}
	}
	return since, by
}

// trendOf fits a line through all proofs, each uncertain by a step of the caliper, and
// believes it only where its t-test does at 99.73 %.
func trendOf(proofs []Dated, step metrology.Contribution, tolerance model.Length) Trend {
	n := len(proofs)
	days, values := make([]float64, n), make([]float64, n)
	for i, p := range proofs {
		days[i], values[i] = p.At.Sub(proofs[0].At).Hours()/24, p.Residual
	}
	line, err := metrology.FitLine(days, values, step)
	if err != nil || !(line.TestFigure > metrology.StudentT(trendCoverage, float64(line.Freedom))) {
		return Trend{}
	}
	mean, variance := stat.MeanVariance(days, nil)
	spread := variance * float64(n-1)
	t := metrology.StudentT(0.95, float64(line.Freedom)) * line.StandardB * math.Sqrt(spread)
	leaves := func(band float64) time.Time {
		for day := days[n-1]; day < days[n-1]+3653; day++ {
			off := band * t * math.Sqrt(1/float64(n)+(day-mean)*(day-mean)/spread)
			if math.Copysign(1, line.B)*(line.A+line.B*day)+off > float64(tolerance) {
				return proofs[0].At.Add(time.Duration(day * 24 * float64(time.Hour)))
			}
		}
		return time.Time{}
	}
	return Trend{Rate: line.B, Likeliest: leaves(0), Earliest: leaves(1)}
}

// TooFew says what a chart still wants: proofs of the blade, or moving ranges, which
// any blade of the saw may bring.
type TooFew struct{ Proofs, Ranges int }

func (t *TooFew) Error() string {
	if t.Proofs > 0 {
		return fmt.Sprintf("the chart begins with %d %s more of this blade", t.Proofs, metrology.Plural(t.Proofs, "proof", "proofs"))
	}
	return fmt.Sprintf("how proofs of this saw repeat is not known well enough: %d more are wanted among the first eight of its blades", t.Ranges)
}
