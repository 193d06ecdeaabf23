package solver

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"pgregory.net/rapid"
)

func typed(v float64) model.Measure { return mm(v).Of(model.MM) }

func readings(vs ...float64) []model.Measure {
	var out []model.Measure
	for _, v := range vs {
		out = append(out, typed(v))
	}
	return out
}

func thrice(v float64) []model.Measure { return readings(v, v, v) }

// shop is an invented bay: a far-flange saw, four blades, a small kit.
func shop() model.Profile {
	blade := func(id string, plate, kerf float64) model.Blade {
		return model.Blade{ID: id, Label: id, Diameter: typed(250), Teeth: 48, Bore: typed(30), Plate: thrice(plate), Kerf: thrice(kerf), Knife: "k25"}
	}
	ring := func(id string, t float64, n int) model.Ring {
		return model.Ring{ID: id, Thickness: typed(t), Measured: typed(t), Count: n, Outer: typed(78)}
	}
	return model.Profile{
		Version: 1, Name: "bay-two", Units: model.MM, Tolerance: typed(0.05), WorkingWidth: typed(120),
		Saw: model.Saw{Label: "Bay 2 saw", Tilt: model.TiltLeft, FenceSide: model.SideRight, Flange: model.Far,
			FlangeDiameter: typed(80), FlangeRelief: typed(50), ArborDiameter: typed(30),
			SpareThread: typed(9), ThreadPitch: typed(2), ThroatLength: typed(360)},
		Knives:      []model.Knife{{ID: "k25", Thickness: typed(2.5)}},
		Instruments: model.Instruments{Caliper: typed(0.01), Micrometer: typed(0.001)},
		Blades:      []model.Blade{blade("general", 2.2, 3.2), blade("rip", 2.0, 3.0), blade("fine", 2.2, 2.8), blade("thin", 1.8, 2.4)},
		Rings:       []model.Ring{ring("r10", 0.10, 2), ring("r20", 0.20, 2), ring("r50", 0.50, 1)},
		Reference:   "general", Standing: []string{},
	}
}

// log adds records to a profile, a minute apart.
func log(p model.Profile, records ...model.Record) model.Profile {
	p.Records = slices.Clone(p.Records)
	for _, r := range records {
		r.At = time.Date(2024, 3, 4, 7, len(p.Records), 0, 0, time.UTC)
		r.By = "KB"
		p.Records = append(p.Records, r)
	}
	return p
}

// setUp is the shop with knife, scale and reference cuts done under lock l1.
func setUp(p model.Profile) model.Profile {
	p = log(p,
		model.Record{Kind: model.Mount, Blade: "general", Rings: p.Standing},
		model.Record{Kind: model.FenceLock, Lock: "l0", Width: typed(120)},
		model.Record{Kind: model.KnifeSet, Knife: "k25", Lock: "l0", Blade: "general", Rings: p.Standing, TipGap: typed(5)},
		model.Record{Kind: model.FenceLock, Lock: "l1", Width: typed(120)})
	for _, b := range []string{"rip", "fine", "thin"} {
		p = log(p, model.Record{Kind: model.ReferenceCut, Lock: "l1", Blade: "general", Rings: p.Standing, Piece: b, Readings: readings(120.00, 120.01, 120.00)})
	}
	return p
}

func cut(blade string, rings []string, widths ...float64) model.Record {
	return model.Record{Kind: model.BladeCut, Lock: "l1", Blade: blade, Rings: rings, Piece: string(model.SamePiece), Readings: readings(widths...)}
}

func row(t *testing.T, p model.Profile, id string) model.BladePlan {
	t.Helper()
	b, ok := Plan(p).Blade(id)
	if !ok {
		t.Fatalf("no row for %s", id)
	}
	return b
}

func has(reasons []model.Reason, code string, say ...string) bool {
	return slices.ContainsFunc(reasons, func(r model.Reason) bool {
		return r.Code == code && !slices.ContainsFunc(say, func(s string) bool { return !strings.Contains(r.Text, s) })
	})
}

// Cut faces and wanted heights are the geometry vectors of facts.md.
func TestPlanPredicts(t *testing.T) {
	plan := Plan(shop())
	if plan.Reference != "general" || plan.StandingHeight != 0 || !has(plan.Reasons, "reference", "general", "2.7") {
		t.Errorf("reference %q, standing %v, %v", plan.Reference, plan.Standing, plan.Reasons)
	}
	for _, c := range []struct {
		id                      string
		face, offset, want, top float64
		stack                   []string
		knife                   model.KnifeFit
		verdict                 model.Verdict
	}{
		{"general", 2.7, 0, 0, 0, []string{}, model.KnifeFits, model.In},
		{"rip", 2.5, 0.2, 0.2, 0.2, []string{"r20"}, model.KnifeFits, model.In},
		{"fine", 2.5, 0.2, 0.2, 0.2, []string{"r20"}, model.KnifeFits, model.In},
		{"thin", 2.1, 0.6, 0.6, 0.6, []string{"r10", "r50"}, model.KnifeTooThick, model.In},
	} {
		b, _ := plan.Blade(c.id)
		if b.Basis != model.Predicted || b.CutFace != mm(c.face) || b.Offset != mm(c.offset) || b.Want != mm(c.want) || b.Height != mm(c.top) ||
			!slices.Equal(b.Stack, c.stack) || b.Knife != c.knife || b.Verdict != c.verdict || b.Ready {
			t.Errorf("%s: %+v", c.id, b)
		}
	}
	thin, _ := plan.Blade("thin")
	if !has(thin.Reasons, "knife-too-thick") || !has(thin.Reasons, "needs-cut") {
		t.Errorf("thin: %v", thin.Reasons)
	}
}

func TestPlanChoosesTheReference(t *testing.T) {
	p := shop()
	p.Reference, p.Standing = "", nil
	if plan := Plan(p); plan.Reference != "general" {
		t.Errorf("far: %q", plan.Reference)
	}
	// The thinnest blade has the larger side clearance, 0.45 mm against 0.3 mm.
	p.Saw.Flange, p.Saw.Tilt = model.Near, model.TiltRight
	p.Blades = append(slices.Clone(p.Blades), model.Blade{ID: "clear", Plate: thrice(1.4), Kerf: thrice(2.3)})
	if plan := Plan(p); plan.Reference != "fine" && plan.Reference != "thin" || !has(plan.Reasons, "rule-of-thumb", "clear", "0.45", "0.3") {
		t.Errorf("near: %q, %v", plan.Reference, plan.Reasons)
	}
	p.Reference = "gone"
	if plan := Plan(p); !has(plan.Reasons, "reference-missing", "gone") {
		t.Errorf("a reference that is not there: %v", plan.Reasons)
	}
}

func TestPlanTellsAWrongReference(t *testing.T) {
	p := shop()
	p.Reference = "rip"
	plan := Plan(p)
	if !has(plan.Reasons, "reference-by-hand", "general", "0.2") {
		t.Errorf("%v", plan.Reasons)
	}
	b, _ := plan.Blade("general")
	if b.Want != mm(-0.2) || b.Verdict != model.Cannot || !has(b.Reasons, "negative-want", "make general the reference", "behind rip", "0.2") || b.Ready {
		t.Errorf("%+v", b)
	}
	if !has(plan.Reasons, "standing-better", "0.2 mm") {
		t.Errorf("no word of the standing stack that cures it: %v", plan.Reasons)
	}
	p.Standing = []string{"r20"}
	if b := row(t, p, "general"); b.Want != 0 || b.Verdict != model.In || len(b.Stack) != 0 {
		t.Errorf("with a standing stack: %+v", b)
	}
	p.Standing = nil
	if plan := Plan(p); plan.StandingHeight != mm(0.2) || !has(plan.Reasons, "standing") {
		t.Errorf("chosen standing stack: %v, %v", plan.StandingHeight, plan.Reasons)
	}
}

func TestPlanOfTheReference(t *testing.T) {
	p := setUp(shop())
	b := row(t, p, "general")
	if !b.Ready || b.Basis != model.Measured || b.Proved == nil || b.Verdict != model.In {
		t.Errorf("after its cut: %+v", b)
	}
	for name, moved := range map[string]model.Profile{
		"flange cleaned":   log(p, model.Record{Kind: model.Arbor, SpareThread: typed(9)}),
		"sharpened":        log(p, model.Record{Kind: model.Sharpened, Blade: "general", Plate: thrice(2.2), Kerf: thrice(3.1)}),
		"knife by another": log(p, model.Record{Kind: model.KnifeSet, Knife: "k25", Blade: "rip", Rings: []string{}}),
	} {
		if b := row(t, moved, "general"); b.Ready {
			t.Errorf("%s: still ready", name)
		}
	}
	if b := row(t, log(p, model.Record{Kind: model.FenceMoved, Lock: "l1"}), "general"); !b.Ready {
		t.Errorf("a fence that moved later does not move the datum: %v", b.Reasons)
	}
}

func TestPlanMeasures(t *testing.T) {
	p := setUp(shop())
	on := []string{"r20"}
	t.Run("in", func(t *testing.T) {
		b := row(t, log(p, cut("rip", on, 120.01, 120.01, 120.00)), "rip")
		if b.Basis != model.Measured || b.Verdict != model.In || !b.Ready || b.Proved == nil || !slices.Equal(b.Stack, on) || b.Residual != -b.Offset || b.Expanded <= 0 {
			t.Errorf("%+v", b)
		}
	})
	t.Run("out", func(t *testing.T) {
		// 0.10 mm wider with 0.20 on: far, so 0.30 is wanted.
		b := row(t, log(p, cut("rip", on, 120.10, 120.11, 120.10)), "rip")
		if b.Verdict != model.Out || b.Ready || b.Proved != nil || b.Want != mm(0.3) || !slices.Equal(b.Stack, []string{"r10", "r20"}) || b.Residual != 0 {
			t.Errorf("%+v", b)
		}
		if !has(b.Reasons, "needs-proof", "0.1 mm + 0.2 mm") || !has(b.Reasons, "off-prediction", "wider") {
			t.Errorf("%v", b.Reasons)
		}
	})
	t.Run("doubtful", func(t *testing.T) {
		b := row(t, log(p, cut("rip", on, 120.02, 120.07, 120.06)), "rip")
		if b.Verdict != model.Doubtful || b.Ready || b.More == 0 {
			t.Errorf("%+v", b)
		}
	})
	t.Run("cannot", func(t *testing.T) {
		q := p
		q.Rings = slices.Clone(p.Rings[1:2]) // only 0.20 x 2
		// 0.30 is wanted of 0.20 and 0.40, which are as near: fewer rings.
		b := row(t, log(q, cut("rip", on, 120.10, 120.11, 120.10)), "rip")
		if b.Verdict != model.Cannot || b.Ready || !slices.Equal(b.Stack, on) || b.Residual != mm(-0.1) {
			t.Errorf("%+v", b)
		}
		// The part comes out 0.10 mm too wide, and the knife stands out by as much.
		if b.Fallback.Length != mm(119.9) || !has(b.Reasons, "fallback", "119.9", "0.100 mm out of the kerf toward the fence") || !has(b.Reasons, "kit-cannot", "0.3") || !has(b.Reasons, "cure") {
			t.Errorf("fallback %v: %v", b.Fallback, b.Reasons)
		}
		b = row(t, log(q, cut("rip", on, 120.11, 120.12, 120.11)), "rip")
		if b.Residual != mm(0.09) || b.Fallback.Length != mm(120.09) || !has(b.Reasons, "fallback", "120.09", "0.410 mm left on the other side") {
			t.Errorf("fallback %v: %v", b.Fallback, b.Reasons)
		}
	})
	t.Run("differences", func(t *testing.T) {
		r := cut("rip", on)
		r.Differences = readings(0.10, 0.10, 0.10)
		if b := row(t, log(p, r), "rip"); b.Verdict != model.Out || b.Offset != mm(0.10) || b.Want != mm(0.3) {
			t.Errorf("%+v", b)
		}
	})
	t.Run("near", func(t *testing.T) {
		// 0.10 mm wider with 0.20 on: near, so 0.10 is wanted.
		q := shop()
		q.Saw.Flange, q.Saw.Tilt = model.Near, model.TiltRight
		b := row(t, log(setUp(q), cut("rip", on, 120.10, 120.10, 120.11)), "rip")
		if b.Verdict != model.Out || b.Want != mm(0.10) || !slices.Equal(b.Stack, []string{"r10"}) {
			t.Errorf("%+v", b)
		}
	})
	t.Run("standing stack", func(t *testing.T) {
		q := shop()
		q.Standing = []string{"r10"}
		b := row(t, log(setUp(q), cut("rip", []string{"r10", "r20"}, 120.10, 120.10, 120.11)), "rip")
		if b.Verdict != model.Out || b.Want != mm(0.4) || b.Height != mm(0.4) {
			t.Errorf("%+v", b)
		}
	})
	t.Run("over the thread", func(t *testing.T) {
		q := p
		q.Saw.SpareThread = typed(2.0)
		b := row(t, log(q, cut("rip", []string{"r20", "r50"}, 120.0, 120.0, 120.0)), "rip")
		if b.Verdict == model.In || b.Ready || b.Height > mm(0.2) {
			t.Errorf("%+v", b)
		}
	})
}

func TestPlanExplainsTheStandingStack(t *testing.T) {
	p := shop()
	p.Standing = nil
	if plan := Plan(p); len(plan.Standing) != 0 || has(plan.Reasons, "standing") {
		t.Errorf("every blade is reached without one: %v, %v", plan.Standing, plan.Reasons)
	}
	// Of 0.40, 0.50 and 0.70 the wanted 0.2 and 0.6 cannot be made; on 0.50 behind the
	// reference they become 0.7 and 1.1, which can.
	p.Rings = []model.Ring{p.Rings[2], {ID: "r70", Thickness: typed(0.7), Measured: typed(0.7), Count: 1}, {ID: "r40", Thickness: typed(0.4), Measured: typed(0.4), Count: 1}}
	plan := Plan(p)
	if !slices.Equal(plan.Standing, []string{"r50"}) || !has(plan.Reasons, "standing", "0.5 mm", "could not be brought in without it") {
		t.Errorf("%v, %v", plan.Standing, plan.Reasons)
	}
	p.Standing = []string{}
	if plan := Plan(p); !has(plan.Reasons, "standing-better", "0.5 mm", "every blade can be brought in") {
		t.Errorf("%v", plan.Reasons)
	}
	p.Rings = p.Rings[:1]
	if plan := Plan(p); has(plan.Reasons, "standing-better") {
		t.Errorf("nothing is better than what is there: %v", plan.Reasons)
	}
	p = shop()
	p.Standing = []string{"r50"}
	p.Saw.SpareThread = typed(2.4)
	if b := row(t, setUp(p), "general"); b.Verdict != model.Cannot || b.Ready || !has(b.Reasons, "thread") {
		t.Errorf("a standing stack over the thread: %+v", b)
	}
}

// Where the knife does not fit, no way round is offered and nothing is ready.
func TestPlanAndTheKnife(t *testing.T) {
	p := log(setUp(shop()), cut("thin", []string{"r10", "r50"}, 120.01, 120.01, 120.00))
	if b := row(t, p, "thin"); b.Verdict != model.In || b.Ready || b.Knife != model.KnifeTooThick || b.Play != mm(-0.1) {
		t.Errorf("%+v", b)
	}
	p.Rings = p.Rings[:1]
	p.Records = nil
	if b := row(t, p, "thin"); b.Verdict != model.Cannot || b.Fallback.Unit != model.NoUnit || has(b.Reasons, "fallback") {
		t.Errorf("%+v", b)
	}
	// rip wants 0.2 and gets 0.9: its kerf lies 0.7 mm toward the fence, more than
	// the 0.5 mm that the 2.5 mm knife leaves of the 3.0 mm kerf.
	p = shop()
	p.Rings = []model.Ring{{ID: "r90", Thickness: typed(0.9), Measured: typed(0.9), Count: 1}}
	p.Blades = slices.Clone(p.Blades)
	p.Blades[1].Plate, p.Blades[1].Kerf = thrice(1.0), thrice(2.6)
	if b := row(t, p, "rip"); b.Residual != 0 {
		t.Errorf("%+v", b)
	}
	p.Blades[1].Kerf = thrice(3.0)
	if b := row(t, p, "rip"); b.Residual != mm(0.2) || !has(b.Reasons, "fallback", "0.300 mm left") {
		t.Errorf("%v %v", b.Residual, b.Reasons)
	}
	p.Knives = []model.Knife{{ID: "k25", Thickness: typed(2.9)}}
	if b := row(t, p, "rip"); !has(b.Reasons, "fallback", "0.100 mm out of the kerf on the side away from the fence") {
		t.Errorf("%v", b.Reasons)
	}
}

func TestPlanSaysThatTheToleranceIsTooSmall(t *testing.T) {
	p := shop()
	p.Tolerance = typed(0.01)
	b := row(t, log(setUp(p), cut("rip", []string{"r20"}, 120.00, 120.02, 120.01)), "rip")
	if b.Verdict != model.Doubtful || !slices.Equal(b.Stack, []string{"r20"}) || !has(b.Reasons, "uncertainty-too-large", "0.010 mm") {
		t.Errorf("%+v", b)
	}
	if b := row(t, shop(), "rip"); has(b.Reasons, "uncertainty-too-large") {
		t.Errorf("%v", b.Reasons)
	}
}

// R5: ready only with the recorded stack, the knife that fits, the present knife
// alignment and the present datum.
func TestPlanTakesReadinessBack(t *testing.T) {
	p := log(setUp(shop()), cut("rip", []string{"r20"}, 120.01, 120.01, 120.00))
	if b := row(t, p, "rip"); !b.Ready {
		t.Fatalf("not ready to begin with: %v", b.Reasons)
	}
	again := model.Record{Kind: model.KnifeSet, Knife: "k25", Blade: "general", Rings: []string{}}
	other := p
	other.Blades = slices.Clone(p.Blades)
	other.Knives = append(slices.Clone(p.Knives), model.Knife{ID: "k24", Thickness: typed(2.4)})
	other.Blades[1].Knife = "k24"
	gone := p
	gone.Rings = slices.Clone(p.Rings[2:])
	standing := p
	standing.Standing = []string{"r10"}
	for _, c := range []struct {
		name string
		p    model.Profile
		code string
	}{
		{"knife aligned again", log(p, again), "knife-moved"},
		{"arbor cleaned", log(p, model.Record{Kind: model.Arbor, SpareThread: typed(9)}), "datum-moved"},
		{"reference sharpened", log(p, model.Record{Kind: model.Sharpened, Blade: "general", Plate: thrice(2.2), Kerf: thrice(3.18)}), "datum-moved"},
		{"itself sharpened", log(p, model.Record{Kind: model.Sharpened, Blade: "rip", Plate: thrice(2.0), Kerf: thrice(2.98)}), "datum-moved"},
		{"another knife", other, "knife-other"},
		{"its ring is gone", gone, "ring-gone"},
		{"standing stack changed", standing, "datum-moved"},
		{"the cut voided", log(p, model.Record{Kind: model.Void, Of: p.Records[len(p.Records)-1].Ref(), Why: "wrong blade"}), "needs-cut"},
	} {
		if b := row(t, c.p, "rip"); b.Ready || !has(b.Reasons, c.code) {
			t.Errorf("%s: ready %v, %v", c.name, b.Ready, b.Reasons)
		}
	}
}

func TestPlanOfAKit(t *testing.T) {
	p := shop()
	p.Rings = append(slices.Clone(p.Rings), model.Ring{ID: "washer", Thickness: typed(0.3), Count: 1, Outer: typed(50)})
	if plan := Plan(p); !has(plan.Reasons, "ring-left-out", "washer", "50.00 mm") {
		t.Errorf("%v", plan.Reasons)
	}
	p.Rings[0].Count = 40
	if plan := Plan(p); !has(plan.Reasons, "kit-refused", "32") || plan.Blades[1].Verdict != model.Cannot || !has(plan.Blades[1].Reasons, "kit-refused") {
		t.Errorf("%v", plan.Reasons)
	}
	if plan := Plan(p); !has(plan.Reasons, "kit-refused", "40 of ring r10") {
		t.Errorf("%v", plan.Reasons)
	}
	p.Rings[1].Measured = typed(0)
	p.Rings[0].Count = 2
	if plan := Plan(p); !has(plan.Reasons, "ring-left-out", "r20", "0 mm") || has(plan.Reasons, "kit-refused") || !slices.Equal(plan.Blades[1].Stack, []string{"r10", "r10"}) {
		t.Errorf("a ring of no thickness: %v, %v", plan.Reasons, plan.Blades[1].Stack)
	}
	p.Rings[1].Measured = typed(0.2)
	p.Rings[0].Count = 31
	if plan := Plan(p); !has(plan.Reasons, "kit-refused", "32") {
		t.Errorf("31 rings beside two more: %v", plan.Reasons)
	}
}

// Half-filled profiles: anything may be missing at once.
func TestPlanOfAHalfFilledProfile(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := log(setUp(shop()), cut("rip", []string{"r20"}, 120.01, 120.01, 120.00))
		drop := func(name string, clear func()) {
			if rapid.Bool().Draw(t, name) {
				clear()
			}
		}
		drop("saw", func() { p.Saw = model.Saw{} })
		drop("flange", func() { p.Saw.Flange = "" })
		drop("tolerance", func() { p.Tolerance = model.Measure{} })
		drop("width", func() { p.WorkingWidth = model.Measure{} })
		drop("knives", func() { p.Knives = nil })
		drop("instruments", func() { p.Instruments = model.Instruments{} })
		drop("rings", func() { p.Rings = nil })
		drop("reference", func() { p.Reference = "" })
		drop("standing", func() { p.Standing = nil })
		drop("unknown standing", func() { p.Standing = []string{"nobody"} })
		drop("records", func() { p.Records = nil })
		drop("units", func() { p.Units = model.NoUnit })
		drop("blades", func() { p.Blades = nil })
		for i := range p.Blades {
			drop("plate", func() { p.Blades[i].Plate = nil })
			drop("kerf", func() { p.Blades[i].Kerf = nil })
			drop("knife", func() { p.Blades[i].Knife = "" })
			drop("retired", func() { p.Blades[i].Retired = true })
		}
		plan := Plan(p)
		if len(plan.Blades) != len(p.Rack()) {
			t.Fatalf("%d rows for %d blades", len(plan.Blades), len(p.Rack()))
		}
		for _, b := range plan.Blades {
			if b.Verdict == "" || b.Knife == "" || b.Basis == "" || b.Stack == nil || len(b.Reasons) == 0 {
				t.Fatalf("%s: %+v", b.ID, b)
			}
			if b.Ready && (b.Verdict != model.In || b.Knife != model.KnifeFits || p.Saw.Flange == "" || p.Tolerance.Unit == model.NoUnit && b.ID != p.Reference) {
				t.Fatalf("ready: %+v", b)
			}
		}
	})
}

// Figures that no reader of files would let through do no harm either.
func TestPlanOfWildFigures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		measure := func() model.Measure {
			l := rapid.OneOf(rapid.Int64Range(-int64(model.MaxLength), int64(model.MaxLength)), rapid.Int64Range(-5, 5), rapid.Int64()).Draw(t, "length")
			return model.Measure{Length: model.Length(l), Unit: rapid.SampledFrom([]model.Unit{model.NoUnit, model.MM, model.IN, model.Fraction, model.Mil}).Draw(t, "unit")}
		}
		p := log(setUp(shop()), cut("rip", []string{"r20"}, 120.01, 120.01, 120.00))
		for _, m := range []*model.Measure{&p.Tolerance, &p.WorkingWidth, &p.Saw.FlangeDiameter, &p.Saw.FlangeRelief, &p.Saw.ArborDiameter, &p.Saw.SpareThread, &p.Saw.ThreadPitch,
			&p.KnifeMargin, &p.Knives[0].Thickness, &p.Instruments.Caliper, &p.Instruments.Micrometer, &p.Blades[0].Runout, &p.Blades[1].Diameter, &p.Blades[2].Bore,
			&p.Blades[0].Plate[0], &p.Blades[1].Kerf[1], &p.Rings[0].Thickness, &p.Rings[1].Measured, &p.Rings[2].Outer, &p.Rings[2].HalfWidth,
			&p.Records[len(p.Records)-1].Readings[0]} {
			if rapid.IntRange(0, 4).Draw(t, "which") == 0 {
				*m = measure()
			}
		}
		p.Rings[0].Count = rapid.IntRange(-3, 40).Draw(t, "count")
		if plan := Plan(p); len(plan.Blades) != 4 {
			t.Fatalf("%d rows", len(plan.Blades))
		}
	})
}

// The plan of random racks is what brute force finds from the readings alone.
func TestPlanIsWhatBruteForceFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := shop()
		p.Reference, p.Standing = "", nil
		p.Saw.Flange = rapid.SampledFrom([]model.Flange{model.Far, model.Near}).Draw(t, "flange")
		p.Tolerance = rapid.SampledFrom([]model.Measure{typed(0.05), typed(0.02), typed(0.01)}).Draw(t, "tolerance")
		p.Rings, p.Blades = nil, nil
		var kit []Piece
		for i := range rapid.IntRange(0, 6).Draw(t, "rings") {
			h := model.Length(rapid.Int64Range(2, 40).Draw(t, "ring")) * 25_000
			r := model.Ring{ID: fmt.Sprint("r", i), Thickness: h.Of(model.MM), Measured: h.Of(model.MM), Count: 1, Outer: typed(78)}
			p.Rings, kit = append(p.Rings, r), append(kit, Piece{r.ID, h})
		}
		for i := range rapid.IntRange(1, 4).Draw(t, "blades") {
			plate := rapid.Int64Range(1500, 2400).Draw(t, "plate")
			kerf := plate + rapid.Int64Range(400, 1400).Draw(t, "kerf")
			um := func(v int64) []model.Measure { return thrice(float64(v) / 1000) }
			p.Blades = append(p.Blades, model.Blade{ID: fmt.Sprint("b", i), Plate: um(plate), Kerf: um(kerf)})
		}
		face := func(b model.Blade) model.Length { // twice the cut face
			if p.Saw.Flange == model.Near {
				return b.Kerf[0].Length - b.Plate[0].Length
			}
			return b.Kerf[0].Length + b.Plate[0].Length
		}
		reference := p.Blades[0]
		for _, b := range p.Blades {
			if p.Saw.Flange == model.Far && face(b) > face(reference) || p.Saw.Flange == model.Near && face(b) < face(reference) {
				reference = b
			}
		}
		plan := Plan(p)
		if plan.Reference != reference.ID {
			t.Fatalf("reference %s, want %s", plan.Reference, reference.ID)
		}
		var needs []Need
		for _, b := range p.Blades {
			if b.ID == reference.ID {
				continue
			}
			got, _ := plan.Blade(b.ID)
			needs = append(needs, Need{b.ID, (face(reference) - face(b)).Abs() / 2, max(p.Tolerance.Length-got.Expanded, 0),
				mm(7) + reference.Plate[0].Length - b.Plate[0].Length})
		}
		_, standing := bruteRack(needs, kit, mm(7), p.Saw.Flange)
		if plan.StandingHeight != standing {
			t.Fatalf("standing %v, want %v", plan.StandingHeight, standing)
		}
		for _, n := range needs {
			want := bruteStack(Goal{n.Height + standing, n.Within, n.Highest, p.Saw.Flange}, kit)
			got, _ := plan.Blade(n.ID)
			if got.Height != want.Height || len(got.Stack) != len(want.Rings) || got.Residual != want.Residual() || (got.Verdict == model.Cannot) != (want.Verdict == model.Cannot) {
				t.Fatalf("%s: got %v %s, want %v %s", n.ID, got.Height, got.Verdict, want.Height, want.Verdict)
			}
		}
	})
}

// benched is a rack and a kit of the given sizes, thicknesses read to 0.001 mm.
func benched(blades, kit int, standing []string) model.Profile {
	p := shop()
	p.Reference, p.Standing, p.Rings, p.Blades = "", standing, nil, nil
	for _, piece := range arbitrary(kit, 1) {
		h := (piece.Height - piece.Height%1000).Of(model.MM)
		p.Rings = append(p.Rings, model.Ring{ID: piece.ID, Thickness: h, Measured: h, Count: 1, Outer: typed(78)})
	}
	for i, n := range seededNeeds(blades+1, 0, 1) {
		off := n.Height.Millimetres()
		b := model.Blade{ID: fmt.Sprint("b", i), Diameter: typed(250), Bore: typed(30), Plate: thrice(2.2 - off), Kerf: readings(3.2-off, 3.201-off, 3.2-off), Knife: "k25"}
		p.Blades = append(p.Blades, b)
	}
	return p
}

// The plan is made anew on every keystroke: 5 ms for 12 blades and 12 rings.
func BenchmarkPlan(b *testing.B) {
	for _, c := range []struct {
		name string
		p    model.Profile
	}{
		{"4x5", setUp(shop())},
		{"12x12/choosing", benched(12, 12, nil)},
		{"12x12/standing", benched(12, 12, []string{})},
		{"200x32/choosing", benched(200, 32, nil)},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Plan(c.p)
			}
		})
	}
}
