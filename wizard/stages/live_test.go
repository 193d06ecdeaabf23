package stages

import (
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/practice"
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
