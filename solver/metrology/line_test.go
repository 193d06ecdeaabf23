package metrology

import (
	"math"
	"testing"

	"example.com/sawdatum/testdata/given"
)

// TestFitLine: five points worked by hand: the means are 3 and 4, the slope is 6/10 and the line
// begins at 2.2; what is left squares to 2.4, with 3 degrees of freedom. Student's t for 95 % and 3
// is 3.182 in any table.
func TestFitLine(t *testing.T) {
	x, y := []float64{1, 2, 3, 4, 5}, []float64{2, 4, 5, 4, 5}
	l, err := FitLine(x, y, Contribution{})
	if err != nil || l.Freedom != 3 || l.Significant {
		t.Fatalf("%+v, %v", l, err)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"slope", l.B, 0.6}, {"begin", l.A, 2.2}, {"scatter", l.Scatter, math.Sqrt(0.8)},
		{"of the slope", l.StandardB, math.Sqrt(0.08)}, {"of the begin", l.StandardA, math.Sqrt(0.8 * (0.2 + 0.9))},
		{"figure", l.TestFigure, 0.6 / math.Sqrt(0.08)},
	} {
		given.Close(t, c.what, c.got, c.want, 1e-9)
	}
	given.Close(t, "Student's t", l.TestCritical, 3.182, 0.001)
	// Read in steps that are as uncertain as the scatter, the slope is less sure by the root of two.
	steps, _ := FitLine(x, y, Contribution{Standard: math.Sqrt(0.8)})
	given.Close(t, "with steps", steps.StandardB, 0.4, 1e-9)
	given.Close(t, "its begin", steps.StandardA, math.Sqrt(1.6*(0.2+0.9)), 1e-9)
	if l, _ := FitLine(x, []float64{1, 2, 3, 4, 5.1}, Contribution{}); !l.Significant {
		t.Errorf("as good as a line: %+v", l)
	}
	if l, _ := FitLine(x, []float64{7, 7, 7, 7, 7}, Contribution{}); l.Significant || l.B != 0 {
		t.Errorf("level: %+v", l)
	}
	two, err := FitLine([]float64{1, 3}, []float64{1, 2}, Contribution{})
	if err != nil || two.B != 0.5 || two.A != 0.5 || two.Freedom != 0 || !math.IsNaN(two.StandardA) || !math.IsNaN(two.StandardB) || !math.IsNaN(two.Scatter) {
		t.Errorf("two points: %+v, %v", two, err)
	}
	for _, x := range [][]float64{{}, {1}, {2, 2, 2}} {
		if _, err := FitLine(x, make([]float64, len(x)), Contribution{}); err == nil {
			t.Errorf("a line through %v", x)
		}
	}
}
