package procedure_test

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

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
	images map[past]digest
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
	text := abstract(p, &at, here, spent)
	if s.events.work > spent && (s.events.allows("void") || s.events.allows("datum")) {
		s.pasts(&text, p, &at)
	}
	key := digestOf(text)
	s.follows(by, key)
	_, seen := s.seen[key]
	twin := seen || s.fresh[key]
	if twin && (s.every == 0 || (key[1]^uint64(parent)*2654435761)%uint64(s.every) > 0) {
		return
	}
	s.fresh[key] = true
	s.found = append(s.found, reached{node{p: p.Folded(), saw: at, spent: spent, key: key, twin: twin}, mark{parent, by}})
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
			w.fresh, w.counts, w.after, w.labels, w.images = map[digest]bool{}, counts{}, nil, nil, nil
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
						after[i], labels[i] = w.led(s.level[i].twin)
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
			for k, to := range after[i] {
				if _, same := slices.BinarySearch(first, to); !same {
					s.unlike++
					s.odd[labels[i][k]]++
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

// led lists in order where the events of one state lead, each once; and, where they are
// wanted, by which event first.
func (s *search) led(named bool) (to []uint32, by []string) {
	to = slices.Clone(s.after)
	slices.Sort(to)
	to = slices.Clone(slices.Compact(to))
	if named {
		for _, to := range to {
			by = append(by, s.labels[slices.Index(s.after, to)])
		}
	}
	return to, by
}
