package procedure

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
)

// TestVisit: an answer is for the view that it was typed at. One that comes late, or twice, is
// refused, and nothing moves.
func TestVisit(t *testing.T) {
	if fresh := begun(t, nil); fresh.send(Event{Kind: Answer, Answers: right(fresh.View())}) == nil {
		t.Error("an answer that names no visit is taken")
	}
	r := begun(t, nil).upTo("size a")
	old := r.View()
	r.must(r.answer())
	if r.View().Visit == old.Visit {
		t.Fatal("an accepted answer begins no new visit")
	}
	n, lock := len(r.Profile().Records), r.Now().Lock
	for _, visit := range []uint64{old.Visit, 0, r.View().Visit + 1} {
		refusal := r.send(Event{Kind: Answer, Visit: visit, Answers: right(old)})
		if refusal == nil || len(refusal.Unmet) != 1 || !strings.Contains(refusal.Unmet[0], "not open any more") || refusal.Place != r.View().Place {
			t.Errorf("visit %d: %v", visit, refusal)
		}
	}
	if len(r.Profile().Records) != n || r.Now().Lock != lock {
		t.Error("an old answer moved something")
	}
	for _, e := range []Event{{Kind: Idle}, {Kind: Begin, Place: Place{Step: "note"}}, {Kind: Forward}, {Kind: Back}, {Kind: Forward}, {Kind: Suspend}, {Kind: Joined, Profile: r.Profile()}} {
		v := r.View()
		r.must(r.send(e))
		if refusal := r.send(Event{Kind: Answer, Visit: v.Visit, Answers: right(v)}); refusal == nil {
			t.Errorf("what was typed before %s is taken after it", e.Kind)
		}
	}
}

// TestUnknownEvent: what is no event is refused.
func TestUnknownEvent(t *testing.T) {
	r := begun(t, nil)
	if refusal := r.send(Event{Kind: "jump"}); refusal == nil || !strings.Contains(refusal.Error(), "saw: nothing is open any more") {
		t.Errorf("%v", refusal)
	}
}

// TestGateWords: the word of a gate is typed, and nothing else opens it.
func TestGateWords(t *testing.T) {
	for _, typed := range []string{"", " ", "see", "seen it", "s een", "yes"} {
		r := begun(t, nil).upTo("stop")
		before := r.Now()
		refusal := r.answer("word", typed)
		if refusal == nil || len(refusal.Faults) != 1 || refusal.Faults[0].Field != "word" || refusal.Faults[0].Question {
			t.Errorf("%q: %v", typed, refusal)
		}
		if r.Now().Lock != before.Lock || r.Now().Gates != before.Gates || r.View().Place.Step != "stop" {
			t.Errorf("%q moved something", typed)
		}
	}
	r := begun(t, nil).upTo("stop")
	gates := r.Now().Gates
	if refusal := r.answer("word", " SEEN "); refusal != nil || r.Now().Gates != gates+1 {
		t.Errorf("capitals and blanks: %v, %d gates", refusal, r.Now().Gates)
	}
	r.upTo("motor")
	gates = r.Now().Gates
	if r.must(r.answer()); r.Now().Gates != gates {
		t.Error("a row that is no gate counts as one")
	}
}

// TestFaults: every field that is wrong is named, nothing of the answer is taken, and the row
// is not asked.
func TestFaults(t *testing.T) {
	r := begun(t, nil)
	refusal := r.answer("by", "K9", "label", strings.Repeat("x", 201), "word", "red")
	if refusal == nil || len(refusal.Faults) != 3 || refusal.Faults[0].Field != "by" || refusal.Faults[1].Field != "label" || refusal.Faults[2].Field != "word" {
		t.Fatalf("%+v", refusal)
	}
	for _, f := range refusal.Faults {
		if f.Text == "" || !strings.Contains(refusal.Error(), f.Text) || !strings.HasPrefix(refusal.Error(), "saw: ") {
			t.Errorf("%q is not in %q", f.Text, refusal)
		}
	}
	if r.Profile().Saw.Label != "" || r.Now().Who != "" {
		t.Error("half an answer is taken")
	}
}

// TestQuestion: what is unlikely is asked once and taken when it is typed again; another text
// is asked anew, and a fault beside it is never taken.
func TestQuestion(t *testing.T) {
	r := begun(t, nil).upTo("size a")
	refusal := r.answer("size", "7")
	if refusal == nil || len(refusal.Faults) != 1 || !refusal.Faults[0].Question || refusal.Faults[0].Text != "seven is a lot: type the same again if it is so" || refusal.Faults[0].Field != "size" || refusal.Place.String() != "size a" {
		t.Fatalf("%+v", refusal)
	}
	if refusal := r.answer("size", "7.0"); refusal == nil {
		t.Error("another text is taken as the same")
	}
	if refusal := r.answer("size", "7.0"); refusal != nil || len(r.State().Blades["a"].Plate) != 1 {
		t.Errorf("the same once more: %v", refusal)
	}
	// What was asked at another place, or before an interruption, is not settled.
	r = begun(t, nil).upTo("size a")
	r.answer("size", "7")
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}})).must(r.answer())
	if refusal := r.answer("size", "7"); refusal == nil {
		t.Error("a question is settled from elsewhere")
	}
	r.must(r.answer("size", "7"))
	r.upTo("size b")
	if refusal := r.answer("size", "7"); refusal == nil {
		t.Error("what was asked of one disc is settled for another")
	}
	for range 3 {
		if refusal := r.answer("size", "8"); refusal == nil || refusal.Faults[0].Question || refusal.Faults[0].Field != "size" {
			t.Fatalf("what is wrong is taken when it is typed again: %v", refusal)
		}
	}
	r.must(r.answer("size", "7")) // a fault between does not forget what was asked
}

// TestAskedAnew: what was asked once, and taken, is asked again the next time; and so is what
// was asked before something else came up. What was asked and has become wrong is refused.
func TestAskedAnew(t *testing.T) {
	r := begun(t, nil).upTo("size a")
	r.answer("size", "7")
	r.must(r.send(Event{Kind: Back})).must(r.send(Event{Kind: Forward}))
	if refusal := r.answer("size", "7"); refusal == nil {
		t.Error("what was asked before a correction is taken after it")
	}
	times := 0
	more := begun(t, func(h *House, _ *model.Profile) {
		row := noteRow
		row.Act = Paper{Says: noteRow.Act.(Paper).Says, Accept: func(t *Taking) {
			t.Question("text", "is it")
			if times++; times == 6 {
				t.Fault("text", "now it is wrong")
			}
			t.Keep(warm, "")
		}}
		h.Blocks, h.Work = []Block{{Rows: []Row{row}}}, nil
	})
	for round := range 2 {
		if refusal := more.answer(); refusal == nil {
			t.Errorf("round %d: it is not asked", round)
		}
		more.must(more.answer())
	}
	for range 2 { // asked, and then wrong
		if more.answer() == nil {
			t.Error("what has become wrong is taken as it was asked")
		}
	}
}

// TestQuestionBesideAFault: a question beside a fault is not settled by typing both again.
func TestQuestionBesideAFault(t *testing.T) {
	asks := func(h *House, _ *model.Profile) {
		row := noteRow
		row.Act = Paper{Says: noteRow.Act.(Paper).Says, Accept: func(t *Taking) {
			t.Question("text", "is it")
			if t.Text("text") == "bad" {
				t.Fault("text", "it is bad")
			}
			t.Record(model.Record{Kind: model.Note, Text: t.Text("text")})
		}}
		h.Work = []Row{row}
	}
	r := begun(t, asks)
	r.now.Who = "KB"
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}}))
	for range 3 {
		if refusal := r.answer("text", "bad"); refusal == nil || len(refusal.Faults) != 2 {
			t.Fatalf("%v", refusal)
		}
	}
	if refusal := r.answer("text", "good"); refusal == nil {
		t.Error("a fault settled the question of another text")
	}
	if refusal := r.answer("text", "good"); refusal != nil || len(r.Profile().Records) != 1 {
		t.Errorf("%v, %v", refusal, r.Profile().Records)
	}
}

// TestRefusedEvent: an event that the interlock refuses refuses the whole answer, with its
// records and what was kept.
func TestRefusedEvent(t *testing.T) {
	r := begun(t, func(h *House, _ *model.Profile) {
		row := noteRow
		row.Act = Paper{Says: noteRow.Act.(Paper).Says, Accept: func(t *Taking) {
			t.Record(model.Record{Kind: model.Note, Text: "gone"})
			t.Head(func(p *model.Profile) { p.Saw.Label = "gone" })
			t.Keep(warm, "gone")
			t.IsAtTheSaw("ZZ")
			t.Does(interlock.FenceMoved())
			t.Does(interlock.IsolatedNow()) // nobody has seen the blade stand
			t.Does(interlock.Event{})
			t.Fault("text", "wrong besides")
			t.Finish()
		}}
		h.Work = []Row{row}
	})
	r.now.Who = "KB"
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}}))
	before := r.Procedure
	refusal := r.answer()
	if refusal == nil || !slices.Equal(refusal.Unmet, []string{"not now: isolated", "not now: "}) || refusal.Place.Step != "note" || len(refusal.Faults) != 1 {
		t.Fatalf("%+v", refusal)
	}
	if now := r.Now(); len(r.Profile().Records) != 0 || r.Profile().Saw.Label != "" || now.Fact(warm) != "" || now.Who != "KB" || now.Lock != before.Now().Lock || r.Finished() || r.View().Visit != before.View().Visit {
		t.Errorf("something of the answer is taken: %+v", now)
	}
}

// TestRecordsAreSigned: nothing goes on record while nobody has said who is there, by an answer
// or by doing an act again.
func TestRecordsAreSigned(t *testing.T) {
	twice := Paper{Says: noteRow.Act.(Paper).Says, Accept: func(t *Taking) {
		t.Record(model.Record{Kind: model.Note, Text: "one"})
		t.Record(model.Record{Kind: model.Note, Text: "another"})
	}}
	r := begun(t, func(h *House, p *model.Profile) {
		row := noteRow
		row.Act = twice
		h.Work = []Row{row}
		p.Saw.Label = "red"
		p.Records = []model.Record{{Kind: model.Remeasured, At: eight, By: "AB", Blade: "a", Plate: []model.Measure{{Length: 2 * model.Millimetre, Unit: model.MM}}}}
	})
	for _, e := range []Event{{Kind: Begin, Place: Place{Step: "size", Blade: "a"}}, {Kind: Back}} {
		if refusal := r.send(e); refusal == nil || !slices.Equal(refusal.Unmet, []string{unsigned}) {
			t.Errorf("%s: %v", e.Kind, refusal)
		}
	}
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}}))
	if refusal := r.answer(); refusal == nil || !slices.Equal(refusal.Unmet, []string{unsigned}) || len(r.Profile().Records) != 1 {
		t.Errorf("%v: %v", refusal, r.Profile().Records)
	}
	r.now.Who = "KB"
	if refusal := r.answer(); refusal != nil || len(r.Profile().Records) != 3 {
		t.Errorf("%v: %v", refusal, r.Profile().Records)
	}
}

// TestValue: a procedure is a value. What is done with a copy does not move the other, nor
// what stands in its records.
func TestValue(t *testing.T) {
	r := begun(t, nil).upTo("size a")
	twin := r.Procedure
	other := *r
	r.must(r.answer("size", "2"))
	other.must(other.answer("size", "3"))
	if a, b := r.State().Blades["a"].Plate[0].Length, other.State().Blades["a"].Plate[0].Length; a != 2*model.Millimetre || b != 3*model.Millimetre {
		t.Errorf("they share their records: %v, %v", a, b)
	}
	if len(twin.Profile().Records) != 0 {
		t.Error("the first moved")
	}
	r.upTo("take off a")
	wipes, stays := *r, *r
	wipes.upTo("fence a")
	stays.must(stays.send(Event{Kind: Begin, Place: Place{Step: "note"}}))
	if stays.Now().Fact(wiped) != "" {
		t.Error("they share their facts")
	}
}

// TestRecords stand behind each other by whole seconds, by who is at the saw, and are folded
// and judged once an answer.
func TestRecords(t *testing.T) {
	r := begun(t, func(_ *House, p *model.Profile) {
		p.Records = []model.Record{{Kind: model.Note, By: "AB", At: eight.Add(time.Hour), Text: "of the future"}}
	})
	if !r.Now().At.Equal(eight.Add(time.Hour)) || *r.judged != 1 || r.Now().Started != 1 || len(r.Now().Now()) != 0 || len(r.Now().All()) != 1 {
		t.Fatalf("a run begins at %v, judged %d times, with %d records", r.Now().At, *r.judged, r.Now().Started)
	}
	before := *r.judged
	r.must(r.answer())
	if *r.judged != before+1 {
		t.Errorf("an answer is judged %d times", *r.judged-before)
	}
	r.upTo("size a")
	before = *r.judged
	for range 3 {
		r.View()
		r.Places()
		r.Tasks()
	}
	if r.answer("size", ""); *r.judged != before {
		t.Error("a view, or what is refused, has the records judged")
	}
	r.must(r.answer())
	if *r.judged != before+1 {
		t.Errorf("an answer is judged %d times", *r.judged-before)
	}
	if now := r.Now(); now.Blade != "" || now.Need != (interlock.Need{}) || now.FromPaper() {
		t.Errorf("the moment is still that of a row: %q, %+v", now.Blade, now.Need)
	}
	got := r.Now().Now()
	if len(got) != 1 || got[0].By != "KB" || !got[0].At.Equal(eight.Add(time.Hour+time.Second)) {
		t.Errorf("%+v", got)
	}
	if text := r.Report()[0].Text; text != "a is 2 mm" {
		t.Errorf("what is told after it: %q", text)
	}
	if place := r.View(); len(r.Events()) != 1 || r.Events()[0].String() != "measured" || place.Context().Plan.Blades[0].ID != "a" || r.Plan().Blades[0].ID != "a" {
		t.Errorf("events %v, plan %v", r.Events(), r.Plan())
	}
	before = *r.judged
	if r.upTo("stop b"); *r.judged != before+2 { // the turn of a, the size of b
		t.Errorf("answers that record nothing have the records judged: %d", *r.judged-before)
	}
}

// TestAfter: a time behind the last record, in whole seconds.
func TestAfter(t *testing.T) {
	last := []model.Record{{At: eight}}
	for at, want := range map[time.Duration]time.Duration{-time.Hour: time.Second, 0: time.Second, 999 * time.Millisecond: time.Second, 1500 * time.Millisecond: time.Second, 2 * time.Second: 2 * time.Second} {
		if got := after(last, eight.Add(at)); !got.Equal(eight.Add(want)) {
			t.Errorf("%v behind a record: %v", at, got)
		}
	}
	east := time.FixedZone("east", 3600)
	if got := after(nil, eight.Add(1500*time.Millisecond).In(east)); !got.Equal(eight.Add(time.Second)) || got.Location() != time.UTC {
		t.Errorf("the first record is at %v", got)
	}
	if got := after([]model.Record{{At: eight.Add(500 * time.Millisecond)}}, eight); !got.Equal(eight.Add(time.Second)) {
		t.Errorf("behind half a second: %v", got)
	}
}

// TestTime goes on only, and a row tells since when it is shown.
func TestTime(t *testing.T) {
	r := begun(t, nil)
	r.must(r.answer())
	if now := r.Now(); !now.At.Equal(r.at) || !now.Opened.Equal(r.at) {
		t.Errorf("at %v, opened %v", now.At, now.Opened)
	}
	opened := r.at
	r.answer("where", "nowhere")
	if now := r.Now(); !now.At.Equal(r.at) || !now.Opened.Equal(opened) {
		t.Errorf("a refusal opens the row anew: %v, %v", now.At, now.Opened)
	}
	r.at = eight.Add(-time.Hour)
	r.must(r.answer())
	if !r.Now().At.Equal(opened.Add(10 * time.Second)) {
		t.Errorf("the clock goes back to %v", r.Now().At)
	}
	r.at = opened.Add(time.Minute)
	r.must(r.send(Event{Kind: Idle}))
	if now := r.Now(); !now.Opened.Equal(r.at) {
		t.Errorf("what happened opened the row at %v", now.Opened)
	}
}

// TestPowerSince: since when, and by whom.
func TestPowerSince(t *testing.T) {
	r := begun(t, nil).upTo("isolate")
	if power, since := r.Power(); power != interlock.Unknown || since != (PowerSince{}) {
		t.Errorf("%v since %+v", power, since)
	}
	r.must(r.answer())
	at := r.at
	r.upTo("power up a")
	if power, since := r.Power(); power != interlock.Isolated || !since.Since.Equal(at) || since.By != "KB" {
		t.Errorf("%v since %+v, isolated at %v", power, since, at)
	}
	r.must(r.answer())
	if power, since := r.Power(); power != interlock.Live || !since.Since.Equal(r.at) {
		t.Errorf("%v since %+v", power, since)
	}
	r.must(r.send(Event{Kind: Suspend}))
	if power, since := r.Power(); power != interlock.Unknown || since != (PowerSince{}) {
		t.Errorf("%v since %+v", power, since)
	}
}

// TestExport: asking for an export leaves the work where it is, and is over with the next answer.
func TestExport(t *testing.T) {
	r := begun(t, nil).upTo("end")
	r.must(r.answer("word", "card"))
	if r.Export() != (Export{As: "card"}) || r.Finished() || r.View().Place.Step != "end" {
		t.Errorf("%+v", r.Export())
	}
	if r.must(r.answer()); r.Export() != (Export{}) || !r.Finished() {
		t.Errorf("%+v", r.Export())
	}
}

// TestStay: work that stays goes on behind its answer, and another answer ends it.
func TestStay(t *testing.T) {
	r := begun(t, nil).upTo("end")
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}}))
	for _, v := range []struct{ typed, at string }{{"one more", "note"}, {"dust", "end"}} {
		if r.must(r.answer("text", v.typed)); r.View().Place.Step != v.at {
			t.Errorf("%q leads to %s", v.typed, r.View().Place)
		}
	}
}

// TestFollows: what is shown while it is typed keeps nothing.
func TestFollows(t *testing.T) {
	r := begun(t, nil).upTo("size a")
	c := r.View().Context()
	with := c.With(model.Record{Kind: model.Remeasured, Blade: "a", Plate: []model.Measure{{Length: 1, Unit: model.MM}}})
	if len(with.State.Blades["a"].Plate) != 1 || with.All()[0].By != "KB" || !with.All()[0].At.Equal(r.at) || len(r.State().Blades["a"].Plate) != 0 || len(c.All()) != 0 {
		t.Errorf("as it would be: %+v", with.All())
	}
	headed := c.WithHead(func(p *model.Profile) { p.Saw.Label = "other" })
	if headed.Profile.Saw.Label != "other" || r.Profile().Saw.Label == "other" || c.Profile.Saw.Label == "other" {
		t.Error("another head stays")
	}
	more := begun(t, func(_ *House, p *model.Profile) {
		p.Records = make([]model.Record, 1, 8)
		p.Records[0].Kind = model.Note
	}).Now()
	more.With(model.Record{Kind: model.Note, Text: "one"})
	if other := more.With(model.Record{Kind: model.Note, Text: "two"}); len(more.All()) != 1 || more.All()[:2][1].Text != "" || other.All()[1].Text != "two" {
		t.Error("what is looked at is written into the records")
	}
}

// TestAloneIsTheWholeAnswer: where a text is the whole answer, be it the empty one, the other fields
// of its row stay as they came; what is typed there is told and never dropped; any other text
// wants them all.
func TestAloneIsTheWholeAnswer(t *testing.T) {
	for _, c := range []struct {
		text, size string
		says       string // of the size; empty: it is taken
	}{{"none", "", ""}, {"", "", ""}, {"none", "7", ""}, {"none", "2", "would be dropped"}, {"", "not a size", "would be dropped"}, {"one more", "", "nothing typed"}, {"one more", "2", ""}} {
		r := begun(t, func(h *House, _ *model.Profile) {
			row := noteRow
			text, size := Field{Key: "text", Label: "Text", Hint: "such as dust", Kind: FieldText, Optional: true}, millimetres
			size.Value = "7"
			row.Fields = func(Context) []Field {
				return []Field{text.WithAlone(func(text string) bool { return text == "none" || text == "" }), size}
			}
			h.Work = []Row{row, movedRow}
		}).upTo("stop")
		r.must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}}))
		refusal := r.answer("text", c.text, "size", c.size)
		if (refusal == nil) != (c.says == "") || refusal != nil && (refusal.Faults[0].Field != "size" || !strings.Contains(refusal.Error(), c.says)) {
			t.Errorf("%q with a size of %q: %v", c.text, c.size, refusal)
		}
	}
}

// TestOnce: the reason for a row is told until the row is answered, and then stands behind the help
// key. A refused answer and a correction are none, and who comes after an interruption is told anew.
func TestOnce(t *testing.T) {
	const why, once, help = "It goes between two others.", "A disc too wide tears.", "A disc of 9 mm is too wide."
	expect := func(when string, v View, told, behind []string) {
		t.Helper()
		if !slices.Equal(v.Why, told) || !slices.Equal(v.Help, behind) {
			t.Errorf("%s: %q is told, %q stands behind the help key", when, v.Why, v.Help)
		}
	}
	told, behind := []string{why, once}, []string{help, once}
	r := begun(t, func(h *House, _ *model.Profile) {
		h.Blocks[0].Rows[0].Done = func(c Context) bool { return c.Who != "" }
		h.Blocks[1].Rows[0].Once = func(Context) []string { return []string{once} }
	}).upTo("size a")
	expect("first", r.View(), told, []string{help})
	if r.answer("size", "nothing") == nil {
		t.Fatal("nothing is a size")
	}
	expect("after a refused answer", r.View(), told, []string{help})
	r.upTo("size b")
	expect("the second time", r.View(), []string{why}, behind)
	expect("looked at once more", r.View(), []string{why}, behind)
	r.must(r.send(Event{Kind: Suspend})).upTo("size b")
	expect("after an interruption", r.View(), told, []string{help})
	r.must(r.send(Event{Kind: Back})).must(r.send(Event{Kind: Back}))
	if v := r.View(); v.Place.String() != "size a" || !v.Correcting {
		t.Fatalf("at %s", v.Place)
	}
	r.must(r.answer()).upTo("size b")
	expect("after a correction", r.View(), told, []string{help})
}
