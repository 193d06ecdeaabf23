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

// TestCalledByName: blades are chosen by the names that people see, knives by their
// thickness.
func TestCalledByName(t *testing.T) {
	blades := procedure.Field{Kind: procedure.FieldChoice, Options: []string{"a", "b"}, Called: []string{"24-tooth rip", "a"}}
	knives := procedure.Field{Kind: procedure.FieldChoice, Unit: model.MM, Options: []string{"k25", "k22"}, Called: []string{"2.5 mm", "2.2 mm"}}
	for _, c := range []struct {
		field       procedure.Field
		typed, want string
	}{
		{blades, "24-Tooth Rip", "a"}, {blades, "a", "b"}, {blades, "b", "b"}, {blades, "1", "a"}, {blades, " 2 ", "b"}, {blades, "3", ""}, {blades, "rip", ""},
		{knives, "2.5", "k25"}, {knives, "2.50 mm", "k25"}, {knives, "2.2mm", "k22"}, {knives, "k22", "k22"}, {knives, "2", ""}, {knives, "1", ""}, {knives, "2.501", ""},
	} {
		got, err := c.field.Choice(c.typed)
		if got != c.want || (err == nil) != (c.want != "") {
			t.Errorf("%q of %v is %q, %v; want %q", c.typed, c.field.Called, got, err, c.want)
		}
	}
	if _, err := knives.Choice("k3"); err == nil || !strings.Contains(err.Error(), "type 2.5 mm or 2.2 mm") {
		t.Errorf("refused with %v", err)
	}
}

// TestRenamedBlade: until records name it, a blade's id follows its label, so that no id
// tells of another blade.
func TestRenamedBlade(t *testing.T) {
	saw := shop()
	saw.Blades = saw.Blades[:1]
	saw.Blades[0].ID, saw.Blades[0].Label, saw.Blades[0].Bore = "24-tooth-rip", "24-tooth rip", model.Measure{}
	saw.Reference, saw.Standing, saw.Records = "", nil, nil
	p := procedure.New(saw, solver.Plan, procedure.Options{Seed: 1})
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	p = onTheBench(t, p)
	answer := func(label string) (procedure.Procedure, error) {
		return p.Apply(procedure.Event{Kind: procedure.Answer, Place: p.View().Place, At: at,
			Answers: map[string]string{"label": label, "teeth": "48", "diameter": "250", "bore": "30", "knife": "2.5"}})
	}
	for label, id := range map[string]string{"24-tooth rip": "24-tooth-rip", "24-TOOTH RIP": "24-tooth-rip", "24 tooth rip": "24-tooth-rip", "48-tooth general": "48-tooth-general"} {
		next, err := answer(label)
		var r *procedure.Refusal
		if errors.As(err, &r) {
			t.Fatal(label, r.Faults)
		}
		if b := next.Profile().Blades[0]; len(next.Profile().Blades) != 1 || b.ID != id || b.Label != label {
			t.Errorf("%s: %s is called %q", label, b.ID, b.Label)
		}
	}
}

// TestInchShopReadsInches: no millimetre stands on the way to the cuts in an inch shop, but
// where a rule is quoted.
func TestInchShopReadsInches(t *testing.T) {
	saw := shop()
	saw.Units = model.IN
	p, _ := walkTo(t, procedure.New(saw, solver.Plan, procedure.Options{Seed: 1}), "arbor")
	if text := strings.Join(p.View().Why, " "); strings.Contains(text, "mm") || !strings.Contains(text, "0.001 in") {
		t.Error(text)
	}
}

// TestNameOfABladeThatLeft stays its own: what was read of it stands under that name.
func TestNameOfABladeThatLeft(t *testing.T) {
	for n, says := range []string{"another blade is called rip", "a blade that has left the rack is called rip", "another blade is called rip", "a blade that has left the rack is called rip"} {
		retired, typed := n%2 == 1, []string{"Rip", "r1p"}[n/2] // a digit that looks like the letter
		saw := shop()
		saw.Blades[1].Retired = retired
		p, at := walkTo(t, procedure.New(saw, solver.Plan, procedure.Options{Seed: 1}), "who")
		p, err := p.Apply(procedure.Event{Kind: procedure.Begin, Place: procedure.Place{Step: "blade"}, At: at})
		if err != nil {
			t.Fatal(err)
		}
		p = onTheBench(t, p)
		_, err = p.Apply(procedure.Event{Kind: procedure.Answer, Place: p.View().Place, At: at,
			Answers: map[string]string{"label": typed, "teeth": "24", "diameter": "250", "bore": "30", "knife": "2.5"}})
		var r *procedure.Refusal
		if !errors.As(err, &r) || len(r.Faults) != 1 || !strings.Contains(r.Faults[0].Text, says) {
			t.Errorf("%s, retired %v: %v", typed, retired, err)
		}
	}
}
