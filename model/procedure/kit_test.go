package procedure_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

var ringsAt = time.Date(2026, 3, 2, 7, 30, 0, 0, time.UTC)

// kit opens the kit of a profile: its fields as they stand.
func kit(t *testing.T, p model.Profile) (procedure.Procedure, map[string]string) {
	t.Helper()
	proc, err := procedure.New(p, simpleJudge, procedure.Options{}).Apply(procedure.Event{Kind: procedure.Begin, At: ringsAt, Place: procedure.Place{Step: "rings"}})
	if err != nil {
		t.Fatal(err)
	}
	proc = onTheBench(t, proc)
	stands := map[string]string{}
	for _, f := range proc.View().Fields {
		stands[f.Key] = f.Value
	}
	return proc, stands
}

// typedKit answers the kit as it stands, but for some fields.
func typedKit(t *testing.T, p model.Profile, but ...string) (model.Profile, error) {
	t.Helper()
	proc, answers := kit(t, p)
	for i := 0; i < len(but); i += 2 {
		answers[but[i]] = but[i+1]
	}
	next, err := proc.Apply(procedure.Event{Kind: procedure.Answer, At: ringsAt, Place: proc.Place(), Answers: answers})
	return next.Profile(), err
}

func ringsOf(p model.Profile) (rows []string) {
	for _, r := range p.Rings {
		rows = append(rows, r.ID+" "+r.Row())
	}
	return rows
}

// TestTheKitAsItOpensIsLeftAsItIs: a ring of another size, one that was never measured, one
// in inches that the shop reads in millimetres.
func TestTheKitAsItOpensIsLeftAsItIs(t *testing.T) {
	p := shop()
	p.Rings[1].Measured, p.Rings[1].Outer, p.Rings[0].Outer = model.Measure{Length: 248_000, Unit: model.MM}, model.Measure{Length: 60 * model.Millimetre, Unit: model.MM}, model.Measure{}
	p.Rings[0].HalfWidth = model.Measure{Length: 5000, Unit: model.MM}
	p.Rings = append(p.Rings, model.Ring{ID: "odd", Thickness: model.Measure{Length: 100_000, Unit: model.IN}, Count: 0, Outer: model.Measure{Length: 3 * model.Inch, Unit: model.Fraction}})
	p.Records = []model.Record{{At: ringsAt, By: "KB", Kind: model.Mount, Blade: "rip", Rings: []string{"odd"}}}
	before := slices.Clone(p.Rings)
	after, err := typedKit(t, p)
	if err != nil || !slices.Equal(after.Rings, before) {
		t.Errorf("%v: %+v became %+v", err, before, after.Rings)
	}
	after, err = typedKit(t, p, "ring r10", "0.10 0.101 - 2")
	if r, _ := after.RingByID("r10"); err != nil || r.HalfWidth != p.Rings[0].HalfWidth || r.Measured.Length != 101_000 {
		t.Errorf("measured: %+v, %v", r, err)
	}
}

func TestKitRows(t *testing.T) {
	for _, c := range []struct {
		name string
		but  []string
		want string
		bad  string
	}{
		{"one measured", []string{"ring r25", "0.25 0.248 78 1"}, "r10 0.1mm - 78mm 2, r25 0.25mm 0.248mm 78mm 1", ""},
		{"one lost", []string{"ring r10", "0.10 - 78 1"}, "r10 0.1mm - 78mm 1, r25 0.25mm - 78mm 1", ""},
		{"all of one lost", []string{"ring r10", "0.10 - 78 0"}, "r25 0.25mm - 78mm 1", ""},
		{"two bought", []string{"kit", "0.50x2", "outer", "80"}, "r10 0.1mm - 78mm 2, r25 0.25mm - 78mm 1, r50 0.5mm - 80mm 2", ""},
		{"bought and measured", []string{"kit", "0.50", "outer", "80", "measured", "0.501"}, "r10 0.1mm - 78mm 2, r25 0.25mm - 78mm 1, r50 0.5mm 0.501mm 80mm 1", ""},
		{"mistyped once", []string{"ring r25", "0.30 - 78 1"}, "r10 0.1mm - 78mm 2, r30 0.3mm - 78mm 1", ""},
		{"bought without its size", []string{"kit", "0.50"}, "", "outer diameter"},
		{"bought, and has a row", []string{"kit", "0.25", "outer", "78"}, "", "has a row above"},
		{"mistyped as another", []string{"ring r25", "0.10 - 78 1"}, "", "a row of its own"},
		{"half a row", []string{"ring r25", "0.25 0.248"}, "", "four things"},
		{"measures far off", []string{"ring r25", "0.25 0.48 78 1"}, "", "measured for a ring of 0.25 mm"},
		{"more than a stack is made of", []string{"ring r25", "0.25 - 78 40"}, "", "at most 32"},
	} {
		p, err := typedKit(t, shop(), c.but...)
		if c.bad != "" {
			if err == nil || !strings.Contains(err.Error(), c.bad) {
				t.Errorf("%s: %v, want a fault with %q", c.name, err, c.bad)
			}
			continue
		}
		if got := strings.Join(ringsOf(p), ", "); err != nil || got != c.want {
			t.Errorf("%s: %s %v, want %s", c.name, got, err, c.want)
		}
	}
}

// TestARingThatRecordsNameStaysOnTheList: who types that none is left of a ring that was
// on the arbor once must not make the old records name nothing.
func TestARingThatRecordsNameStaysOnTheList(t *testing.T) {
	p := shop()
	p.Records = []model.Record{{At: ringsAt, By: "KB", Kind: model.Mount, Blade: "rip", Rings: []string{"r10", "r10"}}}
	lost, err := typedKit(t, p, "ring r10", "0.10 - 78 0")
	if err != nil {
		t.Fatal(err)
	}
	r, ok := lost.RingByID("r10")
	if f := lost.Validate(); !ok || r.Count != 0 || len(f) > 0 {
		t.Errorf("%+v %v", r, f)
	}
	found, err := typedKit(t, lost, "ring r10", "0.10 - 78 3")
	if r, _ := found.RingByID("r10"); err != nil || r.Count != 3 || len(found.Rings) != 2 {
		t.Errorf("found again: %+v %v", found.Rings, err)
	}
	if _, err := typedKit(t, p, "ring r10", "0.12 - 78 2"); err == nil || !strings.Contains(err.Error(), "leave its thickness") {
		t.Errorf("the ring of a record gets another thickness: %v", err)
	}
	p.Standing = []string{"r25"}
	if _, err := typedKit(t, p, "ring r25", "0.25 - 78 0"); err == nil || !strings.Contains(err.Error(), "stands behind the reference") {
		t.Errorf("a ring that stands behind the reference goes: %v", err)
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
		proc = onTheBench(t, proc)
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
