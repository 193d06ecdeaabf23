package solver

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
)

// Offset is by how much a blade cuts a wider part than the reference blade, fence
// unmoved: positive means a cut face farther from the fence. U is its expanded
// uncertainty at Coverage.
type Offset struct {
	Basis       model.Basis
	Value       model.Length
	U           model.Length
	Uncertainty Uncertainty // of Value, in nanometres
	Reasons     []model.Reason

	parts []Contribution
}

// WithRings is the expanded uncertainty of the residual that a prediction leaves:
// that of the offset, joined by what is not known of the rings. A ring known only
// by its nominal thickness lies anywhere within its half width; a measured ring
// within the micrometer's resolution. Of more rings of a sort behind both blades than the
// kit holds some are the same, and cancel. Rings never make an offset surer than it is.
func (o Offset) WithRings(p model.Profile, stack, standing []string) (model.Length, error) {
	var v float64
	count := func(ids []string, id string) (n int) {
		for _, i := range ids {
			if i == id {
				n++
			}
		}
		return n
	}
	for _, r := range p.Rings {
		sort := kind{count: r.Count, judged: count(standing, r.ID)}
		v += sort.differing(count(stack, r.ID), ringVariance(r, p.Instruments.Micrometer.Length))
	}
	if u := o.with(v); u < model.MaxLength {
		return u, nil
	}
	return 0, errors.New("the half width of a ring is larger than anything on a saw: check the digits and the unit")
}

func ring(r model.Ring, micrometer model.Length) Contribution {
	switch {
	case r.Measured.Unit != model.NoUnit:
		return Resolution(float64(micrometer))
	case r.HalfWidth.Unit != model.NoUnit:
		return Rectangular(float64(r.HalfWidth.Length))
	}
	return Rectangular(float64(model.DefaultRingHalfWidth))
}

// Mean is the mean of readings to the nearest nanometre. No readings and readings
// beyond model.MaxLength are errors.
func Mean(readings []model.Length) (model.Length, error) {
	mean, _, err := readMean(readings, 0)
	return rounded(mean), err
}

// readMean is the mean of readings with what their scatter makes uncertain of it; one
// reading, or readings that agree, show none.
func readMean(readings []model.Length, resolution model.Length) (float64, Contribution, error) {
	none := Contribution{0, math.Inf(1)}
	if len(readings) == 0 {
		return 0, none, errors.New("there are no readings: take three")
	}
	if resolution < 0 || resolution > model.MaxLength {
		return 0, none, errors.New("the resolution is not a size: give the smallest step of the instrument")
	}
	// Counted from the first reading, the sums stay small and exact.
	from := readings[0]
	x := make([]float64, len(readings))
	for i, l := range readings {
		if beyond(l) {
			return 0, none, fmt.Errorf("reading %d is larger than anything on a saw: check the digits and the unit", i+1)
		}
		x[i] = float64(l - from)
	}
	if len(x) == 1 {
		return float64(from), none, nil
	}
	mean, scatter := stat.MeanStdDev(x, nil)
	if scatter == 0 {
		return float64(from) + mean, none, nil
	}
	return float64(from) + mean, Contribution{scatter / math.Sqrt(float64(len(x))), float64(len(x) - 1)}, nil
}

// beyond is a length that nothing on a saw has.
func beyond(l model.Length) bool { return l > model.MaxLength || l < -model.MaxLength }

func rounded(nm float64) model.Length { return model.Length(math.Round(nm)) }

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
