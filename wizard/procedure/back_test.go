package procedure

import (
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
)

// TestBack: going back opens the newest reading for correction. Nothing is done at the saw for
// it, the old reading stays in the records, and the work stays where it was.
func TestBack(t *testing.T) {
	r := begun(t, nil).upTo("size a")
	r.must(r.answer("size", "2")).upTo("wipe a")
	first := r.Profile().Records[0]
	r.must(r.send(Event{Kind: Back}))
	v := r.View()
	if v.Place.String() != "size a" || !v.Correcting || v.Gate || v.Title != "Correct: Size of a" || v.Stage != 2 || !strings.Contains(v.Why[0], "stays in the records") || !strings.Contains(v.Do[0], "Touch nothing") {
		t.Fatalf("going back leads to %s, %q, %q", v.Place, v.Title, v.Why)
	}
	if len(v.Fields) != 1 || v.Fields[0].Key != "size" || v.Fields[0].Value != "2 mm" || v.Fields[0].Measuring {
		t.Errorf("its fields are %+v", v.Fields)
	}
	if v.HasFigure() || v.Figure(right(v)) != (Figure{}) {
		t.Error("a correction sends nobody anywhere, and has a figure")
	}
	if _, ok := v.Read(map[string]string{"a": "5"}, "size", nil); ok || v.Simulates("size") {
		t.Error("a correction is read off the saw")
	}
	lock := r.Now().Lock
	r.must(r.answer("size", "3"))
	records := r.Profile().Records
	if len(records) != 2 || records[1].Kind != model.Correction || records[1].Of != first.Ref() || records[1].By != "KB" || !slices.Equal(records[0].Plate, first.Plate) {
		t.Errorf("on record is %+v", records)
	}
	if got := r.State().Blades["a"].Plate[0].Length; got != 3*model.Millimetre {
		t.Errorf("it counts as %v", got)
	}
	if r.Now().Lock != lock || r.View().Correcting || r.View().Place.String() != "wipe a" {
		t.Errorf("the work stands at %s", r.View().Place)
	}
	// A correction is corrected as the first record once more.
	r.must(r.send(Event{Kind: Back}))
	if v := r.View(); v.Fields[0].Value != "3 mm" {
		t.Errorf("it shows %q", v.Fields[0].Value)
	}
	r.must(r.answer("size", "4"))
	if records := r.Profile().Records; len(records) != 3 || records[2].Of != first.Ref() || records[2].Kind != model.Correction {
		t.Errorf("on record is %+v", records)
	}
	if got := r.State().Blades["a"].Plate[0].Length; got != 4*model.Millimetre {
		t.Errorf("it counts as %v", got)
	}
}

// TestBackToWhatEachListed: a reading is corrected at what its block listed for it, where that is
// no blade.
func TestBackToWhatEachListed(t *testing.T) {
	r := begun(t, func(h *House, _ *model.Profile) {
		reads := *sizeRow.Reads
		reads.About = func(r model.Record) string { return "edge of " + r.Blade }
		for b := range h.Blocks {
			h.Blocks[b].Rows = slices.Clone(h.Blocks[b].Rows)
			for i := range h.Blocks[b].Rows {
				if row := &h.Blocks[b].Rows[i]; row.Reads != nil {
					row.Reads = &reads
				}
			}
		}
	}).upTo("size a")
	r.must(r.answer("size", "2")).upTo("wipe a")
	r.must(r.send(Event{Kind: Back}))
	if v := r.View(); v.Place.Blade != "edge of a" || !v.Correcting {
		t.Errorf("it is corrected at %s", v.Place)
	}
}

// TestBackBeforeAnybodySigned: what was typed into the head is no record, and is corrected though
// nobody has said who is there.
func TestBackBeforeAnybodySigned(t *testing.T) {
	r := begun(t, func(h *House, _ *model.Profile) {
		row := sawRow
		row.Act = Paper{Says: func(Context) []string { return nil }, Accept: writeLabel}
		h.Blocks[0].Rows = append([]Row{row}, h.Blocks[0].Rows[1:]...)
	})
	r.must(r.answer("label", "green"))
	if r.Now().Who != "" {
		t.Fatal("somebody has signed")
	}
	r.must(r.send(Event{Kind: Back}))
	if v := r.View(); v.Place.Step != "saw" || !v.Correcting {
		t.Errorf("going back leads to %s", v.Place)
	}
}

// TestCorrectedByAnother: a correction is of the first record, whoever makes it, and a record's
// own correction is shown: none of another, and nothing else that names it.
func TestCorrectedByAnother(t *testing.T) {
	seen := ""
	r := begun(t, func(h *House, _ *model.Profile) {
		row := noteRow
		row.Act = Paper{Says: noteRow.Act.(Paper).Says, Accept: func(t *Taking) { t.IsAtTheSaw("ZZ") }}
		h.Work[0] = row
		rows := slices.Clone(h.Blocks[1].Rows)
		reads := *rows[0].Reads
		reads.Typed = func(c Context, r model.Record) map[string]string { seen = r.By + " " + r.Of; return typedSize(c, r) }
		rows[0].Reads = &reads
		h.Blocks[1].Rows = rows
	}).upTo("size b")
	a := r.Profile().Records[0]
	r.must(r.answer("size", "3")).upTo("stop b")
	p := r.Profile()
	b := p.Records[len(p.Records)-1]
	more := model.Record{Kind: model.Remeasured, At: b.At.Add(1e9), By: "KB", Blade: "a", Of: b.Ref(), Plate: a.Plate} // names b, and is no correction of it
	p.Records = append(slices.Clone(p.Records), more)
	r.must(r.send(Event{Kind: Joined, Profile: p})).must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}})).must(r.answer())
	correct := func(presses int, from, to string) {
		t.Helper()
		for range presses {
			r.must(r.send(Event{Kind: Back}))
		}
		if v := r.View(); v.Fields[0].Value != from {
			t.Errorf("%s is opened as %s, want %s", v.Place, v.Fields[0].Value, from)
		}
		r.must(r.answer("size", to))
	}
	correct(2, "3 mm", "4") // b
	correct(3, "2 mm", "5") // a
	correct(2, "4 mm", "6") // b again
	var of []string
	for _, c := range r.Profile().Records {
		if c.Kind == model.Correction {
			of = append(of, c.By+" of "+c.Of)
		}
	}
	if want := []string{"ZZ of " + b.Ref(), "ZZ of " + a.Ref(), "ZZ of " + b.Ref()}; !slices.Equal(of, want) {
		t.Errorf("corrected are %q, want %q", of, want)
	}
	if r.send(Event{Kind: Back}) != nil || r.View().Fields[0].Value != "2 mm" || seen != "KB "+b.Ref() {
		t.Errorf("further readings are opened as %q, of %q", r.View().Fields[0].Value, seen)
	}
	r.must(r.answer("size", "6")).must(r.send(Event{Kind: Back}))
	if v := r.View(); seen != "KB "+b.Ref() {
		t.Errorf("corrected, %s is opened as of %q", v.Place, seen)
	}
}

// TestCorrectionIsSeenAtItsMoment: a reading is opened with what was there before it; what was
// typed into the head, with what is there now.
func TestCorrectionIsSeenAtItsMoment(t *testing.T) {
	r := begun(t, nil).upTo("size b")
	r.must(r.answer("size", "3")).must(r.send(Event{Kind: Back}))
	if c := r.View().Context(); c.Blade != "b" || len(c.All()) != 2 || len(c.State.Blades["b"].Plate) != 0 || len(c.State.Blades["a"].Plate) != 1 {
		t.Errorf("size b is opened with %d records", len(c.All()))
	}
	r.must(r.send(Event{Kind: Back}))
	if c := r.View().Context(); c.Blade != "a" || len(c.All()) != 0 || len(c.State.Blades["a"].Plate) != 0 || r.View().Picture(Answers{"size": "4"}).Sentence() != "a4" {
		t.Errorf("size a is opened with %d records", len(c.All()))
	}
	r.must(r.send(Event{Kind: Back}))
	if c := r.View().Context(); r.View().Place.Step != "saw" || len(c.All()) != 3 || len(c.State.Blades["b"].Plate) != 1 {
		t.Errorf("the head is opened with %d records", len(c.All()))
	}
	if len(r.Profile().Records) != 3 || len(r.State().Blades["b"].Plate) != 1 {
		t.Error("looking back has dropped a record")
	}
}

// TestRowsOfOneKind: where more than one row takes records of a kind, each opens its own.
func TestRowsOfOneKind(t *testing.T) {
	r := begun(t, func(h *House, _ *model.Profile) {
		row := sizeRow
		reads := *row.Reads
		reads.Of = func(r model.Record) bool { return r.Blade == "b" }
		row.Name, row.Reads, row.Done = "mend", &reads, nil
		h.Work = append(h.Work, row)
	}).upTo("size b")
	r.must(r.answer())
	for _, want := range []string{"mend b", "size a"} {
		r.must(r.send(Event{Kind: Back}))
		if got := r.View().Place.String(); got != want {
			t.Errorf("going back leads to %s, want %s", got, want)
		}
	}
}

// TestHeadThatIsAlsoRecorded: what a record tells is corrected by its record, and not once more
// as what was typed into the head.
func TestHeadThatIsAlsoRecorded(t *testing.T) {
	r := begun(t, func(h *House, _ *model.Profile) {
		row := noteRow
		row.Head = func(*Taking) {}
		h.Work[0] = row
	}).upTo("where")
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}})).must(r.answer()).must(r.send(Event{Kind: Back}))
	if v := r.View(); v.Place.Step != "saw" {
		t.Errorf("going back leads to %s", v.Place)
	}
}

// TestBackRefuses: a correction is held by the same rules as the reading, and a refused one
// leaves it as it was.
func TestBackRefuses(t *testing.T) {
	r := begun(t, nil).upTo("take off a")
	r.must(r.send(Event{Kind: Back}))
	for _, typed := range []string{"", "0.5", "9.5", "x", "8"} {
		if refusal := r.answer("size", typed); refusal == nil || refusal.Faults[0].Question || len(r.Profile().Records) != 1 {
			t.Errorf("%q: %v", typed, refusal)
		}
	}
	if refusal := r.answer("size", "7"); refusal == nil || !refusal.Faults[0].Question {
		t.Errorf("what is unlikely is taken at once: %v", refusal)
	}
	r.must(r.answer("size", "7"))
	if got := r.State().Blades["a"].Plate[0].Length; got != 7*model.Millimetre {
		t.Errorf("it counts as %v", got)
	}
}

// TestBackAndBack: each press opens the reading before, then what was typed into the head, and
// at the first it says so.
func TestBackAndBack(t *testing.T) {
	r := begun(t, nil).upTo("size b")
	r.must(r.answer()).upTo("stop b")
	var got []string
	for r.send(Event{Kind: Back}) == nil {
		got = append(got, r.View().Place.String())
	}
	if want := []string{"size b", "size a", "saw"}; !slices.Equal(got, want) {
		t.Fatalf("going back leads to %q, want %q", got, want)
	}
	refusal := r.send(Event{Kind: Back})
	if refusal == nil || !strings.Contains(refusal.Error(), "no reading before") || r.View().Place.Step != "saw" {
		t.Errorf("before the first: %v at %s", refusal, r.View().Place)
	}
	v := r.View()
	if !v.Correcting || len(v.Fields) != 2 || v.Fields[1].Value != "the red saw" || !strings.Contains(v.Why[0], "takes the place") {
		t.Fatalf("the head is corrected as %+v", v)
	}
	n, who := len(r.Profile().Records), r.Now().Who
	r.must(r.answer("label", "the blue saw", "by", "ZZ"))
	if r.Profile().Saw.Label != "the blue saw" || len(r.Profile().Records) != n || r.Now().Who != who || r.View().Place.String() != "stop b" {
		t.Errorf("label %q by %q, %d records, at %s", r.Profile().Saw.Label, r.Now().Who, len(r.Profile().Records), r.View().Place)
	}
	got = nil
	for r.send(Event{Kind: Back}) == nil {
		got = append(got, r.View().Place.String())
	}
	if want := []string{"size b", "size a", "saw"}; !slices.Equal(got, want) {
		t.Errorf("after a correction going back leads to %q", got)
	}
}

// TestBackOverHeads: of what is typed into the head and what is recorded, the newest is first.
func TestBackOverHeads(t *testing.T) {
	again := sawRow
	again.Name, again.Done = "label", func(c Context) bool { return c.Profile.Saw.Label == "green" }
	r := begun(t, func(h *House, _ *model.Profile) { h.Work = append(h.Work, again) }).upTo("wipe a")
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "label"}})).must(r.answer("label", "green"))
	var got []string
	for r.send(Event{Kind: Back}) == nil {
		got = append(got, r.View().Place.String())
	}
	if want := []string{"label", "size a", "saw"}; !slices.Equal(got, want) {
		t.Errorf("going back leads to %q, want %q", got, want)
	}
}

// TestBackPassesOver: what was voided, what has no readings and what the file had of another
// shift's head is not opened; the readings of another shift are.
func TestBackPassesOver(t *testing.T) {
	size := func(minute int, blade string, mm model.Length) model.Record {
		return model.Record{Kind: model.Remeasured, At: eight.Add(-1e9 * 60 * 60), By: string(rune('A' + minute)), Blade: blade, Plate: []model.Measure{{Length: mm * model.Millimetre, Unit: model.MM}}}
	}
	a, b, empty := size(0, "a", 2), size(1, "b", 3), size(2, "b", 4)
	empty.Plate = nil
	r := begun(t, func(_ *House, p *model.Profile) {
		p.Saw.Label = "red"
		p.Records = []model.Record{a, b, empty, {Kind: model.Void, Of: b.Ref(), By: "ZZ"}, {Kind: model.Note, Text: "dust"}}
	})
	r.now.Who = "KB"
	r.must(r.send(Event{Kind: Back}))
	if v := r.View(); v.Place.String() != "size a" || v.Fields[0].Value != "2 mm" {
		t.Errorf("going back leads to %s", v.Place)
	}
	if refusal := r.send(Event{Kind: Back}); refusal == nil {
		t.Errorf("and then to %s", r.View().Place)
	}
}

// TestForward leaves a correction, or other work, for where the work stands.
func TestForward(t *testing.T) {
	r := begun(t, nil).upTo("wipe a")
	if refusal := r.send(Event{Kind: Forward}); refusal == nil || !strings.Contains(refusal.Error(), "where the work stands") {
		t.Errorf("%v", refusal)
	}
	for _, e := range []Event{{Kind: Back}, {Kind: Begin, Place: Place{Step: "note"}}} {
		n := len(r.Profile().Records)
		r.must(r.send(e))
		if v := r.View(); v.Place.String() == "wipe a" || v.Begun != (e.Kind == Begin) {
			t.Errorf("%s leads to %s, begun %v", e.Kind, v.Place, v.Begun)
		}
		if r.must(r.send(Event{Kind: Forward})); r.View().Place.String() != "wipe a" || r.View().Begun || len(r.Profile().Records) != n || len(r.Events()) != 0 {
			t.Errorf("forward leads to %s", r.View().Place)
		}
	}
}

// TestTurnedAway: whoever turns to something else does not watch a blade run down.
func TestTurnedAway(t *testing.T) {
	for _, e := range []Event{{Kind: Back}, {Kind: Begin, Place: Place{Step: "note"}}, {Kind: Begin, Place: Place{"size", "a"}}} {
		r := begun(t, nil).upTo("isolate b")
		if r.must(r.send(e)); e.Place.Blade == "" {
			r.must(r.send(Event{Kind: Forward}))
		}
		if r.View().Place.String() != "stop b" {
			t.Errorf("after %s the isolator is opened at a blade that may turn: %s", e.Kind, r.View().Place)
		}
	}
}

// TestRedo: doing an act again drops its fact, and leads to it with its gates. What was read
// since stays.
func TestRedo(t *testing.T) {
	r := begun(t, nil).upTo("size b")
	var labels []string
	numbers := map[int]bool{}
	for _, task := range r.Tasks() {
		labels = append(labels, task.Place.String()+"/"+task.Label+"/"+task.Word+"/"+task.Also)
		if numbers[task.Number] {
			t.Errorf("two lines have the number %d", task.Number)
		}
		numbers[task.Number] = true
	}
	want := []string{"note/A note/note/jot", "moved/The fence moved/moved/", "size a/Again: Size of a/again size a/", "wipe a/Again: Wipe the arbor/again wipe a/", "turn a/Again: Turn a/again turn a/", "wipe b/Again: Wipe the arbor/again wipe b/"}
	if !slices.Equal(labels, want) {
		t.Errorf("can begin: %q, want %q", labels, want)
	}
	r.must(r.send(Event{Kind: Begin, Place: Place{"turn", "a"}}))
	if void := r.Profile().Records[len(r.Profile().Records)-1]; void.Kind != model.Void || void.Why != model.Again || void.By != "KB" || turns(r.Now(), "a") != 0 {
		t.Errorf("its fact stands: %+v", void)
	}
	r.way = nil
	r.upTo("size b")
	if got := strings.Join(r.way, "; "); got != "stop a; isolate a; look a; gap a; line a; power up a; first start a; turn a" && got != "stop a; isolate a; sight a; gap a; line a; power up a; first start a; turn a" {
		t.Errorf("the way there went %s", got)
	}
	if len(r.State().Blades["a"].Plate) != 1 {
		t.Error("what was read is gone")
	}
	if refusal := r.send(Event{Kind: Begin, Place: Place{"turn", "b"}}); refusal == nil || !strings.Contains(refusal.Error(), "cannot begin now") {
		t.Errorf("what is not done is done again: %v", refusal)
	}
	if refusal := r.send(Event{Kind: Begin, Place: Place{"saw", ""}}); refusal == nil {
		t.Error("what cannot be done again is done again")
	}
	if fresh := begun(t, nil); fresh.send(Event{Kind: Begin, Place: Place{Step: "moved"}}) == nil || len(fresh.Tasks()) != 1 {
		t.Error("work begins that does not apply")
	}
}

// TestRedoTells: what follows from doing it again is told of its blade.
func TestRedoTells(t *testing.T) {
	r := begun(t, func(h *House, _ *model.Profile) {
		rows := slices.Clone(h.Blocks[1].Rows)
		rows[0].Redo = func(t *Taking) {
			t.After(func(c Context) []model.Reason { return []model.Reason{{Text: "again " + c.Blade}} })
		}
		h.Blocks[1].Rows = rows
	}).upTo("size b")
	r.must(r.send(Event{Kind: Begin, Place: Place{"size", "a"}}))
	if len(r.Report()) != 1 || r.Report()[0].Text != "again a" {
		t.Errorf("%+v", r.Report())
	}
}

// TestRedoRefused: where the interlock refuses what doing it again tells it, nothing is dropped.
func TestRedoRefused(t *testing.T) {
	r := begun(t, func(h *House, _ *model.Profile) {
		rows := slices.Clone(h.Blocks[1].Rows)
		rows[1].Redo = func(t *Taking) { t.Keep(wiped, ""); t.Does(interlock.IsolatedNow()) }
		h.Blocks[1].Rows = rows
	}).upTo("gap a")
	if refusal := r.send(Event{Kind: Begin, Place: Place{"wipe", "a"}}); refusal == nil || r.Now().Fact(wiped) == "" {
		t.Errorf("%v, wiped %q", refusal, r.Now().Fact(wiped))
	}
}

// TestRedoLeavesOtherWork: whoever begins an act again has left what was begun, or corrected.
func TestRedoLeavesOtherWork(t *testing.T) {
	r := begun(t, nil).upTo("fence a")
	for _, e := range []Event{{Kind: Back}, {Kind: Begin, Place: Place{Step: "note"}}} {
		r.must(r.send(e)).must(r.send(Event{Kind: Begin, Place: Place{"wipe", "a"}}))
		if v := r.View(); v.Place.String() != "wipe a" || v.Begun || v.Correcting {
			t.Errorf("after %s it leads to %s", e.Kind, v.Place)
		}
		r.must(r.answer())
	}
	r.must(r.send(Event{Kind: Back})).must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}}))
	if v := r.View(); v.Place.Step != "note" || v.Correcting {
		t.Errorf("other work from a correction leads to %+v", v)
	}
}

// TestOtherWork: it is over with its answer, wants its gates, and may lead to more.
func TestOtherWork(t *testing.T) {
	r := begun(t, nil).upTo("end")
	if r.Now().Lock.Power() != interlock.Live {
		t.Fatal("the saw is not live there")
	}
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}})).must(r.answer("text", "dust"))
	if r.View().Place.Step != "end" || r.Report()[0].Text != "noted dust" || r.Report()[0].Code != "noted" || r.Report()[0].Weight != model.Warns {
		t.Errorf("after a note: %s, %+v", r.View().Place, r.Report())
	}
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "moved"}})).must(r.answer())
	if v := r.View(); v.Place.String() != "stop b" || !v.Gate || !v.Begun {
		t.Fatalf("the work behind it begins at %s", v.Place)
	}
	r.way = nil
	r.upTo("end")
	if got := strings.Join(r.way, "; "); got != "stop b; isolate b; about b" {
		t.Errorf("its way is %s", got)
	}
	// Other work of a blade is not told to the work behind it.
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "moved"}})).must(r.answer()).must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}}))
	if v := r.View(); v.Place != (Place{Step: "note"}) {
		t.Errorf("a note is about %q", v.Place.Blade)
	}
}
