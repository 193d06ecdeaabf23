package solver

import (
	"testing"

	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// Worked by hand from the cross-section: the knife's fence-side face is the datum face, or
// up to the gap behind it; the cut face lies offset short of it; kerf and knife end kerf and
// thickness away from the fence. Wide: the face stands out by the offset. Narrow: the kerf's
// far wall lies kerf - (-offset) behind the datum face, the knife's far face thickness + gap.
func TestOutOfKerf(t *testing.T) {
	for _, v := range []struct{ offset, gap, kerf, knife, want float64 }{
		{0, 0, 3.2, 2.5, 0},
		{0.1, 0.1, 3.2, 2.5, 0}, {0.100001, 0.1, 3.2, 2.5, 0.100001}, // wide: a tenth, and no more
		{0.45, 0.1, 3.2, 2.6, 0.45},                                     // 0.60 mm of play help nothing
		{-0.345, 0.1, 3.2, 2.9, -0.145},                                 // 0.30 mm of play, narrow by more
		{-0.2, 0.1, 3.2, 2.9, 0}, {-0.200001, 0.1, 3.2, 2.9, -0.000001}, // gap and offset take all of the play
		{-0.25, 0.05, 3.2, 2.9, 0}, // as squared: the gap is what was felt
		{0.1, 0.1, 3.2, 3.199, 0}, {0, 0.1, 3.2, 3.15, -0.05},
	} {
		if got := OutOfKerf(given.MM(v.offset), given.MM(v.gap), 0, given.MM(v.kerf)-given.MM(v.knife)); got != given.MM(v.want) {
			t.Errorf("%+v: %v", v, got.Of(model.MM))
		}
	}
}

// A knife that stands in front of the datum face, as felt with the blade on, adds to a wide cut.
func TestProudKnife(t *testing.T) {
	for _, v := range []struct{ offset, proud, want float64 }{{0.06, 0.04, 0}, {0.06, 0.040001, 0.100001}, {-0.02, 0.1, 0}} {
		if got := OutOfKerf(given.MM(v.offset), 0, given.MM(v.proud), given.MM(0.5)); got != given.MM(v.want) {
			t.Errorf("%+v: %v", v, got.Of(model.MM))
		}
	}
}

func TestScaleSetting(t *testing.T) {
	for _, v := range []struct{ exact, want float64 }{{119.553333, 119.6}, {119.549999, 119.5}, {119.55, 119.6}, {120, 120}} {
		if got := ScaleSetting(given.MM(v.exact), model.MM); got != given.MM(v.want) {
			t.Errorf("%v: %v", v.exact, got.Of(model.MM))
		}
	}
	// 4.7263 in, in steps of 0.005 in: 4.725 in.
	if got := ScaleSetting(120_048_020, model.IN); got != 120_015_000 {
		t.Errorf("in inches: %v", got.Of(model.IN))
	}
}
