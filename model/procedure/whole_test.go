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
	onward     = events{spoiled: true, whole: true, breaks: everyEvent, mischief: mischief}
	atBench    = events{spoiled: true, back: 2, whole: true, bench: true, breaks: everyEvent, mischief: mischief}
	workOnce   = events{whole: true, work: 1, breaks: everyEvent, mischief: mischief}
	near       = events{spoiled: true, back: 1, whole: true, work: 1, free: true, depth: 4, breaks: everyEvent, mischief: mischief}
)

// whole is a start under many events at once; one that ends is followed to its end.
type whole struct {
	trial
	ends bool
}

// wholes are the starts, each under all events at once: all answers and all ways back,
// and at each place every interruption with all that may be done meanwhile, another
// shift's records, a fence that moved, another blade or stack found on the arbor. A
// rack of two blades, resumed at every record and so from the first, is followed to its
// end; so it is under one piece of other work of every kind, voids among them, on each
// way, with all interruptions and no wrong answers or ways back; and one blade again
// without ways back. Some have other work with everything else, as often as it comes,
// so many events from the start; the last have one kind of it with everything else.
var wholes = append([]whole{
	{trial{"isolate only", isolateOnly, exact, uncut}, true},
	{trial{"new saw, at the bench", unknown, exact, atBench}, true},
	{trial{"two blades, resumed at every record", resumed, exactTwo, uncut}, true},
	{trial{"two blades, one again: rip, no ways back", once("rip"), exactTwo, onward}, true},
	{trial{"two blades, one again: the reference, no ways back", once("general"), exactTwo, onward}, true},
	{trial{"two blades, one again: rip", once("rip"), exactTwo, uncut}, false},
	{trial{"two blades, one again: the reference", once("general"), exactTwo, uncut}, false},
	{trial{"two blades, resumed at every record, other work once", resumed, exactTwo, workOnce}, true},
	{trial{"two blades, one again: rip, other work once", once("rip"), exactTwo, workOnce}, false},
	{trial{"two blades, one again: the reference, other work once", once("general"), exactTwo, workOnce}, false},
	{trial{"three blades, without records", freshly, exact, uncut}, false},
	{trial{"three blades, resumed at every record", resumed, exact, uncut}, false},
	{trial{"three blades, one again: thin", once("thin"), exact, uncut}, false},
	{trial{"three blades, one again: rip", once("rip"), exact, uncut}, false},
	{trial{"three blades, one again: the reference", once("general"), exact, uncut}, false},
	{trial{"three blades, resumed at every record, other work", resumed, exact, near}, false},
	{trial{"three blades, one again: rip, other work", once("rip"), exact, near}, false},
	{trial{"three blades, one again: the reference, other work", once("general"), exact, near}, false},
}, kinds()...)

// kinds has each kind of other work by itself: on one way there is one piece of it, so
// that together they are all that happens with one piece of any kind.
func kinds() (all []whole) {
	for _, kind := range []string{"sharpened", "change-knife", "blade-knife", "datum", "retire", "rings", "blade", "void"} {
		e := uncut
		e.work, e.other = 1, kind
		all = append(all, whole{trial{"two blades, " + kind + " once", resumed, exactTwo, e}, false})
	}
	return all
}

// mostStates are expanded from each start that is not followed to its end, the nearest
// first, so that the test ends in minutes; 0: all of them. How many are left then is
// printed.
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
		t.Skip("takes minutes: SAWDATUM_EXPLORE=30000 runs it, and all to the end of every start")
	}
	defer debug.SetGCPercent(debug.SetGCPercent(100))
	for _, c := range wholes {
		t.Run(c.name, func(t *testing.T) {
			s, began := c.search(), time.Now()
			s.every = 200
			c.begin(s)
			most := most
			if c.ends {
				most = 0
			}
			farthest := s.run(most, runtime.NumCPU())
			if len(s.level) == 0 {
				farthest--
			}
			t.Logf("%d states, %d transitions, %d of them refused, the farthest %d events away, %d not gone on from; %d states expanded again, %d otherwise than before %v; %s",
				len(s.seen), s.transitions, s.refused, farthest, len(s.seen)-s.expanded, s.twins, s.unlike, s.odd, time.Since(began).Round(time.Second))
			if s.bad != nil {
				t.Error(s.bad)
			}
			if c.ends && s.unlike > 0 {
				t.Error("two states with one key did not go on alike: the key lacks something")
			}
		})
	}
}
