package stages

import (
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
	"example.com/sawdatum/wizard/stages/shop"
)

// TestStripsAreDrawnAsTyped: what is typed at a comparison lies on the picture at once, by its
// width, or by its difference from the reference strips, + = wider.
func TestStripsAreDrawnAsTyped(t *testing.T) {
	p, o := profiles.Demo(), procedure.Options{Seed: 1}
	h := &hand{t: t, p: procedure.New(p, House(o), solver.Judge, o), saw: practice.New(p, 1), at: time.Date(2026, 11, 26, 8, 0, 0, 0, time.UTC)}
	for range 150 {
		if h.p.View().Place.Step == "strip" {
			break
		}
		h.step(nil)
	}
	v := h.p.View()
	drawn := func(typed string) picture.Strips {
		s, ok := v.Picture(procedure.Answers{"readings": typed}).(picture.Strips)
		if !ok || len(s.Rows) == 0 {
			t.Fatalf("at %s nothing is drawn", v.Place)
		}
		return s
	}
	none := drawn("")
	if last := none.Rows[len(none.Rows)-1]; last.Read || none.Of < 3 {
		t.Errorf("before a key: %+v, %d reference strips", last, none.Of)
	}
	wide := (none.Datum + 80_000).Of(model.MM).String()
	for typed, want := range map[string]model.Length{
		wide + " " + wide + " " + wide: 80_000, "0.08 0.08 0.08": 80_000, "-0.06 -0.06 -0.03": -50_000, "0.05": 50_000,
	} {
		s := drawn(typed)
		if last := s.Rows[len(s.Rows)-1]; !last.Read || (last.Step-want).Abs() > 1 {
			t.Errorf("%s is drawn as %+v, want a step of %d nm", typed, last, want)
		}
	}
}

// TestNothingIsDrawnThatIsRefused: a reading that no strip can have, or is still being typed, moves
// neither figure nor picture, and no verdict and no danger follows from it.
func TestNothingIsDrawnThatIsRefused(t *testing.T) {
	h := newSetUp(t)
	h.upTo("strip")
	v := h.p.View()
	at := func(typed string) (model.Length, string, int) {
		a := procedure.Answers{"readings": typed}
		s := v.Picture(a).(picture.Strips)
		return s.Rows[len(s.Rows)-1].Step, v.Figure(a).Text, len(v.Follows(a))
	}
	step, figure, _ := at("139.87 139.88")
	for _, more := range []string{" 1", " 13", " 139.9", " 195.88"} {
		if s, f, n := at("139.87 139.88" + more); s != step || f != figure || n != 0 {
			t.Errorf("%q more: a step of %d, %q and %d reasons; %d and %q before", more, s, f, n, step, figure)
		}
	}
	if s, f, n := at("139.87 195.88 139.87"); s != 0 || f != "" || n != 0 {
		t.Errorf("a reading that is refused: %d, %q, %d reasons", s, f, n)
	}
}

// TestReferenceStripsHaveNoReference: strips that others are compared with are laid beside their own mean,
// at the start of a round and in a pair; the first alone has no step.
func TestReferenceStripsHaveNoReference(t *testing.T) {
	round := newSetUp(t)
	pair := later(t, setUp(t), procedure.Options{Mode: procedure.Prove, Blade: "rip-24"})
	for step, h := range map[string]*hand{"reference": round, "proof": pair} {
		h.upTo(step)
		first := h.p.View().Picture(procedure.Answers{"readings": "140.02 140.02 140.02"}).(picture.Strips)
		if !first.Own || first.Of != 1 || first.Sentence() != "The one reference strip is 140.020 mm wide." {
			t.Errorf("%s, the first: %+v, %s", step, first, first.Sentence())
		}
		h.step(map[string]string{step + " readings": "140.02 140.02 140.02"})
		second := h.p.View().Picture(procedure.Answers{"readings": "140.06 140.06 140.06"}).(picture.Strips)
		if second.Of != 2 || second.Datum != 140_040_000 || second.Rows[0].Step != -20_000 || second.Rows[1].Step != 20_000 {
			t.Errorf("%s, the second: %+v", step, second)
		}
	}
}

// TestAPairThatDoesNotAgreeHasItsFigure: what a pair says stands large where it is not in too, and at the end
// in the picture of all blades in place of its older verdict; no strip of it is drawn as a good one.
func TestAPairThatDoesNotAgreeHasItsFigure(t *testing.T) {
	done := setUp(t)
	for widths, want := range map[string]struct {
		figure, caption, says string
		after                 model.Length // in the picture of all blades; 0: that of its verdict
	}{
		"139.89": {"0.11", "narrow, mm", "says rather that it is out (0.110 mm narrow", 110_000},
		"139.60": {"0.40", "narrow, mm", "says 0.400 mm narrow", 400_000},
		"139.91": {"0.09", "narrow, mm", "By this pair 0.090 mm narrow, plus or minus", 0},
	} {
		h := later(t, done, procedure.Options{Mode: procedure.Prove, Blade: "rip-24"})
		before, _ := h.p.Plan().Row("rip-24")
		for v := h.p.View(); v.Place.Step != "proved"; v = h.p.View() {
			read := map[string]string{"rip-24": widths, "general-48": "140.00"}[v.Place.Blade]
			h.step(map[string]string{"proof readings": strings.Repeat(read+" ", 3)})
		}
		v := h.p.View()
		if f := v.Figure(nil); f.Text != want.figure || f.Caption != want.caption || !strings.Contains(strings.Join(v.Do, " "), want.says) {
			t.Errorf("%s: %+v, %q", widths, f, v.Do)
		}
		s := v.Picture(nil).(picture.Strips)
		if step := s.Rows[0].Step; step.Abs()+s.Guard <= s.Tolerance {
			t.Errorf("%s: drawn as in: %+v", widths, s)
		}
		if want.after == 0 {
			want.after = before.Residual
		}
		for _, b := range shop.RackPicture(h.p.Now(), "").(picture.Rack).Blades {
			if b.ID == "rip-24" && b.After != want.after {
				t.Errorf("%s: in the rack at %d nm, want %d", widths, b.After, want.after)
			}
		}
	}
}

// TestTypedReadingsStayAsTyped: where readings are corrected they stand as they were typed, without the unit of
// the shop, with the digits of the instrument.
func TestTypedReadingsStayAsTyped(t *testing.T) {
	const typed = "140.00 140.01 140.00"
	h := newSetUp(t)
	h.upTo("reference").step(map[string]string{"reference readings": typed})
	back, err := h.p.Apply(procedure.Event{Kind: procedure.Back, At: h.at})
	if err != nil {
		t.Fatal(err)
	}
	if f := back.View().Fields[0]; f.Value != typed {
		t.Errorf("%q opens as %q", typed, f.Value)
	}
	in := func(text string) model.Measure {
		m, err := model.ParseLength(text, model.IN)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	inches := procedure.Context{Profile: model.Profile{Units: model.IN}}
	if got := form.TypedAll(inches, []model.Measure{in("0.100"), in("0.1005"), in("3/32"), in("2.5 mm")}); got != "0.1000 0.1005 3/32 2.5000mm" {
		t.Error(got)
	}
	if got := form.TypedOne(inches, in("0.100")); got != "0.100" || form.TypedOne(inches, model.Measure{}) != "" {
		t.Error(got)
	}
	if got := form.Sizes(inches, []model.Knife{{Thickness: in("0.1")}, {Thickness: in("1 3/32")}}); got != "0.100 1-3/32" {
		t.Error(got)
	}
}

// TestALimitThatIsToldIsTaken: an inch shop that types the limit of a knife's gap as it reads it is not refused.
func TestALimitThatIsToldIsTaken(t *testing.T) {
	for _, step := range []model.Length{model.Thou, model.Thou / 2, model.Thou / 10} {
		c := procedure.Context{Profile: model.Profile{Units: model.IN, Instruments: model.Instruments{Caliper: step.Of(model.IN)}}}
		told := metrology.WordsOf(c.Profile).Set(shownLimit(c, "k"))
		m, err := model.ParseLength(told, model.IN)
		if err != nil || m.Length > gapLimit(c, "k") || m.Length < gapLimit(c, "k")-model.Thou {
			t.Errorf("a caliper of %s: the limit is told as %s, %v", step.Of(model.IN), told, err)
		}
	}
}
