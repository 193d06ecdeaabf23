package procedure_test

import (
	"os"
	"runtime/debug"
	"strings"
	"sync/atomic"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
)

// trial is one exploration: where it begins, what is true at the saw, what happens.
type trial struct {
	name   string
	begin  func(*search)
	truth  truth
	events events
}

// The truths: the rip is as plate and kerf say; the first stack brings it too far;
// not far enough; no stack of the kit brings it in. After sharpening it always cuts
// wider than its new readings say. On a near flange's saw the second stack is then
// higher where the first was not far enough, and the cut face has moved away from the
// fence; a lower one moves it toward the fence.
var (
	exact    = truth{[2]model.Length{20 * hundredth, 35 * hundredth}, farSaw}
	far      = truth{[2]model.Length{11 * hundredth, 26 * hundredth}, farSaw}
	wide     = truth{[2]model.Length{34 * hundredth, 45 * hundredth}, farSaw}
	exactTwo = truth{[2]model.Length{20 * hundredth, 35 * hundredth}, twoSaw}
	never    = truth{[2]model.Length{16 * hundredth, 30 * hundredth}, farSaw}
	shallow  = truth{[2]model.Length{60 * hundredth, 75 * hundredth}, shallowSaw}

	nearExact   = truth{[2]model.Length{20 * hundredth, 10 * hundredth}, nearSaw}
	nearRaised  = truth{[2]model.Length{34 * hundredth, 24 * hundredth}, nearSaw}
	nearLowered = truth{[2]model.Length{11 * hundredth, 0}, nearSaw}
	nearNever   = truth{[2]model.Length{16 * hundredth, 5 * hundredth}, nearSaw}
)

var (
	everyBreak = []procedure.EventKind{procedure.Idle, procedure.Suspend, leave}
	mischief   = []string{"fence bumped", "another blade on", "other rings on"}
	everything = events{spoiled: true, breaks: everyBreak, mischief: mischief}
	wrongs     = events{spoiled: true, breaks: []procedure.EventKind{leave}, mischief: mischief}
	idleWrongs = events{spoiled: true, breaks: []procedure.EventKind{procedure.Idle}, mischief: mischief}
	backs      = events{back: 2, breaks: []procedure.EventKind{procedure.Idle}}
	backOnce   = events{back: 1, breaks: []procedure.EventKind{leave}, mischief: mischief[:1]}
	otherWork  = events{work: 1, breaks: []procedure.EventKind{leave}}
	workOnly   = events{work: 1}
	atOnce     = events{spoiled: true, back: 1, whole: true, work: 1, breaks: append([]procedure.EventKind{procedure.Joined}, everyBreak...), mischief: mischief}
	benchOnly  = events{spoiled: true, back: 2, bench: true, breaks: []procedure.EventKind{leave}}
	backOnly   = events{back: 1}
	oneVoid    = events{work: 1, other: "void"}
	joins      = events{spoiled: true, breaks: []procedure.EventKind{procedure.Joined}}
	twinBlades = events{spoiled: true, breaks: []procedure.EventKind{procedure.Idle}, mischief: mischief[1:2]}
	leaving    = events{breaks: []procedure.EventKind{leave}, mischief: mischief[:1]}
)

var trials = []trial{
	{"wrong answers", freshly, exact, everything},
	{"back and interruptions", freshly, exact, backOnce},
	{"back and back again", freshly, exact, backs},
	{"other work", freshly, exact, otherWork},
	{"too far, wrong answers", freshly, far, wrongs},
	{"too far, other work", freshly, far, workOnly},
	{"too far, back", freshly, far, backOnce},
	{"too wide, wrong answers", freshly, wide, wrongs},
	{"too wide, other work", freshly, wide, workOnly},
	{"nothing fits, wrong answers", freshly, never, wrongs},
	{"nothing fits, back", freshly, never, backOnly},
	{"new saw", unknown, exact, benchOnly},
	{"resumed at every record", resumed, exact, wrongs},
	{"one blade again: rip", once("rip"), exact, idleWrongs},
	{"one blade again: rip, back", once("rip"), exact, backOnly},
	{"one blade again: rip too far", once("rip"), far, idleWrongs},
	{"one blade again: rip too far, back", once("rip"), far, backOnly},
	{"one blade again: rip, a void", once("rip"), exact, oneVoid},
	{"one blade again: rip, other work", once("rip"), exact, workOnly},
	{"one blade again: the reference", once("general"), exact, leaving},
	{"one blade again: the reference, other work", once("general"), exact, workOnly},
	{"sharpened by mistake, a void", mistaken, exact, oneVoid},
	{"one blade again: thin", once("thin"), exact, everything},
	{"knife changed, other work", knives("k24"), exact, workOnly},
	{"a gauge board once more, back", boardAgain, exact, events{back: 2, depth: 11}},
	{"knife changed to and fro, other work", knives("k24", "k25"), exact, workOnly},
	{"the thin knife set, other work", thinKnife, exact, workOnly},
	{"the thin knife set, wrong answers", thinKnife, exact, wrongs},
	{"a kerf read once more", narrowed, exact, everything},
	{"another shift's records come in", freshly, exact, joins},
	{"a file that somebody edited", edited, exact, wrongs},
	{"a file that somebody edited, other work", edited, exact, workOnly},
	{"teeth that stand out too little", freshly, shallow, wrongs},
	{"near flange, wrong answers", freshly, nearExact, wrongs},
	{"near flange, other work", freshly, nearExact, workOnly},
	{"near flange, stack raised, wrong answers", freshly, nearRaised, wrongs},
	{"near flange, stack raised, other work", freshly, nearRaised, workOnly},
	{"near flange, stack lowered, wrong answers", freshly, nearLowered, wrongs},
	{"near flange, nothing fits, wrong answers", freshly, nearNever, wrongs},
	{"near flange, one blade again: rip", once("rip"), nearRaised, idleWrongs},
	{"back and other work, early", freshly, exact, events{back: 2, work: 1, depth: 11}},
	{"resumed at every record, other work", resumed, exact, events{work: 1, free: true, depth: 4}},
	{"another knife chosen at every record, a void", choosing, exact, events{work: 1, other: "void", depth: 4}},
	{"a doubtful reading, other work", doubtful, exact, events{work: 1, depth: 4}},
	{"another blade's piece only", anotherPiece, exact, events{back: 2, depth: 14}},
	{"a blade that waits for its knife", waiting, exact, leaving},
	{"a knife comes next", ripNext, exact, leaving},
	{"a knife comes next that the reference must not run with", thinNext, exact, leaving},
	{"a blade is back on the rack", returned, exact, workOnly},
	{"as many teeth", twins, exact, twinBlades},
	{"isolate only", isolateOnly, exact, everything},
	{"isolate only, back", isolateOnly, exact, backs},
	{"isolate only, all at once", isolateOnly, exact, atOnce},
}

func (t trial) search() *search {
	w := world{truth: t.truth, reads: strings.Contains(t.name, "edited")}
	return &search{world: w, seen: map[digest][]uint32{}, odd: map[string]int{}, fresh: map[digest]bool{}, judge: remembered(solver.Plan), events: t.events}
}

func (t trial) explore(limit int) *search {
	s := t.search()
	t.begin(s)
	s.run(limit, 1)
	return s
}

// nearest are the states that a trial expands in go test, those first that fewest events
// lead to; at night each goes to its end.
const nearest = 1000

func TestExplore(t *testing.T) {
	limit := nearest
	if os.Getenv("SAWDATUM_EXPLORE") != "" {
		limit = 0
	}
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	var states, transitions, refused atomic.Int64
	t.Run("all", func(t *testing.T) {
		for _, c := range trials {
			t.Run(c.name, func(t *testing.T) {
				t.Parallel()
				s := c.explore(limit)
				t.Logf("%d states, %d transitions, %d of them refused", len(s.seen), s.transitions, s.refused)
				states.Add(int64(len(s.seen)))
				transitions.Add(int64(s.transitions))
				refused.Add(int64(s.refused))
				if s.bad != nil {
					t.Error(s.bad)
				}
			})
		}
	})
	t.Logf("in all %d states, %d transitions, %d of them refused", states.Load(), transitions.Load(), refused.Load())
}
