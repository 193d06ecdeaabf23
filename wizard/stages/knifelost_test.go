package stages

import (
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
)

// begun is other work that is begun at the end of a run of the set-up shop.
func (h *hand) begun(work string) *hand {
	h.t.Helper()
	i, err := procedure.FindTask(h.p.Tasks(), work)
	if err != nil {
		h.t.Fatal(err)
	}
	if h.p, err = h.p.Apply(procedure.Event{Kind: procedure.Begin, At: h.at, Place: h.p.Tasks()[i].Place}); err != nil {
		h.t.Fatal(err)
	}
	return h
}

// lose says that a knife is gone, as often as it is asked.
func (h *hand) lose(knife string) string {
	h.t.Helper()
	h.begun("knife-lost")
	h.step(map[string]string{"knife-lost knife": knife})
	said := strings.Join(h.p.View().Do, " ")
	if pic := h.p.View().Picture(nil); pic != nil {
		said += " " + pic.Sentence()
	}
	h.step(map[string]string{"knife-goes became": "lost", "knife-goes then": "later"})
	return said
}

// TestKnifeLostWhileItIsIn: what was known of the saw is void where the knife that was seen in it
// is said to be gone, power too, and that it was seen there is asked about.
func TestKnifeLostWhileItIsIn(t *testing.T) {
	h := fresh(t, nil).upTo("boards")
	if on, known := h.p.Now().Lock.On(); !known || on.Knife != "k25" || h.p.Now().Lock.Power() != interlock.Live {
		t.Fatalf("%+v is on, known: %v", on, known)
	}
	h.begun("knife-lost").step(map[string]string{"knife-lost knife": "2.5"})
	if faults := h.told(map[string]string{"became": "lost", "then": "later"}); len(faults) != 1 || !faults[0].Question {
		t.Errorf("it is in the saw, and asked is %v", faults)
	}
	h.step(map[string]string{"knife-goes became": "lost", "knife-goes then": "later"})
	if on, known := h.p.Now().Lock.On(); known || h.p.Now().Lock.Power() == interlock.Live {
		t.Errorf("%+v counts as on, known: %v, with power", on, known)
	}
}

// TestKnifeLost: before anything is put on record the program says which blades must not run
// without the knife; from then on it is offered nowhere, its blades are swapped to by nobody, and
// found again it is checked behind a blade that is in, without a strip.
func TestKnifeLost(t *testing.T) {
	done := setUp(t)
	h := later(t, done, procedure.Options{})
	h.upTo("close")
	rack := []string{"48-tooth general", "24-tooth rip", "80-tooth fine crosscut", "96-tooth laminate"}
	said := h.lose("2.5")
	for _, want := range append(rack, "4 blades below must not run without it", "The reference is among them: nothing is compared or proved until then", "no strip, no swap", "NOT READY") {
		if !strings.Contains(said, want) {
			t.Errorf("it does not say %q: %s", want, said)
		}
	}
	if strings.Contains(said, "thin kerf") {
		t.Errorf("a blade that it never fitted is said to miss it: %s", said)
	}
	for _, row := range h.p.Plan().Blades {
		if row.ID != "thin-40" && (row.State != model.StateNotReady || row.Knife != model.KnifeMissing) {
			t.Errorf("the %s is %s: %v", row.ID, row.State, row.Reasons)
		}
	}
	if s := h.p.State(); s.On.Knife != "" || len(s.There(h.p.Profile().Knives)) != 0 {
		t.Errorf("it is in the saw, or in the shop: %+v", s.On)
	}
	words := h.tasks()
	if slices.Contains(words, "knife-lost") || !slices.Contains(words, "knife-back") {
		t.Errorf("other work: %v", words)
	}
	swap := func(from *hand) *hand {
		h := later(t, from, procedure.Options{Mode: procedure.Swap, Blade: "rip-24"})
		h.toTheEnd(nil)
		return h
	}
	if way := strings.Join(swap(h).way, ", "); way != "who, barred rip-24" {
		t.Errorf("swapped to without a knife: %s", way)
	}
	// A setup stops at the reference, and says the ways out.
	again := later(t, h, procedure.Options{})
	again.upTo("unfit")
	if do := strings.Join(again.p.View().Do, " "); !strings.Contains(do, "no ready blade stands in") {
		t.Error(do)
	}
	// Nothing goes on for another check of a knife either.
	check := later(t, h, procedure.Options{})
	check.upTo("unfit")
	check.begun("knife-check")
	for range 20 {
		if check.p.View().Place.Step == "mount" {
			break
		}
		check.step(map[string]string{"look knife": ""})
	}
	if do := strings.Join(check.p.View().Do, " "); !strings.Contains(do, "The 48-tooth general stays off: its riving knife of 2.5 mm is gone (lost)") {
		t.Error(do)
	}
	if told := check.told(nil); len(told) == 0 || told[0].Question {
		t.Errorf("it is put on: %+v", told)
	}
	// Found again: where it stands is not known, and no strip is asked for.
	h.begun("knife-back")
	h.step(map[string]string{"knife-back knife": "2.5"})
	for _, row := range h.p.Plan().Blades {
		if row.ID != "thin-40" && !row.KnifeOnly {
			t.Errorf("found again, the %s is %s: %v", row.ID, row.State, row.Reasons)
		}
	}
	one := later(t, h, procedure.Options{Mode: procedure.OneBlade, Blade: "rip-24"})
	one.toTheEnd(map[string]string{"reason why": "knife", "fence fence": "moved", "left left": "24-tooth rip"})
	if row, _ := one.p.Plan().Row("rip-24"); row.State != model.StateReady || strings.Contains(strings.Join(one.way, ", "), "strip") {
		t.Errorf("for its knife alone, it is %s: %s", row.State, one.way)
	}
	back := swap(h)
	if way := strings.Join(back.way, ", "); !strings.Contains(way, "knife-seen rip-24") || strings.Contains(way, "strip") {
		t.Errorf("found again: %s", way)
	}
	if row, _ := back.p.Plan().Row("rip-24"); row.State != model.StateReady {
		t.Errorf("checked, it is %s: %v", row.State, row.Reasons)
	}
}

func (h *hand) tasks() (words []string) {
	for _, task := range h.p.Tasks() {
		words = append(words, task.Word)
	}
	return words
}

// TestKnifeOfTheReferenceLost: a blade with a knife of its own stays ready; it carries the datum,
// and neither the reference nor another blade with that knife is asked for.
func TestKnifeOfTheReferenceLost(t *testing.T) {
	h := newSetUp(t)
	p := h.p.Profile()
	p.Knives = append(p.Knives, model.Knife{ID: "k20", Thickness: (2 * mm).Of(model.MM)}, model.Knife{ID: "k245", Thickness: (245 * mm / 100).Of(model.MM)})
	for i := range p.Blades {
		switch p.Blades[i].ID {
		case "thin-40":
			p.Blades[i].Knife = "k20"
		case "rip-24":
			p.Blades[i].Knife = "k245"
		}
	}
	h.p = procedure.New(p, House(procedure.Options{Seed: 1}), solver.Judge, procedure.Options{Seed: 1})
	h.toTheEnd(nil)
	h = later(t, h, procedure.Options{})
	h.upTo("close")
	said := h.lose("2.5")
	for _, want := range []string{"3 blades below", "carries the datum until then", "now: the knife of 2.45 mm behind 48-tooth general, 80-tooth fine crosscut: no strip, no swap"} {
		if !strings.Contains(said, want) {
			t.Errorf("it does not say %q: %s", want, said)
		}
	}
	for _, blade := range []string{"thin-40", "rip-24"} {
		h := later(t, h, procedure.Options{Mode: procedure.Prove, Blade: blade})
		h.toTheEnd(map[string]string{"fence fence": "moved", "where where": "isolate"})
		way := strings.Join(h.way, ", ")
		row, _ := h.p.Plan().Row(blade)
		if row.State != model.StateReady || row.ProvedAt.Before(h.at.AddDate(0, 0, -1)) || !strings.Contains(way, "proof rip-24") || !strings.Contains(way, "proof thin-40") {
			t.Errorf("%s is %s, proved %s: %s", blade, row.State, row.ProvedAt, way)
		}
	}
	// The other one gone too, nothing is left to hold it against, and no strip is ripped.
	h.lose("2.45")
	alone := later(t, h, procedure.Options{Mode: procedure.Prove, Blade: "thin-40"})
	alone.toTheEnd(nil)
	if way := strings.Join(alone.way, ", "); way != "who, uncarried, close" {
		t.Error(way)
	}
	// None is in, in as many words; and what is no knife of this saw is asked once more, and comes out.
	none := later(t, h, procedure.Options{Mode: procedure.Swap, Blade: "thin-40"})
	none.upTo("look")
	if told := none.told(map[string]string{"knife": "2.7"}); len(told) != 1 || !told[0].Question || !strings.Contains(told[0].Text, "no knife of this saw is 2.7 mm thick") {
		t.Errorf("%+v", told)
	}
	none.step(map[string]string{"look knife": "none"})
	if on, sure := none.p.Now().Lock.On(); !sure || on.Knife != "" {
		t.Errorf("none is in: %+v", on)
	}
	// Somebody has it in the saw all the same: asked, and typed once more, it is there again.
	seen := later(t, h, procedure.Options{Mode: procedure.Swap, Blade: "thin-40"})
	seen.upTo("look")
	if told := seen.told(map[string]string{"knife": "2.5"}); len(told) != 1 || !told[0].Question || !strings.Contains(told[0].Text, "2.5 mm is gone (lost)") {
		t.Errorf("%+v", told)
	}
	seen.step(map[string]string{"look knife": "2.5"})
	if seen.p.State().Gone["k25"] != nil || seen.p.State().On.Knife != "k25" || seen.p.State().Gone["k245"] == nil {
		t.Errorf("seen in the saw: %+v", seen.p.State().Gone)
	}
	// One as thick that is bought takes its place.
	h = later(t, h, procedure.Options{})
	h.upTo("unfit")
	h.begun("knife-bought")
	h.upTo("knife-bought")
	h.step(map[string]string{"knife-bought thickness": "2.5", "knife-bought blade": ""})
	if h.p.State().Gone["k25"] != nil {
		t.Error("one as thick was bought, and the knife is still gone")
	}
}
