package solver

import (
	"slices"
	"testing"

	"example.com/sawdatum/model"
)

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
		// The part comes out 0.10 mm too wide: as far as the knife may stand out.
		if b.Outside != 0 || b.Fallback.Length != mm(119.9) || !has(b.Reasons, "fallback", "NOT READY", "119.9 mm for") || !has(b.Reasons, "kit-cannot", "0.3") || !has(b.Reasons, "cure") {
			t.Errorf("fallback %v: %v", b.Fallback, b.Reasons)
		}
		// 0.08 mm too wide, and the scale shows tenths.
		if b = row(t, log(q, cut("rip", on, 120.08, 120.09, 120.08)), "rip"); b.Fallback.Length != mm(119.9) || !has(b.Reasons, "fallback", "119.9 mm for") {
			t.Errorf("fallback %v: %v", b.Fallback, b.Reasons)
		}
		// 0.11 mm too wide: the other stack was never cut, and this one is no way to work.
		b = row(t, log(q, cut("rip", on, 120.11, 120.12, 120.11)), "rip")
		if b.Residual != mm(0.09) || b.Fallback.Unit != model.NoUnit || !has(b.Reasons, "knife-outside", "with 0.20 mm", "0.110 mm out of its kerf toward the fence") {
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
	if b := row(t, p, "rip"); b.Residual != mm(0.2) || b.Outside != 0 {
		t.Errorf("%v %v", b.Residual, b.Reasons)
	}
	p.Knives = []model.Knife{{ID: "k25", Thickness: typed(2.9)}}
	// 0.2 mm narrow, a gap of 0.1 mm before the knife is squared, 0.1 mm of play.
	if b := row(t, p, "rip"); b.Outside != mm(-0.2) || b.Verdict != model.Cannot || !has(b.Reasons, "knife-outside", "0.200 mm out of its kerf on the side away from the fence", "wedges") {
		t.Errorf("%+v", b)
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
