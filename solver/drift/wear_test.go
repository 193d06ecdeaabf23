package drift

import (
	"testing"

	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// metric is how a metric shop with a caliper of 0.01 mm reads lengths.
var metric = metrology.Words{Unit: model.MM, Resolution: given.MM(0.01)}

// Half of the kerf lost comes back in rings: far more, near less. A 10-inch blade
// loses 0.01 to 0.05 mm of kerf per sharpening (from memory).
func TestWear(t *testing.T) {
	for flange, want := range map[model.Flange]float64{model.Far: 0.01, model.Near: -0.01} {
		got, err := WearOf(flange, given.Lengths(3.20, 3.19, 3.16), metric)
		if err != nil || got.Mean != given.MM(0.02) || got.Stack != given.MM(want) || given.Codes(got.Reasons) != "kerf-lost" {
			t.Errorf("%s: %+v, %v", flange, got, err)
		}
	}
	got, err := WearOf(model.Far, given.Lengths(3.20, 3.10, 3.12, 3.07), metric)
	if err != nil || given.Codes(got.Reasons) != "kerf-lost-much kerf-grew kerf-lost" {
		t.Errorf("%+v, %v", got, err)
	}
	given.Says(t, got.Reasons, "sharpening 1 took 0.100 mm", "is 0.020 mm wider after sharpening 2", "0.043 mm off the kerf on average (3 so far)", "a stack 0.022 mm higher")
	got, err = WearOf(model.Far, given.Lengths(3.20, 3.20, 3.15), metric)
	if err != nil || given.Codes(got.Reasons) != "kerf-lost" {
		t.Errorf("none and 0.05 mm lost: %+v, %v", got, err)
	}
	if got, err := WearOf(model.Far, given.Lengths(3.2), metric); err == nil {
		t.Errorf("%+v", got)
	}
}
