package stages

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
)

// TestNowOrLater: of what was lost, bought, ground or is back somebody says whether it is brought in now
// or later. Later nothing is ripped for it, the blade is not ready, and a note tells the other shift;
// now the run leads to its strips, also where it had been left before.
func TestNowOrLater(t *testing.T) {
	done := setUp(t)
	ring := func(h *hand) {
		h.begun("ring-lost")
		h.step(map[string]string{"ring-lost ring": "0.10 mm", "ring-lost lost": "3"})
	}
	knife := func(h *hand) {
		h.begun("knife-bought")
		h.upTo("knife-bought")
		h.step(map[string]string{"knife-bought thickness": "2.0", "knife-bought blade": "40-tooth thin kerf"})
	}
	back := func(h *hand) {
		h.begun("retire")
		h.step(map[string]string{"retire blade": "24-tooth rip"})
		h.begun("back")
		h.step(map[string]string{"back blade": "24-tooth rip"})
	}
	ground := func(h *hand) {
		h.begun("sharpened")
		h.step(map[string]string{"sharpened blade": "24-tooth rip"})
	}
	for _, v := range []struct {
		what  string
		does  func(*hand)
		asked string // the step that asks
		blade string
		note  string
	}{
		{"a ring lost", ring, "ring-goes", "rip-24", "waits for a ring of 0.10 mm; left for later"},
		{"a knife bought", knife, "then", "thin-40", "what it waited for is there; left for later"},
		{"a blade that is back", back, "returned", "rip-24", "back on the rack; left for later"},
		{"a blade ground", ground, "grinder", "rip-24", "sharpened; left for later"},
	} {
		asked := func(h *hand) *hand {
			h.upTo("close")
			v.does(h)
			h.upTo(v.asked)
			return h
		}
		h := asked(later(t, done, procedure.Options{}))
		do := strings.Join(h.p.View().Do, " ")
		if !strings.Contains(do, "now: ") && !strings.Contains(do, "Then now: ") || !strings.Contains(do, "5 strips") || !strings.Contains(strings.ToLower(do), "later: ") {
			t.Errorf("%s: the two ways and their cost: %s", v.what, do)
		}
		for _, wrong := range []string{"", "perhaps"} {
			if told := h.told(map[string]string{"then": wrong}); len(told) == 0 || told[0].Field != "then" || told[0].Question {
				t.Errorf("%s: %q is taken: %+v", v.what, wrong, told)
			}
		}
		// what another knife costs the others is told before it goes in: four blades are in use
		if do := strings.Join(h.p.View().Do, " "); strings.Contains(do, "the next swap checks it: 4 blades.") != (v.what == "a knife bought") {
			t.Errorf("%s: %s", v.what, do)
		}
		from := len(h.p.Profile().Records)
		h.step(map[string]string{v.asked + " then": "later"})
		h.upTo("close")
		if strips(h.p.Profile().Records[from:]) > 0 || slices.Contains(h.way, "boards") {
			t.Errorf("%s, later: ripped all the same: %s", v.what, h.way)
		}
		row, _ := h.p.Plan().Row(v.blade)
		noted := slices.ContainsFunc(h.p.Profile().Records[from:], func(r record) bool {
			return r.Kind == model.Note && r.About == model.AboutLeft && r.Blade == v.blade && r.Text == v.note
		})
		if row.Usable() || !noted {
			t.Errorf("%s, later: the %s is %s, noted %t", v.what, v.blade, row.State, noted)
		}
		if why := row.Against(); !slices.ContainsFunc(why, func(r reason) bool { return strings.HasPrefix(r.Text, v.note+" (KB 2026-") }) {
			t.Errorf("%s, later: the other shift is not told why: %v", v.what, why)
		}
		next := later(t, h, procedure.Options{})
		if next.upTo("close"); strips(next.p.Profile().Records[len(h.p.Profile().Records):]) > 0 {
			t.Errorf("%s, later: the next setup rips: %s", v.what, next.way)
		}

		h = asked(later(t, done, procedure.Options{}))
		h.step(map[string]string{v.asked + " then": "now"})
		h.toTheEnd(map[string]string{"fence fence": "moved"})
		if row, _ := h.p.Plan().Row(v.blade); row.State != model.StateReady || !strings.Contains(strings.Join(h.way, ", "), "strip "+v.blade) {
			t.Errorf("%s, now: the %s is %s: %s", v.what, v.blade, row.State, h.way)
		}
	}

	// Left for later, it is taken up again where somebody says now.
	left := later(t, done, procedure.Options{})
	left.upTo("close")
	ground(left)
	left.upTo("grinder")
	left.step(map[string]string{"grinder then": "later"})
	left.upTo("close")
	ground(left)
	left.upTo("grinder")
	left.step(map[string]string{"grinder then": "now"})
	left.toTheEnd(map[string]string{"fence fence": "moved"})
	if row, _ := left.p.Plan().Row("rip-24"); row.State != model.StateReady {
		t.Errorf("left, and taken up again, it is %s: %s", row.State, left.way)
	}

	// It may be used again as soon as the ring is there, with the strips that it has.
	h := later(t, done, procedure.Options{})
	h.upTo("close")
	ring(h)
	h.step(map[string]string{"ring-goes then": "later"})
	h.begun("ring-bought")
	h.upTo("ring-bought")
	h.step(map[string]string{"ring-bought add": "0.10 mm x3", "ring-bought measured": "", "ring-bought outer": "78"})
	if row, _ := h.p.Plan().Row("rip-24"); !row.Usable() || h.p.View().Place.Step == "then" {
		t.Errorf("the ring is there again, and the rip is %s: %v", row.State, h.p.View().Place)
	}

	// In a run about something else nothing is led to, and that is said.
	swap := later(t, done, procedure.Options{Mode: procedure.Swap, Blade: "crosscut-80"})
	swap.upTo("stop")
	ring(swap)
	swap.step(map[string]string{"ring-goes then": "now"})
	if !slices.ContainsFunc(swap.p.Report(), func(r reason) bool { return strings.Contains(r.Text, "sawdatum setup leads there") }) {
		t.Errorf("%v", swap.p.Report())
	}
}

// TestOtherKnifeNowOrLater: where another knife of the saw fits blades whose knife is gone, it goes behind them now, or
// they wait.
func TestOtherKnifeNowOrLater(t *testing.T) {
	done := setUp(t)
	for then, want := range map[string]string{"now": "k24", "later": "k25"} {
		h := later(t, done, procedure.Options{})
		h.upTo("close")
		h.begun("knife-bought")
		h.upTo("knife-bought")
		h.step(map[string]string{"knife-bought thickness": "2.4", "knife-bought blade": ""})
		h.begun("knife-lost")
		h.step(map[string]string{"knife-lost knife": "2.5"})
		if do := strings.Join(h.p.View().Do, " "); !strings.Contains(do, "now: the knife of 2.4 mm behind") || !strings.Contains(do, "gauge board and knife; no blade is compared again") {
			t.Error(do)
		}
		var asked *procedure.Refusal // at its own field: the knife is in the saw by the records
		_, err := h.p.Apply(procedure.Event{Kind: procedure.Leave, At: h.at, Visit: h.p.View().Visit, Field: "became", Answers: procedure.Answers{"became": "lost"}})
		if !errors.As(err, &asked) || !asked.Faults[0].Question || !strings.Contains(asked.Faults[0].Text, "is in the saw") {
			t.Error("left:", err)
		}
		h.step(map[string]string{"knife-goes became": "lost", "knife-goes then": then})
		if b, _ := h.p.Profile().BladeByID("crosscut-80"); b.Knife != want {
			t.Errorf("%s: it runs with %s", then, b.Knife)
		}
	}
}

func strips(records []record) (n int) {
	for _, r := range records {
		if r.Kind == model.StripCut {
			n++
		}
	}
	return n
}

// TestStandInByItsKnife: the reference is ground, and a blade with another knife is on the saw. One with the knife
// of the reference carries the datum all the same, that knife is checked once, and nothing goes on before the
// fence is told; the strips and swaps are those that were told.
func TestStandInByItsKnife(t *testing.T) {
	h := twoKnives(t)
	h.toTheEnd(nil)
	on := later(t, h, procedure.Options{Mode: procedure.Swap, Blade: "thin-40"})
	on.toTheEnd(nil)
	h = later(t, on, procedure.Options{})
	h.upTo("close")
	h.begun("sharpened")
	h.step(map[string]string{"sharpened blade": "48-tooth general"})
	h.upTo("grinder")
	if do := strings.Join(h.p.View().Do, " "); !strings.Contains(do, "stays: the 24-tooth rip carries it: 5 strips, 2 swaps") {
		t.Error(do)
	}
	h.way = nil
	from := len(h.p.Profile().Records)
	h.toTheEnd(map[string]string{"grinder datum": "stays", "fence fence": "moved"})
	way := strings.Join(h.way, ", ")
	if n := strings.Count(way, "mount "); n != 2 || strips(h.p.Profile().Records[from:]) != 5 || strings.Count(way, "knife-seen") != 1 || strings.Index(way, "fence") > strings.Index(way, "mount ") {
		t.Errorf("%d mountings: %s", n, way)
	}
	if row, _ := h.p.Plan().Row("general-48"); row.State != model.StateReady {
		t.Errorf("it is %s: %v", row.State, row.Reasons)
	}
}
