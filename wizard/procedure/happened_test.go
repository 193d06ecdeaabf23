package procedure

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
)

// TestLapse: nobody typed for long. What was known waits to be vouched for, and the work goes
// on where it was: a reading half typed is for the same place, under another visit.
func TestLapse(t *testing.T) {
	r := begun(t, nil).upTo("size a")
	before := r.View()
	r.must(r.send(Event{Kind: Idle}))
	if v := r.View(); v.Place.String() != "still dead a" || !v.Gate {
		t.Fatalf("after it comes %s", v.Place)
	}
	if len(r.Report()) != 1 || r.Report()[0].Code != "isolation-lapsed" || r.Report()[0].Weight != model.Danger || !strings.HasPrefix(r.Report()[0].Text, "Hands away from the blade") || !strings.Contains(r.Report()[0].Text, "Treat the saw as live") || len(r.Events()) != 1 {
		t.Errorf("it says %+v", r.Report())
	}
	if r.Now().Who != "KB" || r.Now().Gates == before.Context().Gates {
		t.Errorf("at the saw is %q; %d gates, as before", r.Now().Who, r.Now().Gates)
	}
	r.must(r.answer())
	if v := r.View(); v.Place != before.Place || v.Visit == before.Visit {
		t.Errorf("the work goes on at %s, visit %d", v.Place, v.Visit)
	}
	// A saw of which nothing is known has nothing to lose.
	fresh := begun(t, nil)
	fresh.must(fresh.send(Event{Kind: Idle}))
	if len(fresh.Report()) != 0 || fresh.View().Place.Step != "nobody there" {
		t.Errorf("%+v at %s", fresh.Report(), fresh.View().Place)
	}
	// Of a live saw it is asked whether anybody was there.
	live := begun(t, nil).upTo("turn a")
	live.must(live.send(Event{Kind: Idle}))
	if live.View().Place.String() != "nobody there a" {
		t.Errorf("after it comes %s", live.View().Place)
	}
}

// TestLapseKeepsTheCorrection: what is only typed needs nobody's word.
func TestLapseKeepsTheCorrection(t *testing.T) {
	r := begun(t, nil).upTo("take off a")
	r.must(r.send(Event{Kind: Back})).must(r.send(Event{Kind: Idle}))
	if !r.View().Correcting {
		t.Error("a lapse leaves the correction")
	}
	r.must(r.answer("size", "5"))
	if v := r.View(); v.Place.Step != "still dead" || r.State().Blades["a"].Plate[0].Length != 5*model.Millimetre {
		t.Errorf("behind it comes %s", v.Place)
	}
}

// TestSuspend: somebody may have been at the saw. Who stands there, the power, what was on and
// what does not last are forgotten; so is what was begun, corrected or asked.
func TestSuspend(t *testing.T) {
	r := begun(t, func(h *House, _ *model.Profile) {
		row := noteRow
		row.Act = Paper{Says: noteRow.Act.(Paper).Says, Accept: func(t *Taking) {
			t.Keep(Fact{Name: "lasting", Lasts: true}, "yes")
			t.Keep(Fact{Name: "passing"}, "yes")
		}}
		h.Work[0] = row
	}).upTo("gap a")
	r.must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}})).must(r.answer())
	if r.Now().Fact(wiped) == "" || r.Now().Fact(Fact{Name: "passing"}) == "" {
		t.Fatal("the facts are not there")
	}
	records := len(r.Profile().Records)
	r.must(r.send(Event{Kind: Suspend}))
	now := r.Now()
	if now.Who != "" || now.Power != (PowerSince{}) || now.Fact(wiped) != "" || now.Fact(Fact{Name: "passing"}) != "" || now.Fact(Fact{Name: "lasting", Lasts: true}) != "yes" {
		t.Errorf("after it: %+v", now)
	}
	if now.Lock.Power() != interlock.Unknown || len(r.Profile().Records) != records {
		t.Errorf("the saw is %v", now.Lock.Power())
	}
	if len(r.Report()) != 1 || r.Report()[0].Code != "isolation-lapsed" || r.Report()[0].Weight != model.Danger || !strings.HasPrefix(r.Report()[0].Text, "Hands away from the blade: the program was stopped in between") {
		t.Errorf("it says %+v", r.Report())
	}
	if v := r.View(); v.Place.String() != "stop a" { // the wiping was forgotten
		t.Errorf("after it comes %s", v.Place)
	}
	if refusal := r.send(Event{Kind: Back}); refusal == nil || r.View().Correcting {
		t.Error("nobody is at the saw, and a record is corrected")
	}
	for _, e := range []Event{{Kind: Back}, {Kind: Begin, Place: Place{Step: "note"}}} {
		r := begun(t, nil).upTo("gap a")
		r.must(r.send(e)).must(r.send(Event{Kind: Suspend}))
		if v := r.View(); v.Correcting || v.Begun {
			t.Errorf("after it %s goes on: %s", e.Kind, v.Place)
		}
		if r.must(r.send(Event{Kind: Suspend})); len(r.Report()) != 0 {
			t.Errorf("what nobody knew is told again: %+v", r.Report())
		}
	}
	waits := begun(t, nil).upTo("where")
	waits.must(waits.answer()).must(waits.send(Event{Kind: Suspend}))
	if waits.View().Place.Step != "where" {
		t.Errorf("what was said of the part stands: %s", waits.View().Place)
	}
}

// TestSomebodyWasThere: an answer may say so, and forgets the same.
func TestSomebodyWasThere(t *testing.T) {
	r := begun(t, func(h *House, _ *model.Profile) {
		row := noteRow
		row.Act = Paper{Says: noteRow.Act.(Paper).Says, Accept: func(t *Taking) { t.Keep(warm, "yes"); t.Keep(wiped, "yes"); t.Interrupted() }}
		row.When = nil
		h.Work[0] = row
	}).upTo("where")
	r.must(r.answer("where", "isolate")).must(r.send(Event{Kind: Begin, Place: Place{Step: "note"}})).must(r.answer())
	now := r.Now()
	if now.Who != "" || now.Power != (PowerSince{}) || now.Fact(wiped) != "" || now.Fact(warm) != "yes" || now.Lock.Power() != interlock.Unknown || len(r.Events()) != 1 || r.Events()[0].String() != "interrupted" {
		t.Errorf("after it: %+v", now)
	}
	if v := r.View(); v.Place.Step != "where" || v.Begun {
		t.Errorf("it goes on at %s", v.Place)
	}
}

// TestJoined: another shift's records come in. The run goes on with them, what it recorded
// itself is known as its own, and nothing is known of the saw.
func TestJoined(t *testing.T) {
	old := model.Record{Kind: model.Note, By: "AB", At: eight.Add(-2 * time.Hour), Text: "old"}
	r := begun(t, func(_ *House, p *model.Profile) { p.Records = []model.Record{old} }).upTo("take off a")
	own := r.Profile().Records[1]
	theirs := model.Record{Kind: model.Remeasured, By: "ZZ", At: eight.Add(-time.Hour), Blade: "b", Plate: []model.Measure{{Length: 3 * model.Millimetre, Unit: model.MM}}}
	merged := r.Profile()
	merged.Records = []model.Record{old, theirs, own}
	judged := *r.judged
	r.must(r.send(Event{Kind: Joined, Profile: merged}))
	now := r.Now()
	if now.Started != 2 || len(now.Now()) != 1 || now.Now()[0].Ref() != own.Ref() || len(now.State.Blades["b"].Plate) != 1 || *r.judged != judged+1 {
		t.Errorf("the run began behind %d records, judged %d times", now.Started, *r.judged-judged)
	}
	if now.Lock.Power() != interlock.Unknown || now.Who != "" || len(r.Report()) != 1 || !strings.Contains(r.Report()[0].Text, "as moved") {
		t.Errorf("the saw is %v, told is %+v", now.Lock.Power(), r.Report())
	}
	lacks := merged
	lacks.Records = []model.Record{old, theirs}
	if refusal := r.send(Event{Kind: Joined, Profile: lacks}); refusal == nil || len(r.Profile().Records) != 3 {
		t.Errorf("a profile without what was recorded here is taken: %v", refusal)
	}
	// Before anything was recorded here, all that comes in is of others.
	fresh := begun(t, nil)
	fresh.must(fresh.send(Event{Kind: Joined, Profile: lacks}))
	if now := fresh.Now(); now.Started != 2 || len(now.Now()) != 0 || len(fresh.Report()) != 1 || fresh.Report()[0].Code != "records-joined" || !strings.Contains(fresh.Report()[0].Text, "its records came in") || fresh.Report()[0].Weight != model.Warns {
		t.Errorf("started behind %d, told %+v", now.Started, fresh.Report())
	}
}

// TestKeep: a fact is kept in this run until it is forgotten.
func TestKeep(t *testing.T) {
	a := &Taking{}
	a.Keep(warm, "yes")
	b := &Taking{Context: a.Context}
	b.Keep(wiped, "yes")
	b.Keep(warm, "")
	if a.Fact(warm) != "yes" || a.Fact(wiped) != "" || b.Fact(warm) != "" || b.Fact(wiped) != "yes" || len(b.facts) != 1 {
		t.Errorf("%v, %v", a.facts, b.facts)
	}
}

// TestHappened: what happened tells the interlock, forgets what was told before and is no answer.
func TestHappened(t *testing.T) {
	sized := begun(t, nil).upTo("size a")
	sized.must(sized.answer())
	if len(sized.Report()) != 1 {
		t.Fatalf("%+v", sized.Report())
	}
	sized.must(sized.send(Event{Kind: Back}))
	if len(sized.Report()) != 0 {
		t.Errorf("what was told of the answer before is told again: %+v", sized.Report())
	}
	var names []string
	for _, e := range sized.Events() {
		names = append(names, e.String())
	}
	if !slices.Equal(names, []string{"turned away"}) {
		t.Errorf("the interlock was told %q", names)
	}
}

// TestMidnight: with the first event of a day, and of a run, it is asked anew what is due; on the same day the
// records alone say so.
func TestMidnight(t *testing.T) {
	r := begun(t, nil)
	for _, c := range []struct {
		after time.Duration
		again int
	}{{time.Hour, 1}, {15*time.Hour - time.Second, 0}, {time.Second, 1}, {time.Hour, 0}, {24 * time.Hour, 1}, {-time.Hour, 0}} {
		judged := *r.judged
		r.at = r.at.Add(c.after)
		next, err := r.Apply(Event{Kind: Answer, At: r.at})
		if r.Procedure = next; err == nil {
			t.Fatal("an answer for no view is taken")
		}
		if got := *r.judged - judged; got != c.again {
			t.Errorf("at %v it is judged %d times, want %d", r.at, got, c.again)
		}
	}
}
