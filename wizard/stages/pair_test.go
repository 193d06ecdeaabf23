package stages

import (
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
)

// TestProveTheReference: the reference is held against a ready blade, and a pair that agrees
// renews both (job.md, After the setup). Its strips stay what the others are compared with.
func TestProveTheReference(t *testing.T) {
	h := setUp(t)
	h.at = h.at.AddDate(0, 0, 40)
	h.again(procedure.Options{Mode: procedure.Prove, Blade: "general-48", Seed: 3})
	h.toTheEnd(nil)
	way := strings.Join(h.way, ", ")
	other := "rip-24" // the first of the rack that may be used
	if strings.Count(way, "mount") != 2 {
		t.Errorf("a pair takes two mountings: %s", way)
	}
	for _, id := range []string{"general-48", other} {
		row, _ := h.p.Plan().Row(id)
		if !strings.Contains(way, "proof "+id) || (row.State != model.StateReady || row.ProvedAt.Before(h.at.AddDate(0, 0, -1))) {
			t.Errorf("after a pair the %s is %s, proved %s, %v: %s", id, row.State, row.ProvedAt, row.Reasons, way)
		}
	}
	for _, s := range h.p.State().Strips {
		if s.Blade == "general-48" && s.For == model.ForBlade {
			t.Errorf("a strip of the reference is on record as one of a blade that is compared")
		}
	}
}
