package drift

import (
	"strings"
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
	turns := map[model.Flange]string{model.Far: "a stack 0.010 mm higher", model.Near: "a stack 0.010 mm lower"}
	for flange, want := range map[model.Flange]float64{model.Far: 0.01, model.Near: -0.01} {
		got, err := WearOf(flange, given.Lengths(3.20, 3.19, 3.16), 0, metric)
		if err != nil || got.Mean != given.MM(0.02) || got.Stack != given.MM(want) || given.Codes(got.Reasons) != "kerf-lost" {
			t.Errorf("%s: %+v, %v", flange, got, err)
		}
		given.Says(t, got.Reasons, turns[flange])
	}
	for _, kerfs := range [][]model.Length{given.Lengths(3.00, 3.02), given.Lengths(3.00, 3.00)} {
		if got, err := WearOf(model.Far, kerfs, given.MM(2.5), metric); err != nil || got.Left != -1 || given.Has(got.Reasons, "knife-window") {
			t.Errorf("nothing lost, %v: %+v, %v", kerfs, got, err)
		}
	}
	if got, err := WearOf(model.Far, []model.Length{model.MaxLength, -model.MaxLength}, 0, metric); err == nil {
		t.Errorf("more lost than anything on a saw has: %+v", got)
	}
	got, err := WearOf(model.Far, given.Lengths(3.20, 3.10, 3.12, 3.07), given.MM(2.5), metric)
	if err != nil || given.Codes(got.Reasons) != "kerf-lost-much kerf-grew kerf-lost" {
		t.Errorf("%+v, %v", got, err)
	}
	given.Says(t, got.Reasons, "sharpening 1 took 0.100 mm", "is 0.020 mm wider after sharpening 2", "0.043 mm off the kerf on average (3 so far)", "a stack 0.022 mm higher")
	got, err = WearOf(model.Far, given.Lengths(3.20, 3.20, 3.15), 0, metric)
	if err != nil || given.Codes(got.Reasons) != "kerf-lost" {
		t.Errorf("none and 0.05 mm lost: %+v, %v", got, err)
	}
	if got, err := WearOf(model.Far, given.Lengths(3.2), 0, metric); err == nil || !strings.Contains(err.Error(), "from the first sharpening on") {
		t.Errorf("%+v", got)
	}
}

// The kerf closes on the knife: from 3.00 by 0.02 a sharpening, with 0.06 left beside a knife of
// 2.90 after two, two more leave room, and the third none.
func TestWearOfTheKnifesWindow(t *testing.T) {
	for _, v := range []struct {
		knife float64
		left  int
		says  string
	}{
		{2.90, 2, "after two more sharpenings"},
		{2.94, 0, "today, and not after the next sharpening"}, // 2.94 is then as wide as the kerf
		{2.939, 1, "after the next sharpening, and no more"},
		{2.5, 22, ""}, {0, -1, ""}, {2.97, -1, ""}, // it does not fit any more: that is said elsewhere
	} {
		got, err := WearOf(model.Far, given.Lengths(3.00, 2.98, 2.96), given.MM(v.knife), metric)
		if err != nil || got.Left != v.left || given.Has(got.Reasons, "knife-window", v.says) != (v.says != "") {
			t.Errorf("%v: %+v, %v", v.knife, got, err)
		}
	}
}
