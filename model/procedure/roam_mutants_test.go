//go:build mutants

package procedure_test

import (
	"fmt"
	"math/rand/v2"
	"runtime/debug"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/testdata/roam"
)

// mostWalks are made before a guard counts as missed by walks.
const mostWalks = 400

// TestRoamMissesNoGuard drops each guard in turn, and counts the walks until a rule breaks.
// The seeds are fixed, so that it counts the same each time.
func TestRoamMissesNoGuard(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	needs := procedure.Needs(procedure.New(farSaw.rack(), simpleJudge, procedure.Options{}))
	slices.Sort(needs)
	all, missed := slices.Concat(guards, needs, together), []string(nil)
	for i, guard := range all {
		walks, why := roamUntilBroken(guard)
		if why == nil {
			missed = append(missed, guard)
		}
		what, _, _ := strings.Cut(fmt.Sprint(why), "\n")
		fmt.Printf("%3d of %d  %-44s %3d walks  %s\n", i+1, len(all), guard, walks, what)
	}
	if len(missed) > 0 {
		t.Errorf("%d of %d guards were not missed in %d walks: %s", len(missed), len(all), mostWalks, strings.Join(missed, ", "))
	}
}

func roamUntilBroken(guard string) (walks int, why error) {
	defer drop(guard)()
	from := starts{}
	for walks = range mostWalks {
		dice := rand.New(rand.NewPCG(1, uint64(walks)))
		choose := func(n int, _ string) int { return dice.IntN(n) }
		r, err := from.at(choose)
		if err == nil {
			err = roam.Walk(r, 30, choose)
		}
		if err != nil && strings.HasPrefix(err.Error(), "R") {
			return walks + 1, err
		}
	}
	return walks + 1, nil
}
