package procedure

import (
	"testing"

	"example.com/sawdatum/model"
)

// TestLimitsLieWithinWhatIsTaken: an inch shop that types a limit as it reads it is
// taken at its word.
func TestLimitsLieWithinWhatIsTaken(t *testing.T) {
	for _, v := range []struct {
		lo, hi model.Length
		unit   model.Unit
		want   string
	}{
		{20 * mm, 700 * mm, model.MM, "20 mm to 700 mm"},
		{20 * mm, 700 * mm, model.IN, "0.788 in to 27.559 in"}, // 0.78740 and 27.55906
		{-5 * mm, 5 * mm, model.IN, "-0.196 in to 0.196 in"},   // 0.19685
		{model.Inch, 2 * model.Inch, model.IN, "1 in to 2 in"},
	} {
		if got := limits(v.lo, v.hi, v.unit); got != v.want {
			t.Errorf("%s to %s: %q, want %q", v.lo.Of(model.MM), v.hi.Of(model.MM), got, v.want)
		}
	}
}
