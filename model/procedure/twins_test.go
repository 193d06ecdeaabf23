package procedure_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
)

// TestTwins has two blades with as many teeth: every gate at which the teeth are
// counted asks for the name too, and the other one's does not open it.
func TestTwins(t *testing.T) {
	profile := shop()
	profile.Blades[0].Label, profile.Blades[1].Label = "48-tooth general", "48-tooth hollow"
	profile.Blades[1].Teeth = 48
	p, at := procedure.New(profile, solver.Plan, procedure.Options{Seed: 1}), time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	asked := map[string]bool{}
	for range 60 {
		if p.Finished() {
			break
		}
		v, answers := p.View(), map[string]string{}
		for _, f := range v.Fields {
			answers[f.Key] = plausible(p, v, f)
		}
		if _, counts := answers["teeth"]; counts {
			asked[v.Place.Step] = true
			on, other := "48-tooth general", "48-tooth hollow"
			if v.Place.Blade == "rip" || p.State().Mounted != nil && v.Place.Step == "power" && p.State().Mounted.Blade == "rip" {
				on, other = other, on
			}
			for _, name := range []string{"", "48", other, "general", "rip"} {
				answers["name"] = name
				var r *procedure.Refusal
				if _, err := p.Apply(procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: answers, At: at}); !errors.As(err, &r) || len(r.Faults) != 1 || r.Faults[0].Field != "name" {
					t.Errorf("%s: the name %q is taken: %v", v.Place, name, err)
				}
			}
			answers["name"] = strings.ToUpper(on)
		}
		next, err := p.Apply(procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: answers, At: at})
		if err != nil {
			t.Fatalf("%s: %v", v.Place, err)
		}
		p, at = next, at.Add(time.Minute)
	}
	for _, step := range []string{"mount", "knife", "power"} {
		if !asked[step] {
			t.Errorf("the teeth were not counted at %s", step)
		}
	}
}
