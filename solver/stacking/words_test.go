package stacking

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// What is said where the rule of thumb takes another blade: the rule that belongs to the tilt, else to
// the flange, and the figures of job.md's table, (P + K)/2 far and (K - P)/2 near.
func TestRuleOfThumbInWords(t *testing.T) {
	a := Thickness{ID: "a", Name: "a blade", Plate: given.MM(2.2), Kerf: given.MM(3.2)} // far 2.7, near 0.5
	b := Thickness{ID: "b", Name: "b blade", Plate: given.MM(1.4), Kerf: given.MM(3.3)} // far 2.35, near 0.95
	c := Thickness{ID: "c", Name: "c blade", Plate: given.MM(1.4), Kerf: given.MM(2.6)} // far 2, near 0.6
	show := func(l model.Length) string { return l.Of(model.MM).String() }
	const far, near = "with the flange away from the fence half of plate and kerf together counts", "with the flange on the fence side the side clearance counts"
	for _, v := range []struct {
		flange       model.Flange
		tilt         model.Tilt
		chosen, rule Thickness
		says         []string
	}{
		{model.Far, model.TiltLeft, a, b, []string{"for a left-tilting saw (start from the widest blade) would take the b blade, but the figures take the a blade", far + ", and that is 2.7 mm on the a blade and 2.35 mm on the b blade", "the b blade as reference would leave the a blade short by 0.35 mm"}},
		{model.Far, "", a, b, []string{"for a left-tilting saw (start from the widest blade)", far}},
		{model.Far, model.TiltRight, a, c, []string{"for a right-tilting saw (start from the thinnest blade)", far + ", and that is 2.7 mm on the a blade and 2 mm on the c blade"}},
		{model.Near, model.TiltRight, a, c, []string{"for a right-tilting saw (start from the thinnest blade)", near + ", and that is 0.5 mm on the a blade and 0.6 mm on the c blade"}},
		{model.Near, "", a, c, []string{"for a right-tilting saw (start from the thinnest blade)", near}},
		{model.Near, model.TiltLeft, a, b, []string{"for a left-tilting saw (start from the widest blade)", near}},
	} {
		reasons := RuleOfThumb(v.flange, v.tilt, v.chosen, []Thickness{v.chosen, v.rule}, show)
		if len(reasons) != 1 || reasons[0].Code != "rule-of-thumb" || reasons[0].Weight != model.Explains {
			t.Fatalf("%s, %q: %+v", v.flange, v.tilt, reasons)
		}
		for _, says := range v.says {
			if !strings.Contains(reasons[0].Text, says) {
				t.Errorf("%s, %q: %q is not in %q", v.flange, v.tilt, says, reasons[0].Text)
			}
		}
	}
}

// What is left out of a kit, and what is not: where flange or arbor are not known nothing is.
func TestKitOfWhatSits(t *testing.T) {
	mm := func(l float64) model.Measure { return given.MM(l).Of(model.MM) }
	ring := func(id string, outer, bore model.Measure) model.Ring {
		return model.Ring{ID: id, Thickness: mm(0.2), Outer: outer, Bore: bore, Count: 1}
	}
	rings := []model.Ring{ring("plain", model.Measure{}, model.Measure{}), ring("small", mm(60), mm(30)), ring("large", mm(60.001), mm(30)), ring("bored", mm(80), mm(30.501)), ring("tight", mm(80), mm(29.999))}
	for _, v := range []struct {
		relief, arbor model.Measure
		kit           string
	}{
		{model.Measure{}, model.Measure{}, "bored large plain small tight"},
		{mm(60), model.Measure{}, "bored large plain tight"},
		{model.Measure{}, mm(30), "large plain small"},
		{mm(60), mm(30), "large plain"},
	} {
		p := model.Profile{Units: model.MM, Rings: rings, Saw: model.Saw{FlangeRelief: v.relief, ArborDiameter: v.arbor}}
		kit, reasons := KitOf(p)
		var ids []string
		for _, piece := range kit.Pieces() {
			ids = append(ids, piece.ID)
			given.Close(t, "variance", piece.Variance/1e6, 400./3, 1e-9)
		}
		slices.Sort(ids)
		if got := strings.Join(ids, " "); got != v.kit || len(reasons) != len(rings)-len(ids) {
			t.Errorf("relief %s, arbor %s: %s; %v", v.relief, v.arbor, got, reasons)
		}
	}
}

// Runout that was read adds the step it was read in, by half; and the bench's offset is a prediction.
func TestBareOfReadRunout(t *testing.T) {
	b := model.Blade{ID: "b", Plate: given.Readings(2, 2, 2), Kerf: given.Readings(3, 3, 3), Runout: given.MM(0.02).Of(model.MM)}
	bare, err := BareOf(model.Far, b, given.MM(0.01), given.MM(0.02))
	if err != nil {
		t.Fatal(err)
	}
	given.Close(t, "variance", bare.Variance()/1e6, 3*(100./12)/4, 1e-9)
	if o, err := Predict(bare, bare); err != nil || o.Value != 0 || math.Abs(float64(o.U)-2*math.Sqrt(2*bare.Variance())) > 100 {
		t.Errorf("%+v, %v", o, err)
	}
	for half, want := range map[model.Measure]model.Length{{}: model.DefaultHalfRunout, given.MM(0.05).Of(model.MM): given.MM(0.05), given.MM(0).Of(model.MM): 0} {
		if got := UnreadRunout(model.Profile{HalfRunout: half}); got != want {
			t.Errorf("%s: %v", half, got)
		}
	}
}

// Racks are compared field by field, the earlier one first, whatever the later ones say.
func TestScoresInTheirOrder(t *testing.T) {
	worse := []Score{{Cannot: 1}, {Unsure: 1}, {Excess: 1}, {Rings: 1}, {Worst: 1}}
	for i, a := range worse {
		rest := Score{}
		for _, b := range worse[i+1:] {
			rest.Cannot, rest.Unsure, rest.Excess, rest.Rings, rest.Worst = rest.Cannot+b.Cannot, rest.Unsure+b.Unsure, rest.Excess+b.Excess, rest.Rings+b.Rings, rest.Worst+b.Worst
		}
		if a.Less(rest) || !rest.Less(a) || a.Less(a) {
			t.Errorf("%+v against %+v", a, rest)
		}
	}
}

// What is allowed is told of the side on which the cut face lies: 0.81 mm wanted, and 0.75 or 0.85 made.
func TestShortfallOfEitherSide(t *testing.T) {
	kit, err := NewKit(rings(0.25, 0.50, 0.85))
	if err != nil {
		t.Fatal(err)
	}
	for want, says := range map[float64]string{0.81: "is 0.04 mm over the wanted 0.81 mm: 0.01 mm more than the 0.03 mm allowed", 0.78: "is 0.03 mm short of the wanted 0.78 mm: 0.01 mm more than the 0.02 mm allowed"} {
		f, err := kit.Best(Goal{given.MM(want), Zone{Toward: given.MM(0.03), Away: given.MM(0.02)}, math.MaxInt64, model.Far})
		if err != nil {
			t.Fatal(err)
		}
		given.Says(t, kit.Shortfall(f, metrology.Words{Unit: model.MM}), says)
	}
}

// What advice says: of the standing stack only where it may be another and is; of blades only those that
// stay out; and how far was looked where that was not to the end.
func TestAdviceInWords(t *testing.T) {
	standing := Fit{Rings: []Piece{{ID: "s", Height: given.MM(0.2)}}, Height: given.MM(0.2)}
	in, out := Fit{Verdict: model.In}, Fit{Goal: Goal{Want: given.MM(1), Flange: model.Far}, Verdict: model.Cannot}
	needs := []Need{{ID: "rip"}, {ID: "fine"}}
	for _, v := range []struct {
		name          string
		a             Advice
		asked         Asking
		says, saysNot string
		buy           int
	}{
		{"free, and it moves", Advice{Buy: given.Lengths(0.3), Enough: true, Rack: RackFit{Standing: standing}}, Asking{Free: true}, "brings every blade in, with 0.2 mm behind the reference, the worst", "may", 1},
		{"free, and it stays", Advice{Buy: given.Lengths(0.3), Enough: true, Rack: RackFit{Standing: standing}}, Asking{Free: true, Standing: given.MM(0.2)}, "brings every blade in, the worst", "behind", 1},
		{"not free", Advice{Buy: given.Lengths(0.3), Enough: true, Rack: RackFit{Standing: standing}}, Asking{}, "brings every blade in, the worst", "behind", 1},
		{"it may", Advice{Buy: given.Lengths(0.3), Enough: true, Rack: RackFit{Score: Score{Unsure: 1}}}, Asking{}, "may bring every blade in", "brings", 1},
		{"one stays out", Advice{Buy: given.Lengths(0.3), Rack: RackFit{Standing: standing, Blades: []Fit{in, out}}}, Asking{Free: true, Needs: needs}, "every blade in; as the kit is, it misses the fine by 1 mm: ", "rip", 0},
		{"both do, and not all was looked at", Advice{Rack: RackFit{Blades: []Fit{out, out}, Partly: true, Looked: given.MM(1.5)}}, Asking{Needs: needs}, "every blade in on a standing stack up to 1.5 mm (higher ones were not looked through); as the kit is, it misses the rip by 1 mm, the fine by 1 mm", "behind", 0},
	} {
		got := v.a.worded(v.asked, metrology.Words{Unit: model.MM})
		if len(got.Reasons) != 1 || !strings.Contains(got.Reasons[0].Text, v.says) || strings.Contains(got.Reasons[0].Text, v.saysNot) || len(got.Buy) != v.buy {
			t.Errorf("%s: %+v", v.name, got)
		}
	}
}
