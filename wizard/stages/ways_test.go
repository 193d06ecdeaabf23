package stages

import (
	"strings"
	"testing"

	"example.com/sawdatum/model"
)

// TestWaysOutOfAnOut: a blade that cuts narrow is cleaned, cut again, and gets other rings;
// the others are compared as if nothing had been.
func TestWaysOutOfAnOut(t *testing.T) {
	h := newSetUp(t)
	rips, ways := 0, 0
	for range 300 {
		if h.p.Finished() {
			break
		}
		own := map[string]string{"clean found": "dust"}
		switch v := h.p.View(); {
		case v.Place.String() == "strip rip-24":
			if rips++; rips <= 4 {
				own["strip readings"] = "139.97 139.96 139.97"
			}
		case v.Place.Step == "ways":
			own["ways way"] = [...]string{"clean", "rings"}[min(ways, 1)]
			ways++
		}
		h.step(own)
	}
	way := strings.Join(h.way, ", ")
	if ways != 2 || rips != 6 || strings.Count(way, "clean rip-24") != 1 {
		t.Errorf("%d ways, %d rips: %s", ways, rips, way)
	}
	row, _ := h.p.Plan().Row("rip-24")
	if row.Basis != model.Measured || len(row.Stack) != 0 {
		t.Errorf("it runs with %v, %s", row.Stack, row.Verdict)
	}
	for _, id := range []string{"crosscut-80", "general-48"} {
		if row, _ := h.p.Plan().Row(id); row.Verdict != model.In || !row.Inside {
			t.Errorf("%s is %s: %v", id, row.State, row.Reasons)
		}
	}
}
