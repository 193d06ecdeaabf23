package procedure_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
)

// walkTo answers as an honest hand at a good saw does, up to a place.
func walkTo(t *testing.T, p procedure.Procedure, step string) (procedure.Procedure, time.Time) {
	t.Helper()
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	for range 60 {
		v := p.View()
		if v.Place.Step == step {
			return p, at
		}
		answers := map[string]string{}
		for _, f := range v.Fields {
			answers[f.Key] = plausible(p, v, f)
		}
		next, err := p.Apply(procedure.Event{Kind: procedure.Answer, Place: v.Place, Answers: answers, At: at})
		if err != nil {
			t.Fatalf("%s: %v", v.Place, err)
		}
		p, at = next, at.Add(time.Minute)
	}
	t.Fatalf("no way to %s", step)
	return p, at
}

// TestFenceThatClosesIsTurned: no blade turns before a fence that closes toward the rear
// is turned. Two readings of a parallel fence may differ by 0.001 in (0.0254 mm, common
// practice); one that opens by more than 0.005 in is asked about, one by half a millimetre
// is no fence.
func TestFenceThatClosesIsTurned(t *testing.T) {
	p, at := walkTo(t, procedure.New(shop(), solver.Plan, procedure.Options{Seed: 1}), "align")
	for rear, refused := range map[string]bool{
		"120.03": false, "119.9746": false, "119.9745": true, "119.95": true, "118": true, "120.1271": true, "120.51": true, "122.9": true,
	} {
		answers := map[string]string{"slot_front": "95", "slot_rear": "95.02", "fence_front": "120.00", "fence_rear": rear, "span": "200"}
		next, err := p.Apply(procedure.Event{Kind: procedure.Answer, Place: p.View().Place, Answers: answers, At: at})
		var r *procedure.Refusal
		switch {
		case errors.As(err, &r) != refused:
			t.Errorf("%s: %v", rear, err)
		case refused && (!strings.Contains(r.Faults[0].Text, "rear end")):
			t.Errorf("%s: %v", rear, r.Faults)
		case !refused && next.View().Place.Step != "power":
			t.Errorf("%s: %v comes next", rear, next.View().Place)
		}
	}
}

// TestNoWorkWithAnotherKnife: a blade that waits for its knife gets no setting to be run
// with in the meantime.
func TestNoWorkWithAnotherKnife(t *testing.T) {
	saw := shop()
	thin := &saw.Blades[len(saw.Blades)-1]
	saw.Knives = append(saw.Knives, model.Knife{ID: "k20", Thickness: model.Length(2_000_000).Of(model.MM)})
	thin.Knife = "k20"
	saw.Rings = saw.Rings[:1] // it cannot be brought in either
	p, _ := walkTo(t, procedure.New(saw, solver.Plan, procedure.Options{Seed: 1}), "leave")
	if p.View().Place.Blade != thin.ID {
		t.Fatalf("%s is left first", p.View().Place.Blade)
	}
	do := strings.Join(p.View().Do, " ")
	if !strings.Contains(do, "the knife of 2 mm, and the one of 2.5 mm is set now") || strings.Contains(do, "set the fence scale") {
		t.Error(do)
	}
}
