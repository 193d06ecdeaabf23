package stacking

import (
	"math"
	"strings"
	"testing"

	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/testdata/given"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
)

// NIST StRD NumAcc1.
func TestNumAcc1(t *testing.T) {
	mean, c, err := metrology.ReadMean([]model.Length{10000001, 10000003, 10000002}, 0)
	if err != nil {
		t.Fatal(err)
	}
	given.Close(t, "mean", mean, 10000002, 1e-9)
	given.Close(t, "s", c.Standard*math.Sqrt(3), 1, 1e-15)
}

// A ring known by its nominal thickness: rectangular, half width 0.02 mm or the
// profile's; a measured one: the micrometer's resolution (solver.md 3).
func TestWithRings(t *testing.T) {
	p := model.Profile{
		Instruments: model.Instruments{Micrometer: given.MM(0.001).Of(model.MM)},
		Rings: []model.Ring{
			{ID: "nominal", Count: 2}, {ID: "own", Count: 1, HalfWidth: given.MM(0.05).Of(model.MM)},
			{ID: "measured", Count: 1, Measured: given.MM(0.248).Of(model.MM)}, {ID: "huge", Count: 1, HalfWidth: model.Measure{Length: math.MaxInt64, Unit: model.MM}},
		},
	}
	for _, v := range []struct {
		stack, standing []string
		variance        float64 // mm^2
	}{
		{nil, nil, 0}, {[]string{"nominal"}, nil, 0.02 * 0.02 / 3}, {[]string{"nominal"}, []string{"nominal"}, 2 * 0.02 * 0.02 / 3},
		{[]string{"own"}, nil, 0.05 * 0.05 / 3}, {[]string{"own"}, []string{"own"}, 0}, {[]string{"measured"}, nil, 0.001 * 0.001 / 12},
		{[]string{"measured", "own"}, []string{"measured"}, 0.05 * 0.05 / 3},
	} {
		u, err := Offset{}.WithRings(p, v.stack, v.standing)
		if err != nil {
			t.Fatal(err)
		}
		given.Close(t, "U", u.Millimetres(), 2*math.Sqrt(v.variance), 2e-6)
	}
	if _, err := (Offset{}).WithRings(p, []string{"huge"}, nil); err == nil {
		t.Error("a huge half width passed")
	}
	o := Offset{Parts: []metrology.Contribution{metrology.Resolution(100_000)}}
	u, err := o.WithRings(p, []string{"nominal"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	given.Close(t, "U of both", u.Millimetres(), 2*math.Sqrt(0.1*0.1/12+0.02*0.02/3), 2e-6)
	p.RingHalfWidth = given.MM(0.03).Of(model.MM) // what the shop says of rings that say nothing of themselves
	for ring, half := range map[string]float64{"nominal": 0.03, "own": 0.05} {
		u, err := Offset{}.WithRings(p, []string{ring}, nil)
		if err != nil {
			t.Fatal(err)
		}
		given.Close(t, "U by the shop", u.Millimetres(), 2*half/math.Sqrt(3), 2e-6)
	}
}

// The mean that the readings show is gonum's, to the nanometre.
func TestMeanIsGonums(t *testing.T) {
	got, err := metrology.Mean(given.Lengths(2.201, 2.203, 2.200))
	if want := stat.Mean([]float64{2.201, 2.203, 2.200}, nil); err != nil || got != given.MM(want) {
		t.Errorf("%v, %v", got, err)
	}
}

func TestMeanRefuses(t *testing.T) {
	three := given.Lengths(1, 2, 3)
	for _, v := range []struct {
		name       string
		readings   []model.Length
		resolution model.Length
		says       string
	}{
		{"none", nil, 0, "there are no readings: take three"},
		{"huge", []model.Length{1, math.MaxInt64, 3}, 0, "reading 2 is larger than anything on a saw"},
		{"hugely negative", []model.Length{math.MinInt64}, 0, "reading 1 is larger"},
		{"negative resolution", three, -1, "the resolution is not a size"},
		{"huge resolution", three, math.MaxInt64, "the resolution is not a size"},
	} {
		if mean, _, err := metrology.ReadMean(v.readings, v.resolution); err == nil || !strings.Contains(err.Error(), v.says) {
			t.Errorf("%s: %v, %v", v.name, mean, err)
		}
	}
	if _, err := metrology.Mean(nil); err == nil {
		t.Error("a mean of nothing passed")
	}
}
