// Package metrology is what is known of a number: uncertainties combined and expanded (GUM), means,
// lines, guarded verdicts, and how a length is said with the digits that are known.
package metrology

import (
	"errors"
	"fmt"
	"math"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"
)

// Coverage is the chance, 95.45 %, with which an expanded uncertainty holds the
// true value: that of two standard deviations of a normal distribution, so that
// the coverage factor for infinite freedom is 2 (GUM table G.2).
var Coverage = 2*distuv.UnitNormal.CDF(2) - 1

// Contribution is one source of uncertainty: its standard uncertainty, in the unit
// of the result and multiplied by its sensitivity, and its degrees of freedom
// (math.Inf(1) where it does not come from scatter).
type Contribution struct {
	Standard float64
	Freedom  float64
}

// Rectangular is the contribution of something that lies anywhere within a half
// width, all places alike (GUM 4.3.7).
func Rectangular(halfWidth float64) Contribution {
	return Contribution{halfWidth / math.Sqrt(3), math.Inf(1)}
}

// Resolution is the contribution of a display with steps of q (GUM F.2.2.1).
func Resolution(q float64) Contribution { return Rectangular(q / 2) }

// Times scales a contribution by a sensitivity.
func (c Contribution) Times(f float64) Contribution { return Contribution{c.Standard * f, c.Freedom} }

// Uncertainty is what contributions come to together. Standard and Expanded are in
// the unit of the contributions, none negative.
type Uncertainty struct {
	Standard float64
	Freedom  float64 // Welch-Satterthwaite, not truncated; infinite when nothing scatters
	Factor   float64 // Student's t for the truncated freedom
	Expanded float64
}

// Combine adds independent contributions in quadrature and expands them for a
// coverage such as 0.99, with the effective degrees of freedom of
// Welch-Satterthwaite truncated to an integer (GUM 5.1.2 and G.4.1). A contribution
// of zero adds nothing; no contribution at all gives zero.
func Combine(coverage float64, parts ...Contribution) (Uncertainty, error) {
	if !(coverage > 0 && coverage < 1) {
		return Uncertainty{}, fmt.Errorf("a coverage of %v is not between 0 and 1", coverage)
	}
	var variance, fourth float64
	for i, c := range parts {
		switch {
		case !(c.Standard >= 0):
			return Uncertainty{}, fmt.Errorf("contribution %d: a standard uncertainty of %v is not a size", i+1, c.Standard)
		case !(c.Freedom >= 1):
			return Uncertainty{}, fmt.Errorf("contribution %d: %v degrees of freedom say nothing: take at least two readings", i+1, c.Freedom)
		}
		square := c.Standard * c.Standard
		variance += square
		fourth += square * square / c.Freedom
	}
	if math.IsInf(variance*variance, 0) {
		return Uncertainty{}, errors.New("the contributions are too large to combine")
	}
	u := Uncertainty{Standard: math.Sqrt(variance), Freedom: math.Inf(1)}
	if fourth > 0 {
		u.Freedom = variance * variance / fourth
	}
	u.Factor = StudentT(coverage, u.Freedom)
	u.Expanded = u.Factor * u.Standard
	return u, nil
}

// ManyFreedoms is where Student's t is the normal distribution to five digits.
const ManyFreedoms = 100_000

var factors sync.Map // factorKey: float64; a factor takes far longer to find than to keep

type factorKey struct {
	coverage float64
	freedom  int
}

// StudentT is by how many standard uncertainties a result of some degrees of freedom, truncated
// to an integer, reaches to either side with a coverage such as 0.95 (Student's t, two-sided).
func StudentT(coverage, freedom float64) float64 {
	if freedom > ManyFreedoms {
		return distuv.UnitNormal.Quantile((1 + coverage) / 2)
	}
	// Rounding may leave a sum of one term a hair under its own freedom.
	key := factorKey{coverage, int(freedom + 1e-9)}
	if k, ok := factors.Load(key); ok {
		return k.(float64)
	}
	k := distuv.StudentsT{Sigma: 1, Nu: float64(key.freedom)}.Quantile((1 + coverage) / 2)
	factors.Store(key, k)
	return k
}
