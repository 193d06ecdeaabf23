package procedure_test

import (
	"bytes"
	"reflect"
	"slices"
	"time"
	"unsafe"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// events says which events a search tries, beside the honest answers.
type events struct {
	spoiled  bool // answers with a field wrong or empty, and answers that come late
	back     int  // 1: back, once at a time; 2: back and back again
	breaks   []procedure.EventKind
	mischief []string // done by somebody else during a break
	work     int      // so much other work on one way: bench, sharpening, voids
	free     bool     // and as much as comes of what neither adds a blade nor voids a record
	depth    int      // only so many events from the start; 0: to the end
	whole    bool     // every way of answering also where there are ways back
	other    string   // and no other work than this
	bench    bool     // only as far as the bench goes: behind it is what another trial explores
}

// allows reports whether this other work is among what is tried.
func (e events) allows(step string) bool { return e.other == "" || e.other == step }

// leave is to end the program and begin a new run with what was saved.
const leave procedure.EventKind = "leave"

var noon = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

// typedAt is when a place is answered: at noon, like all before it, or where a run-down is
// timed a minute later.
func typedAt(place procedure.Place) time.Time {
	if place.Step == "stop" {
		return noon.Add(time.Minute)
	}
	return noon
}

func (s *search) expand(i int) {
	s.level[i].p = s.level[i].p.Unfolded()
	n := s.level[i]
	if s.watch != nil {
		s.watch(n.p)
	}
	if s.events.bench && n.p.Known().Who {
		return
	}
	v := n.p.View()
	here := v.Place.String()
	known := n.p.Profile().Reference != "" && slices.Contains(bench, v.Place.Step)
	for k, t := range s.world.tries(n.p, &n.saw, v, s.events) {
		label, spent := here, n.spent
		if t.label != "" {
			label += ": " + t.label
		}
		if known && k > 0 && t.wrong == "" {
			if spent += s.cost(v.Place.Step); spent > s.events.work || !s.events.allows(v.Place.Step) {
				continue
			}
		}
		s.apply(i, v, procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: t.answers}, label, t.wrong, spent)
	}
	for _, step := range []string{"reference", "cut"} {
		if at := (procedure.Place{Step: step, Blade: "rip"}); at != v.Place && s.events.spoiled {
			s.apply(i, v, procedure.Event{Kind: procedure.Answer, Place: at, Answers: lateAnswers}, "an answer to "+step+" comes late", "late", n.spent)
		}
	}
	if new := !n.p.Known().Who; s.events.back > 0 && !v.Again || s.events.back > 1 && (new || !slices.Contains(bench, v.Place.Step)) {
		s.apply(i, v, procedure.Event{Kind: procedure.Back}, "back", "", n.spent)
	}
	s.apply(i, v, procedure.Event{Kind: procedure.Forward}, "forward", "", n.spent)
	for _, task := range n.p.Tasks() {
		switch step := task.Place.Step; {
		case step == "note" || step == "instruments" || step == "knives":
		case n.spent+s.cost(step) <= s.events.work && (s.cost(step) == 0 || s.events.allows(step)):
			s.otherwork(i, task.Place, s.cost(step))
		}
	}
	if s.events.spoiled {
		for _, step := range []string{"isolate", "power", "hold", "knife", "cut"} {
			s.apply(i, v, procedure.Event{Kind: procedure.Begin, Place: procedure.Place{Step: step, Blade: map[string]string{"cut": "rip"}[step]}}, "begin "+step+", which is no other work", "", n.spent)
		}
	}
	for _, kind := range s.events.breaks {
		if kind == procedure.Joined {
			for _, what := range brought {
				s.joined(i, what)
			}
			continue
		}
		s.interrupt(i, kind, "")
		for _, mischief := range s.events.mischief {
			s.interrupt(i, kind, mischief)
		}
	}
}

// cost is what other work takes from what may be done on one way.
func (s *search) cost(step string) int {
	if s.events.free && step != "void" && step != "blade" || step == "fence-moved" || step == "other-blade" && s.events.whole {
		return 0
	}
	return 1
}

// lateAnswers are readings sent at a place where the work does not stand any more.
var lateAnswers = map[string]string{"how": "widths", "piece": "fresh", "readings": "120.00 120.00 120.00"}

// bench are the places of the first two steps, away from the saw.
var bench = []string{"saw", "flange", "thread", "knives", "instruments", "blade", "thickness", "rack", "rings", "datum", "unfit"}

// otherwork begins work at the bench and answers it in one go: what happens in
// between is explored for the work that has to do with the saw.
func (s *search) otherwork(i int, place procedure.Place, cost int) {
	n := s.level[i]
	begun, err := n.p.Apply(procedure.Event{Kind: procedure.Begin, Place: place, At: noon})
	s.transitions++
	if err != nil {
		return
	}
	v := begun.View()
	at := n.saw
	if v.Place.Step == "source" {
		if !s.world.honestly(&begun, &at) {
			return
		}
		v = begun.View()
	}
	s.level[i].saw = at // as it is once somebody has said where the part lies
	defer func() { s.level[i].saw = n.saw }()
	for _, t := range s.world.tries(begun, &at, v, s.events) {
		label := "begin " + place.Step
		if t.label != "" {
			label += ": " + t.label
		}
		s.take(i, begun, v, procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: t.answers}, label, t.wrong, n.spent+cost)
	}
}

func (s *search) interrupt(i int, kind procedure.EventKind, mischief string) {
	n := s.level[i]
	at := n.saw
	at.interrupted(string(kind))
	switch mischief {
	case "fence bumped":
		if n.p.State().Lock == "" {
			return
		}
		at.fence++
	case "another blade on":
		at.blade, at.rings = "thin", ""
	}
	if mischief == "other rings on" {
		if at.blade == "" {
			return
		}
		at.rings = "r25"
	}
	label := string(kind)
	if mischief != "" {
		label += ", " + mischief
	}
	s.transitions++
	if kind == leave {
		s.visit(n.at, procedure.New(n.p.Profile(), s.judge, n.p.Options()), at, n.spent, label)
		return
	}
	next, err := n.p.Apply(procedure.Event{Kind: kind, At: noon})
	if err != nil {
		s.refused++
		return
	}
	s.visit(n.at, next, at, n.spent, label)
}

func (s *search) apply(i int, v procedure.View, e procedure.Event, label, wrong string, spent int) {
	s.take(i, s.level[i].p, v, e, label, wrong, spent)
}

// take applies an event to a procedure that stands at this node.
func (s *search) take(i int, p procedure.Procedure, v procedure.View, e procedure.Event, label, wrong string, spent int) {
	if s.bad != nil {
		return
	}
	n := &s.level[i]
	e.At = typedAt(v.Place)
	s.transitions++
	next, err := p.Apply(e)
	old, now := p.Profile().Records, next.Profile().Records
	if !kept(old, now) || !benchKept(p.Profile(), next.Profile()) {
		s.fail(n.at, "R6", "a typed reading is gone or changed", label)
		return
	}
	if k := len(now); k > len(old) && now[k-1].By == "" {
		s.fail(n.at, "R6", "a record that nobody signed", label)
		return
	}
	if err != nil {
		s.refused++
		if len(now) != len(old) {
			s.fail(n.at, "R6", "a refused answer left a record", label)
			return
		}
		if next.Known().Asked != p.Known().Asked {
			s.visit(n.at, next, n.saw, n.spent, label+" (questioned)")
		}
		return
	}
	if e.Kind == procedure.Answer {
		at := n.saw
		s.world.does(&at, v, e.Answers, wrong, p, next)
		s.visit(n.at, next, at, spent, label)
		return
	}
	s.visit(n.at, next, n.saw, n.spent, label)
}

// kept reports whether the old records stand unchanged before the new ones.
func kept(old, now []model.Record) bool {
	if len(now) < len(old) {
		return false
	}
	if len(old) == 0 || &old[0] == &now[0] {
		return true
	}
	if bytes.Equal(memory(old), memory(now[:len(old)])) {
		return true
	}
	for i := range old {
		if !reflect.DeepEqual(old[i], now[i]) {
			return false
		}
	}
	return true
}

// memory is what records are made of: where it is equal, so are they.
func memory(r []model.Record) []byte {
	return unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(r))), len(r)*int(unsafe.Sizeof(r[0])))
}

// benchKept reports whether the first readings of every blade stand unchanged.
func benchKept(old, now model.Profile) bool {
	for _, b := range old.Blades {
		after, _ := now.BladeByID(b.ID)
		if len(b.Plate) > 0 && !(slices.Equal(b.Plate, after.Plate) && slices.Equal(b.Kerf, after.Kerf)) {
			return false
		}
	}
	return true
}
