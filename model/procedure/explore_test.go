package procedure_test

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"
	"unsafe"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// node is a state that was reached, and how.
type node struct {
	p     procedure.Procedure
	saw   saw
	spent int // changes of the head and voids on the way here
	at    int // its place on the trail
	key   digest
	twin  bool // another state has this key: both have to go on alike
}

// mark is how a state was reached first.
type mark struct {
	parent int    // place on the trail; -1: none
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
	free     bool     // and as much other work as comes
	depth    int      // only so many events from the start; 0: to the end
	whole    bool     // every way of answering also where there are ways back
	bench    bool     // only as far as the bench goes: behind it is what another trial explores
}

// leave is to end the program and begin a new run with what was saved.
const leave procedure.EventKind = "leave"

// search visits every abstract state once, nearest first. The rules are asserted
// after every event, also where it leads to a state that was visited before.
type search struct {
	world  world
	judge  model.Judge
	events events
	level  []node              // the states that are so many events away, to be expanded
	trail  []mark              // every state, nearest first
	seen   map[digest][]uint32 // and what follows from it, once it was expanded
	found  []reached           // what is reached from this level
	fresh  map[digest]bool
	counts
	every  int      // one in so many states with a known key is expanded too; 0: none
	after  []uint32 // where the events lead from the state that is expanded
	labels []string
	odd    map[string]int // events after which two states with one key did not go on alike
	bad    *violation
	watch  func(procedure.Procedure) // sees every state
}

// counts are what a search went through.
type counts struct {
	transitions, refused int
	expanded             int
	twins, unlike        int // expanded though their key was known; and did not go on alike
}

func (c *counts) add(o counts) {
	c.transitions, c.refused = c.transitions+o.transitions, c.refused+o.refused
	c.twins, c.unlike = c.twins+o.twins, c.unlike+o.unlike
}

// reached is a state at the end of an event.
type reached struct {
	node
	mark
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
	key := digestOf(abstract(p, &at, here, spent))
	s.follows(by, key)
	_, seen := s.seen[key]
	twin := seen || s.fresh[key]
	if twin && (s.every == 0 || (key[1]^uint64(parent)*2654435761)%uint64(s.every) > 0) {
		return
	}
	s.fresh[key] = true
	s.found = append(s.found, reached{node{p: p, saw: at, spent: spent, key: key, twin: twin}, mark{parent, by}})
}

// follows takes note of where an event leads.
func (s *search) follows(by string, key digest) {
	s.after, s.labels = append(s.after, uint32(key[0])), append(s.labels, by)
}

func (s *search) fail(at int, rule, what string, more ...string) {
	if s.bad != nil {
		return
	}
	path := more
	for i := at; i >= 0; i = s.trail[i].parent {
		path = append([]string{s.trail[i].by}, path...)
	}
	s.bad = &violation{rule, what, path}
}

// next makes what was found the next level, in the order given.
func (s *search) next(found []reached) {
	s.level = s.level[:0:0]
	for _, r := range found {
		if _, seen := s.seen[r.key]; !seen || r.twin {
			if r.twin = seen; !seen {
				s.seen[r.key] = nil
			}
			r.at = len(s.trail)
			s.trail = append(s.trail, r.mark)
			s.level = append(s.level, r.node)
		}
	}
}

// run expands every state under every event, hands at a time; with a limit no more
// states than so many. It returns how many events the farthest one is away.
func (s *search) run(limit, hands int) (levels int) {
	s.next(s.found)
	for left := limit; len(s.level) > 0 && s.bad == nil && (limit == 0 || left > 0) && (s.events.depth == 0 || levels < s.events.depth); levels++ {
		if limit > 0 && len(s.level) > left {
			s.level = s.level[:left]
		}
		left -= len(s.level)
		s.expandAll(hands)
	}
	return levels
}

// expandAll expands a level by several hands. Each takes a few states at a time; what
// they find is put together in the order of the states, so that it is the same for any
// number of hands.
func (s *search) expandAll(hands int) {
	const few = 32
	parts := (len(s.level) + few - 1) / few
	found, bad, after := make([][]reached, parts), make([]*violation, parts), make([][]uint32, len(s.level))
	labels := make([][]string, len(s.level))
	var taken atomic.Int64
	var all sync.WaitGroup
	sums := make([]counts, hands)
	for h := range hands {
		all.Go(func() {
			w := *s
			w.fresh, w.counts, w.after, w.labels = map[digest]bool{}, counts{}, nil, nil
			for {
				k := int(taken.Add(1)) - 1
				if k >= parts {
					break
				}
				w.found = nil
				for i := k * few; i < min((k+1)*few, len(s.level)); i++ {
					w.after, w.labels = w.after[:0], w.labels[:0]
					w.expand(i)
					if s.every > 0 {
						after[i] = slices.Clone(w.after)
					}
					if s.level[i].twin {
						labels[i] = slices.Clone(w.labels)
					}
					s.level[i].p, s.level[i].saw = procedure.Procedure{}, saw{}
				}
				found[k], bad[k] = w.found, w.bad
				if w.bad != nil {
					taken.Store(int64(parts))
				}
			}
			sums[h] = w.counts
		})
	}
	all.Wait()
	for _, c := range sums {
		s.counts.add(c)
	}
	for i, n := range s.level {
		if !n.twin {
			s.expanded++
			s.seen[n.key] = after[i]
		}
	}
	for i, n := range s.level {
		if n.twin {
			s.twins++
			first := s.seen[n.key]
			if slices.Equal(after[i], first) {
				continue
			}
			s.unlike++
			for k, label := range labels[i] {
				if k >= len(first) || after[i][k] != first[k] {
					s.odd[label]++
					break
				}
			}
		}
	}
	for _, b := range bad {
		if b != nil && s.bad == nil {
			s.bad = b
		}
	}
	s.next(slices.Concat(found...))
}

func (s *search) expand(i int) {
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
			if spent += s.cost(v.Place.Step); spent > s.events.work {
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
		case n.spent+s.cost(step) <= s.events.work:
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
	if s.events.free || step == "fence-moved" || step == "other-blade" && s.events.whole {
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
	for _, t := range s.world.tries(begun, &n.saw, v, s.events) {
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
	e.At = noon
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
		s.follows(label, digest{})
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
