package procedure_test

import (
	"fmt"
	"os"
	"runtime"
	"runtime/debug"
	"strconv"
	"testing"
	"time"

	"example.com/sawdatum/model/procedure"
)

var (
	everyEvent = append([]procedure.EventKind{procedure.Joined}, everyBreak...)
	uncut      = events{spoiled: true, back: 1, whole: true, breaks: everyEvent, mischief: mischief}
	atBench    = events{spoiled: true, back: 2, whole: true, bench: true, breaks: everyEvent, mischief: mischief}
	near       = events{spoiled: true, back: 1, whole: true, work: 1, free: true, depth: 4, breaks: everyEvent, mischief: mischief}
)

// wholes are the starts, each under all events at once: all answers and all ways back,
// and at each place every interruption with all that may be done meanwhile, another
// shift's records, a fence that moved, another blade or stack found on the arbor. The
// last have other work with it, as often as it comes (sharpening, blades added and
// taken off, rings, knives, another reference, voids), so many events from the start.
var wholes = []trial{
	{"isolate only", isolateOnly, exact, uncut},
	{"new saw, at the bench", unknown, exact, atBench},
	{"one blade again: thin", once("thin"), exact, uncut},
	{"one blade again: the reference", once("general"), exact, uncut},
	{"one blade again: rip", once("rip"), exact, uncut},
	{"a profile without records", freshly, exact, uncut},
	{"resumed at every record", resumed, exact, uncut},
	{"resumed at every record, other work", resumed, exact, near},
	{"one blade again: rip, other work", once("rip"), exact, near},
	{"one blade again: the reference, other work", once("general"), exact, near},
}

// mostStates are expanded from each start, the nearest first, so that the test ends in
// minutes; 0: all of them. How many are left then is printed.
func mostStates(asked string) (int, error) {
	switch asked {
	case "":
		return -1, nil
	case "all":
		return 0, nil
	}
	n, err := strconv.Atoi(asked)
	if err != nil || n < 1 {
		return 0, fmt.Errorf("SAWDATUM_EXPLORE=%s: give a number of states, or all", asked)
	}
	return n, nil
}

// TestExploreWhole visits the whole of what the other explorations split. Of the states
// that look like one that was visited before, one in so many is expanded all the same:
// how many then lead elsewhere is printed, with the events, and the search goes on from
// there too.
func TestExploreWhole(t *testing.T) {
	most, err := mostStates(os.Getenv("SAWDATUM_EXPLORE"))
	if err != nil {
		t.Fatal(err)
	} else if most < 0 {
		t.Skip("takes minutes: SAWDATUM_EXPLORE=100000 runs it, and all to the end of every start")
	}
	defer debug.SetGCPercent(debug.SetGCPercent(100))
	for _, c := range wholes {
		t.Run(c.name, func(t *testing.T) {
			s, began := c.search(), time.Now()
			s.every = 200
			c.begin(s)
			farthest := s.run(most, runtime.NumCPU())
			if len(s.level) == 0 {
				farthest--
			}
			t.Logf("%d states, %d transitions, %d of them refused, the farthest %d events away, %d not gone on from; %d states expanded again, %d otherwise than before %v; %s",
				len(s.seen), s.transitions, s.refused, farthest, len(s.seen)-s.expanded, s.twins, s.unlike, s.odd, time.Since(began).Round(time.Second))
			if s.bad != nil {
				t.Error(s.bad)
			}
		})
	}
}
