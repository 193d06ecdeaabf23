package procedure_test

import (
	"errors"
	"flag"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.com/sawdatum/testdata/roam"
)

// all has everything happen at once, other work as often as it comes.
var all = events{spoiled: true, back: 2, whole: true, work: 3, free: true, breaks: everyEvent, mischief: mischief}

// run is a state of a search as a walk goes through it: each move was made when it was listed,
// so that a walk looks at all neighbours of its way.
type run struct {
	s *search
	n node
}

func (r run) Moves() (moves []roam.Move, err error) {
	s := *r.s
	r.n.at, s.trail = 0, []mark{{-1, "here"}}
	s.level, s.found, s.after, s.labels = []node{r.n}, nil, nil, nil
	s.seen, s.fresh, s.images = map[digest][]uint32{}, map[digest]bool{}, nil
	if !r.n.p.Finished() {
		s.expand(0)
	}
	if s.bad != nil {
		return nil, errors.New(s.bad.String())
	}
	here := r.n.p.Place().String()
	for _, to := range s.found {
		moves = append(moves, roam.Move{Name: to.by, Kind: kindOf(to.by, here), Do: func() (roam.Run, error) { return run{r.s, to.node}, nil }})
	}
	return moves, nil
}

// kindOf reads the kind of a move off its name.
func kindOf(by, here string) roam.Kind {
	first, _, _ := strings.Cut(strings.NewReplacer(",", " ", ":", " ").Replace(by), " ")
	switch {
	case by == here:
		return roam.Honest
	case strings.Contains(by, " typed"), strings.Contains(by, "comes late"), strings.Contains(by, "called differences"):
		return roam.Wrong
	case strings.HasPrefix(by, here+":"):
		return roam.Another
	case first == "back", first == "forward":
		return roam.Back
	case first == "begin":
		return roam.Redo
	}
	return roam.Happened
}

// starts are the states in which trials begin, without the guards that are dropped now.
type starts map[int]*search

// at is a beginning: of one trial of them all, one of its states.
func (s starts) at(choose roam.Choose) (roam.Run, error) {
	i := choose(len(trials), "trial")
	from := s[i]
	if from == nil {
		from = trials[i].search()
		from.events = all
		trials[i].begin(from)
		s[i] = from
	}
	if from.bad != nil {
		return nil, errors.New(from.bad.String())
	}
	n := from.found[choose(len(from.found), "start")].node
	n.p, n.spent = n.p.Unfolded(), 0
	return run{from, n}, nil
}

// TestRoam goes at random where the trials do not come: all kinds of event at once, far from
// every start.
func TestRoam(t *testing.T) {
	from := starts{}
	walks := flag.Lookup("rapid.checks")
	if many := walks.Value.String(); many == walks.DefValue { // go test waits for it; the night does more
		walks.Value.Set("15")
		defer walks.Value.Set(many)
	}
	rapid.Check(t, func(t *rapid.T) {
		choose := func(n int, what string) int { return rapid.IntRange(0, n-1).Draw(t, what) }
		r, err := from.at(choose)
		if err == nil {
			err = roam.Walk(r, 30, choose)
		}
		if err != nil {
			t.Fatal(err)
		}
	})
}
