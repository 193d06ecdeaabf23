// Package roam goes through a procedure at random, beside a modelled saw that says which
// rule breaks. It knows neither: a Run lists what may happen next, and does it. Tests choose
// by rapid, which finds the shortest way to a broken rule, or by a seed.
package roam

import (
	"fmt"
	"strings"
)

// Kind is what sort of thing happens.
type Kind uint8

// The kinds. An honest answer is what somebody types who does as the screen says, with the
// saw in order; another is as honest and rarer (the fence was moved, the run-down was long);
// a wrong one has a field that is not so, and comes at its time or late.
const (
	Honest   Kind = iota
	Another       // honest answer
	Wrong         // answer
	Back          // and forward
	Redo          // a physical act, or other work
	Happened      // idle, suspend, a new run, another shift's records; with or without somebody at the saw
	kinds
)

// Move is one thing that may happen now.
type Move struct {
	Name string
	Kind Kind
	Do   func() (Run, error) // what becomes of it, or the rule that it breaks; nil, nil: refused
}

// Run is a procedure as it stands and the saw beside it: a value that no move changes.
type Run interface {
	// Moves are all that may happen now; none: the run is over. The error is the rule that is
	// broken here, or would be by one of them.
	Moves() ([]Move, error)
}

// Choose picks one of n things; 0 is the least of them.
type Choose func(n int, what string) int

// tempers are how often each kind is chosen, of 16 moves. Some walks go far, some stray.
var tempers = [][kinds]int{
	{Honest: 14, Another: 1, Happened: 1},
	{Honest: 11, Another: 1, Wrong: 1, Back: 1, Redo: 1, Happened: 1},
	{Honest: 6, Another: 2, Wrong: 2, Back: 2, Redo: 2, Happened: 2},
}

// Walk makes so many moves. The error is the rule that broke, with the way there.
func Walk(r Run, steps int, choose Choose) error {
	temper := tempers[choose(len(tempers), "temper")]
	var way []string
	broken := func(err error) error {
		return fmt.Errorf("%w, after %d moves:\n  %s", err, len(way), strings.Join(way, "\n  "))
	}
	for range steps {
		moves, err := r.Moves()
		if err != nil {
			return broken(err)
		}
		if len(moves) == 0 {
			return nil
		}
		some := pick(moves, temper, choose)
		m := some[choose(len(some), "move")]
		way = append(way, m.Name)
		next, err := m.Do()
		if err != nil {
			return broken(err)
		}
		if next != nil {
			r = next
		}
	}
	_, err := r.Moves()
	if err != nil {
		return broken(err)
	}
	return nil
}

// pick are the moves of one kind, or all of them where there is none of that kind.
func pick(moves []Move, temper [kinds]int, choose Choose) (some []Move) {
	n, kind := choose(16, "kind"), Honest
	for ; n >= temper[kind]; kind++ {
		n -= temper[kind]
	}
	for _, m := range moves {
		if m.Kind == kind {
			some = append(some, m)
		}
	}
	if some == nil {
		return moves
	}
	return some
}
