package metrology

import (
	"math"
	"testing"

	"example.com/sawdatum/testdata/given"
)

// GUM (JCGM 100:2008) H.1, end gauge: contributions in nm with their degrees of
// freedom. Printed: u_c 32, nu_eff 16, t99(16) 2.92, U99 93. The longer digits are
// those of the contributions before rounding: 9.682 of comparator readings 5.8, 3.9
// and 6.7; 2.887 = 5/sqrt 3; 16.599 = 28.75/sqrt 3 (from memory).
func TestGUMH1(t *testing.T) {
	printed, err := Combine(0.99, Contribution{25, 18}, Contribution{9.7, 25.6}, Contribution{2.9, 50}, Contribution{16.6, 2})
	if err != nil {
		t.Fatal(err)
	}
	given.Close(t, "u_c as printed", printed.Standard, 32, 1)
	given.Close(t, "nu_eff as printed", math.Floor(printed.Freedom), 16, 1e-9)
	given.Close(t, "t99(16)", printed.Factor, 2.92, 0.01)
	// The printed contributions, combined and not rounded on the way (computed).
	given.Close(t, "u_c", printed.Standard, 31.67112, 1e-5)
	given.Close(t, "nu_eff", printed.Freedom, 16.76455, 1e-5)
	given.Close(t, "U99", printed.Expanded, 92.50443, 1e-5)
	// GUM expands the rounded figures: 2.92 * 32 = 93.
	given.Close(t, "U99 as printed", printed.Factor*math.Round(printed.Standard), 93, 1)

	whole, err := Combine(0.99, Contribution{25, 18}, Contribution{math.Sqrt(5.8*5.8 + 3.9*3.9 + 6.7*6.7), 25.6}, Contribution{5 / math.Sqrt(3), 50}, Contribution{28.75 / math.Sqrt(3), 2})
	if err != nil {
		t.Fatal(err)
	}
	given.Close(t, "u_c", whole.Standard, 31.664, 0.001)
	given.Close(t, "nu_eff", whole.Freedom, 16.75, 0.01)
	given.Close(t, "U99", whole.Expanded, 92.48, 0.01)
}

// Student t, two-sided 95.45 % (GUM table G.2; long digits computed).
func TestStudentG2(t *testing.T) {
	for _, row := range []struct{ freedom, factor, lastDigit float64 }{
		{1, 13.967730, 1e-6}, {2, 4.5265367, 1e-7}, {3, 3.3068222, 1e-7}, {4, 2.8693094, 1e-7},
		{5, 2.6486494, 1e-7}, {6, 2.5165241, 1e-7}, {7, 2.4288051, 1e-7}, {8, 2.3664158, 1e-7},
		{9, 2.3198059, 1e-7}, {10, 2.2836782, 1e-7}, {16, 2.1689400, 1e-7}, {20, 2.1330255, 1e-7},
		{50, 2.0512482, 1e-7}, {math.Inf(1), 2.000, 1e-9},
	} {
		u, err := Combine(Coverage, Contribution{1, row.freedom})
		if err != nil {
			t.Fatal(err)
		}
		given.Close(t, "t 95.45 %", u.Factor, row.factor, row.lastDigit)
	}
}

// Student t, two-sided 95 % (NIST TN 1297 table B.1; long digits computed).
func TestStudentB1(t *testing.T) {
	for _, row := range []struct{ freedom, factor, lastDigit float64 }{
		{1, 12.706205, 1e-6}, {2, 4.3026527, 1e-7}, {3, 3.1824463, 1e-7}, {5, 2.5705818, 1e-7}, {10, 2.2281389, 1e-7},
	} {
		given.Close(t, "t 95 %", StudentT(0.95, row.freedom), row.factor, row.lastDigit)
	}
}

// GUM G.4.1: the effective degrees of freedom are truncated to an integer.
func TestFreedomIsTruncated(t *testing.T) {
	for _, row := range []struct{ freedom, as float64 }{{1.999, 1}, {2, 2}, {2.999, 2}, {16.75, 16}} {
		if got, want := StudentT(Coverage, row.freedom), StudentT(Coverage, row.as); got != want {
			t.Errorf("t(%v) = %v, want that of %v: %v", row.freedom, got, row.as, want)
		}
	}
}

func TestCombineRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, row := range []struct {
		name     string
		coverage float64
		parts    []Contribution
	}{
		{"coverage 0", 0, nil}, {"coverage 1", 1, nil}, {"coverage NaN", nan, nil},
		{"NaN", 0.95, []Contribution{{nan, 2}}}, {"infinite", 0.95, []Contribution{{inf, 2}}}, {"negative", 0.95, []Contribution{{-1, 2}}},
		{"no freedom", 0.95, []Contribution{{1, 0}}}, {"NaN freedom", 0.95, []Contribution{{1, nan}}}, {"huge", 0.95, []Contribution{{1e200, 2}}},
	} {
		if u, err := Combine(row.coverage, row.parts...); err == nil {
			t.Errorf("%s: combined to %+v", row.name, u)
		}
	}
}

func TestCombineNothing(t *testing.T) {
	for _, parts := range [][]Contribution{nil, {{0, math.Inf(1)}}, {{0, 1}}} {
		u, err := Combine(Coverage, parts...)
		if err != nil || u.Standard != 0 || u.Expanded != 0 {
			t.Errorf("%v: %+v, %v", parts, u, err)
		}
	}
}
