package procedure_test

import (
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// TestARingThatRecordsNameStaysOnTheList: who types the kit anew without a ring that
// was on the arbor once must not make the old records name nothing.
func TestARingThatRecordsNameStaysOnTheList(t *testing.T) {
	now := time.Date(2026, 3, 2, 7, 30, 0, 0, time.UTC)
	retype := func(p model.Profile, kit string) (procedure.Procedure, error) {
		proc, err := procedure.New(p, simpleJudge, procedure.Options{}).Apply(procedure.Event{Kind: procedure.Begin, At: now, Place: procedure.Place{Step: "rings"}})
		if err != nil {
			t.Fatal(err)
		}
		return proc.Apply(procedure.Event{Kind: procedure.Answer, At: now, Place: proc.Place(), Answers: map[string]string{"kit": kit, "outer": "78"}})
	}
	p := shop()
	p.Records = []model.Record{{At: now, By: "KB", Kind: model.Mount, Blade: "rip", Rings: []string{"r10", "r10"}}}
	proc, err := retype(p, "0.25")
	if err != nil {
		t.Fatal(err)
	}
	r, ok := proc.Profile().RingByID("r10")
	if f := proc.Profile().Validate(); !ok || r.Count != 0 || len(f) > 0 {
		t.Errorf("%+v %v", r, f)
	}
	if proc, err = retype(proc.Profile(), "0.10x3 0.25"); err != nil {
		t.Fatal(err)
	}
	if r, _ := proc.Profile().RingByID("r10"); r.Count != 3 || len(proc.Profile().Rings) != 2 {
		t.Errorf("found again: %+v", proc.Profile().Rings)
	}
	p.Standing = []string{"r25"}
	if _, err := retype(p, "0.10x2"); err == nil {
		t.Error("a ring that stands behind the reference goes")
	}
}

func TestAKnifeThatRecordsNameStaysOnTheList(t *testing.T) {
	now := time.Date(2026, 3, 2, 7, 30, 0, 0, time.UTC)
	p := shop()
	p.Knives = append(p.Knives, model.Knife{ID: "k22", Thickness: (22 * model.Millimetre / 10).Of(model.MM)})
	retype := func(p model.Profile) error {
		proc, err := procedure.New(p, simpleJudge, procedure.Options{}).Apply(procedure.Event{Kind: procedure.Begin, At: now, Place: procedure.Place{Step: "knives"}})
		if err != nil {
			t.Fatal(err)
		}
		_, err = proc.Apply(procedure.Event{Kind: procedure.Answer, At: now, Place: proc.Place(), Answers: map[string]string{"thickness": "2.5"}})
		return err
	}
	if err := retype(p); err != nil {
		t.Error(err)
	}
	p.Records = []model.Record{{At: now, By: "KB", Kind: model.KnifeSet, Knife: "k22"}}
	if retype(p) == nil {
		t.Error("a knife that a record names goes")
	}
}
