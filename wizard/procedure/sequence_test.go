package procedure

import (
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
)

// TestSequence: from a saw of which nothing is known to the end, each row in its order, each
// gate before the act that needs it and no gate twice.
func TestSequence(t *testing.T) {
	r := begun(t, nil)
	for !r.Finished() && len(r.way) < 60 {
		r.must(r.answer())
	}
	const want = "saw; where; stop; isolate; motor; size a; take off a; wipe a; " +
		"fence a; put on a; gap a; line a; power up a; first start a; turn a; " +
		"size b; stop b; isolate b; put on b; gap b; line b; power up b; first start b; turn b; end"
	if got := strings.Join(r.way, "; "); got != want {
		t.Errorf("the way went\n%s\nwant\n%s", got, want)
	}
	if refusal := r.send(Event{Kind: Back}); refusal == nil || !r.Finished() {
		t.Error("a run that is over goes on")
	}
}

// TestNothingBeforeItsPass: at every view the orders of hands and of a blade that turns stand
// there only where the interlock allows them; so does what an answer tells the interlock.
func TestNothingBeforeItsPass(t *testing.T) {
	r := begun(t, nil)
	seen := map[string]bool{}
	for !r.Finished() {
		v := r.View()
		lock := v.Context().Lock
		switch act := v.row.Act.(type) {
		case HandsIn:
			seen["hands"] = true
			if lock.Hands() == (interlock.Hands{}) {
				t.Errorf("hands go in at %s", v.Place)
			}
		case Spins:
			seen["turns"] = true
			if lock.Turning() == (interlock.Turning{}) {
				t.Errorf("the blade turns at %s", v.Place)
			}
		case Measure:
			seen["measured"] = true
			if part := act.Part(v.Context()); lock.Bench(part) == (interlock.Bench{}) || part == "" && lock.Power() != interlock.Isolated {
				t.Errorf("%q is measured at %s", part, v.Place)
			}
		}
		if len(v.Do) == 0 && v.row.Act.says(lock, v.Context()) != nil {
			t.Errorf("%s has no orders", v.Place)
		}
		r.must(r.answer())
		if lock != r.Now().Lock {
			if len(r.Events()) == 0 {
				t.Errorf("%s moves the interlock without an event", v.Place)
			}
			for _, e := range r.Events() {
				next, ok := lock.Apply(e)
				if !ok {
					t.Errorf("%s: the interlock does not take %s", v.Place, e)
				}
				lock = next
			}
			if lock != r.Now().Lock {
				t.Errorf("%s: its events lead elsewhere", v.Place)
			}
		}
	}
	if len(seen) != 3 {
		t.Errorf("only %v were seen", seen)
	}
}

// TestOrdersStandBehindTheirPass: an act whose pass is void is neither said nor taken, whatever
// leads to it.
func TestOrdersStandBehindTheirPass(t *testing.T) {
	for _, act := range []Act{
		HandsIn{Says: ordered[interlock.Hands]("in"), Accept: func(t *Taking, h interlock.Hands) { t.Does(interlock.Handled(h)) }},
		Spins{Says: ordered[interlock.Turning]("on"), Accept: func(t *Taking, p interlock.Turning) { t.Does(interlock.Started(p)) }},
		Measure{Part: said(""), Says: ordered[interlock.Bench]("it"), Accept: func(t *Taking, b interlock.Bench) { t.Does(interlock.Measured(b)) }},
		Measure{Part: said("x"), Says: ordered[interlock.Bench]("it"), Accept: func(t *Taking, b interlock.Bench) { t.Does(interlock.Measured(b)) }},
	} {
		var unknown interlock.State
		if act.open(unknown, Context{}) {
			t.Errorf("%T is open on a saw of which nothing is known", act)
		}
		taking := &Taking{}
		if act.take(unknown, taking); !taking.Faulty() {
			t.Errorf("%T is taken on a saw of which nothing is known", act)
		}
	}
	// A gate whose row wants hands, where hands may not be in: it says nothing.
	r := begun(t, func(h *House, _ *model.Profile) {
		gate := h.Gate
		h.Gate = func(g interlock.Gate, c Context) *Row {
			if g == interlock.Stop {
				g = interlock.TakeOff
			}
			return gate(g, c)
		}
	})
	r.must(r.answer()).must(r.answer())
	if v := r.View(); v.Place.Step != "take off" || v.Do != nil {
		t.Errorf("at %s is said %q", v.Place, v.Do)
	}
	if refusal := r.answer(); refusal == nil || len(refusal.Unmet) == 0 || len(r.Profile().Records) != 0 {
		t.Errorf("hands are in: %v", refusal)
	}
}

// TestWhenAndDone: a row that does not apply is passed over, and one that is done already.
func TestWhenAndDone(t *testing.T) {
	r := begun(t, func(_ *House, p *model.Profile) {
		p.Saw.Label, p.Saw.SpindleSpeed = "red", 4000
		p.Records = []model.Record{{Kind: model.Remeasured, At: eight, By: "AB", Blade: "a", Plate: []model.Measure{{Length: 2 * model.Millimetre, Unit: model.MM}}}}
	})
	if v := r.View(); v.Place.Step != "stop" || v.Place.Blade != "a" || v.Stage != 4 { // before the wiping
		t.Errorf("it begins at %s, stage %d", v.Place, v.Stage)
	}
	places := r.Places()
	var got []string
	for _, s := range places {
		text := s.Place.String() + "/" + s.Title
		if s.Done {
			text += " done"
		}
		if s.Current {
			text += " here"
		}
		got = append(got, text)
	}
	want := []string{"saw/The saw done", "motor/The motor done", "size a/Size of a done", "wipe a/Wipe the arbor here", "turn a/Turn a", "size b/Size of b", "wipe b/Wipe the arbor", "turn b/Turn b", "end/The end"}
	if !slices.Equal(got, want) {
		t.Errorf("the trail is\n%q\nwant\n%q", got, want)
	}
	if places[2].Stage != 2 || places[8].Stage != 6 {
		t.Errorf("stages %+v", places)
	}
	warmed := begun(t, func(h *House, _ *model.Profile) {
		h.Blocks[1].Rows = append([]Row{}, h.Blocks[1].Rows...)
		row := h.Blocks[1].Rows[1]
		row.Act = HandsIn{Says: ordered[interlock.Hands](""), Accept: func(t *Taking, h interlock.Hands) {
			t.Keep(wiped, "yes")
			t.Keep(warm, "yes")
			t.Does(interlock.Handled(h))
		}}
		h.Blocks[1].Rows[1] = row
	}).upTo("end")
	if slices.Contains(warmed.way, "turn a") || len(warmed.Places()) != 7 {
		t.Errorf("a row that does not apply comes up: %v", warmed.way)
	}
}

// TestStages: a gate stands in the stage of the row behind it.
func TestStages(t *testing.T) {
	r := begun(t, nil).upTo("take off a")
	if v := r.View(); v.Stage != 4 || !v.Gate || v.Context().Need.Power != interlock.Isolated || !v.Context().Need.Bare {
		t.Errorf("the gate stands in stage %d, and needs %+v", v.Stage, v.Context().Need)
	}
	if v := r.upTo("gap a").View(); v.Stage != 5 || v.Context().Need.On.Blade != "a" || v.Context().Need.Power != interlock.Live {
		t.Errorf("the gate stands in stage %d, and needs %+v", v.Stage, v.Context().Need)
	}
}

// TestEnds: a house that ends is over with its last row.
func TestEnds(t *testing.T) {
	r := begun(t, func(h *House, _ *model.Profile) { h.Ends, h.Blocks = true, h.Blocks[:1] }).upTo("motor")
	if r.Finished() {
		t.Error("over before its last row")
	}
	if r.must(r.answer()); !r.Finished() {
		t.Error("every row is done, and it goes on")
	}
	goes := begun(t, func(h *House, _ *model.Profile) { h.Blocks = h.Blocks[:1] }).upTo("motor")
	if goes.must(goes.answer()); goes.Finished() {
		t.Error("over, though no row has finished it")
	}
}

// TestMeasured: a part that is in the saw waits for isolation, one on the bench does not, and
// what is fixed may be read from the manual.
func TestMeasured(t *testing.T) {
	paper := begun(t, nil).upTo("where")
	paper.must(paper.answer("where", "paper"))
	if v := paper.View(); v.Place.Step != "motor" || !v.Context().FromPaper() || len(v.Do) == 0 {
		t.Errorf("the manual is read at %s, from paper: %v, orders %v", v.Place, v.Context().FromPaper(), v.Do)
	}
	paper.must(paper.answer())
	if got := paper.Profile().Saw; len(got.FromPaper) != 1 || got.SpindleSpeed != 4000 {
		t.Errorf("read from the manual: %+v", got)
	}
	if v := paper.View(); v.Place.String() != "where a" || v.Context().FromPaper() || paper.Now().FromPaper() || paper.paper != (Place{}) {
		t.Errorf("after it comes %s", v.Place)
	}
	paper.must(paper.answer("where", "isolate"))
	for _, want := range []string{"stop a", "isolate a", "size a"} {
		if v := paper.View(); v.Place.String() != want {
			t.Errorf("%s comes instead of %s", v.Place, want)
		}
		paper.must(paper.answer())
	}
	// It was isolated once: the next part is asked about again.
	if paper.isolate {
		t.Error("the wish to isolate outlives the isolation")
	}
	bench := begun(t, nil).upTo("where")
	bench.must(bench.answer("where", "paper")).must(bench.answer())
	bench.must(bench.answer()) // on the bench
	if v := bench.View(); v.Place.String() != "size a" || v.Context().Lock.Power() != interlock.Unknown {
		t.Errorf("%s, with the saw %v", v.Place, v.Context().Lock.Power())
	}
	// A lapse comes before it is measured in a saw that was isolated.
	lapsed := begun(t, nil).upTo("motor")
	lapsed.must(lapsed.send(Event{Kind: Idle}))
	if v := lapsed.View(); v.Place.Step != "still dead" {
		t.Errorf("after a lapse comes %s", v.Place)
	}
}

// TestPlaceOfAPart: where a part is asked about, the part is named, whatever blade the row is
// about; the manual does only for what it has, and what needs isolation asks nothing.
func TestPlaceOfAPart(t *testing.T) {
	measured := func(name string, needs func(Context) interlock.Need) Row {
		return Row{
			Name: name, Stage: 3, Title: said(name), Needs: needs,
			Act: Measure{Part: said("ring"), Says: ordered[interlock.Bench](""), Accept: func(t *Taking, b interlock.Bench) { t.Does(interlock.Measured(b)) }},
		}
	}
	r := begun(t, func(h *House, _ *model.Profile) {
		h.Work = append(h.Work, measured("ring", nil), measured("inside", func(Context) interlock.Need { return interlock.Need{Power: interlock.Isolated} }))
	}).upTo("where")
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "ring"}}))
	if v := r.View(); v.Place.String() != "where ring" || v.Context().Blade != "ring" {
		t.Errorf("it is asked at %s about %q", v.Place, v.Context().Blade)
	}
	r.must(r.answer("where", "paper"))
	if v := r.View(); v.Place.String() != "where ring" {
		t.Errorf("a ring is measured in the manual: %s", v.Place)
	}
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "inside"}}))
	if v := r.View(); v.Place.Step != "stop" {
		t.Errorf("what needs isolation begins at %s", v.Place)
	}
}

// TestNeedsOfPaper: a row of words may need power, or the saw isolated.
func TestNeedsOfPaper(t *testing.T) {
	r := begun(t, func(h *House, _ *model.Profile) {
		h.Work[0].Needs = func(Context) interlock.Need { return interlock.Need{Power: interlock.Isolated} }
	})
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}}))
	if v := r.View(); v.Place.Step != "stop" || !v.Begun {
		t.Errorf("it begins at %s", v.Place)
	}
}

// TestPaperIsOneRow: what is said of one row is not said of another.
func TestPaperIsOneRow(t *testing.T) {
	r := begun(t, nil).upTo("where")
	r.must(r.answer("where", "paper"))
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}}))
	if v := r.View(); v.Place.Step != "note" || v.Context().FromPaper() {
		t.Errorf("%s is read from paper", v.Place)
	}
	r.must(r.answer())
	if v := r.View(); v.Place.Step != "motor" || !v.Context().FromPaper() {
		t.Errorf("%s; from paper: %v", v.Place, v.Context().FromPaper())
	}
	r.must(r.send(Event{Kind: Suspend}))
	if v := r.View(); v.Place.Step != "where" {
		t.Errorf("what was said before it was stopped stands: %s", v.Place)
	}
}

// TestCheck names what a house lacks.
func TestCheck(t *testing.T) {
	for _, c := range []struct {
		says   string
		change func(*House)
	}{
		{"no row for the gate stop", func(h *House) {
			h.Gate = func(g interlock.Gate, _ Context) *Row {
				if g == interlock.Stop {
					return nil
				}
				return gateRow(g)
			}
		}},
		{"no row for the gate isolate", func(h *House) { h.Gate = nil }},
		{"an act: bare", func(h *House) { h.Work = append(h.Work, Row{Name: "bare", Title: said("")}) }},
		{"an act: mute", func(h *House) { h.Work = append(h.Work, Row{Name: "mute", Act: noteRow.Act}) }},
		{"an act: ", func(h *House) { h.Work = append(h.Work, Row{Title: said(""), Act: noteRow.Act}) }},
		{"an act: saw", func(h *House) { h.Blocks[0].Rows = []Row{sawRow, sawRow} }},
		{"no row asks where a part is", func(h *House) { h.Where = nil }},
	} {
		h := invented()
		c.change(&h)
		if err := h.Check(); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q is not said: %v", c.says, err)
		}
	}
	again := invented()
	again.Blocks = append(again.Blocks, again.Blocks[0]) // a row may come again in another block
	if err := again.Check(); err != nil {
		t.Error(err)
	}
}
