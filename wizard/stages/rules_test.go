package stages

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/solver"
	honest "example.com/sawdatum/testdata/hand"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/practice"
	"example.com/sawdatum/wizard/stages/shop"
)

// fresh is a hand at the saw of practice, before its setup.
func fresh(t *testing.T, change func(*model.Profile)) *hand {
	p := profiles.Demo()
	if change != nil {
		change(&p)
	}
	o := procedure.Options{Seed: 1}
	return &hand{t: t, p: procedure.New(p, House(o), solver.Judge, o), saw: practice.New(p, 1), at: time.Date(2026, 11, 26, 8, 0, 0, 0, time.UTC)}
}

// upTo answers until a step comes up.
func (h *hand) upTo(step string) *hand {
	h.t.Helper()
	for range 200 {
		if h.p.View().Place.Step == step {
			return h
		}
		h.step(nil)
	}
	h.t.Fatalf("%s does not come after %s", step, strings.Join(h.way, ", "))
	return nil
}

// told is what the program says of an answer that is right but for what is typed: at a
// field, and whether typing it again would be taken.
func (h *hand) told(typed map[string]string) []procedure.Fault {
	h.t.Helper()
	v, a := h.p.View(), procedure.Answers{}
	for _, f := range v.Fields {
		text, ok := typed[f.Key]
		if !ok {
			text = honest.Answer(v, f, h.saw, a)
		}
		a[f.Key] = text
	}
	_, err := h.p.Apply(procedure.Event{Kind: procedure.Answer, At: h.at.Add(time.Second), Visit: v.Visit, Answers: a})
	if r, ok := err.(*procedure.Refusal); ok {
		return r.Faults
	}
	return nil
}

// TestLimitsAtTheirFields types at each row what nobody should find at a saw. Where no
// source stands, the limit is common practice.
func TestLimitsAtTheirFields(t *testing.T) {
	for _, c := range []struct {
		step     string
		typed    map[string]string
		field    string
		says     string
		question bool
	}{
		{"stop", map[string]string{"off": "30"}, "off", "1 s after", true},
		{"lock", map[string]string{"width": "142"}, "width", "outside", false},
		{"heel-toe", map[string]string{"slot_front": "95", "slot_rear": "98", "fence_front": "140", "fence_rear": "140"}, "slot_rear", "no saw can be worked with so", false},
		{"heel-toe", map[string]string{"slot_front": "95", "slot_rear": "94.8", "fence_front": "140", "fence_rear": "140"}, "slot_rear", "nearer to the slot", true}, // over 0.005 in, woodworking magazine
		{"heel-toe", map[string]string{"slot_front": "95", "slot_rear": "95", "fence_front": "140", "fence_rear": "139.95"}, "fence_rear", "closes toward the rear", false},
		{"heel-toe", map[string]string{"slot_front": "95", "slot_rear": "95", "fence_front": "140", "fence_rear": "142.9"}, "fence_rear", "no saw can be worked with so", false},
		{"heel-toe", map[string]string{"slot_front": "95", "slot_rear": "95", "fence_front": "140", "fence_rear": "140.2"}, "fence_rear", "opens toward the rear", true},
		{"heel-toe", map[string]string{"slot_front": "95", "slot_rear": "95", "fence_front": "140", "fence_rear": "140", "span": "60"}, "span", "a short way", true},
		{"heel-toe", dialled("0.03", "+0.03"), "slot_rear", "type the sign: +0.03 where the tooth lies farther", false},
		{"heel-toe", dialled("+0.03", "0.03"), "fence_rear", "type the sign", false},
		{"heel-toe", dialled("+0.03", "-0.03"), "fence_rear", "closes toward the rear by 0.03 mm", false}, // over 0.001 in, common practice
		{"heel-toe", dialled("-0.6", "+0.03"), "slot_rear", "0.60 mm nearer to the slot", false},
		{"heel-toe", dialled("-0.2", "+0.03"), "slot_rear", "0.20 mm nearer to the slot", true},
		{"heel-toe", dialled("+0.02", "+0.2"), "fence_rear", "opens toward the rear by 0.20 mm", true},
		{"heel-toe", dialled("95.03", "+0.02"), "slot_rear", "more than a dial shows", false},
		{"heel-toe", map[string]string{"slot_front": "95", "slot_rear": "+0.03"}, "slot_rear", "no distance to the slot", false},
		{"heel-toe", map[string]string{"slot_front": "0.4"}, "slot_front", "or 0 where a dial was zeroed", false},
		{"rim", map[string]string{"dial": "0 0.01 0.02 0.01", "turned": "", "dial_turned": "0 0 0 0.01"}, "dial_turned", "would be dropped", false},
		{"rim", map[string]string{"dial": "0 0.01 x 0.01", "turned": ""}, "dial", "reading 3", false},
		{"line", map[string]string{"tip_gap": "0"}, "tip_gap", "touches the knife", false},
		{"line", map[string]string{"tip_gap": "2.9"}, "tip_gap", "too near", false}, // EN 1870-1, 6.3: 3 to 8 mm
		{"line", map[string]string{"tip_gap": "8.1"}, "tip_gap", "too far", false},
		{"boards", map[string]string{"lead": "200"}, "lead", "off the setting", false},
		{"boards", map[string]string{"lead": "144", "tail": "144"}, "lead", "off the setting", true},
		{"boards", map[string]string{"lead": "140.10", "tail": "140.25"}, "tail", "wider at its trailing end", true},
		{"knife", map[string]string{"gaps": "0 0.05 0.30 0.05"}, "gaps", "rear low", false},
		{"pairs", map[string]string{"pairs": "105=125"}, "pairs", "pair 1", false},
		{"scale", map[string]string{"read": "140.1 153 140.1"}, "read", "off the setting", false},
		{"scale", map[string]string{"read": "140.1 140.2 140.1"}, "read", "five places", true},
		{"reference", map[string]string{"readings": "145 145 145"}, "readings", "off the setting", true},
		{"strip", map[string]string{"readings": "12 12 12"}, "readings", "off the setting", false},
	} {
		h := fresh(t, nil).upTo(c.step)
		faults := h.told(c.typed)
		if len(faults) == 0 || faults[0].Field != c.field || !strings.Contains(faults[0].Text, c.says) || faults[0].Question != c.question {
			t.Errorf("%s, %v: %+v; %q was wanted at %s, asked again: %v", c.step, c.typed, faults, c.says, c.field, c.question)
		}
	}
}

// TestRimNotTurned: of a blade that was not turned no second round is asked, and the first counts.
func TestRimNotTurned(t *testing.T) {
	h := fresh(t, nil).upTo("rim")
	if f := h.p.View().Fields[1]; f.Key != "turned" || !f.Alone("") || f.Alone("180") {
		t.Errorf("%+v", f)
	}
	if faults := h.told(map[string]string{"dial": "0 0.01 0.02 0.01", "turned": "", "dial_turned": ""}); len(faults) > 0 {
		t.Error(faults)
	}
}

// dialled is heel and toe by a dial that was zeroed on the tooth at the front.
func dialled(slot, fence string) map[string]string {
	return map[string]string{"slot_front": "0", "slot_rear": slot, "fence_front": "0", "fence_rear": fence, "span": "200"}
}

// TestHeelAndToeByADial: what the dial shows is taken and told with its side, and the caliper's
// step counts for nothing in it: with one of 0.05 mm a fence that closes by 0.04 mm by the dial is
// refused, and by two distances it is not seen. A correction opens it with its sign.
func TestHeelAndToeByADial(t *testing.T) {
	coarse := func(p *model.Profile) { p.Instruments.Caliper, _ = model.ParseLength("0.05 mm", model.MM) }
	if faults := fresh(t, coarse).upTo("heel-toe").told(dialled("0", "-0.04")); len(faults) != 1 || faults[0].Field != "fence_rear" || faults[0].Question {
		t.Errorf("by the dial: %+v", faults)
	}
	if faults := fresh(t, coarse).upTo("heel-toe").told(map[string]string{"slot_front": "95", "slot_rear": "95", "fence_front": "140", "fence_rear": "139.96", "span": "200"}); faults != nil {
		t.Errorf("by the caliper: %+v", faults)
	}
	h := fresh(t, nil).upTo("heel-toe")
	v := h.p.View()
	if got := v.Picture(dialled("+0.03", "+0.05")).Sentence(); !strings.Contains(got, "opens toward the rear by 0.05 mm") || !strings.Contains(got, "0.03 mm farther from the slot") {
		t.Error(got)
	}
	typed := map[string]string{}
	for key, text := range dialled("+0.03", "+0.05") {
		typed["heel-toe "+key] = text
	}
	h.step(typed)
	r := h.p.State().HeelToe
	if r == nil || r.SlotRear.Length-r.SlotFront.Length != 30_000 || r.FenceRear.Length-r.FenceFront.Length != 50_000 {
		t.Fatalf("%+v", r)
	}
	back, err := h.p.Apply(procedure.Event{Kind: procedure.Back, At: h.at})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range back.View().Fields {
		if f.Key == "slot_rear" && f.Value != "+0.03" {
			t.Errorf("the correction opens with %q", f.Value)
		}
	}
}

// TestGapByTheRulesOfTheShop: under the rules of the United States the knife may stand nearer
// than 3 mm (Cal. Code Regs. title 8, 4296: at most 1/2 in), and is asked about; a knife that
// is touched is refused under any.
func TestGapByTheRulesOfTheShop(t *testing.T) {
	us := func(p *model.Profile) { p.Rules = model.RulesUS }
	for typed, question := range map[string]bool{"0": false, "2": true, "12.8": false} {
		faults := fresh(t, us).upTo("line").told(map[string]string{"tip_gap": typed})
		if len(faults) != 1 || faults[0].Question != question {
			t.Errorf("a gap of %s mm: %+v", typed, faults)
		}
	}
	if faults := fresh(t, us).upTo("line").told(map[string]string{"tip_gap": "12.7"}); faults != nil {
		t.Errorf("half an inch: %+v", faults)
	}
}

// TestBoardThatTapers leads back to heel and toe, and then to another board.
func TestBoardThatTapers(t *testing.T) {
	h := fresh(t, nil).upTo("boards")
	h.step(map[string]string{"boards lead": "140.10", "boards tail": "140.25"})
	n := len(h.way)
	h.upTo("heel-toe").step(nil)
	h.upTo("boards")
	if h.p.State().Boards != nil {
		t.Errorf("a knife would be set by the board that tapers, after %s", strings.Join(h.way[n:], ", "))
	}
}

// TestBoardUnderALock: a knife that comes once the scale was read still wants its board
// ripped under a lock.
func TestBoardUnderALock(t *testing.T) {
	h := setUp(t)
	h.again(procedure.Options{Seed: 2})
	p := h.p.Profile()
	set := h.p.State().Knives["k25"].Set
	p.Records = append(p.Records[:len(p.Records):len(p.Records)],
		record{Kind: model.Void, Of: set.Ref(), Why: model.Again, By: "KB", At: h.at.Add(time.Hour)},
		record{Kind: model.FenceMoved, Lock: h.p.State().Lock, By: "KB", At: h.at.Add(2 * time.Hour)})
	h.at = h.at.Add(3 * time.Hour)
	o := procedure.Options{Seed: 2}
	h.p = procedure.New(p, House(o), solver.Judge, o)
	h.upTo("boards")
	if h.p.State().Lock == "" {
		t.Errorf("the gauge board is ripped without a lock, after %s", strings.Join(h.way, ", "))
	}
}

// TestRunDownByTheRulesOfTheShop: 10 s are the limit where the rules have one (HSE WIS16, WIS38);
// in the United States the saw's manual says what is right, and is named.
func TestRunDownByTheRulesOfTheShop(t *testing.T) {
	for rules, want := range map[model.Rules]string{model.RulesEN: "run-down-slow", model.RulesUS: "run-down-manual"} {
		for typed, said := range map[string]bool{"10": false, "10.1": true} {
			h := fresh(t, func(p *model.Profile) { p.Rules = rules }).upTo("stop")
			h.at = h.at.Add(time.Minute)
			h.step(map[string]string{"stop off": typed})
			codes := ""
			for _, r := range h.p.Report() {
				codes += r.Code + " "
			}
			if strings.Contains(codes, want) != said || strings.Contains(codes, "run-down") != said {
				t.Errorf("%s, %s s: %s", rules, typed, codes)
			}
		}
	}
}

// TestSlowByTheRecords: a brake that was slow on another day, and for which nobody answers, is
// asked about before the blade turns again, though the blade stands or stops in time today.
func TestSlowByTheRecords(t *testing.T) {
	for _, today := range []string{"4", "still"} {
		h := setUp(t)
		p := h.p.Profile()
		p.Records = append(p.Records[:len(p.Records):len(p.Records)], record{Kind: model.Isolation, At: h.at.Add(time.Hour), By: "KB", How: "locked", Dead: "dead", RunDown: 13 * time.Second})
		h.at = h.at.AddDate(0, 0, 1)
		o := procedure.Options{Mode: procedure.Swap, Blade: "rip-24", Seed: 2}
		h.p, h.way = procedure.New(p, House(o), solver.Judge, o), nil
		for range 30 {
			if step := h.p.View().Place.Step; step == "brake" {
				break
			} else if step == "power" {
				t.Errorf("%s today: power comes back by %s", today, strings.Join(h.way, ", "))
				break
			}
			h.step(map[string]string{"stop off": today})
		}
	}
}

// TestGapsOfTheNarrowestKerf: a knife may lie no farther behind the datum than the smallest play
// of the blades that run with it.
func TestGapsOfTheNarrowestKerf(t *testing.T) {
	narrow := func(p *model.Profile) {
		for i := range p.Blades[1].Kerf {
			p.Blades[1].Kerf[i] = (256 * mm / 100).Of(model.MM)
		}
	}
	for change, taken := range map[bool]bool{false: true, true: false} {
		h := fresh(t, func(p *model.Profile) {
			if change {
				narrow(p)
			}
		}).upTo("knife")
		for _, f := range h.p.View().Fields {
			if err := f.Check("0 0.08 0 0.08"); f.Key == "gaps" && (err == nil) != taken {
				t.Errorf("a kerf of 2.56 mm and a knife of 2.5 mm: %v; %v", change, err)
			}
		}
	}
}

// TestWidthsOrDifferences: a strip is read in one way.
func TestWidthsOrDifferences(t *testing.T) {
	h := fresh(t, nil).upTo("strip")
	if faults := h.told(map[string]string{"readings": "140.01 0.02 140.01"}); len(faults) == 0 || faults[0].Question {
		t.Errorf("both in one list: %v", faults)
	}
	if faults := h.told(map[string]string{"readings": "0.02 0.02 0.02"}); faults != nil {
		t.Errorf("zeroed anew on each of three strips: %v", faults)
	}
	if faults := h.told(map[string]string{"readings": "0.02 0.02 0.02 0.02"}); len(faults) != 1 || !faults[0].Question {
		t.Errorf("four differences from three strips: %v", faults)
	}
}

// TestGapAtTheKnifeCheck: the gap that is typed there is held against the rules as before power.
func TestGapAtTheKnifeCheck(t *testing.T) {
	h := fresh(t, func(p *model.Profile) { p.Rules = model.RulesUS }).upTo("reference")
	h.begun("knife-check").upTo("knife-check")
	if faults := h.told(map[string]string{"tip_gap": "2"}); len(faults) != 1 || !faults[0].Question {
		t.Errorf("a gap of 2 mm: %v", faults)
	}
}

// TestProofWithThePartnerOutside: no strip for a proof is ripped with the reference either where
// that leaves the knife outside its kerf.
func TestProofWithThePartnerOutside(t *testing.T) {
	done := setUp(t)
	p := done.p.Profile()
	p.Blades = slices.Clone(p.Blades)
	p.Blades[0].Kerf = slices.Clone(p.Blades[0].Kerf)
	for i := range p.Blades[0].Kerf { // 0.005 mm of play
		p.Blades[0].Kerf[i] = (2505 * mm / 1000).Of(model.MM)
	}
	o := procedure.Options{Mode: procedure.Prove, Blade: "rip-24", Seed: 3}
	h := &hand{t: t, p: procedure.New(p, House(o), solver.Judge, o), saw: done.saw, at: done.at.AddDate(0, 0, 1)}
	if row, _ := h.p.Plan().Row("general-48"); row.Inside {
		t.Fatalf("its knife stands inside: %+v", row)
	}
	h.toTheEnd(nil)
	if way := strings.Join(h.way, ", "); strings.Contains(way, "proof general-48") {
		t.Errorf("ripped all the same: %s", way)
	}
}

// TestKnifeAloneBehindABladeThatMustNotRun: a blade that is on, and only misses its knife, is held
// against what keeps it off as where it goes on.
func TestKnifeAloneBehindABladeThatMustNotRun(t *testing.T) {
	done := setUp(t)
	for spindle, taken := range map[int]bool{2900: true, 4000: false} { // EN 1870-1, 6.3
		p := done.p.Profile()
		p.Blades = slices.Clone(p.Blades)
		p.Saw.SpindleSpeed = spindle
		for i := range p.Blades {
			p.Blades[i].MarkedSpeed = 3000
		}
		on := done.p.State().On
		o := procedure.Options{Mode: procedure.Swap, Blade: on.Blade, Seed: 2}
		h := &hand{t: t, p: procedure.New(p, House(o), solver.Judge, o), saw: done.saw, at: done.at.AddDate(0, 0, 1)}
		h.upTo("look").step(map[string]string{"look blade": h.p.Now().Name(on.Blade), "look rings": h.p.Now().RingsTyped(on.Rings), "look knife": ""})
		h.upTo("mount")
		if faults := h.told(map[string]string{"knife": "2.5"}); (len(faults) == 0) != taken {
			t.Errorf("at %d rpm: %v", spindle, faults)
		}
	}
}

// TestHowTheSawIsLeft: a ready blade may stay on, and is named; that of another is refused.
func TestHowTheSawIsLeft(t *testing.T) {
	h := fresh(t, nil).upTo("left")
	on, _ := h.p.Now().Lock.On()
	if row, _ := h.p.Plan().Row(on.Blade); !row.Usable() || strings.Contains(strings.Join(h.way, ", "), "emptied") {
		t.Errorf("the %s is %s, after %s", on.Blade, row.State, strings.Join(h.way, ", "))
	}
	check := h.p.View().Fields[0].Check
	if check("empty") != nil || check(h.p.Now().Name(on.Blade)) != nil {
		t.Errorf("the %s is on: %v", on.Blade, check(h.p.Now().Name(on.Blade)))
	}
	for _, b := range h.p.Profile().Rack() {
		if b.ID != on.Blade && check(b.Name()) == nil {
			t.Errorf("the %s is on, and the %s is taken for it", on.Blade, b.Name())
		}
	}
}

// TestTwinsByTheirName: where two blades have as many teeth, the name that is written on one is
// asked for before it turns, and that of the other refused; teeth alone name neither.
func TestTwinsByTheirName(t *testing.T) {
	names := func(change func(*model.Profile)) (h *hand, out []field) {
		h = fresh(t, change).upTo("mount")
		for _, f := range h.p.View().Fields {
			if f.Key == "name" {
				out = append(out, f)
			}
		}
		return h, out
	}
	if _, asked := names(nil); len(asked) != 0 {
		t.Errorf("no other blade has as many teeth, and its name is asked for")
	}
	h, asked := names(func(p *model.Profile) { p.Blades[3].Teeth = p.Blades[0].Teeth })
	on, other := h.p.Profile().Blades[0], h.p.Profile().Blades[3]
	if len(asked) != 1 || asked[0].Check(on.Name()) != nil || asked[0].Check(other.Name()) == nil || asked[0].Check("") == nil {
		t.Errorf("%s goes on: %+v", on.Name(), asked)
	}
	if id, err := bladeNamed(h.p.Now(), "48"); err == nil {
		t.Errorf("48 teeth name the %s", id)
	}
	if id, err := bladeNamed(h.p.Now(), other.Name()); err != nil || id != other.ID {
		t.Errorf("the name of the %s names %q: %v", other.Name(), id, err)
	}
}

// TestGapBesideTheThickness: where the knife's thickness is typed beside the gap, each is held
// against its own rule at the field.
func TestGapBesideTheThickness(t *testing.T) {
	h := setUp(t)
	h.at = h.at.AddDate(0, 0, 1)
	h.again(procedure.Options{Mode: procedure.Swap, Blade: "rip-24", Seed: 2})
	h.upTo("line")
	for text, taken := range map[string]bool{"5 2.5": true, "2.9 2.5": false, "0 2.5": false, "5 2.2": false, "5": false} {
		if err := h.p.View().Fields[0].Check(text); (err == nil) != taken {
			t.Errorf("%s: %q: %v", h.p.View().Fields[0].Label, text, err)
		}
	}
}

// TestDangerAtItsOwnField: what is a danger is refused by the field itself, before anything
// else of the screen is typed; what is right is taken.
func TestDangerAtItsOwnField(t *testing.T) {
	for _, c := range []struct{ step, field, wrong, right string }{
		{"line", "tip_gap", "0", "5"},
		{"boards", "tail", "155", "140.1"},
		{"boards", "length", "600", "700"}, // the throat is 360 mm long, and 150 mm at each end bear on the table
		{"knife", "gaps", "0 0 0 0.11", "0 0 0 0.1"},
		{"scale", "read", "140 140 151", "140 140 140"},
		{"reference", "readings", "129 129 129", "139 139 139"},
		{"strip", "readings", "12 12 12", "0.02 -0.01 0.02"},
	} {
		for _, f := range fresh(t, nil).upTo(c.step).p.View().Fields {
			if f.Key != c.field {
				continue
			}
			if f.Check(c.wrong) == nil {
				t.Errorf("%s: %s is taken at %s", c.step, c.wrong, c.field)
			}
			if err := f.Check(c.right); err != nil {
				t.Errorf("%s: %s: %v", c.step, c.right, err)
			}
		}
	}
}

// TestSaidAtTheSawWhereItIsLeft: what front and rear tell of a lean, a width far off the setting
// and readings of a strip that scatter are judged when their field is left, with what comes
// after it not typed yet.
func TestSaidAtTheSawWhereItIsLeft(t *testing.T) {
	for _, c := range []struct{ step, field, wrong, says, right string }{
		{"heel-toe", "slot_rear", "99", "no saw can be worked with so", "95.03"},
		{"heel-toe", "slot_rear", "95.3", "farther from the slot", "95.03"},
		{"heel-toe", "fence_rear", "139.8", "closes toward the rear by 0.20 mm: it", "140.02"},
		{"boards", "lead", "144", "off the setting", "140.1"},
		{"scale", "read", "140.12 140.12 141.1", "stands 0.98 mm apart", "140.12 140.13 140.12"},
		{"scale", "cursor", "-0.13", "toward the higher numbers", "0.13"}, // of 140.13 read
	} {
		h := fresh(t, nil).upTo(c.step)
		v := h.p.View()
		leave := func(text string) error {
			typed := procedure.Answers{"slot_front": "95.00", "fence_front": "140.00", "length": "900", "read": "140.13 140.13 140.13"}
			for _, f := range v.Fields {
				if typed[c.field] = text; f.Key == c.field {
					break
				}
				if typed[f.Key] == "" {
					typed[f.Key] = honest.Answer(v, f, h.saw, typed)
				}
			}
			_, err := h.p.Apply(procedure.Event{Kind: procedure.Leave, At: h.at, Visit: v.Visit, Field: c.field, Answers: typed})
			return err
		}
		if r, ok := leave(c.wrong).(*procedure.Refusal); !ok || r.Faults[0].Field != c.field || !strings.Contains(r.Faults[0].Text, c.says) {
			t.Errorf("%s %s %s: %+v", c.step, c.field, c.wrong, r)
		}
		if err := leave(c.right); err != nil {
			t.Errorf("%s %s %s: %v", c.step, c.field, c.right, err)
		}
	}
}

// TestBladeThatMustNotGoOn: bore, speed, size, flange and rings are looked at again when a
// blade is swapped, whatever was typed of it long ago, and it stays off.
func TestBladeThatMustNotGoOn(t *testing.T) {
	done := setUp(t)
	for says, change := range map[string]func(b *model.Blade, s *model.Saw){
		"does not go on":    func(b *model.Blade, _ *model.Saw) { b.Bore.Length = 29 * model.Millimetre },
		"off centre":        func(b *model.Blade, _ *model.Saw) { b.Bore.Length = 31 * model.Millimetre },
		"the spindle turns": func(b *model.Blade, s *model.Saw) { b.MarkedSpeed, s.SpindleSpeed = 3000, 4000 },      // EN 1870-1, 6.3
		"60 %":              func(b *model.Blade, _ *model.Saw) { b.Diameter.Length = 140 * model.Millimetre },      // HSE WIS16
		"a quarter":         func(_ *model.Blade, s *model.Saw) { s.FlangeDiameter.Length = 60 * model.Millimetre }, // EN 1870-1
		"one pitch":         func(_ *model.Blade, s *model.Saw) { s.ThreadEnd.Length = 24 * model.Millimetre },
	} {
		p := done.p.Profile()
		p.Blades = append([]model.Blade{}, p.Blades...)
		for i := range p.Blades {
			if p.Blades[i].ID == "crosscut-80" {
				change(&p.Blades[i], &p.Saw)
			}
		}
		o := procedure.Options{Mode: procedure.Swap, Blade: "crosscut-80", Seed: 2}
		h := &hand{t: t, p: procedure.New(p, House(o), solver.Judge, o), saw: done.saw, at: done.at.Add(time.Hour)}
		h.upTo("mount")
		if text := strings.Join(h.p.View().Do, " "); !strings.Contains(text, says) || !strings.Contains(text, "stays off") {
			t.Errorf("%q is not said: %s", says, text)
		}
		if faults := h.told(nil); len(faults) == 0 || faults[0].Question || !strings.Contains(faults[0].Text, says) {
			t.Errorf("%q: %+v", says, faults)
		}
	}
}

// TestPaperAtAnIsolatedSaw: what is typed from the manual is marked so, also where the saw is
// isolated and could be measured.
func TestPaperAtAnIsolatedSaw(t *testing.T) {
	for source, want := range map[string]int{"measured": 0, "paper": 6} {
		h := fresh(t, func(p *model.Profile) { p.Saw.Nut = model.Measure{} }).upTo("flange")
		if h.p.Now().FromPaper() || h.p.Now().Lock.Power() != interlock.Isolated {
			t.Fatal("the saw is not isolated there")
		}
		h.step(map[string]string{"flange source": source})
		if got := h.p.Profile().Saw.FromPaper; len(got) != want {
			t.Errorf("%s: from paper are %v", source, got)
		}
	}
}

// TestTiltOpened: bevel, heel and toe come again where tilt or the fence's screws were
// opened, and not where the fence was only moved.
func TestTiltOpened(t *testing.T) {
	for _, how := range []string{"moved", "opened"} {
		h := newSetUp(t).upTo("reference")
		next, err := h.p.Apply(procedure.Event{Kind: procedure.Begin, At: h.at, Place: procedure.Place{Step: "fence-moved"}})
		if err != nil {
			t.Fatal(err)
		}
		h.p, h.way = next, nil
		h.step(map[string]string{"fence-moved moved": how})
		h.upTo("reference")
		way := " " + strings.Join(h.way, " ") + " "
		if got := strings.Contains(way, " heel-toe ") && strings.Contains(way, " block "); got != (how == "opened") {
			t.Errorf("%s: %s", how, way)
		}
	}
}

// TestReferenceThatLosesBlades is asked again: with it more blades cannot be brought in than
// with what the readings name.
func TestReferenceThatLosesBlades(t *testing.T) {
	h := fresh(t, nil).upTo("datum")
	if faults := h.told(nil); faults != nil {
		t.Errorf("what the readings name: %+v", faults)
	}
	if faults := h.told(map[string]string{"reference": "80-tooth fine crosscut"}); len(faults) != 1 || faults[0].Field != "reference" || !faults[0].Question {
		t.Errorf("%+v", faults)
	}
}

// TestHeightBeforeAStrip: where a strip follows, the height goes back to its block.
func TestHeightBeforeAStrip(t *testing.T) {
	h := newSetUp(t)
	for h.p.View().Place.String() != "line rip-24" {
		h.step(nil)
	}
	if do := strings.Join(h.p.View().Do, " "); !strings.Contains(do, "et the height by its block") {
		t.Error(do)
	}
}

// TestKnifeBeforePower: a cut left the knife outside its kerf; before the blade is powered up
// with other rings, it is seen where the knife stands. A squared knife that is outside is taken
// as it was seen: the blade does not turn, comes off and is left. One of which nobody knows where
// it stands is refused there until it is set.
func TestKnifeBeforePower(t *testing.T) {
	h := newSetUp(t)
	outside := map[string]string{"-0.2 0.05": "0.200 mm out of the kerf toward the fence", "0.05 0.6": "out of the kerf away from the fence"}
	for range 300 {
		v, own := h.p.View(), map[string]string{}
		switch {
		case v.Place.String() == "strip rip-24":
			own["strip readings"] = "140.40 140.40 140.40"
		case v.Place.Step == "ways":
			own["ways way"] = "clean"
			for _, typed := range []string{"", "x"} { // the danger stands, whatever is typed
				if said := v.Follows(procedure.Answers{"way": typed}); !slices.ContainsFunc(said, func(r reason) bool { return r.Weight == model.Danger }) {
					t.Errorf("%q: no danger is said: %v", typed, said)
				}
			}
		case v.Place.Step == "clean":
			own["clean found"] = "dust"
		case v.Place.String() == "line rip-24" && strings.Contains(strings.Join(h.way, ","), "clean rip-24"):
			f := v.Fields[0]
			if f.Key != "faces" || f.Check("0.05 0") != nil {
				t.Fatalf("where the knife stands is not asked before power: %+v", v.Fields)
			}
			if do := strings.Join(v.Do, " "); !strings.Contains(do, "behind it on the fence side") || !strings.Contains(do, "et the height by its block") {
				t.Errorf("no order says how it is read: %s", do)
			}
			on, _ := v.Context().Lock.On()
			unknown := lineRow.Fields(v.Context().With(record{Kind: model.KnifeMoved, Knife: on.Knife}))[0]
			for typed, side := range outside {
				if err := unknown.Check(typed); err == nil || !strings.Contains(err.Error(), side) || !strings.Contains(err.Error(), "set it by the manual") {
					t.Errorf("nobody knows where it stands, %s: %v, want %q", typed, err, side)
				}
				said := v.Follows(procedure.Answers{"faces": typed})
				if err := f.Check(typed); err != nil || len(said) == 0 || !strings.Contains(said[0].Text, side) || said[0].Weight != model.Danger {
					t.Errorf("squared, %s: %v, and it says %v", typed, err, said)
				}
			}
			before := len(h.way)
			h.toTheEnd(map[string]string{"line faces": "-0.2 0.05", "ways way": "later"})
			after := strings.Join(h.way[before+1:], ", ")
			if row, _ := h.p.Plan().Row("rip-24"); row.Usable() || strings.Contains(after, "rip-24") || !h.p.State().Blades["rip-24"].LeftNow {
				t.Errorf("outside its kerf it is %s, and then came %s", row.State, after)
			}
			return
		}
		h.step(own)
	}
	t.Errorf("the knife was never outside: %s", strings.Join(h.way, ", "))
}

// TestNoSingleKeyOpensAGate: at each gate there is an answer that no single key gives; how the saw is isolated may
// be told by the first letter, and by no number, since the two words behind it open that gate (job.md, Procedure:
// a single keypress never opens a safety gate). Stopping is timed by two enters.
func TestNoSingleKeyOpensAGate(t *testing.T) {
	c := setUp(t).p.Now()
	for at, r := range gateRows {
		if !r.Gate || r == &stopRow {
			continue
		}
		opens := []string{}
		for _, f := range r.Fields(c) {
			if f.Optional {
				opens = append(opens, "enter alone")
			}
			for key := ' '; key < 127; key++ {
				if text := string(key); strings.TrimSpace(text) != "" && f.Check(text) == nil && r != &brakeRow { // where a name is typed
					opens = append(opens, f.Key+" "+text)
				}
			}
		}
		want := ""
		if r == &isolateRow {
			want = "how L, how P, how l, how p"
		}
		if got := strings.Join(opens, ", "); got != want {
			t.Errorf("gate %v, %s: single keys are taken: %s; want %q", at, r.Name, got, want)
		}
	}
}

// TestWhatIsOnIsNamedInFull: what is on the arbor is named by its teeth, its name, or a word of it that no other
// blade has; by no number of a list that nobody sees, and by no beginning that a stray key makes.
func TestWhatIsOnIsNamedInFull(t *testing.T) {
	c := setUp(t).p.Now()
	for text, want := range map[string]string{"24": "rip-24", "rip": "rip-24", "rip-24": "rip-24", "24-tooth rip": "rip-24", " crosscut ": "crosscut-80", "1": "", "2": "", "r": "", "ri": "", "tooth": "", "25": "", "": ""} {
		if got, err := bladeNamed(c, text); got != want || (err == nil) != (want != "") {
			t.Errorf("%q is %q, %v; want %q", text, got, err, want)
		}
	}
	list := shop.OneBlade(c, "", "", shop.RackBlades(c)) // shown with numbers, and nothing at the saw is told by it
	for text, want := range map[string]string{"2": "rip-24", "r": "rip-24", "ri": "rip-24", "24": "rip-24", "tooth": ""} {
		if got, err := list.Choice(text); got != want || (err == nil) != (want != "") {
			t.Errorf("of the list %q is %q, %v; want %q", text, got, err, want)
		}
	}
}
