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

// TestPictureAfterAnOut: once a blade was cut, the picture of the arbor says of the rings
// that are typed what the cut foretells, as the order and the verdict do: not what the
// micrometer did.
func TestPictureAfterAnOut(t *testing.T) {
	h := newSetUp(t)
	out := false
	for range 300 {
		v := h.p.View()
		if out && v.Place.Step == "mount" {
			break
		}
		own := map[string]string{}
		if v.Place.String() == "strip rip-24" {
			own["strip readings"] = "140.30 140.30 140.30"
		}
		if v.Place.Step == "ways" {
			own["ways way"], out = "rings", true
		}
		h.step(own)
	}
	v := h.p.View()
	row, _ := h.p.Plan().Row("rip-24")
	way, ok := row.Ways[len(row.Ways)-1], false
	for _, w := range row.Ways {
		if w.Kind == model.WayStack {
			way, ok = w, true
		}
	}
	if !ok || row.Offset < 130*micron || v.Title != "Mount the 24-tooth rip" {
		t.Fatalf("%s: %+v", v.Title, row)
	}
	rings, say := v.Context().RingsTyped, func(on string) string { return v.Picture(map[string]string{"on": on}).Sentence() }
	if got := say("24 " + rings(row.Stack)); !strings.Contains(got, "The knife stands "+row.Offset.Show(model.MM, micron)+" into the part") || !strings.Contains(got, "too wide") {
		t.Errorf("the rings that were cut: %s", got)
	}
	if got := say("24 " + rings(way.Stack)); !strings.Contains(got, way.Expect.Abs().Show(model.MM, micron)+" ") || !strings.Contains(got, "inside the tolerance") {
		t.Errorf("those that are ordered, %s to be expected: %s", way.Expect.Show(model.MM, micron), got)
	}
}

const micron = mm / 1000
