package solver

import (
	"slices"
	"testing"

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
		if got := OutOfKerf(mm(v.offset), mm(v.gap), 0, mm(v.kerf)-mm(v.knife)); got != mm(v.want) {
			t.Errorf("%+v: %v", v, got.Of(model.MM))
		}
	}
}

// A knife that stands in front of the datum face, as felt with the blade on, adds to a wide cut.
func TestProudKnife(t *testing.T) {
	for _, v := range []struct{ offset, proud, want float64 }{{0.06, 0.04, 0}, {0.06, 0.040001, 0.100001}, {-0.02, 0.1, 0}} {
		if got := OutOfKerf(mm(v.offset), 0, mm(v.proud), mm(0.5)); got != mm(v.want) {
			t.Errorf("%+v: %v", v, got.Of(model.MM))
		}
	}
}

func TestScaleSetting(t *testing.T) {
	for _, v := range []struct{ exact, want float64 }{{119.553333, 119.6}, {119.549999, 119.5}, {119.55, 119.6}, {120, 120}} {
		if got := ScaleSetting(mm(v.exact), model.MM); got != mm(v.want) {
			t.Errorf("%v: %v", v.exact, got.Of(model.MM))
		}
	}
	// 4.7263 in, in steps of 0.005 in: 4.725 in.
	if got := ScaleSetting(120_048_020, model.IN); got != 120_015_000 {
		t.Errorf("in inches: %v", got.Of(model.IN))
	}
}

// The largest gap that was felt counts, once the knife is squared to the present datum.
func TestPlanTakesTheGapAsFelt(t *testing.T) {
	p := shop()
	p.Knives = []model.Knife{{ID: "k25", Thickness: typed(2.9)}}
	p.Rings = []model.Ring{{ID: "r32", Thickness: typed(0.32), Measured: typed(0.32), Count: 1}}
	p.Standing = []string{}
	p.Tolerance = typed(0.2)
	// 0.12 mm narrow with 0.10 mm of play; what is left of that goes into the gap.
	for gap, want := range map[float64]float64{0: -0.02, 0.03: -0.05, 0.05: -0.07} {
		q := setUp(p)
		for i := range q.Records {
			if q.Records[i].Kind == model.KnifeSet {
				q.Records[i].Gaps = readings(0, gap, 0, 0)
			}
		}
		b := row(t, log(q, cut("rip", []string{"r32"}, 119.88, 119.89, 119.88)), "rip")
		if b.Outside != mm(want) || b.Verdict == model.In || b.Ready || !slices.Equal(b.Stack, []string{"r32"}) {
			t.Errorf("a gap of %v: %v outside, want %v; %s", gap, b.Outside.Of(model.MM), want, b.Verdict)
		}
	}
}
