package stages

import (
	"cmp"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
)

// later is a run on the shop after its setup, the day after, with records that came in between.
func later(t *testing.T, done *hand, o procedure.Options, records ...record) *hand {
	t.Helper()
	p, at := done.p.Profile(), done.at.Add(time.Hour)
	p.Records = p.Records[:len(p.Records):len(p.Records)]
	for i, r := range records {
		r.At, r.By = at.Add(time.Duration(i)*time.Second).UTC().Truncate(time.Second), "MO"
		p.Records = append(p.Records, r)
	}
	o.Seed = 3
	return &hand{t: t, p: procedure.New(p, House(o), solver.Judge, o), saw: done.saw, at: done.at.AddDate(0, 0, 1)}
}

// TestSwapToWhatIsNotReady: a blade that is to be checked is not put on for work, only for a
// proof; one whose knife alone was moved is, behind a knife check; one that is not ready never.
func TestSwapToWhatIsNotReady(t *testing.T) {
	done := setUp(t)
	knife := record{Kind: model.TakenOff, Blade: "general-48", Knife: "k25"}
	for what, c := range map[string]struct {
		blade   string
		proves  bool
		records []record
		want    string // the way, or its end
		state   model.Readiness
	}{
		"flange worked on":             {"rip-24", false, []record{{Kind: model.Arbor}}, "who, barred rip-24", model.StateCheck},
		"flange worked on, as a proof": {"rip-24", true, []record{{Kind: model.Arbor}}, "proof rip-24, proof rip-24, proved rip-24", model.StateReady},
		"knife out":                    {"rip-24", false, []record{knife}, "knife-seen rip-24, power rip-24, first rip-24", model.StateReady},
		"flange and knife":             {"rip-24", false, []record{{Kind: model.Arbor}, knife}, "who, barred rip-24", model.StateCheck},
		"no knife fits":                {"thin-40", true, nil, "who, barred thin-40", model.StateNotReady},
	} {
		h := later(t, done, procedure.Options{Mode: procedure.Swap, Blade: c.blade, Proves: c.proves}, c.records...)
		h.toTheEnd(nil)
		if way := strings.Join(h.way, ", "); !strings.HasSuffix(way, c.want) || strings.HasPrefix(c.want, "who") && way != c.want {
			t.Errorf("%s: the way went %s; it was to end in %s", what, way, c.want)
		}
		if row, _ := h.p.Plan().Row(c.blade); row.State != c.state {
			t.Errorf("%s: it is %s, want %s: %v", what, row.State, c.state, row.Reasons)
		}
	}
}

// TestProofIsOffered: where the blade that is wanted is due, or to be checked, or the one that is on and of the pair
// is, a swap asks once whether to prove it, and goes on as it does without where nobody wants that; where
// nothing is due, nothing is asked. Whoever said already what it is to be is not asked.
func TestProofIsOffered(t *testing.T) {
	fresh := setUp(t)
	due := *fresh
	due.at = due.at.AddDate(0, 0, 40)
	row, _ := fresh.p.Plan().Row("rip-24")
	soon := *fresh
	soon.at = row.Due.AddDate(0, 0, -1).Add(-20 * time.Second) // the run begins a day after that
	worked, knifeOut := record{Kind: model.Arbor}, record{Kind: model.TakenOff, Blade: "general-48", Knife: "k25"}
	proved := later(t, &due, procedure.Options{Mode: procedure.Prove, Blade: "rip-24"})
	proved.toTheEnd(nil)
	crosscut := later(t, proved, procedure.Options{Mode: procedure.Swap, Blade: "crosscut-80"})
	crosscut.toTheEnd(nil)
	standIn := later(t, proved, procedure.Options{Mode: procedure.Swap, Blade: "rip-24"})
	standIn.toTheEnd(nil)
	standIn.at = standIn.at.AddDate(0, 0, 20)
	held := later(t, standIn, procedure.Options{Mode: procedure.Prove, Blade: "crosscut-80"}) // against the rip
	held.toTheEnd(nil)
	held.at = held.at.AddDate(0, 0, 12)
	for what, c := range map[string]struct {
		before  *hand
		o       procedure.Options
		answer  string
		records []record
		says    string // of what; empty: nothing is asked
		strips  int
		state   model.Readiness
	}{
		"nothing due":                {fresh, procedure.Options{Blade: "rip-24", Offers: true}, "", nil, "", 0, model.StateReady},
		"due, with a proof":          {&due, procedure.Options{Blade: "rip-24", Offers: true}, "prove", nil, "The 24-tooth rip is DUE for 11 days.", 4, model.StateReady},
		"due, without":               {&due, procedure.Options{Blade: "rip-24", Offers: true}, "swap", nil, "The 24-tooth rip is DUE for 11 days.", 0, model.StateDue},
		"due, not to be asked":       {&due, procedure.Options{Blade: "rip-24"}, "", nil, "", 0, model.StateDue},
		"due, said to be a proof":    {&due, procedure.Options{Blade: "rip-24", Proves: true, Offers: true}, "", nil, "", 4, model.StateReady},
		"to be checked, proved":      {fresh, procedure.Options{Blade: "rip-24", Offers: true}, "prove", []record{worked}, "The 24-tooth rip is to be checked: arbor and flange", 4, model.StateReady},
		"to be checked, left":        {fresh, procedure.Options{Blade: "rip-24", Offers: true}, "leave", []record{worked}, "The 24-tooth rip is to be checked: arbor and flange", 0, model.StateCheck},
		"what is on is due":          {crosscut, procedure.Options{Blade: "general-48", Offers: true}, "prove", nil, "The 80-tooth fine crosscut is DUE for", 4, model.StateReady},
		"what is on, of no pair":     {crosscut, procedure.Options{Blade: "rip-24", Offers: true}, "", nil, "", 0, model.StateReady},
		"no knife fits":              {&due, procedure.Options{Blade: "thin-40", Offers: true}, "", nil, "", 0, model.StateNotReady},
		"due in the midst of it":     {&soon, procedure.Options{Blade: "rip-24", Offers: true}, "", nil, "", 0, model.StateDue},
		"only the other of the pair": {held, procedure.Options{Blade: "crosscut-80", Offers: true}, "", nil, "", 0, model.StateReady},
		"its knife was out":          {fresh, procedure.Options{Blade: "rip-24", Offers: true}, "", []record{knifeOut}, "", 0, model.StateReady},
		"its knife was out, and due": {&due, procedure.Options{Blade: "rip-24", Offers: true}, "swap", []record{knifeOut}, "The 24-tooth rip is DUE for 11 days. A proof", 0, model.StateDue},
	} {
		c.o.Mode = procedure.Swap
		h := later(t, c.before, c.o, c.records...)
		said, asked, before := "", 0, len(h.p.State().Strips)
		for range 100 {
			if h.p.Finished() {
				break
			}
			if v := h.p.View(); v.Place.Step == "offer" {
				said, asked = strings.Join(v.Do, " "), asked+1
			}
			h.step(map[string]string{"offer proof": cmp.Or(c.answer, "swap")})
			if h.way[len(h.way)-1] == "offer" { // what was answered is not asked again
				h.p, _ = h.p.Apply(procedure.Event{Kind: procedure.Suspend, At: h.at})
			}
		}
		row, _ := h.p.Plan().Row(c.o.Blade)
		if !h.p.Finished() || asked > 1 || (asked == 1) != (c.says != "") || !strings.Contains(said, c.says) || len(h.p.State().Strips)-before != c.strips || row.State != c.state {
			t.Errorf("%s: asked %d times %q, %d strips, then it is %s; after %s", what, asked, said, len(h.p.State().Strips)-before, row.State, strings.Join(h.way, ", "))
		}
		if way := strings.Join(h.way, ", "); c.answer == "leave" && way != "who, offer" || (len(c.records) > 0 && c.records[0].Kind == model.Arbor) != strings.Contains(said, "type leave") || asked > 0 && h.way[1] != "offer" || c.o.Blade == "general-48" && !strings.Contains(said, "each, of the 48-tooth general and of the 80-tooth fine crosscut") || c.answer == "prove" && c.o.Blade == "rip-24" && !strings.Contains(said, "each, of it and of the 48-tooth general") {
			t.Errorf("%s: %q, after %s", what, said, way)
		}
		if on, known := h.p.Now().Lock.On(); c.state != model.StateNotReady && c.answer != "leave" && (!known || on.Blade != c.o.Blade) || c.answer == "leave" && known {
			t.Errorf("%s: on is %+v", what, on)
		}
	}
}

// TestProofThatIsOut: the blade that a proof finds out does not stay on.
func TestProofThatIsOut(t *testing.T) {
	h := later(t, setUp(t), procedure.Options{Mode: procedure.Swap, Blade: "rip-24", Proves: true})
	for range 100 {
		own := map[string]string{}
		if h.p.View().Place.String() == "proof rip-24" {
			own["proof readings"] = "140.42 140.42 140.42"
		}
		if h.p.Finished() {
			break
		}
		h.step(own)
	}
	row, _ := h.p.Plan().Row("rip-24")
	on, known := h.p.Now().Lock.On()
	if row.Usable() || !known || on.Blade != "" || !strings.Contains(strings.Join(h.way, ", "), "out-off rip-24") {
		t.Errorf("it is %s, and on is %+v after %s", row.State, on, strings.Join(h.way, ", "))
	}
}

// TestPairWithWhatIsOn: a stand-in that is on the saw is what a blade is held against: its strips are ripped before
// it comes off, and the reference does not go on for it.
func TestPairWithWhatIsOn(t *testing.T) {
	done := setUp(t)
	swapped := later(t, done, procedure.Options{Mode: procedure.Swap, Blade: "rip-24"})
	swapped.toTheEnd(nil)
	for _, o := range []procedure.Options{{Mode: procedure.Prove, Blade: "crosscut-80"}, {Mode: procedure.Swap, Blade: "crosscut-80", Proves: true}} {
		h := later(t, swapped, o)
		h.toTheEnd(map[string]string{"fence fence": "moved"})
		way := strings.Join(h.way, ", ")
		first, second := strings.Index(way, "proof rip-24"), strings.Index(way, "mount crosscut-80")
		if first < 0 || second < first || strings.Contains(way, "general-48") {
			t.Errorf("mode %v: %s", o.Mode, way)
		}
		row, _ := h.p.Plan().Row("crosscut-80")
		if row.State != model.StateReady || row.ProvedAt.Before(swapped.at) {
			t.Errorf("it is %s, proved %s: %v", row.State, row.ProvedAt, row.Reasons)
		}
		if rip, _ := h.p.Plan().Row("rip-24"); rip.ProvedAt.After(swapped.at) {
			t.Errorf("the stand-in is renewed by it: %s", rip.ProvedAt)
		}
	}
}

// TestPairOfWhatIsOnAlready: a swap as a proof to the blade that is on has its strips ripped first, then those
// of the other, tells what the pair says, and has it put on again.
func TestPairOfWhatIsOnAlready(t *testing.T) {
	swapped := later(t, setUp(t), procedure.Options{Mode: procedure.Swap, Blade: "rip-24"})
	swapped.toTheEnd(nil)
	h := later(t, swapped, procedure.Options{Mode: procedure.Swap, Blade: "rip-24", Proves: true})
	h.toTheEnd(map[string]string{"look blade": "24-tooth rip", "look rings": "0.10", "look knife": "2.5"})
	way, at := strings.Join(h.way, ", "), -1
	for _, place := range []string{"proof rip-24", "mount general-48", "proof general-48", "proved rip-24", "mount rip-24", "first rip-24"} {
		next := strings.Index(way[at+1:], place)
		if next < 0 {
			t.Fatalf("%s is not behind what comes before it: %s", place, way)
		}
		at += 1 + next
	}
	row, _ := h.p.Plan().Row("rip-24")
	on, known := h.p.Now().Lock.On()
	if row.State != model.StateReady || row.ProvedAt.Before(swapped.at) || !known || on.Blade != "rip-24" {
		t.Errorf("it is %s, proved %s, and on is %+v: %v", row.State, row.ProvedAt, on, row.Reasons)
	}
	if last := strings.LastIndex(way, "proof "); last > strings.Index(way, "mount rip-24") {
		t.Errorf("a strip is ripped after it went on again: %s", way)
	}
}

// TestAPairSaysItsOwnFigure: what a pair says is told of its own strips, not of those that brought the blade in.
func TestAPairSaysItsOwnFigure(t *testing.T) {
	h := later(t, setUp(t), procedure.Options{Mode: procedure.Prove, Blade: "rip-24"})
	before, _ := h.p.Plan().Row("rip-24")
	for range 80 {
		v := h.p.View()
		if v.Place.String() == "proved rip-24" {
			break
		}
		h.step(map[string]string{"proof readings": map[string]string{"rip-24": "140.25 140.25 140.25"}[v.Place.Blade] + map[string]string{"general-48": "140.21 140.21 140.21"}[v.Place.Blade]})
	}
	v := h.p.View()
	if said := v.Figure(nil).Caption; said != "0.040 mm wide" || before.Offset.Abs() > 20_000 {
		t.Errorf("%q; before the pair %d nm", said, before.Offset)
	}
	if said := v.Follows(nil); len(said) == 0 || !strings.HasPrefix(said[0].Text, "IN: 0.040 mm wide, plus or minus") {
		t.Error(said)
	}
}

// TestDueAtTheEnd: what is due counts as due where the blades are told, and not as ready.
func TestDueAtTheEnd(t *testing.T) {
	h := setUp(t)
	h.at = h.at.AddDate(0, 0, 40)
	h.again(procedure.Options{Seed: 1})
	v := h.upTo("close").p.View()
	if f := v.Figure(nil); f.Text != "0/5" || f.Caption != "ready, 4 due" {
		t.Errorf("%+v", f)
	}
	if said := v.Picture(nil).Sentence(); !strings.Contains(said, "24-tooth rip, with rings 0.10, is in and due to be proved") {
		t.Error(said)
	}
}

// TestHandoverAtTheEnd comes up where another shift has written before, says what changed, and
// takes a line for it.
func TestHandoverAtTheEnd(t *testing.T) {
	done := setUp(t)
	for who, comes := range map[string]bool{"KB": false, "MO": true} {
		h := later(t, done, procedure.Options{Mode: procedure.OneBlade, Blade: "rip-24"})
		h.toTheEnd(map[string]string{"who by": who, "reason why": "check", "handover text": "listen to the bearing"})
		if way := strings.Join(h.way, ", "); strings.Contains(way, "handover") != comes {
			t.Errorf("%s: %s", who, way)
		}
		records := h.p.Profile().Records
		if last := records[len(records)-1]; (last.Text == "listen to the bearing") != comes {
			t.Errorf("%s: the last record is %+v", who, last)
		}
	}
}

// TestTheReferenceByAPair holds it against another blade: the pair renews both, and neither
// becomes what has to be compared anew.
func TestTheReferenceByAPair(t *testing.T) {
	done := setUp(t)
	h := later(t, done, procedure.Options{Mode: procedure.Swap, Blade: "rip-24"})
	h.toTheEnd(nil)
	done.p, done.at = h.p, h.at.AddDate(0, 0, 40)
	for _, o := range []procedure.Options{{Mode: procedure.Prove, Blade: "general-48"}, {Mode: procedure.Swap, Blade: "general-48", Proves: true}} {
		h := later(t, done, o)
		h.step(nil)
		if row, _ := h.p.Plan().Row("general-48"); row.State != model.StateDue {
			t.Fatalf("before: %s", row.State)
		}
		h.toTheEnd(nil)
		for _, blade := range []string{"general-48", "rip-24"} {
			if row, _ := h.p.Plan().Row(blade); row.State != model.StateReady {
				t.Errorf("the %s is %s, %v after %s", blade, row.State, row.Reasons, strings.Join(h.way, ", "))
			}
		}
	}
}

// TestNoSecondStripOutOfItsKerf: where the first strip of a proof leaves the knife outside the
// kerf, the second is not ripped, and the blade comes off.
func TestNoSecondStripOutOfItsKerf(t *testing.T) {
	h := later(t, setUp(t), procedure.Options{Mode: procedure.Swap, Blade: "rip-24", Proves: true})
	for range 100 {
		own := map[string]string{"feel faces": "-0.7 -0.7"}
		if h.p.View().Place.String() == "proof rip-24" {
			own["proof readings"] = "141.00 141.01 141.00"
		}
		if h.p.Finished() {
			break
		}
		h.step(own)
	}
	if way := strings.Join(h.way, ", "); strings.Count(way, "proof rip-24") != 1 || !strings.Contains(way, "out-off") {
		t.Error(way)
	}
}

// TestKnifeBoughtForABlade: a blade that no knife fitted is taken up by the run about it: the
// knife is typed, squared to a gauge board, and the blade is compared, with no other work asked
// for. One that does not fit is refused; none is taken too.
func TestKnifeBoughtForABlade(t *testing.T) {
	done := setUp(t)
	run := func(typed string) *hand {
		h := later(t, done, procedure.Options{Mode: procedure.OneBlade, Blade: "thin-40"})
		h.upTo("knife-wanted")
		if do := h.p.View().Do[0]; !strings.HasPrefix(do, "It must not run with the knife that it names.") {
			t.Error(do)
		}
		if faults := h.told(map[string]string{"thickness": "2.5"}); len(faults) == 0 || faults[0].Question {
			t.Errorf("the knife that is too thick: %+v", faults)
		}
		h.toTheEnd(map[string]string{"knife-wanted thickness": typed, "where where": "bench", "fence fence": "moved"})
		return h
	}
	h := run("2.0")
	if row, _ := h.p.Plan().Row("thin-40"); row.State != model.StateReady {
		t.Errorf("it is %s: %v, after %s", row.State, row.Reasons, strings.Join(h.way, ", "))
	}
	unnamed := done.p.Profile()
	unnamed.Blades = slices.Clone(unnamed.Blades)
	unnamed.Blades[slices.IndexFunc(unnamed.Blades, func(b model.Blade) bool { return b.ID == "thin-40" })].Knife = ""
	o := procedure.Options{Mode: procedure.OneBlade, Blade: "thin-40"}
	moved := &hand{t: t, p: procedure.New(unnamed, House(o), solver.Judge, o), saw: done.saw, at: done.at.AddDate(0, 0, 1)} // from a saw with other knives
	if moved.upTo("knife-wanted"); !strings.HasPrefix(moved.p.View().Do[0], "It names no knife yet.") {
		t.Error(moved.p.View().Do)
	}
	if way := strings.Join(run("").way, ", "); strings.Contains(way, "strip") || strings.Contains(way, "boards") {
		t.Errorf("without a knife: %s", way)
	}
}

// TestCostsBeforeAnyCut: what a change does to the rack, and what each way out takes, is said
// before anything is ripped; counted by hand.
func TestCostsBeforeAnyCut(t *testing.T) {
	done := setUp(t)
	said := func(h *hand, typed procedure.Answers) string {
		v := h.p.View()
		text := strings.Join(v.Do, " ")
		for _, r := range v.Follows(typed) {
			text += " " + r.Text
		}
		return text
	}
	begin := func(work string) *hand {
		h := later(t, done, procedure.Options{})
		h.upTo("close")
		i, err := procedure.FindTask(h.p.Tasks(), work)
		if err != nil {
			t.Fatal(err)
		}
		if h.p, err = h.p.Apply(procedure.Event{Kind: procedure.Begin, At: h.at, Place: h.p.Tasks()[i].Place}); err != nil {
			t.Fatal(err)
		}
		return h
	}
	// general-48 is on: 3 reference strips and 2 of the blade, one swap to it
	h := begin("sharpened")
	h.step(map[string]string{"sharpened blade": "24-tooth rip"})
	h.upTo("grinder")
	if text := said(h, nil); !strings.Contains(text, "5 strips, 1 swap, 1 blade again") {
		t.Error(text)
	}
	read := model.Lengths(h.p.State().Blades["rip-24"].Kerf) // of 2.975 to 2.979 mm, and not the 3.2 mm of another blade
	if hint := h.p.View().Fields[1].Hint; !strings.Contains(hint, "before: "+((read[0]+read[1]+read[2])/3).Show(model.MM, mm/1000)) {
		t.Error(hint, read)
	}
	// the reference: 3 of a stand-in and 2 of it, and both go on; or 2 of the scale, 3, 3 times 2, 1
	h = begin("sharpened")
	h.step(map[string]string{"sharpened blade": "48-tooth general"})
	h.upTo("grinder")
	if text := said(h, nil); !strings.Contains(text, "5 strips, 2 swaps, no blade again") || !strings.Contains(text, "12 strips, 4 swaps, 3 blades again") {
		t.Error(text)
	}
	// the rip's ring: one of three is spare; with none left it wants others
	h = begin("ring-lost")
	for lost, want := range map[string]string{"1": "no strip, no swap", "3": "the 24-tooth rip stays in its box until a ring of 0.10 mm is bought"} {
		if text := said(h, procedure.Answers{"ring": "0.10 mm", "lost": lost}); !strings.Contains(text, want) {
			t.Errorf("%s lost: %s", lost, text)
		}
		moved := h.p.View().Picture(procedure.Answers{"ring": "0.10 mm", "lost": lost})
		if lost == "3" && (moved == nil || !strings.Contains(moved.Sentence(), "24-tooth rip")) || lost == "1" && moved != nil {
			t.Errorf("%s lost: %v", lost, moved)
		}
	}
	// Bought again, the rip may be used with its old strips; bought before it was ever compared, it
	// takes 3 strips of the reference and 2 of its own, and both go on, since the saw is empty. What nobody waits for costs nothing.
	kit := func(records int) *hand {
		p := done.p.Profile()
		p.Records, p.Rings = p.Records[:records:records], slices.Clone(p.Rings)
		for i := range p.Rings {
			p.Rings[i].Count = 0
		}
		h := &hand{t: t, p: procedure.New(p, House(procedure.Options{}), solver.Judge, procedure.Options{}), saw: done.saw, at: done.at.AddDate(0, 0, 1)}
		h.begun("ring-bought")
		if told := h.told(map[string]string{"where": "isolate"}); len(told) != 1 || !strings.Contains(told[0].Text, "who is at the saw") {
			t.Errorf("isolated by nobody: %+v", told)
		}
		if h.p, _ = h.p.Apply(procedure.Event{Kind: procedure.Forward, At: h.at}); h.p.View().Place.Step != "who" {
			t.Fatal(h.p.View().Place)
		}
		h.step(nil)
		h.begun("ring-bought")
		for h.p.View().Place.Step != "ring-bought" { // rings are in the saw
			h.step(map[string]string{"where where": "isolate"})
		}
		return h
	}
	all := done.p.Profile().Records
	first := slices.IndexFunc(all, func(r record) bool { return r.Kind == model.StripCut && r.For == model.ForBlade })
	on := slices.IndexFunc(all, func(r record) bool { return r.Kind == model.TakenOff || r.Kind == model.Mount && r.Blade == "rip-24" })
	for _, v := range []struct {
		records    int
		ring, says string
	}{
		{len(all), "0.10 x2", "the 24-tooth rip may be used again with it: no strip, no swap"},
		{min(first, on), "0.10", "it could bring in the 24-tooth rip with 0.10 mm: 5 strips, 2 swaps, 1 blade again"},
		{len(all), "5.0", "no blade waits for it"},
	} {
		if text := said(kit(v.records), procedure.Answers{"add": v.ring, "measured": "", "outer": "78"}); !strings.Contains(text, v.says) {
			t.Errorf("%s bought: %s", v.ring, text)
		}
	}
	// A knife for the thin kerf: gauge board and knife, and it is compared; one more knife: nothing.
	h = later(t, done, procedure.Options{})
	h.upTo("close")
	h.begun("knife-bought")
	h.upTo("knife-bought")
	for blade, want := range map[string]string{"": "it fits: 40-tooth thin kerf", "40-tooth thin kerf": "gauge board, knife, and 5 strips, 1 swap, 1 blade again; or later"} {
		if text := said(h, procedure.Answers{"thickness": "2.0", "blade": blade}); !strings.Contains(text, want) || !strings.Contains(text, "For none yet: no strip, no swap.") {
			t.Errorf("bought for %q: %s", blade, text)
		}
	}
	if text := said(h, procedure.Answers{"thickness": "2.6", "blade": "24-tooth rip"}); !strings.Contains(text, "no blade is compared again") {
		t.Error(text)
	}
}
