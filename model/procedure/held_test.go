package procedure_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
)

// What becomes of an answer that a rule has something to say about.
const (
	taken     = "taken"
	refusal   = "refused"
	questions = "questioned"
)

// held answers the place as an honest hand would, but for some fields, and tells what
// becomes of it, in which words, and what comes next.
func held(t *testing.T, p procedure.Procedure, changed ...string) (what, words string, next procedure.Procedure) {
	t.Helper()
	v, answers := p.View(), map[string]string{}
	for _, f := range v.Fields {
		answers[f.Key] = plausible(p, v, f)
	}
	for i := 0; i+1 < len(changed); i += 2 {
		answers[changed[i]] = changed[i+1]
	}
	next, err := p.Apply(procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: answers, At: typedAt(v.Place)})
	var r *procedure.Refusal
	if !errors.As(err, &r) {
		return taken, "", next
	}
	what = questions
	for _, f := range r.Faults {
		if !f.Question {
			what = refusal
		}
		words += f.Field + ": " + f.Text + "\n"
	}
	if len(r.Unmet) > 0 {
		what, words = refusal, words+strings.Join(r.Unmet, "\n")
	}
	return what, words, next
}

// TestGapRuleAtTheGate: EN 1870-1 clause 6.3 wants 3 to 8 mm; Cal. Code Regs. title 8
// section 4296 at most 1/2 in (12.7 mm), and a blade that touches its knife is no gap.
func TestGapRuleAtTheGate(t *testing.T) {
	for _, v := range []struct {
		rule      model.GapRule
		gap, want string
		says      string
	}{
		{model.GapEN, "2.99", refusal, "0.01 mm too near"}, {model.GapEN, "3", taken, ""}, {model.GapEN, "8", taken, ""}, {model.GapEN, "8.01", refusal, "at most 8.00 mm"},
		{model.GapUS, "0", refusal, "the blade touches the knife"}, {model.GapUS, "2.99", questions, "only 2.99 mm"}, {model.GapUS, "3", taken, ""},
		{model.GapUS, "12.7", taken, ""}, {model.GapUS, "12.71", refusal, "0.01 mm too far"},
	} {
		saw := shop()
		saw.Gap = v.rule
		p, _ := walkTo(t, procedure.New(saw, solver.Plan, procedure.Options{Seed: 1}), "knife")
		what, words, next := held(t, p, "tip_gap", v.gap)
		if what != v.want || !strings.Contains(words, v.says) {
			t.Errorf("%s under %s: %s, want %s: %s", v.gap, v.rule, what, v.want, words)
		}
		if what == questions {
			if again, _, _ := held(t, next, "tip_gap", v.gap); again != taken {
				t.Errorf("%s under %s, typed again: %s", v.gap, v.rule, again)
			}
		}
	}
}

// answered goes through a place as an honest hand would, but for some fields.
func answered(t *testing.T, p procedure.Procedure, changed ...string) procedure.Procedure {
	t.Helper()
	what, words, next := held(t, p, changed...)
	if what != taken {
		t.Fatalf("%s: %s: %s", p.Place(), what, words)
	}
	return next
}

// begun turns to other work.
func begun(t *testing.T, p procedure.Procedure, step string) procedure.Procedure {
	t.Helper()
	next, err := p.Apply(procedure.Event{Kind: procedure.Begin, Place: procedure.Place{Step: step}, At: noon})
	if err != nil {
		t.Fatal(err)
	}
	return next
}

// TestChecklistOnlyFromIsolated: after an idle spell at a live saw the checklist, which
// sends hands to the blade, comes behind a new isolation.
func TestChecklistOnlyFromIsolated(t *testing.T) {
	p, _ := walkTo(t, procedure.New(shop(), solver.Plan, procedure.Options{Seed: 1}), "cut")
	p, err := p.Apply(procedure.Event{Kind: procedure.Idle, At: noon})
	if err != nil || p.Place().Step != "fence" {
		t.Fatalf("%s, %v", p.Place(), err)
	}
	var way []string
	for range 4 {
		p = answered(t, p)
		way = append(way, p.Place().Step)
	}
	if got := strings.Join(way, " "); got != "stop isolate power cut" {
		t.Errorf("behind the fence come %s", got)
	}
}

// TestAnswerNamesItsPlace: one that names none is taken nowhere.
func TestAnswerNamesItsPlace(t *testing.T) {
	p := procedure.New(shop(), solver.Plan, procedure.Options{Seed: 1})
	next, err := p.Apply(procedure.Event{Kind: procedure.Answer, At: noon, Answers: map[string]string{"by": "KB"}})
	if err == nil || !strings.Contains(err.Error(), "names no place") || next.Known().Who {
		t.Errorf("%v", err)
	}
}

// TestKnifeNamedAnewWhileLive: the knife that was typed at power-up stands behind the blade
// until the saw is isolated, whatever it names; where plate and kerf read again show that it
// does not fit, no live step stays open.
func TestKnifeNamedAnewWhileLive(t *testing.T) {
	saw := shop()
	saw.Knives = append(saw.Knives, model.Knife{ID: "k24", Thickness: model.Length(2_400_000).Of(model.MM)})
	at, _ := walkTo(t, procedure.New(saw, solver.Plan, procedure.Options{Seed: 1}), "boards")

	p := answered(t, begun(t, at, "blade-knife"), "blade", "general", "knife", "2.4")
	if p.Place().Step != "boards" {
		t.Errorf("a knife that fits leads to %s", p.Place())
	}
	p, _ = p.Apply(procedure.Event{Kind: procedure.Idle, At: noon})
	p = answered(t, answered(t, p)) // stop, isolate
	if what, words, _ := held(t, p, "knife", "2.4"); p.Place().Step != "power" || what == refusal {
		t.Errorf("at %s, with the knife that it names now behind it: %s", p.Place(), words)
	}

	narrower := []model.Measure{model.Length(2_450_000).Of(model.MM)}
	read := saw
	read.Records = append(at.Profile().Records, model.Record{At: noon.Add(time.Hour), By: "NS", Kind: model.Thickness, Blade: "general", Plate: read.Blades[0].Plate, Kerf: narrower})
	if p, _ = at.Apply(procedure.Event{Kind: procedure.Joined, Profile: read, At: noon}); p.Place().Step != "unfit" {
		t.Errorf("a kerf that the knife does not go through leads to %s", p.Place())
	}
}

// TestReferenceHasAKnife: a blade that may run with none of them defines no datum, whether
// the knife that it names does not fit or it names none.
func TestReferenceHasAKnife(t *testing.T) {
	for knife, want := range map[string]string{"": refusal, "k25": refusal, "k20": taken} {
		saw := shop()
		saw.Knives = append(saw.Knives, model.Knife{ID: "k20", Thickness: model.Length(2_000_000).Of(model.MM)})
		saw.Blades[2].Knife = knife
		p, _ := walkTo(t, procedure.New(saw, solver.Plan, procedure.Options{Seed: 1}), "stop")
		what, words, next := held(t, begun(t, p, "datum"), "reference", "thin", "standing", "none")
		if what == questions { // the others cut beyond it
			what, words, _ = held(t, next, "reference", "thin", "standing", "none")
		}
		if what != want {
			t.Errorf("a blade that names the knife %q: %s, want %s: %s", knife, what, want, words)
		}
	}
	saw := shop()
	saw.Blades[0].Knife, saw.Reference, saw.Standing = "", "", nil
	if plan := solver.Plan(saw); plan.Reference != "rip" {
		t.Errorf("without a knife the general is passed over, and the %s is the reference", plan.Reference)
	}
}

// TestReferenceThatLeavesBladesOut: a choice with which blades cannot be brought in that
// another would bring in is asked again, with both named.
func TestReferenceThatLeavesBladesOut(t *testing.T) {
	p, _ := walkTo(t, procedure.New(shop(), solver.Plan, procedure.Options{Seed: 1}), "stop")
	what, words, next := held(t, begun(t, p, "datum"), "reference", "rip", "standing", "none")
	if what != questions || !strings.Contains(words, "with the rip and no rings behind it the kit cannot bring in: general; with the general") {
		t.Errorf("%s: %s", what, words)
	}
	if what, words, _ = held(t, next, "reference", "rip", "standing", "none"); what != taken {
		t.Errorf("typed again: %s: %s", what, words)
	}
}

// TestLimitsAtTheirFields: what nobody means at a saw is refused or asked again, each where
// it is typed, in words and with figures. Working width 100 mm, taper and feeler gap 0.1 mm,
// heel and toe 0.005 in (0.127 mm): common practice.
func TestLimitsAtTheirFields(t *testing.T) {
	for _, v := range []struct {
		step    string
		changed []string
		want    string
		says    string
	}{
		{"instruments", []string{"working_width", "20"}, refusal, "working_width: a part of 20.00 mm is too narrow"},
		{"instruments", []string{"working_width", "99.99"}, refusal, "compare at 100.00 mm or more"},
		{"instruments", []string{"working_width", "100"}, taken, ""},
		{"instruments", []string{"working_width", "295"}, taken, ""},
		{"instruments", []string{"working_width", "296"}, questions, "most calipers do not reach over 296.00 mm"},

		{"align", []string{"fence_rear", "119.95"}, refusal, "fence_rear: the fence closes toward the rear by 0.05 mm over 200.00 mm"},
		{"align", []string{"fence_rear", "119.98"}, taken, ""},
		{"align", []string{"fence_rear", "122.9"}, refusal, "fence_rear: the fence opens toward the rear by 2.90 mm"},
		{"align", []string{"fence_rear", "120.13"}, questions, "turn the fence's rear end 0.13 mm toward the blade"},
		{"align", []string{"slot_front", "0.755 in", "slot_rear", "3.754 in"}, refusal, "slot_rear: the rear of the blade lies 76.17 mm farther"},
		{"align", []string{"slot_rear", "97.9"}, refusal, "see whether front and rear were typed right"},
		{"align", []string{"slot_rear", "94.8"}, questions, "turn its rear 0.20 mm away from the slot"},
		{"align", []string{"span", "99"}, questions, "span: 99.00 mm is a short way"},

		{"boards", []string{"lead", "60", "tail", "60.02"}, refusal, "lead: 60.00 mm is 60.00 mm off the setting of 120.00 mm"},
		{"boards", []string{"lead", "180", "tail", "180"}, refusal, "rip another board"},
		{"boards", []string{"lead", "124", "tail", "124"}, questions, "4.00 mm off the setting"},
		{"boards", []string{"lead", "120.00", "tail", "120.10"}, taken, ""},
		{"boards", []string{"lead", "120.00", "tail", "120.11"}, refusal, "tail: the board is 0.11 mm wider at its trailing end"},

		{"knife", []string{"gaps", "0 0.10 0 0.10"}, taken, ""},
		{"knife", []string{"gaps", "0 0.30 0 0"}, refusal, "gaps: 0.30 mm at front high"},
	} {
		p, _ := walkTo(t, procedure.New(shop(), solver.Plan, procedure.Options{Seed: 1}), map[bool]string{true: "stop", false: v.step}[v.step == "instruments"])
		if v.step == "instruments" {
			p = begun(t, p, v.step)
		}
		what, words, next := held(t, p, v.changed...)
		if what != v.want || !strings.Contains(words, v.says) {
			t.Errorf("%s %v: %s, want %s: %s", v.step, v.changed, what, v.want, words)
		}
		if what == questions {
			if what, words, _ = held(t, next, v.changed...); what != taken {
				t.Errorf("%s %v typed again: %s: %s", v.step, v.changed, what, words)
			}
		}
	}
}

// TestFeelerGapBeyondThePlay: a gap may not be more than the knife has to spare in the kerf
// of any blade that names it. 2.9 mm in a kerf of 2.95 mm: 0.05 mm.
func TestFeelerGapBeyondThePlay(t *testing.T) {
	saw := shop()
	saw.Knives[0].Thickness = model.Length(2_900_000).Of(model.MM)
	kerf := model.Length(2_950_000).Of(model.MM)
	saw.Blades[1].Kerf = []model.Measure{kerf, kerf, kerf}
	p := procedure.New(saw, solver.Plan, procedure.Options{Seed: 1})
	for range 30 {
		if p.Place().Step == "knife" {
			break
		}
		p = answered(t, p, "knife", "2.9")
	}
	if what, words, _ := held(t, p, "gaps", "0 0 0 0.06"); what != refusal || !strings.Contains(words, "0.06 mm at rear high is more than the 0.05 mm") {
		t.Errorf("%s: %s", what, words)
	}
	if what, words, _ := held(t, p, "gaps", "0 0 0 0.05"); what != taken {
		t.Errorf("%s: %s", what, words)
	}
}

// TestRunDownTypedTooSoon: 30 s cannot have gone by one second after the place came.
func TestRunDownTypedTooSoon(t *testing.T) {
	for _, v := range []struct {
		began   time.Time
		runDown string
		after   time.Duration
		want    string
	}{
		{noon, "30", time.Second, questions}, {noon, "30", 28900 * time.Millisecond, questions}, {noon, "30", 29 * time.Second, taken}, {noon, "2", time.Second, taken},
		{time.Time{}, "30", time.Second, taken}, // when the run began is not known
	} {
		p := procedure.New(shop(), solver.Plan, procedure.Options{Seed: 1, Mode: procedure.IsolateOnly, At: v.began})
		e := procedure.Event{Kind: procedure.Answer, Place: p.Place(), At: noon.Add(v.after), Answers: map[string]string{"run_down": v.runDown}}
		next, err := p.Apply(e)
		if (err != nil) != (v.want == questions) || err != nil && !strings.Contains(err.Error(), v.runDown+" s were typed") {
			t.Errorf("%+v: %v", v, err)
		}
		if err != nil {
			if next, err = next.Apply(e); err != nil || next.Place().Step == "stop" {
				t.Errorf("%+v, typed again: %v", v, err)
			}
		}
	}
}

// onTheBench says of what is measured next that it lies on the bench.
func onTheBench(t *testing.T, p procedure.Procedure) procedure.Procedure {
	t.Helper()
	if p.Place().Step != "source" {
		t.Fatalf("at %s nobody asks where it is measured", p.Place())
	}
	return answered(t, p, "where", "bench")
}

// TestMeasuringNeedsIsolation: going back from a live rip to the micrometer asks where the
// blade is; it stands on the arbor by the records, so it lies on no bench, and in the saw it
// is measured behind stop and isolation. The other places that ask for hands are alike.
func TestMeasuringNeedsIsolation(t *testing.T) {
	p, _ := walkTo(t, procedure.New(shop(), solver.Plan, procedure.Options{Seed: 1}), "cut")
	for p.Place().Step != "source" {
		next, err := p.Apply(procedure.Event{Kind: procedure.Back, At: noon})
		if err != nil {
			t.Fatal(err)
		}
		p = next
		if v := p.View(); v.Place.Step == "thickness" || v.Place.Step == "rings" {
			t.Fatalf("%s is open with the power live", v.Place)
		}
	}
	for _, step := range []string{"rings", "knives", "blade", "sharpened"} {
		p := begun(t, p, step)
		if p.Place().Step != "source" {
			t.Errorf("%s is open with the power live", p.Place())
			continue
		}
		if power, _, _ := p.Power(); power != procedure.Live {
			t.Fatal(power)
		}
		if on := answered(t, p, "where", "bench"); on.Place().Step != step {
			t.Errorf("from the bench to %s", on.Place())
		}
		p = answered(t, p, "where", "saw")
		var way []string
		for range 3 {
			way = append(way, p.Place().Step)
			p = answered(t, p, "thickness", "2.5", "label", "new", "teeth", "30", "diameter", "250", "bore", "30", "knife", "2.5", "blade", "rip", "plate", "2 2 2", "kerf", "3 3 3")
		}
		if got := strings.Join(way, " "); got != "stop isolate "+step {
			t.Errorf("in the saw %s is reached by %s", step, got)
		}
	}
	// of the blade that is on the arbor by the records
	p = answered(t, begun(t, p, "sharpened"), "where", "bench")
	if what, words, _ := held(t, p, "blade", "rip", "plate", "2 2 2", "kerf", "3 3 3"); what != refusal || !strings.Contains(words, "by the records the rip is on the arbor") {
		t.Errorf("%s: %s", what, words)
	}
	// what was said holds for one part, and not over an idle spell
	p, _ = p.Apply(procedure.Event{Kind: procedure.Idle, At: noon})
	if p.Place().Step != "source" {
		t.Errorf("after an idle spell the work stands at %s", p.Place())
	}
	saw := shop()
	saw.Saw.FlangeDiameter, saw.Saw.SpareThread = model.Measure{}, model.Measure{}
	p = procedure.New(saw, solver.Plan, procedure.Options{Seed: 1})
	if f := p.View().Fields; p.Place().Step != "source" || len(f[0].Options) != 2 || f[0].Options[0] != "paper" {
		t.Errorf("at %s: %+v", p.Place(), f)
	}
}
