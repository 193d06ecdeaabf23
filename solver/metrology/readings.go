package metrology

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
)

// Mean is the mean of readings to the nearest nanometre. No readings and readings
// beyond model.MaxLength are errors.
func Mean(readings []model.Length) (model.Length, error) {
	mean, _, err := ReadMean(readings, 0)
	return Rounded(mean), err
}

// ReadMean is the mean of readings in nanometres, with what their scatter makes uncertain of
// it: nothing, where there is one, or all agree. No readings, readings beyond model.MaxLength
// and a resolution that is negative or beyond it are errors.
func ReadMean(readings []model.Length, resolution model.Length) (float64, Contribution, error) {
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
		if Beyond(l) {
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

// Beyond is a length that nothing on a saw has.
func Beyond(l model.Length) bool { return l > model.MaxLength || l < -model.MaxLength }

// Rounded is a length to the nearest nanometre.
func Rounded(nm float64) model.Length { return model.Length(math.Round(nm)) }
