package solver

import (
	"testing"

	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

var metric = metrology.Words{Unit: model.MM, Resolution: given.MM(0.01)}

// EN 1870-1 (2007+A1:2009) fig. 6: e < B and e >= b + 0.2 mm. Worked case e 2.2, B
// 3.0, b 2.0 passes, on the boundary; the other vectors computed from the rule.
func TestK1KnifeWindow(t *testing.T) {
	for _, v := range []struct {
		plate, kerf, knife float64
		fit                model.KnifeFit
		play               float64
	}{
		{2.0, 3.0, 2.2, model.KnifeFits, 0.8},
		{1.8, 2.4, 2.0, model.KnifeFits, 0.4},
		{2.0, 3.0, 2.1, model.KnifeTooThin, 0.9},
		{2.0, 3.0, 3.0, model.KnifeTooThick, 0},
		{2.2, 3.2, 2.3, model.KnifeTooThin, 0.9},
		{1.8, 2.4, 2.5, model.KnifeTooThick, -0.1},
		// A nanometre beside each limit.
		{2.0, 3.0, 2.199999, model.KnifeTooThin, 0.800001},
		{2.0, 3.0, 2.999999, model.KnifeFits, 0.000001},
	} {
		fit, play, reasons := KnifeWindow(given.MM(v.plate), given.MM(v.kerf), given.MM(v.knife), model.DefaultKnifeMargin, metric)
		if fit != v.fit || play != given.MM(v.play) || len(reasons) != 1 {
			t.Errorf("plate %v, kerf %v, knife %v: %s, play %v, %v", v.plate, v.kerf, v.knife, fit, play, reasons)
		}
	}
}

func TestKnifeWindowSaysWhichKnife(t *testing.T) {
	for _, v := range []struct {
		plate, kerf, knife float64
		says               []string
	}{
		{1.8, 2.4, 2.5, []string{"0.10 mm too thick", "wedges", "from 2.00 mm to under 2.40 mm"}},
		{2.0, 3.0, 2.1, []string{"only 0.10 mm thicker than the 2.00 mm plate", "close on the blade", "from 2.20 mm to under 3.00 mm"}},
		{2.4, 3.0, 2.2, []string{"no thicker than the 2.40 mm plate", "at least 0.20 mm thicker"}},
		{2.6033, 4.0067, 2.5, []string{"from 2.81 mm to under 4.00 mm"}}, // both limits keep to what holds
		{2.0, 2.208, 2.1, []string{"from 2.200 mm to under 2.208 mm"}},   // no room between whole hundredths
		{2.0, 2.2, 2.1, []string{"no knife fits this blade", "0.20 mm wider than its plate"}},
		{2.19967, 2.40033, 2.5, []string{"no knife fits this blade", "0.201 mm wider than its plate"}}, // from 2.400 to under 2.400
		{2.0, 3.0, 2.5, []string{"0.50 mm of play on the side away from the fence"}},
	} {
		_, _, reasons := KnifeWindow(given.MM(v.plate), given.MM(v.kerf), given.MM(v.knife), model.DefaultKnifeMargin, metric)
		given.Says(t, reasons, v.says...)
	}
}

// EN 1870-1 clause 6.3: 3 to 8 mm.
func TestK2TipGap(t *testing.T) {
	for gap, right := range map[float64]bool{2.9: false, 2.999999: false, 3.0: true, 8.0: true, 8.000001: false, 8.1: false, 12.7: false, 12.8: false} {
		if got := CheckTipGap(given.MM(gap), model.RulesEN, metric); (got == nil) != right {
			t.Errorf("%v mm: %v", gap, got)
		}
	}
}

// HSE, circular rip saw page: thicker than the plate, thinner than the kerf, within
// 8 mm, and several knives may be needed for several blades.
func TestK3SeveralKnives(t *testing.T) {
	for _, v := range []struct {
		plate, kerf float64
		thin, thick model.KnifeFit
	}{
		{2.2, 3.2, model.KnifeTooThin, model.KnifeFits},
		{1.6, 2.2, model.KnifeFits, model.KnifeTooThick},
	} {
		thin, _, _ := KnifeWindow(given.MM(v.plate), given.MM(v.kerf), given.MM(2.0), model.DefaultKnifeMargin, metric)
		thick, _, _ := KnifeWindow(given.MM(v.plate), given.MM(v.kerf), given.MM(2.5), model.DefaultKnifeMargin, metric)
		if thin != v.thin || thick != v.thick {
			t.Errorf("plate %v: %s and %s", v.plate, thin, thick)
		}
	}
	if CheckTipGap(given.MM(8), "", metric) != nil || CheckTipGap(given.MM(8.1), "", metric) == nil {
		t.Error("the limit of 8 mm moved")
	}
}

// Cal. Code Regs. title 8 section 4296; 29 CFR 1910.213(c)(2) from memory: at most
// 1/2 in (12.7 mm). Under 3 mm it is asked about (common practice).
func TestK4TipRulesUS(t *testing.T) {
	for gap, right := range map[float64]bool{0: false, 2.9: false, 3.0: true, 8.1: true, 12.7: true, 12.700001: false, 12.8: false} {
		if got := CheckTipGap(given.MM(gap), model.RulesUS, metric); (got == nil) != right {
			t.Errorf("%v mm: %v", gap, got)
		}
	}
}

func TestTipGapWording(t *testing.T) {
	given.Says(t, CheckTipGap(given.MM(2.9), model.RulesEN, metric), "0.1 mm too near", "back until the gap is 3 mm to 8 mm")
	given.Says(t, CheckTipGap(given.MM(8.1), model.RulesEN, metric), "0.1 mm too far", "forward until the gap is at most 8 mm")
	given.Says(t, CheckTipGap(given.MM(-1), model.RulesEN, metric), "reaches 1 mm into the knife", "back by 4 mm to 9 mm")
	given.Says(t, CheckTipGap(given.MM(0), model.RulesUS, metric), "touches the knife")
	given.Says(t, CheckTipGap(given.MM(-1), model.RulesUS, metric), "back by 4 mm to 13.7 mm")
}

// The gap grows by half the difference of the diameters (job.md, Knife window).
func TestTipGapForEveryBlade(t *testing.T) {
	for _, v := range []struct{ read, from, to, want float64 }{{5, 250, 250, 5}, {5, 250, 240, 10}, {5, 250, 254, 3}, {3, 250, 260, -2}} {
		if got := TipGapFor(given.MM(v.read), given.MM(v.from), given.MM(v.to)); got != given.MM(v.want) {
			t.Errorf("%v to %v: %v", v.from, v.to, got)
		}
	}
}

// EN 1870-1: flange diameter >= D/4, bearing land >= 2 mm.
func TestK5Flange(t *testing.T) {
	for _, v := range []struct {
		flange, relief, blade float64
		codes                 string
	}{
		{62.5, 50, 250, ""}, {62.499999, 50, 250, "flange-small"}, {80, 76, 250, ""}, {80, 76.000002, 250, "flange-land"}, {60, 58, 250, "flange-small flange-land"}, {80, 0, 250, ""},
	} {
		if got := given.Codes(CheckFlange(given.MM(v.flange), given.MM(v.relief), given.MM(v.blade), metric)); got != v.codes {
			t.Errorf("%v: %q", v, got)
		}
	}
	given.Says(t, CheckFlange(given.MM(60), given.MM(50), given.MM(250), metric), "at least 62.50 mm")
}

// HSE WIS16: the smallest blade is 60 % of the largest.
func TestK6SmallestBlade(t *testing.T) {
	for _, v := range []struct {
		blade, largest float64
		right          bool
	}{{150, 250, true}, {149.999999, 250, false}, {250, 250, true}} {
		if got := CheckSmallest(given.MM(v.blade), given.MM(v.largest), metric); (got == nil) != v.right {
			t.Errorf("%v: %v", v, got)
		}
	}
	given.Says(t, CheckSmallest(given.MM(140), given.MM(250), metric), "at least 150.00 mm")
}

// At least one pitch of thread past the nut (Naval Ships' Technical Manual ch. 075).
func TestThreadPastTheNut(t *testing.T) {
	limit := given.MM(7.4)
	if CheckThread(given.MM(7.4), limit, given.MM(2), metric) != nil {
		t.Error("refused on the limit")
	}
	given.Says(t, CheckThread(given.MM(7.400001), limit, given.MM(2), metric), "at most 7.40 mm")
	given.Says(t, CheckThread(1, 0, given.MM(2), metric), "at most 0.00 mm may go on")
	given.Says(t, CheckThread(0, given.MM(-1), given.MM(2), metric), "1.00 mm too high", "not even a bare blade")
}

func TestBore(t *testing.T) {
	for _, v := range []struct {
		bore, arbor float64
		right       bool
	}{{30, 30, true}, {30.05, 30, true}, {30.050001, 30, false}, {29.999999, 30, false}, {16, 15.875, false}} {
		if got := CheckBore(given.MM(v.bore), given.MM(v.arbor), metric); (got == nil) != v.right {
			t.Errorf("%v: %v", v, got)
		}
	}
}

// A ring must reach past the relief: DIN 988 rings of 16 x 22 mm sit inside the
// recess of a flange.
func TestRingBearsOnTheRim(t *testing.T) {
	for _, v := range []struct {
		outer, relief float64
		codes         string
	}{
		{78, 50, ""}, {22, 30, "ring-in-relief"}, {50, 50, "ring-in-relief"}, {50.000002, 50, "ring-narrow-bearing"}, {54, 50, ""}, {53.999998, 50, "ring-narrow-bearing"}, {22, 0, ""}, {120, 77, "ring-narrow-bearing"},
	} {
		r := model.Ring{ID: "r", Outer: given.MM(v.outer).Of(model.MM)}
		if got := given.Codes(CheckRing(r, given.MM(80), given.MM(v.relief), metric)); got != v.codes {
			t.Errorf("%v: %q", v, got)
		}
	}
	if got := given.Codes(CheckRing(model.Ring{ID: "r"}, given.MM(80), given.MM(50), metric)); got != "ring-outer-unknown" {
		t.Errorf("unknown: %q", got)
	}
}

// A ring hangs off centre where it is bored more than half a millimetre wider than the arbor
// (common practice); an inch ring of 1 in does not go on an arbor of 30 mm.
func TestRingSitsOnTheArbor(t *testing.T) {
	for bore, says := range map[float64]string{30: "", 30.5: "", 30.500001: "hangs off centre", 31.75: "1.75 mm larger", 29.999999: "does not go on", 25.4: "4.60 mm smaller"} {
		r := model.Ring{ID: "r", Thickness: given.MM(0.1).Of(model.MM), Bore: given.MM(bore).Of(model.MM)}
		got := RingSits(r, given.MM(30), metric)
		if (got == nil) != (says == "") || r.Sits(given.MM(30)) != (says == "") {
			t.Errorf("%v: %v", bore, got)
		}
		if says != "" {
			given.Says(t, got, says)
		}
	}
	if got := RingSits(model.Ring{ID: "r"}, given.MM(30), metric); got != nil {
		t.Errorf("not known: %v", got)
	}
}

func TestSwapChecks(t *testing.T) {
	m := func(v float64) model.Measure { return given.MM(v).Of(model.MM) }
	p := model.Profile{
		Units:  model.MM,
		Saw:    model.Saw{FlangeDiameter: m(80), FlangeRelief: m(50), ArborDiameter: m(30), ThreadEnd: m(25.2), LooseFlange: m(8), Nut: m(12), ThreadPitch: m(2)},
		Blades: []model.Blade{{ID: "a", Diameter: m(250), Bore: m(30)}, {ID: "b", Diameter: m(240), Bore: m(30)}, {ID: "c", Diameter: m(140), Bore: m(25)}},
		Rings:  []model.Ring{{ID: "wide", Thickness: m(0.5), Count: 3, Outer: m(78)}, {ID: "slim", Thickness: m(0.1), Count: 1, Outer: m(40)}, {ID: "loose", Thickness: m(0.1), Count: 1, Outer: m(78), Bore: m(32)}},
	}
	line := &model.Record{Kind: model.Line, Blade: "a", TipGap: m(4)}
	for _, v := range []struct {
		blade int
		stack []string
		codes string
	}{
		{0, nil, ""}, {0, []string{"wide", "wide"}, ""},
		{0, []string{"wide", "wide", "wide"}, "thread"}, {0, []string{"slim"}, "ring-in-relief"},
		{0, []string{"slim", "slim"}, "ring-in-relief"}, {0, []string{"gone", "wide"}, ""}, {0, []string{"loose", "wide"}, "ring-bore"},
		{1, nil, "tip-gap"}, {2, nil, "bore blade-small tip-gap"},
	} {
		if got := given.Codes(SwapChecks(p, p.Blades[v.blade], given.MM(2.2), v.stack, line)); got != v.codes {
			t.Errorf("%s with %v: %q", p.Blades[v.blade].ID, v.stack, got)
		}
	}
	for name, forget := range map[string]func(*model.Profile, *model.Blade, *model.Record){
		"gap":              func(_ *model.Profile, _ *model.Blade, r *model.Record) { r.TipGap = model.Measure{} },
		"blade of the gap": func(_ *model.Profile, _ *model.Blade, r *model.Record) { r.Blade = "gone" },
		"its diameter":     func(p *model.Profile, _ *model.Blade, _ *model.Record) { p.Blades = []model.Blade{{ID: "a"}} },
		"diameter":         func(_ *model.Profile, b *model.Blade, _ *model.Record) { b.Diameter = model.Measure{} },
	} {
		q, b, r := p, p.Blades[1], *line
		forget(&q, &b, &r)
		if got := given.Codes(SwapChecks(q, b, given.MM(2.2), nil, &r)); got != "" {
			t.Errorf("%s not known: %q", name, got)
		}
	}
	q := p
	q.Saw.FlangeRelief = model.Measure{}
	if got := given.Codes(SwapChecks(q, p.Blades[0], given.MM(2.2), []string{"slim"}, nil)); got != "" {
		t.Errorf("relief not known: %q", got)
	}
	if got := SwapChecks(model.Profile{}, model.Blade{}, 0, []string{"gone"}, nil); got != nil {
		t.Errorf("nothing measured yet: %v", got)
	}
}
