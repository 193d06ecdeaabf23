package gauging

import (
	"math"
	"testing"

	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// metric is how a metric shop with a caliper of 0.01 mm reads lengths.
var metric = metrology.Words{Unit: model.MM, Resolution: given.MM(0.01)}

// Angle and rise worked by hand; limits 0.003 and 0.005 in (0.0762 and 0.127 mm) from
// heel to toe are common practice.
func TestHeelAndToe(t *testing.T) {
	for _, v := range []struct {
		slot, fence float64 // rear minus front
		codes       string
		says        []string
	}{
		{0, 0, "blade-parallel fence-parallel", nil},
		{0.0254, -0.0254, "blade-parallel fence-parallel", nil}, // within 0.001 in (common practice)
		{0.025401, -0.025401, "blade-well fence-closes", nil},
		{0.5, 0.5, "blade-askew fence-opens-wide", []string{"0.50 mm farther from the slot", "turn its rear 0.50 mm toward the slot", "turn the fence's rear end 0.50 mm toward the blade"}}, {-0.5, 0.1, "blade-askew fence-opens", nil}, {0.500001, 0.500001, "blade-far-off fence-far-off", nil},
		{-76.2, 2.9, "blade-far-off fence-far-off", []string{"front and rear were typed right", "turn its rear end 2.90 mm toward the blade, then measure both again"}},
		{0.127, 0.0762, "blade-tolerable fence-opens", nil}, {0.127001, 0.0762, "blade-askew fence-opens", nil},
		{0.0762, 0.127, "blade-well fence-opens", []string{"0.08 mm farther from the slot", "opens toward the rear by 0.13 mm"}},
		{0.0763, 0.1271, "blade-tolerable fence-opens-wide", []string{"turn its rear 0.08 mm toward the slot", "turn the fence's rear end 0.13 mm toward the blade"}},
		{-0.0763, 0, "blade-tolerable fence-parallel", []string{"0.08 mm nearer to the slot", "turn its rear 0.08 mm away from the slot"}},
		{-0.2, -0.05, "blade-askew fence-closes", []string{"0.20 mm nearer to the slot", "turn its rear 0.20 mm away from the slot", "measure the fence again", "closes toward the rear by 0.05 mm", "throw it back", "rear end 0.05 mm away from the blade"}},
	} {
		a, err := Align(Tooth{SlotFront: given.MM(95), SlotRear: given.MM(95 + v.slot), FenceFront: given.MM(120), FenceRear: given.MM(120 + v.fence), Span: given.MM(200)}, metric)
		if err != nil {
			t.Fatal(err)
		}
		if given.Codes(a.Reasons) != v.codes || a.Slot.Rise != given.MM(v.slot) || a.Fence.Rise != given.MM(v.fence) {
			t.Errorf("%+v: %q, %+v", v, given.Codes(a.Reasons), a)
		}
		given.Says(t, a.Reasons, v.says...)
	}
}

func TestFenceThatClosesIsADanger(t *testing.T) {
	for rear, weight := range map[float64]model.Weight{119.95: model.Danger, 120.05: model.Explains, 120.2: model.Warns} {
		a, err := Align(Tooth{FenceFront: given.MM(120), FenceRear: given.MM(rear), Span: given.MM(200)}, metric)
		if err != nil || a.Reasons[1].Weight != weight {
			t.Errorf("rear %v: %+v, %v", rear, a.Reasons, err)
		}
	}
}

// Over a longer part of the blade the same angle is more: 0.1 over 200 is 0.15 over
// 300 mm.
func TestAngleOverTheExposedLength(t *testing.T) {
	a, err := Align(Tooth{SlotFront: given.MM(95), SlotRear: given.MM(95.1), Span: given.MM(200), Exposed: given.MM(300)}, metric)
	if err != nil || a.Slot.Over(given.MM(300)) != given.MM(0.15) || a.Slot.Slope() != 0.0005 {
		t.Errorf("%+v, %v", a, err)
	}
	given.Says(t, a.Reasons, "0.15 mm farther from the slot than the front, over 300.00 mm")
	if given.Codes(a.Reasons) != "blade-askew fence-parallel" {
		t.Error(given.Codes(a.Reasons))
	}
}

func TestAlignRefuses(t *testing.T) {
	for _, span := range []model.Length{0, -1, math.MinInt64} {
		if a, err := Align(Tooth{Span: span}, metric); err == nil {
			t.Errorf("span %d: %+v", span, a)
		}
	}
	if _, err := Align(Tooth{Span: 1, Exposed: -1}, metric); err == nil {
		t.Error("a negative exposed length passed")
	}
	if _, _, err := Taper(1, 1, 0, metric); err == nil {
		t.Error("a board without length passed")
	}
}

func TestTaper(t *testing.T) {
	for _, v := range []struct {
		lead, tail float64
		codes      string
		says       string
	}{
		{120, 120.0254, "no-taper", "both ends are as wide"}, {120, 119.9745, "taper", ""}, {120, 120.1, "taper", ""}, {120, 120.100001, "taper-large", "more than 0.10 mm"}, {120, 119.89, "taper-large", "0.11 mm narrower"}, {120, 120.05, "taper", "0.05 mm wider at its trailing end, over 900.00 mm"}, {120.05, 120, "taper", "is 0.05 mm narrower at its trailing end"},
	} {
		a, reasons, err := Taper(given.MM(v.lead), given.MM(v.tail), given.MM(900), metric)
		if err != nil || given.Codes(reasons) != v.codes || a.Rise != given.MM(v.tail)-given.MM(v.lead) {
			t.Errorf("%+v: %+v, %v, %v", v, a, reasons, err)
		}
		given.Says(t, reasons, v.says)
	}
	// Two readings in steps of 0.05 mm differ by 0.03 mm for nothing, by 0.09 mm they do not.
	coarse := metrology.Words{Unit: model.MM, Resolution: given.MM(0.05)}
	for rise, code := range map[float64]string{0.03: "no-taper", 0.09: "taper"} {
		if _, reasons, err := Taper(given.MM(120), given.MM(120+rise), given.MM(900), coarse); err != nil || given.Codes(reasons) != code {
			t.Errorf("%v by a coarse caliper: %v, %v", rise, reasons, err)
		}
	}
}
