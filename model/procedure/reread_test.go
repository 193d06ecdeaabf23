package procedure_test

import (
	"slices"
	"strconv"
	"testing"

	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
)

// TestReread: going back from a verdict leads to the readings of the half, as long as it
// is known what that shows and this run is about them.
func TestReread(t *testing.T) {
	whole, at := walkTo(t, procedure.New(shop(), solver.Plan, procedure.Options{Seed: 1}), "close")
	back := func(p procedure.Procedure, to string) procedure.Procedure {
		t.Helper()
		p, err := p.Apply(procedure.Event{Kind: procedure.Back, At: at})
		if err != nil || p.Place().String() != to {
			t.Fatalf("back leads to %s: %v", p.Place(), err)
		}
		return p
	}
	void := func(p procedure.Procedure, number string) procedure.Procedure {
		t.Helper()
		p, err := p.Apply(procedure.Event{Kind: procedure.Begin, Place: procedure.Place{Step: "void"}, At: at})
		if err == nil {
			p, err = p.Apply(procedure.Event{Kind: procedure.Answer, Place: p.Place(), At: at, Answers: map[string]string{"number": number, "why": "the wrong half"}})
		}
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	again := back(whole, "reread rip")
	if i := slices.IndexFunc(again.Places(), func(s procedure.PlaceStatus) bool { return s.Current }); i < 0 || again.Places()[i].Place.Blade != "rip" {
		t.Errorf("the list stands at line %d", i)
	}
	p := step(t, again, at)
	n := len(p.Profile().Records)
	if last := p.Profile().Records[n-1]; last.More || len(last.Rings) != 2 || last.Piece != "same" {
		t.Errorf("recorded as %+v", last)
	}
	back(p, "reread rip")

	// two cuts count; the newer one is voided, and nobody knows what the half shows
	p = void(p, strconv.Itoa(n))
	if b := p.State().Blades["rip"]; !b.Half.Unsure || len(b.Cuts) != 1 {
		t.Fatalf("the rip has %+v", b)
	}
	if fresh := back(p, "cut rip"); fresh.View().Fields[0].Key != "piece" {
		t.Errorf("asks for %+v", fresh.View().Fields)
	}

	// one blade again: what was read in an earlier run proves nothing in this one
	again = procedure.New(whole.Profile(), solver.Plan, procedure.Options{Seed: 1, Mode: procedure.OneBlade, Blade: "rip"})
	again, at = walkTo(t, again, "cut")
	back(again, "stop")
	again, at = walkTo(t, again, "close")
	back(again, "reread rip")
}
