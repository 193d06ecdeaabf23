package evidence

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// StripCoverage is the chance, 0.9 % left on either side, with which the expanded
// uncertainty of a comparison of strips holds the true offset. It was set by
// simulation, so that a blade that lies at the tolerance is not called in more often
// than 2.3 times of a hundred though it may be looked at four times.
const StripCoverage = 0.982

// Numbers of strips that the statistics turn on.
const (
	EnoughDatumStrips = 3  // strips of the reference under a lock before a blade is judged
	EnoughBladeStrips = 2  // strips of the blade
	MostFurther       = 3  // further strips that count for one blade, stack and datum
	poolFreedom       = 20 // degrees of freedom that history is gathered up to
	proofFreedom      = 12 // and that a proof of one strip needs
	SeatFreedom       = 5  // of mountings, before they are added
)

// Scatter is a variance, in square nanometres, with its degrees of freedom. Zero
// freedom: nothing is known.
type Scatter struct {
	Variance float64
	Freedom  float64
}

// scatterOf is the variance of values about their mean.
func scatterOf(values []float64) Scatter {
	if len(values) < 2 {
		return Scatter{}
	}
	return Scatter{stat.Variance(values, nil), float64(len(values) - 1)}
}

// with pools two scatters by their freedoms.
func (s Scatter) with(o Scatter) Scatter {
	freedom := s.Freedom + o.Freedom
	if freedom == 0 {
		return Scatter{}
	}
	return Scatter{(s.Variance*s.Freedom + o.Variance*o.Freedom) / freedom, freedom}
}

// Spread is how strips repeat, as one comparison takes it: by the strips of its own
// and by those with what the shop cut before.
type Spread struct {
	Own, Pool Scatter
}

// SpreadOf pools the groups of a comparison with whole groups of history, newest
// first, until the freedom is 20 or the next would pass it.
func SpreadOf(own []Scatter, newestFirst func(yield func(Scatter) bool)) Spread {
	var s Spread
	for _, g := range own {
		s.Own = s.Own.with(g)
	}
	s.Pool = s.Own
	for g := range newestFirst {
		if s.Pool.Freedom+g.Freedom > poolFreedom {
			break
		}
		s.Pool = s.Pool.with(g)
	}
	return s
}

// Taken is the larger variance of the two, with the freedom of the pool.
func (s Spread) Taken() Scatter { return Scatter{max(s.Own.Variance, s.Pool.Variance), s.Pool.Freedom} }

// times is the contribution of a combination of strips: the variance of one strip,
// multiplied by share, such as 1/m + 1/n for the difference of two means.
func (s Scatter) times(share float64) metrology.Contribution {
	if s.Variance == 0 {
		return nothing
	}
	return metrology.Contribution{Standard: math.Sqrt(s.Variance * share), Freedom: s.Freedom}
}

// stripUncertainty is the uncertainty of the difference of two means of strips read
// with steps of q: that of the strips, the resolution once for each mean, and what
// else there is. The expanded one is never less than a step. It is an error where no
// strip was repeated.
func stripUncertainty(strips metrology.Contribution, q model.Length, more ...metrology.Contribution) (metrology.Uncertainty, error) {
	step := metrology.Resolution(float64(q))
	parts := append([]metrology.Contribution{strips, step, step}, more...)
	u, err := metrology.Combine(StripCoverage, parts...)
	if err != nil {
		return metrology.Uncertainty{}, err
	}
	u.Expanded = max(u.Expanded, float64(q))
	return u, nil
}

// Odd looks for the strip of a group that lies farther from the mean of its fellows
// than 99 % of strips do, by how strips repeat elsewhere (rest); where nothing is
// known of that, farther than the tolerance. Of two strips the later one is named.
// far and limit are in nanometres; limit is never less than a step q.
func Odd(means []float64, rest Scatter, tolerance, q model.Length) (at int, far, limit float64, found bool) {
	m := float64(len(means))
	if m < 2 {
		return 0, 0, 0, false
	}
	sum := 0.0
	for _, v := range means {
		sum += v
	}
	for i, v := range means {
		if off := math.Abs(v - (sum-v)/(m-1)); off > far {
			at, far = i, off
		}
	}
	if m == 2 {
		at = 1
	}
	limit = float64(tolerance)
	if rest.Freedom >= 1 {
		limit = max(metrology.StudentT(0.99, rest.Freedom)*math.Sqrt(rest.Variance*(1+1/(m-1))), float64(q))
	}
	return at, far, limit, far > limit
}

// TwoStrips is the U that two strips of a blade against three of the reference will have,
// where strips repeat so, with what else there is; never less than a step q of the caliper.
func TwoStrips(s Scatter, q model.Length, more ...metrology.Contribution) model.Length {
	u, err := stripUncertainty(s.times(1./EnoughBladeStrips+1./EnoughDatumStrips), q, more...)
	if err != nil || u.Expanded > float64(model.MaxLength) {
		return model.MaxLength
	}
	return model.Length(math.Ceil(u.Expanded))
}
