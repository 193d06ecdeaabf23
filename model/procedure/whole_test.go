package procedure_test

import (
	"os"
	"runtime"
	"runtime/debug"
	"testing"
	"time"

	"example.com/sawdatum/model/procedure"
)

var (
	everyEvent = append([]procedure.EventKind{procedure.Joined}, everyBreak...)
	together1  = events{spoiled: true, back: 1, whole: true, breaks: everyEvent, mischief: mischief}
	atBench    = events{spoiled: true, back: 2, whole: true, bench: true, breaks: everyEvent, mischief: mischief}
	near       = events{spoiled: true, back: 1, whole: true, work: 1, free: true, depth: 4, breaks: everyEvent, mischief: mischief}
)

// wholes are the starts, each under all events at once. The first go to the end: all
// answers and all ways back, and at each place every interruption with all that may be
// done meanwhile, another shift's records, a fence that moved, another blade or stack
// found on the arbor. The others have other work with it, as often as it comes
// (sharpening, blades added and taken off, rings, knives, another reference, voids), so
// many events from the start.
var wholes = []trial{
	{"isolate only", isolateOnly, exact, together1},
	{"new saw, at the bench", unknown, exact, atBench},
	{"resumed at every record", resumed, exact, together1},
	{"one blade again: rip", once("rip"), exact, together1},
	{"one blade again: the reference", once("general"), exact, together1},
	{"one blade again: thin", once("thin"), exact, together1},
	{"resumed at every record, other work", resumed, exact, near},
	{"one blade again: rip, other work", once("rip"), exact, near},
	{"one blade again: the reference, other work", once("general"), exact, near},
}

// TestExploreWhole visits the whole of what the explorations above split. Of the states
// that look like one that was visited before, one in so many is expanded all the same:
// both have to lead to the same states by every event. It takes minutes.
func TestExploreWhole(t *testing.T) {
	if os.Getenv("SAWDATUM_EXPLORE") != "whole" {
		t.Skip("takes minutes: SAWDATUM_EXPLORE=whole runs it")
	}
	defer debug.SetGCPercent(debug.SetGCPercent(100))
	for _, c := range wholes {
		t.Run(c.name, func(t *testing.T) {
			s, began := c.search(), time.Now()
			s.every = 200
			c.begin(s)
			farthest := s.run(0, runtime.NumCPU())
			t.Logf("%d states, %d transitions, %d of them refused, the farthest %d events away, %d not gone on from; %d of %d twins unlike %v; %s",
				len(s.seen), s.transitions, s.refused, farthest-1, len(s.level), s.unlike, s.counts.twins, s.odd, time.Since(began).Round(time.Second))
			if s.bad != nil {
				t.Error(s.bad)
			}
			if c.events.depth == 0 && s.unlike > 0 {
				t.Errorf("the key leaves out what matters: two states with one key go on in two ways after %v", s.odd)
			}
		})
	}
}
