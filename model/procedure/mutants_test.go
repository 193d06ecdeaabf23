//go:build mutants

package procedure_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"testing"

	"example.com/sawdatum/model"
)

// guards are all that can be switched off in the test build. What voiding undoes of
// scale, arbor and reference cut has no switch here: no rule breaks without it, since
// the places behind it ask anew.
var guards = []string{
	// what the sequencer asks of the saw
	"isolated-for-hands", "checked-for-power", "blade-mounted", "fence-untouched", "board-ripped", "reference-before-cut", "run-down-slow", "standstill-forgotten",
	// what a run knows
	"start-unknown", "idle-voids-power", "idle-voids-fence", "suspend-voids-power", "suspend-voids-fence", "fence-moved-recorded", "place-named",
	"back-keeps-readings", "correction-is-a-new-record", "reread-is-a-new-record",
	// the fields of the gates
	"run-down", "gate-word", "dead-proof", "isolated-how", "isolated-by",
	"power-teeth", "power-rings", "power-nut", "power-mark", "power-knife", "power-throat", "power-tools", "power-people", "power-word", "power-fits",
	// what the records say
	"arbor-moves-datum", "sharpened-moves-datum", "datum-reference", "datum-standing", "cut-reference",
	"knife-voids-proofs", "knife-datum", "fitted-unaligned", "unlock-voids-board", "fence-moved-voids-lock", "scale-voids-lock", "sharpened-voids-cuts",
	"fresh-piece", "fresh-after-work",
	"void-leaves-open-mount", "void-leaves-open-knife", "void-leaves-open-fence_lock", "void-leaves-open-blade_cut",
	// what makes a blade ready
	"ready-verdict", "ready-knife-fits", "ready-aligned", "ready-knife-set", "ready-since-knife", "ready-reference-cut",
}

// TestMutants drops each guard in turn: one of the rules has to break.
func TestMutants(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	defer func() { model.Drop = "" }()
	var table strings.Builder
	for _, guard := range guards {
		model.Drop = guard
		bad, by := catch(quickFirst())
		if bad == nil {
			t.Errorf("nothing breaks without the guard %s", guard)
			continue
		}
		fmt.Fprintf(&table, "%-32s %s  %3d events  %s: %s\n", guard, bad.rule, len(bad.path), by, bad.what)
	}
	t.Logf("guard dropped, rule that broke, shortest way to it:\n%s", table.String())
}

// catch runs trials two at a time until a rule breaks in one.
func catch(trials []trial) (bad *violation, by string) {
	for pair := range slices.Chunk(trials, 2) {
		found := make([]*violation, len(pair))
		var both sync.WaitGroup
		for i, c := range pair {
			both.Go(func() { found[i] = c.explore().bad })
		}
		both.Wait()
		for i, v := range found {
			if v != nil && strings.HasPrefix(v.rule, "R") {
				return v, pair[i].name
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

// TestGuardsListed finds guards in the code that no mutant drops.
func TestGuardsListed(t *testing.T) {
	named := regexp.MustCompile(`(?:Dropped\(|holds\(|guard: *|guard = )"([a-z-]+)"`)
	found := 0
	for _, dir := range []string{"..", ".", "../../solver"} {
		files, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range named.FindAllStringSubmatch(string(text), -1) {
				found++
				if name := m[1]; !strings.HasSuffix(name, "-") && !slices.Contains(guards, name) {
					t.Errorf("%s: no mutant drops the guard %s", file, name)
				}
			}
		}
	}
	if found < 30 {
		t.Errorf("only %d guards found in the code", found)
	}
}
