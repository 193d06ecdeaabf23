package procedure_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// node is a state that was reached, and how.
type node struct {
	p      procedure.Procedure
	saw    saw
	spent  int // changes of the head and voids on the way here
	parent int
	by     string // the event that led here
}

// violation is a rule that does not hold in a state.
type violation struct {
	rule string
	what string
	path []string
}

func (v violation) String() string {
	return fmt.Sprintf("%s: %s, after %d events:\n  %s", v.rule, v.what, len(v.path), strings.Join(v.path, "\n  "))
}

// events says which events a search tries, beside the honest answers.
type events struct {
	spoiled  bool // answers with a field wrong or empty, and answers that come late
	back     int  // 1: back, once at a time; 2: back and back again
	breaks   []procedure.EventKind
	mischief []string // done by somebody else during a break
	work     int      // so much other work on one way: bench, sharpening, voids
	whole    bool     // every way of answering also where there are ways back
	bench    bool     // only as far as the bench goes: behind it is what another trial explores
}

// leave is to end the program and begin a new run with what was saved.
const leave procedure.EventKind = "leave"

// search visits every abstract state once, nearest first. The rules are asserted
// after every event, also where it leads to a state that was visited before.
type search struct {
	world       world
	nodes       []node
	seen        map[string]bool
	transitions int
	refused     int
	judge       model.Judge
	events      events
	bad         *violation
}

var noon = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

func (s *search) start(p procedure.Procedure, at saw, by string) {
	s.visit(-1, p, at, 0, by)
}

func (s *search) visit(parent int, p procedure.Procedure, at saw, spent int, by string) {
	if s.bad != nil {
		return
	}
	here := p.Place()
	if rule, what := s.world.broken(p, &at, here); rule != "" {
		s.fail(parent, rule, what, by)
		return
	}
	key := abstract(p, &at, here, spent)
	if s.seen[key] {
		return
	}
	s.seen[key] = true
	s.nodes = append(s.nodes, node{p: p, saw: at, spent: spent, parent: parent, by: by})
}

func (s *search) fail(at int, rule, what string, more ...string) {
	if s.bad != nil {
		return
	}
	path := more
	for i := at; i >= 0; i = s.nodes[i].parent {
		path = append([]string{s.nodes[i].by}, path...)
	}
	s.bad = &violation{rule, what, path}
}

// run expands every state under every event; with a limit no more than so many.
func (s *search) run(limit int) {
	for i := 0; i < len(s.nodes) && s.bad == nil && (limit == 0 || i < limit); i++ {
		s.expand(i)
		s.nodes[i].p, s.nodes[i].saw = procedure.Procedure{}, saw{}
	}
}

func (s *search) expand(i int) {
	n := s.nodes[i]
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
			if spent++; spent > s.events.work {
				continue
			}
		}
		s.apply(i, v, procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: t.answers}, label, t.wrong, spent)
	}
	if n.saw.last != "" && n.saw.last != v.Place.Step && s.events.spoiled {
		s.apply(i, v, procedure.Event{Kind: procedure.Answer, Place: procedure.Place{Step: n.saw.last, Blade: "rip"}, Answers: n.saw.lastTo}, "the answer to "+n.saw.last+" comes once more", "late", n.spent)
	}
	if new := len(n.p.Profile().Records) == 0 && !n.p.Known().Who; s.events.back > 0 && !v.Again || s.events.back > 1 && (new || !slices.Contains(bench, v.Place.Step)) {
		s.apply(i, v, procedure.Event{Kind: procedure.Back}, "back", "", n.spent)
	}
	s.apply(i, v, procedure.Event{Kind: procedure.Forward}, "forward", "", n.spent)
	for _, task := range n.p.Tasks() {
		switch step := task.Place.Step; {
		case step == "note" || step == "instruments" || step == "knives":
		case step == "fence-moved":
			s.otherwork(i, task.Place, 0)
		case n.spent < s.events.work:
			s.otherwork(i, task.Place, 1)
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

// bench are the places of the first two steps, away from the saw.
var bench = []string{"saw", "flange", "thread", "knives", "instruments", "blade", "thickness", "rack", "rings", "datum", "unfit"}

// otherwork begins work at the bench and answers it in one go: what happens in
// between is explored for the work that has to do with the saw.
func (s *search) otherwork(i int, place procedure.Place, cost int) {
	n := s.nodes[i]
	begun, err := n.p.Apply(procedure.Event{Kind: procedure.Begin, Place: place, At: noon})
	s.transitions++
	if err != nil {
		return
	}
	v := begun.View()
	for _, t := range s.world.tries(begun, &n.saw, v, s.events) {
		label := "begin " + place.Step
		if t.label != "" {
			label += ": " + t.label
		}
		s.take(i, begun, v, procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: t.answers}, label, t.wrong, n.spent+cost)
	}
}

func (s *search) interrupt(i int, kind procedure.EventKind, mischief string) {
	n := s.nodes[i]
	at := n.saw
	at.interrupted(string(kind))
	switch mischief {
	case "fence bumped":
		if n.p.State().Lock == "" {
			return
		}
		at.fence++
	case "another blade on":
		if at.blade == "" || at.blade == "thin" {
			return
		}
		at.blade, at.rings = "thin", ""
	}
	if mischief == "other rings on" {
		if at.blade == "" || at.rings == "r25" {
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
		s.visit(i, procedure.New(n.p.Profile(), s.judge, n.p.Options()), at, n.spent, label)
		return
	}
	next, err := n.p.Apply(procedure.Event{Kind: kind, At: noon})
	if err != nil {
		s.refused++
		return
	}
	s.visit(i, next, at, n.spent, label)
}

func (s *search) apply(i int, v procedure.View, e procedure.Event, label, wrong string, spent int) {
	s.take(i, s.nodes[i].p, v, e, label, wrong, spent)
}

// take applies an event to a procedure that stands at this node.
func (s *search) take(i int, p procedure.Procedure, v procedure.View, e procedure.Event, label, wrong string, spent int) {
	if s.bad != nil {
		return
	}
	n := &s.nodes[i]
	e.At = noon
	s.transitions++
	next, err := p.Apply(e)
	old, now := p.Profile().Records, next.Profile().Records
	if !kept(old, now) || !benchKept(p.Profile(), next.Profile()) {
		s.fail(i, "R6", "a typed reading is gone or changed", label)
		return
	}
	if n := len(now); n > len(old) && now[n-1].By == "" {
		s.fail(i, "R6", "a record that nobody signed", label)
		return
	}
	if err != nil {
		s.refused++
		if len(now) != len(old) {
			s.fail(i, "R6", "a refused answer left a record", label)
			return
		}
		if next.Known().Asked != p.Known().Asked {
			s.visit(i, next, n.saw, n.spent, label+" (questioned)")
		}
		return
	}
	if e.Kind == procedure.Answer {
		at := n.saw
		s.world.does(&at, v, e.Answers, wrong, p, next)
		s.visit(i, next, at, spent, label)
		return
	}
	s.visit(i, next, n.saw, n.spent, label)
}

// kept reports whether the old records stand unchanged before the new ones.
func kept(old, now []model.Record) bool {
	if len(now) < len(old) {
		return false
	}
	if len(old) == 0 || &old[0] == &now[0] {
		return true
	}
	for i := range old {
		if !reflect.DeepEqual(old[i], now[i]) {
			return false
		}
	}
	return true
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
