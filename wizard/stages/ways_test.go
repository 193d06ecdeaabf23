package stages

import (
	"strconv"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
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
			waysAreNumbered(t, v)
			own["ways way"] = [...]string{"clean", "rings"}[min(ways, 1)]
			ways++
		}
		h.step(own)
	}
	way := strings.Join(h.way, ", ")
	if ways < 2 || rips < 6 || strings.Count(way, "clean rip-24") != 1 { // of one rip the saw of practice may want another look
		t.Errorf("%d ways, %d rips: %s", ways, rips, way)
	}
	row, _ := h.p.Plan().Row("rip-24")
	if row.Verdict != model.In || strings.Join(row.Stack, " ") != "r15" {
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

// TestOwnRings: where nothing was found and nothing speaks for other rings, the blade cannot
// be brought in, and its user may still put on others and sees the chance. Rings that were
// chosen are ripped, though the last ones left the knife outside its kerf.
func TestOwnRings(t *testing.T) {
	const blade = "rip-24"
	h := newSetUp(t)
	widths := map[int]string{1: "140.02 140.03 140.02", 0: "140.26 140.27 140.26"} // narrow with its ring, too wide without
	var titles []string
	for range 300 {
		if h.p.Finished() {
			break
		}
		own := map[string]string{"clean found": "nothing"}
		switch v := h.p.View(); {
		case v.Place.String() == "strip "+blade:
			own["strip readings"] = widths[len(stand(v.Context(), blade).stack)]
			if len(titles) == 4 {
				own["strip readings"] = "140.14 140.13 140.14"
			}
		case v.Place.Step == "ways":
			titles = append(titles, v.Title)
			own["ways way"] = [...]string{"clean", "rings"}[(len(titles)-1)%2]
			if row, _ := v.Context().Plan.Row(blade); len(titles) == 4 && (row.Verdict != model.Cannot || !strings.Contains(strings.Join(v.Do, " "), "rings: 0.15 mm, chance under 1 %")) {
				t.Errorf("%s: %v", row.Verdict, v.Do)
			}
		}
		h.step(own)
	}
	row, _ := h.p.Plan().Row(blade)
	if len(titles) != 4 || titles[3] != "Not brought in: 24-tooth rip" || strings.Join(row.Stack, " ") != "r15" || row.Verdict != model.In {
		t.Errorf("%q: it runs with %v, %s after %s", titles, row.Stack, row.Verdict, strings.Join(h.way, ", "))
	}
}

// TestNothingSettlesIt: a blade of which two strips say that no further one settles it is
// not left without a way on; and one that was left is taken up by a run of its own.
func TestNothingSettlesIt(t *testing.T) {
	const blade = "rip-24"
	h := newSetUp(t)
	rips := 0
	ways := func(own map[string]string) {
		for range 300 {
			if h.p.Finished() {
				return
			}
			if h.p.View().Place.String() == "strip "+blade {
				own["strip readings"] = [...]string{"140.04 140.04 140.05", "140.05 140.04 140.04"}[rips%2] // 0.097 narrow of 0.1
				rips++
			}
			h.step(own)
		}
	}
	ways(map[string]string{"ways way": "later"})
	row, _ := h.p.Plan().Row(blade)
	if row.Verdict != model.Doubtful || len(row.Further) > 0 || rips != 2 || !strings.Contains(strings.Join(h.way, ", "), "ways rip-24") {
		t.Fatalf("%s, %d strips, %v: %s", row.Verdict, rips, row.Further, strings.Join(h.way, ", "))
	}
	h.at = h.at.AddDate(0, 0, 1)
	h.again(procedure.Options{Mode: procedure.OneBlade, Blade: blade, Seed: 4})
	h.toTheEnd(map[string]string{"ways way": "rings", "fence fence": "moved"})
	if row, _ = h.p.Plan().Row(blade); row.Verdict != model.In || strings.Contains(strings.Join(h.way, ", "), "reason") {
		t.Errorf("it runs with %v, %s after %s", row.Stack, row.Verdict, strings.Join(h.way, ", "))
	}
}

// waysAreNumbered: each way on is told at the number that the field takes for it, beside the strips
// that were judged, all of them read.
func waysAreNumbered(t *testing.T, v procedure.View) {
	t.Helper()
	for i, line := range v.Do {
		name, _, _ := strings.Cut(line, ":")
		if chosen, err := v.Fields[0].Choice(strconv.Itoa(i + 1)); err != nil || chosen != name {
			t.Errorf("line %d is %q, and %d chooses %q: %v", i+1, line, i+1, chosen, err)
		}
	}
	if said := v.Picture(nil).Sentence(); len(v.Do) < 2 || !strings.Contains(said, "than the reference strips") || strings.Contains(said, "not read") {
		t.Errorf("%d ways beside %q", len(v.Do), said)
	}
}
