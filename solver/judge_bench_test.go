package solver

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/sawdatum/testdata/given"

	"pgregory.net/rapid"

	"example.com/sawdatum/model"
)

// Cut faces and wanted heights are the geometry vectors of facts.md.
func TestPlanPredicts(t *testing.T) {
	plan := planned(shop())
	if plan.Reference != "general" || plan.StandingHeight != 0 || !given.Has(plan.Reasons, "reference", "general", "2.7", "farthest toward the fence") {
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
		b, _ := plan.Row(c.id)
		if b.Basis != model.Predicted || b.CutFace != given.MM(c.face) || b.Offset != given.MM(c.offset) || b.Want != given.MM(c.want) || b.Height != given.MM(c.top) ||
			!slices.Equal(b.Stack, c.stack) || b.Knife != c.knife || b.Verdict != c.verdict || b.Ready() {
			t.Errorf("%s: %+v", c.id, b)
		}
	}
	rip, _ := plan.Row("rip")
	thin, _ := plan.Row("thin")
	if !given.Has(rip.Reasons, "needs-strips") || !given.Has(thin.Reasons, "knife-too-thick") || given.Has(thin.Reasons, "needs-strips") {
		t.Errorf("rip: %v; thin, which must not be cut with: %v", rip.Reasons, thin.Reasons)
	}
}

func TestPlanChoosesTheReference(t *testing.T) {
	p := shop()
	p.Reference, p.Standing = "", nil
	if plan := planned(p); plan.Reference != "general" {
		t.Errorf("far: %q", plan.Reference)
	}
	// The thinnest blade has the larger side clearance, 0.45 mm against 0.3 mm.
	p.Saw.Flange, p.Saw.Tilt = model.Near, model.TiltRight
	p.Blades = append(slices.Clone(p.Blades), model.Blade{ID: "clear", Plate: thrice(1.4), Kerf: thrice(2.3), Knife: "k20"})
	p.Knives = append(slices.Clone(p.Knives), model.Knife{ID: "k20", Thickness: given.Typed(2)})
	if plan := planned(p); plan.Reference != "fine" && plan.Reference != "thin" || !given.Has(plan.Reasons, "rule-of-thumb", "clear", "0.45", "0.3") || !given.Has(plan.Reasons, "reference", "farthest from the fence") {
		t.Errorf("near: %q, %v", plan.Reference, plan.Reasons)
	}
	p.Reference = "gone"
	if plan := planned(p); !given.Has(plan.Reasons, "reference-missing", "gone") {
		t.Errorf("a reference that is not there: %v", plan.Reasons)
	}
}

func TestPlanOfAKit(t *testing.T) {
	p := shop()
	p.Rings = append(slices.Clone(p.Rings), model.Ring{ID: "washer", Thickness: given.Typed(0.3), Count: 1, Outer: given.Typed(50)})
	if plan := planned(p); !given.Has(plan.Reasons, "ring-left-out", "0.30 mm ring", "50.00 mm") {
		t.Errorf("%v", plan.Reasons)
	}
	p.Rings[len(p.Rings)-1] = model.Ring{ID: "loose", Thickness: given.Typed(0.3), Count: 1, Outer: given.Typed(78), Bore: given.Typed(32)}
	if plan := planned(p); !given.Has(plan.Reasons, "ring-left-out", "0.30 mm ring", "32.00 mm", "30.00 mm") {
		t.Errorf("%v", plan.Reasons)
	}
	p.Rings[0].Count = 40
	if plan := planned(p); !given.Has(plan.Reasons, "kit-refused", "32") || plan.Blades[1].Verdict != model.Cannot || !given.Has(plan.Blades[1].Reasons, "kit-refused") {
		t.Errorf("%v", plan.Reasons)
	}
	if plan := planned(p); !given.Has(plan.Reasons, "kit-refused", "40 of the 0.10 mm ring") {
		t.Errorf("%v", plan.Reasons)
	}
	p.Rings[1].Measured = given.Typed(0)
	p.Rings[0].Count = 2
	if plan := planned(p); !given.Has(plan.Reasons, "ring-left-out", "0.20 mm ring", "0 mm") || given.Has(plan.Reasons, "kit-refused") || !slices.Equal(plan.Blades[1].Stack, []string{"r10", "r10"}) {
		t.Errorf("a ring of no thickness: %v, %v", plan.Reasons, plan.Blades[1].Stack)
	}
	p.Rings[1].Measured = given.Typed(0.2)
	p.Rings[0].Count = 31
	if plan := planned(p); !given.Has(plan.Reasons, "kit-refused", "32") {
		t.Errorf("31 rings beside two more: %v", plan.Reasons)
	}
}

// Half-filled profiles: anything may be missing at once.
func TestPlanOfAHalfFilledProfile(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01).p
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
		plan := planned(p)
		if len(plan.Blades) != len(p.Rack()) {
			t.Fatalf("%d rows for %d blades", len(plan.Blades), len(p.Rack()))
		}
		for _, b := range plan.Blades {
			if b.Verdict == "" || b.Knife == "" || b.Basis == "" || b.Stack == nil || len(b.Reasons) == 0 {
				t.Fatalf("%s: %+v", b.ID, b)
			}
			if b.Ready() && (b.Verdict != model.In || b.Knife != model.KnifeFits || p.Saw.Flange == "" || p.Tolerance.Unit == model.NoUnit && b.ID != p.Reference) {
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
		p := begun().mount("rip", "r20").rip(model.ForBlade, 120.01, 120.01).p
		for _, m := range []*model.Measure{&p.Tolerance, &p.WorkingWidth, &p.Saw.FlangeDiameter, &p.Saw.FlangeRelief, &p.Saw.ArborDiameter, &p.Saw.ThreadEnd, &p.Saw.ThreadPitch,
			&p.KnifeMargin, &p.Knives[0].Thickness, &p.Instruments.Caliper, &p.Instruments.Micrometer, &p.Blades[0].Runout, &p.Blades[1].Diameter, &p.Blades[2].Bore,
			&p.Blades[0].Plate[0], &p.Blades[1].Kerf[1], &p.Rings[0].Thickness, &p.Rings[1].Measured, &p.Rings[2].Outer, &p.Rings[2].HalfWidth,
			&p.Records[len(p.Records)-1].Readings[0]} {
			if rapid.IntRange(0, 4).Draw(t, "which") == 0 {
				*m = measure()
			}
		}
		p.Rings[0].Count = rapid.IntRange(-3, 40).Draw(t, "count")
		if plan := planned(p); len(plan.Blades) != 4 {
			t.Fatalf("%d rows", len(plan.Blades))
		}
	})
}

// benched is a rack and a kit of the given sizes, thicknesses read to 0.001 mm.
func benched(blades, kit int, standing []string) model.Profile {
	p := shop()
	p.Reference, p.Standing, p.Rings, p.Blades = "", standing, nil, nil
	r := rand.New(rand.NewPCG(1, uint64(kit)))
	for i := range kit {
		h := given.Typed(float64(50+r.Int64N(950)) / 1000)
		p.Rings = append(p.Rings, model.Ring{ID: fmt.Sprintf("r%02d", i), Thickness: h, Measured: h, Count: 1, Outer: given.Typed(78)})
	}
	for i := range blades {
		off := float64(r.Int64N(800_000)) / 1e6
		b := model.Blade{ID: fmt.Sprint("b", i), Diameter: given.Typed(250), Bore: given.Typed(30), Plate: thrice(2.2 - off), Kerf: given.Readings(3.2-off, 3.201-off, 3.2-off), Knife: "k25"}
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
		{"4x5", begun().p},
		{"12x12/choosing", benched(12, 12, nil)},
		{"12x12/standing", benched(12, 12, []string{})},
		{"200x32/choosing", benched(200, 32, nil)},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				planned(c.p)
			}
		})
	}
}
