package stacking

import (
	"math"
	"strings"
	"testing"

	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// Each sentence names the figures that a hand with the kit before it would name.
func TestShortfall(t *testing.T) {
	kit, err := NewKit(rings(0.10, 0.10, 0.25, 0.50))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		goal Goal
		say  []string
	}{
		{"a gap in the kit", Goal{given.MM(0.81), Both(given.MM(0.02)), math.MaxInt64, model.Far},
			[]string{"0.1 mm + 0.25 mm + 0.5 mm = 0.85 mm, is 0.04 mm over the wanted 0.81 mm: 0.02 mm more than the 0.02 mm allowed", "one more ring of 0.04 mm to 0.08 mm with 0.25 mm + 0.5 mm = 0.75 mm"}},
		{"no zone", Goal{given.MM(0.81), Both(0), math.MaxInt64, model.Far}, []string{"and none is allowed", "one more ring of 0.06 mm with"}},
		{"the knife wants the cut away from the fence", Goal{given.MM(0.86), Zone{Toward: given.MM(-0.02), Away: given.MM(0.05)}, math.MaxInt64, model.Far},
			[]string{"0.85 mm, is 0.01 mm short of the wanted 0.86 mm: by its knife the cut face has to lie 0.02 mm or more from the datum face, away from the fence", "one more ring of 0.06 mm to 0.09 mm with 0.25 mm + 0.5 mm"}},
		{"nothing low enough", Goal{given.MM(0.05), Both(given.MM(0.01)), math.MaxInt64, model.Near}, []string{"a ring of 0.04 mm to 0.06 mm would make it"}},
		{"the zone cut by the thread", Goal{given.MM(0.81), Both(given.MM(0.02)), given.MM(0.80), model.Far}, []string{"one more ring of 0.04 mm to 0.05 mm with 0.25 mm + 0.5 mm"}},
		{"the whole kit", Goal{given.MM(1.2), Both(given.MM(0.02)), math.MaxInt64, model.Far}, []string{"whole kit is 0.95 mm high and 1.2 mm is wanted: 0.25 mm is missing", "0.23 mm to 0.27 mm more"}},
		{"the whole kit, no zone", Goal{given.MM(1.2), Both(0), math.MaxInt64, model.Far}, []string{"0.25 mm is missing", "rings of 0.25 mm more"}},
		{"the thread", Goal{given.MM(0.81), Both(given.MM(0.02)), given.MM(0.5), model.Far}, []string{"over the 0.5 mm that the thread allows", "under it is 0.5 mm, 0.31 mm short"}},
		{"no thread at all", Goal{given.MM(0.81), Both(given.MM(0.02)), given.MM(-0.5), model.Far}, []string{"lacks 0.5 mm of thread"}},
		{"negative", Goal{given.MM(-0.2), Both(given.MM(0.02)), given.MM(5), model.Far}, []string{"the wanted height is -0.2 mm"}},
	} {
		fit, err := kit.Best(c.goal)
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, r := range kit.Shortfall(fit, metrology.Words{Unit: model.MM}) {
			all = append(all, r.Text)
		}
		for _, say := range c.say {
			if text := strings.Join(all, "\n"); !strings.Contains(text, say) {
				t.Errorf("%s: %q does not say %q", c.name, text, say)
			}
		}
	}
	fit, err := kit.Best(Goal{given.MM(0.6), Both(0), given.MM(5), model.Far})
	if err != nil || kit.Shortfall(fit, metrology.Words{}) != nil {
		t.Errorf("a stack that fits has a shortfall: %v, %v", kit.Shortfall(fit, metrology.Words{}), err)
	}
}

// The ring that is named as the cure does cure it.
func TestTheCureCures(t *testing.T) {
	kit := rings(0.10, 0.10, 0.25, 0.50)
	for _, ring := range []float64{0.04, 0.06, 0.08} {
		fit, err := Stack(Goal{given.MM(0.81), Both(given.MM(0.02)), math.MaxInt64, model.Far}, append(rings(ring), kit...))
		if err != nil || fit.Verdict != model.In {
			t.Errorf("with a ring of %v mm: %v %v", ring, fit.Verdict, err)
		}
	}
}
