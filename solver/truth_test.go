package solver

import (
	"testing"

	"example.com/sawdatum/testdata/given"
	"example.com/sawdatum/testdata/invented"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/gauging"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/solver/simsaw"
)

// What the first harmonic and the two clockings say of a saw is what it truly does:
// clocked as told, the blade runs with the total reading that was foretold.
func TestClockingAsTold(t *testing.T) {
	for seed := range uint64(40) {
		p, saw := invented.Shop(seed, model.Far)
		on := simsaw.Setup{Blade: p.Blades[0].ID}
		mounted := saw.RimDial(on, 24)
		on.Clocks = 180
		w, err := gauging.Separate(mounted, saw.RimDial(on, 24), 180)
		if err != nil {
			t.Fatal(err)
		}
		turn, total := w.Best()
		on.Clocks = turn
		h, err := gauging.FirstHarmonic(saw.RimDial(on, 24))
		if err != nil {
			t.Fatal(err)
		}
		if (h.Total-total).Abs() > 1_500 || h.Total > w.Now()+1_500 {
			t.Errorf("seed %d: turned by %.0f it reads %v, foretold %v, before %v", seed, turn, h.Total, total, w.Now())
		}
	}
}

// The cursor moved as told, the saw rips what its scale says at the working width.
func TestCursorAsTold(t *testing.T) {
	for seed := range uint64(40) {
		p, saw := invented.Shop(seed, model.Near)
		on, width := simsaw.Setup{Blade: p.Blades[0].ID}, p.WorkingWidth.Length
		rip := func(setting model.Length) model.Length {
			return saw.ReadStrip(saw.RipStrip(on, saw.SetFence(setting)), 0, 1)[0]
		}
		var pairs []model.Pair
		for _, set := range []float64{60, 80, 100, 120, 140, 160, 180} {
			pairs = append(pairs, model.Pair{Set: given.MM(set).Of(model.MM), Read: rip(given.MM(set)).Of(model.MM)})
		}
		before := (rip(width) - width).Abs()
		f, err := gauging.FitScale(pairs, width, metrology.WordsOf(p))
		if err != nil {
			t.Fatal(err)
		}
		saw = saw.MoveCursor(f.Cursor)
		if after := (rip(width) - width).Abs(); after > given.MM(0.05) && after > before {
			t.Errorf("seed %d: %v off after moving the cursor by %v, %v before", seed, after, f.Cursor, before)
		}
		// Setting noise of 0.01 mm, a caliper's own scatter and steps: four of them.
		if after := (rip(width) - width).Abs(); after > given.MM(0.06) {
			t.Errorf("seed %d: %v off after moving the cursor by %v", seed, after, f.Cursor)
		}
	}
}
