package solver

import (
	"math"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/simsaw"
)

// A saw that shares no formula with the solver knows the true offsets. The measured
// ones hold them within U at least as often as GUM's 95.45 %, and prediction finds
// them to the wobble that nobody read.
func TestOffsetsHoldTheTruth(t *testing.T) {
	var held, cuts, seen, near float64
	for seed := range uint64(400) {
		flange := []model.Flange{model.Far, model.Near}[seed%2]
		p, saw := simsaw.Random(seed, flange)
		reference := p.Blades[0]
		fence, caliper := saw.SetFence(p.WorkingWidth.Length), p.Instruments.Caliper.Length
		width := saw.Rip(simsaw.Setup{Blade: reference.ID}, fence, 0)
		widths := saw.Widths(width, 3)
		for i, b := range p.Blades[1:] {
			truth := saw.CutFace(reference.ID, nil) - saw.CutFace(b.ID, nil)
			other := saw.Rip(simsaw.Setup{Blade: b.ID}, fence, 0)
			o, err := MeasuredOffset(saw.Widths(other, 3), widths, caliper)
			if i%2 == 0 {
				o, err = MeasuredByDifference(saw.Differences(other, width, 3), widths, caliper)
			}
			if err != nil {
				t.Fatal(err)
			}
			cuts++
			if (o.Value - truth).Abs() <= o.U {
				held++
			}
			predicted, err := PredictedOffset(flange, reference, b, p.Instruments.Micrometer.Length)
			if err != nil {
				t.Fatal(err)
			}
			// Wobbles of at most 12 um at the rim and 4 um at the flange, grown by 250/80.
			seen++
			if (predicted.Value - truth).Abs() <= predicted.U+25_000 {
				near++
			}
		}
	}
	t.Logf("U holds the true offset in %.2f %%", 100*held/cuts)
	if rate := held / cuts; rate < 0.9545-3*math.Sqrt(0.9545*0.0455/cuts) {
		t.Errorf("U holds the true offset in %.2f %% of %v cuts", 100*rate, cuts)
	}
	if near < seen {
		t.Errorf("%v of %v predictions are farther off than the wobble", seen-near, seen)
	}
}

// What the first harmonic and the two clockings say of a saw is what it truly does:
// clocked as told, the blade runs with the total reading that was foretold.
func TestClockingAsTold(t *testing.T) {
	for seed := range uint64(40) {
		p, saw := simsaw.Random(seed, model.Far)
		on := simsaw.Setup{Blade: p.Blades[0].ID}
		mounted := saw.RimDial(on, 24)
		on.Clocks = 180
		w, err := Separate(mounted, saw.RimDial(on, 24), 180)
		if err != nil {
			t.Fatal(err)
		}
		turn, total := w.Best()
		on.Clocks = turn
		h, err := FirstHarmonic(saw.RimDial(on, 24))
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
		p, saw := simsaw.Random(seed, model.Near)
		on, width := simsaw.Setup{Blade: p.Blades[0].ID}, p.WorkingWidth.Length
		rip := func(setting model.Length) model.Length {
			return saw.Widths(saw.Rip(on, saw.SetFence(setting), 0), 1)[0]
		}
		var pairs []model.Pair
		for _, set := range []float64{60, 80, 100, 120, 140, 160, 180} {
			pairs = append(pairs, model.Pair{Set: mm(set).Of(model.MM), Read: rip(mm(set)).Of(model.MM)})
		}
		before := (rip(width) - width).Abs()
		f, err := FitScale(pairs, width, WordsOf(p))
		if err != nil {
			t.Fatal(err)
		}
		saw = saw.MoveCursor(f.Cursor)
		if after := (rip(width) - width).Abs(); after > mm(0.05) && after > before {
			t.Errorf("seed %d: %v off after moving the cursor by %v, %v before", seed, after, f.Cursor, before)
		}
		// Setting noise of 0.01 mm, a caliper's own scatter and steps: four of them.
		if after := (rip(width) - width).Abs(); after > mm(0.06) {
			t.Errorf("seed %d: %v off after moving the cursor by %v", seed, after, f.Cursor)
		}
	}
}
