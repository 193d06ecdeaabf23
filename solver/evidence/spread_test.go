package evidence

import (
	"math"
	"slices"
	"testing"

	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// NIST StRD, analysis of variance, SiRstv: resistivity by five instruments. The
// certified sum of squares within instruments is 2.16636560000000E-01 with 20 degrees
// of freedom (data and value from memory; the value was worked out of the data again).
var siRstv = [][]float64{
	{196.3052, 196.1240, 196.1890, 196.2569, 196.3403},
	{196.3042, 196.3825, 196.1669, 196.3257, 196.0422},
	{196.1303, 196.2005, 196.2889, 196.0343, 196.1811},
	{196.2795, 196.1748, 196.1494, 196.1485, 195.9885},
	{196.2119, 196.1051, 196.1850, 196.0052, 196.2090},
}

func scatters(groups [][]float64) []Scatter {
	var out []Scatter
	for _, g := range groups {
		out = append(out, scatterOf(g))
	}
	return out
}

func TestPooledWithinGroups(t *testing.T) {
	all := scatters(siRstv)
	s := SpreadOf(all[:2], slices.Values(all[2:]))
	given.Close(t, "pooled variance", s.Pool.Variance, 2.16636560000000e-1/20, 1e-13)
	if s.Pool.Freedom != 20 || s.Own.Freedom != 8 {
		t.Errorf("%+v", s)
	}
	given.Close(t, "own variance", s.Own.Variance, (all[0].Variance+all[1].Variance)/2, 1e-12)
}

// Whole groups, the newest first, until the freedom is 20 or the next would pass it.
func TestHistoryGoesInWholeGroups(t *testing.T) {
	g := func(variance, freedom float64) Scatter { return Scatter{variance, freedom} }
	for _, v := range []struct {
		own, history        []Scatter
		freedom, pool, took float64
	}{
		{[]Scatter{g(1, 2), g(1, 1)}, nil, 3, 1, 1},
		{[]Scatter{g(1, 2), g(1, 1)}, []Scatter{g(5, 17)}, 20, (3 + 85) / 20., (3 + 85) / 20.},
		{[]Scatter{g(1, 2), g(1, 1)}, []Scatter{g(5, 18)}, 3, 1, 1},
		{[]Scatter{g(1, 2), g(1, 1)}, []Scatter{g(0, 0), g(2, 7), g(9, 11), g(1, 1)}, 10, (3 + 14) / 10., (3 + 14) / 10.}, // the one behind a group that is too large waits
		{[]Scatter{g(9, 2), g(9, 1)}, []Scatter{g(1, 2)}, 5, (27 + 2) / 5., 9},                                            // a bad day: its own variance stands
	} {
		s := SpreadOf(v.own, slices.Values(v.history))
		if s.Pool.Freedom != v.freedom || math.Abs(s.Pool.Variance-v.pool) > 1e-12 || math.Abs(s.Taken().Variance-v.took) > 1e-12 || s.Taken().Freedom != v.freedom {
			t.Errorf("%+v: %+v", v, s)
		}
	}
}

// Student's t for 98.2 %, two-sided, in closed form for two and four degrees of freedom
// (textbook), and the expanded uncertainty of a difference written out: variance 4 and
// 1/2 + 1/3, two resolutions of a twelfth.
func TestStripUncertainty(t *testing.T) {
	a := 0.982
	t2 := a * math.Sqrt(2/(1-a*a))
	alpha := 4 * (1 + a) / 2 * (1 - a) / 2
	t4 := 2 * math.Sqrt(math.Cos(math.Acos(math.Sqrt(alpha))/3)/math.Sqrt(alpha)-1)
	given.Close(t, "t, two degrees", metrology.StudentT(StripCoverage, 2), t2, 1e-8)
	given.Close(t, "t, four degrees", metrology.StudentT(StripCoverage, 4), t4, 1e-8)

	u, err := stripUncertainty(Scatter{4, 4}.times(1./2+1./3), 1)
	if err != nil {
		t.Fatal(err)
	}
	strips, steps := 4*(1./2+1./3), 2./12
	given.Close(t, "standard", u.Standard, math.Sqrt(strips+steps), 1e-9)
	freedom := (strips + steps) * (strips + steps) / (strips * strips / 4) // Welch-Satterthwaite, the resolution free: 4.41, cut to 4
	given.Close(t, "freedom", u.Freedom, freedom, 1e-9)
	given.Close(t, "expanded", u.Expanded, t4*math.Sqrt(strips+steps), 1e-7)

	// Strips that all read alike leave the step: never less than one.
	u, err = stripUncertainty(Scatter{0, 3}.times(5./6), 10_000)
	if err != nil || u.Expanded != 10_000 {
		t.Errorf("%+v, %v", u, err)
	}
}

func TestOddStrip(t *testing.T) {
	mm := func(v ...float64) []float64 {
		for i := range v {
			v[i] *= 1e6
		}
		return v
	}
	step, tolerance := 10_000*model.Nanometre, 50_000*model.Nanometre
	// t99 of 8 degrees is 3.3554 (NIST/SEMATECH e-Handbook 1.3.6.7.2): with three strips
	// of 0.01 mm each the limit is 3.3554 * 0.01 * sqrt(1 + 1/2) = 0.0411 mm.
	known := Scatter{1e8, 8}
	for _, v := range []struct {
		means []float64
		rest  Scatter
		at    int
		found bool
	}{
		{mm(120, 120, 120.041), known, 2, false},
		{mm(120, 120, 120.042), known, 2, true},
		{mm(120, 119.958, 120), known, 1, true},
		{mm(120, 120.042), known, 1, false}, // of two the limit is wider: 3.3554 * 0.01 * sqrt 2 = 0.0475
		{mm(120, 120.048), known, 1, true},
		{mm(120, 120.050), Scatter{}, 1, false}, // nothing known: the tolerance
		{mm(120, 120.051), Scatter{}, 1, true},
		{mm(120, 120, 120.010), Scatter{0, 8}, 2, false}, // a step of the caliper is never odd
		{mm(120), known, 0, false},
		{nil, known, 0, false},
	} {
		at, far, limit, found := Odd(v.means, v.rest, tolerance, step)
		if found != v.found || v.found && at != v.at {
			t.Errorf("%v: strip %d, %v of %v, %v", v.means, at, far, limit, found)
		}
		if alone := len(v.means) < 2; alone != (limit == 0) || alone && far != 0 {
			t.Errorf("%v: %v of %v", v.means, far, limit)
		}
	}
}
