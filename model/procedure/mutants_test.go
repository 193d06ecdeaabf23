//go:build mutants

package procedure_test

import (
	"fmt"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// guards are what can be switched off in the test build, beside what each place needs
// of the saw. Without any of them a rule breaks.
var guards = []string{
	// what the sequencer asks of the saw
	"isolated-for-hands", "stopped", "run-down-slow", "standstill-forgotten", "checked-for-power", "power-from-isolated", "measured-on-bench", "source-where", "blade-mounted", "mounted-blade", "mounted-rings",
	"fence-locked", "fence-untouched", "board-ripped", "reference-before-cut", "who-first", "arbor-first", "knife-first", "compare-kerf",
	// what a run knows
	"start-power", "start-fence", "fence-known", "fence-moved-recorded", "place-named", "begin-listed", "word-changes",
	"idle-voids-power", "idle-voids-standstill", "idle-voids-sight", "idle-voids-fence",
	"suspend-voids-power", "suspend-voids-standstill", "suspend-voids-sight", "suspend-voids-fence",
	"joined-voids-power", "joined-voids-standstill", "joined-voids-sight", "joined-voids-fence", "joined-keeps",
	"reread-aligned", "reread-lock",
	"back-keeps-readings", "correction-is-a-new-record", "reread-is-a-new-record",
	// the fields of the gates
	"stop-run_down", "slow-still", "isolate-how", "isolate-dead", "isolate-by", "isolate-word", "hold-closed",
	"power-teeth", "power-rings", "power-name", "mount-name", "knife-name", "rings-seen", "power-nut", "power-mark", "power-knife", "power-throat", "power-tools", "power-people", "power-word", "power-fits",
	"arbor-clean", "arbor-spare_thread", "mount-teeth", "mount-rings", "knife-off", "knife-teeth", "knife-gaps", "knife-tip_gap",
	"boards-locked", "boards-length", "boards-lead", "boards-tail", "scale-locked", "lock-locked", "fence-fence", "cut-how", "retire-blade",
	// what the records say
	"arbor-moves-datum", "arbor-takes-blade-off", "sharpened-moves-datum", "datum-reference", "datum-standing", "seated-datum", "boards-datum", "boards-lock", "scale-datum",
	"reference-datum", "reference-lock", "cut-reference", "cut-lock", "more-rings", "more-counts", "knife-voids-proofs", "knife-datum", "fitted-unaligned", "unlock-voids-board",
	"fence-moved-voids-lock", "scale-voids-lock", "sharpened-voids-cuts", "sharpened-takes-blade-off", "returned-voids-cuts", "fresh-piece", "fresh-first", "fresh-unsure", "void-keeps-half",
	"void-leaves-open-arbor", "void-leaves-open-scale", "void-leaves-open-reference_cut", "void-leaves-open-mount", "void-leaves-open-knife", "void-leaves-open-fence_lock", "void-leaves-open-blade_cut", "void-leaves-open-note", "void-leaves-open-sharpened",
	// what makes a blade ready
	"ready-verdict", "ready-knife-fits", "ready-aligned", "ready-knife-set", "ready-since-knife", "ready-reference-cut", "ready-box",
}

// together are guards that hold one rule between them: where both are off it breaks in
// an exploration in which it holds without either.
var together = []string{"compare-fits + power-fits", "ready-box + written-rings", "compare-knife-set + ready-knife-set"}

// guiding are guards without which no rule breaks, and ready blades go back to check for
// nothing.
var guiding = []string{"change-knife-fits"}

// TestMutants drops each guard in turn, and what each place needs of the saw: one of
// the rules has to break.
func TestMutants(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	needs := procedure.Needs(procedure.New(farSaw.rack(), simpleJudge, procedure.Options{}))
	slices.Sort(needs)
	var table strings.Builder
	row := func(guard string, bad *violation, by string) {
		if bad == nil {
			t.Errorf("nothing breaks without %s", guard)
			return
		}
		fmt.Fprintf(&table, "%-32s %s  %3d events  %s: %s\n", guard, bad.rule, len(bad.path), by, bad.what)
	}
	for _, guard := range slices.Concat(guards, needs) {
		put := drop(guard)
		bad, by := catch(quickFirst())
		put()
		row(guard, bad, by)
	}
	for _, guard := range together {
		bad, by := catchBoth(guard)
		row(guard, bad, by)
	}
	for _, guard := range guiding {
		put := drop(guard)
		if knifeForNobody() {
			t.Errorf("nothing is lost without %s", guard)
		}
		put()
		fmt.Fprintf(&table, "%-32s no rule; ready blades go back to check for nothing\n", guard)
	}
	t.Logf("%d guards dropped alone, %d together, %d that guide\nguard dropped, rule that broke, shortest way to it:\n%s", len(guards)+len(needs), len(together), len(guiding), table.String())
}

// knifeForNobody chooses a knife that the reference must not run with and no blade
// names, after a whole setup, and reports whether an honest hand comes to the end with
// every blade as ready as before.
func knifeForNobody() bool {
	s := trials[0].search()
	profile, saws := s.complete()
	at := saws[len(saws)-1]
	at.interrupted("leave")
	p := procedure.New(profile, s.judge, procedure.Options{Seed: 1})
	before := readyBlades(p)
	s.world.honestly(&p, &at)
	p, _ = p.Apply(procedure.Event{Kind: procedure.Begin, Place: procedure.Place{Step: "change-knife"}})
	if chosen, err := p.Apply(procedure.Event{Kind: procedure.Answer, Place: p.Place(), At: noon, Answers: map[string]string{"knife": "k20"}}); err == nil {
		p = chosen
	} else {
		p, _ = p.Apply(procedure.Event{Kind: procedure.Forward})
	}
	for range 100 {
		if !p.Finished() && !s.world.honestly(&p, &at) {
			break
		}
	}
	return p.Finished() && len(before) > 0 && slices.Equal(before, readyBlades(p))
}

func readyBlades(p procedure.Procedure) (ids []string) {
	for _, row := range p.Plan().Blades {
		if row.Ready {
			ids = append(ids, row.ID)
		}
	}
	return ids
}

// TestAKnifeForNobody: it is refused, and costs nothing.
func TestAKnifeForNobody(t *testing.T) {
	if !knifeForNobody() {
		t.Error("blades went back to check for a knife that no blade can run with")
	}
}

// drop switches guards off, one or several with + between them, until put is called.
func drop(guard string) (put func()) {
	if strings.Contains(guard, " needs ") {
		return procedure.WithoutNeed(guard)
	}
	model.Drop = strings.Split(guard, " + ")
	return func() { model.Drop = nil }
}

// catchBoth looks for a trial that breaks without all of these guards, and holds where
// only one of them is gone.
func catchBoth(guard string) (*violation, string) {
	const limit = 3000
	for _, c := range quickFirst() {
		alone := slices.ContainsFunc(strings.Split(guard, " + "), func(one string) bool {
			defer drop(one)()
			return c.explore(limit).bad != nil
		})
		if alone {
			continue
		}
		put := drop(guard)
		bad := c.explore(limit).bad
		put()
		if bad != nil && strings.HasPrefix(bad.rule, "R") {
			return bad, c.name
		}
	}
	return nil, ""
}

// catch runs trials two at a time until a rule breaks in one: a few states of each
// first, then more.
func catch(trials []trial) (bad *violation, by string) {
	for _, limit := range []int{300, 3000, 0} {
		for pair := range slices.Chunk(trials, 2) {
			found := make([]*violation, len(pair))
			var both sync.WaitGroup
			for i, c := range pair {
				both.Go(func() { found[i] = c.explore(limit).bad })
			}
			both.Wait()
			for i, v := range found {
				if v != nil && strings.HasPrefix(v.rule, "R") {
					return v, pair[i].name
				}
			}
		}
	}
	return nil, ""
}

// quickFirst are the trials, those with few states first.
func quickFirst() []trial {
	out := slices.Clone(trials)
	slow := func(c trial) int {
		wait := c.events.back*10 + c.events.work*5
		if strings.HasPrefix(c.name, "one blade") || strings.HasPrefix(c.name, "knife changed") {
			wait /= 2
		}
		return wait
	}
	slices.SortStableFunc(out, func(a, b trial) int { return slow(a) - slow(b) })
	return out
}
