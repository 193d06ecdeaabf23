package stages

import (
	"slices"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
)

// A ring behind the blade in the saw is not measured there, for the saw may be live; its
// like on the bench is.
func TestRingInTheSawIsNotMeasured(t *testing.T) {
	h := setUp(t)
	h.at = h.at.AddDate(0, 0, 1)
	h.again(procedure.Options{Mode: procedure.Swap, Blade: "crosscut-80", Seed: 3})
	h.toTheEnd(nil)
	p := h.p.Profile()
	i := slices.IndexFunc(p.Rings, func(r model.Ring) bool { return r.ID == h.p.State().On.Rings[0] })
	for count, taken := range map[int]bool{1: false, 2: true} {
		p.Rings = slices.Clone(p.Rings)
		p.Rings[i].Count = count
		o := procedure.Options{Seed: 3}
		now, err := procedure.New(p, House(o), solver.Judge, o).Apply(procedure.Event{Kind: procedure.Begin, At: h.at, Place: procedure.Place{Step: "ring-measured"}})
		if err != nil {
			t.Fatal(err)
		}
		if now, err = now.Apply(procedure.Event{Kind: procedure.Answer, At: h.at, Visit: now.View().Visit, Answers: procedure.Answers{"where": "bench"}}); err != nil {
			t.Fatal(err)
		}
		v := now.View()
		_, err = now.Apply(procedure.Event{Kind: procedure.Answer, At: h.at, Visit: v.Visit,
			Answers: procedure.Answers{"ring": p.Rings[i].Label(), "measured": v.Context().Show(p.Rings[i].Height())}})
		if (err == nil) != taken {
			t.Errorf("%d of the sort, one of them in the saw: %v", count, err)
		}
	}
}
