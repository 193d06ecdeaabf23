package gauging

import (
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// Higher Engineering Mathematics, 6th ed., table 70.1: t = 30..360 step 30 degrees.
// Sums printed; mean, A, B and amplitude computed.
func TestFirstHarmonic(t *testing.T) {
	table := []model.Length{62, 35, -38, -64, -63, -52, -28, 24, 80, 96, 90, 70}
	fromZero := append(table[11:12:12], table[:11]...) // 360 degrees is the first place
	h, err := FirstHarmonic(fromZero)
	if err != nil {
		t.Fatal(err)
	}
	given.Close(t, "sum y", h.Mean*12, 212, 1e-9)
	// The book rounds its cosines to three figures: its sums are good to one in the
	// last digit.
	given.Close(t, "sum y cos t", h.A*6, 417.94, 0.01)
	given.Close(t, "sum y sin t", h.B*6, -278.53, 0.02)
	given.Close(t, "mean", h.Mean, 17.6666667, 1e-7)
	given.Close(t, "A", h.A, 69.6573622, 1e-7)
	given.Close(t, "B", h.B, -46.4229642, 1e-7)
	given.Close(t, "amplitude", h.Amplitude(), 83.7092570, 1e-7)
	if h.Total != 167 || h.Read != 160 {
		t.Errorf("total %v, read %v", h.Total, h.Read)
	}
	// atan2(-46.42, 69.66) = -33.68 degrees.
	given.Close(t, "high spot", h.HighSpot, 326.32, 0.01)
}

func TestFirstHarmonicAtTheEdges(t *testing.T) {
	h, err := FirstHarmonic([]model.Length{5, 5, 5, 5})
	if err != nil || h.Total != 0 || h.Left != 0 || h.Mean != 5 {
		t.Errorf("all equal: %+v, %v", h, err)
	}
	// A warped face, high twice a turn, has no first harmonic: all of it is left.
	h, err = FirstHarmonic([]model.Length{10, 0, 10, 0})
	if err != nil || h.Total != 0 || h.Left != 10 || h.Read != 10 {
		t.Errorf("warp: %+v, %v", h, err)
	}
	// A pure wobble leaves nothing but the rounding of the readings.
	h, err = FirstHarmonic(wave(cmplx.Rect(30_000, 0.9), 12))
	if err != nil || h.Left > 2 || h.Total != 60_000 {
		t.Errorf("pure wobble: %+v, %v", h, err)
	}
	for _, bad := range [][]model.Length{nil, {1, 2, 3}, {1, 2, 3, math.MaxInt64}, {1, 2, 3, math.MinInt64}} {
		if h, err := FirstHarmonic(bad); err == nil {
			t.Errorf("%v: %+v", bad, h)
		}
	}
}

// wave is what a dial reads of a wobble at n places.
func wave(c complex128, n int) []model.Length {
	out := make([]model.Length, n)
	for i := range out {
		out[i] = metrology.Rounded(cmplx.Abs(c) * math.Cos(2*math.Pi*float64(i)/float64(n)-cmplx.Phase(c)))
	}
	return out
}

// Flange 20 um at 40 degrees and blade 30 um at 100 degrees: clocked against each
// other, 100 + 120 = 220 = 40 + 180 degrees, they leave 10 um of amplitude.
func TestTwoClockings(t *testing.T) {
	at := func(um, deg float64) complex128 { return cmplx.Rect(um*1000, deg*math.Pi/180) }
	flange, blade := at(20, 40), at(30, 100)
	for _, by := range []float64{180, 90, -45, 30, 330} {
		turned := blade * cmplx.Rect(1, by*math.Pi/180)
		w, err := Separate(wave(flange+blade, 16), wave(flange+turned, 16), by)
		if err != nil {
			t.Errorf("turned %v: %v", by, err)
			continue
		}
		if cmplx.Abs(w.Flange-flange) > 5 || cmplx.Abs(w.Blade-blade) > 5 {
			t.Errorf("turned %v: flange %v, blade %v", by, w.Flange, w.Blade)
		}
		turn, total := w.Best()
		given.Close(t, "best clocking", turn, 120, 0.1)
		given.Close(t, "best total", total.Millimetres(), 0.020, 0.00002)
	}
	// |20 at 40 + 30 at 100| = sqrt(400 + 900 + 1200 cos 60) = 43.589.
	given.Close(t, "now", Wobbles{flange, blade}.Now().Millimetres(), 0.087178, 1e-6)
	if turn, total := (Wobbles{}).Best(); turn != 0 || total != 0 {
		t.Errorf("nothing wobbles: %v, %v", turn, total)
	}
}

func TestSeparateRefuses(t *testing.T) {
	y := wave(1000, 8)
	for _, by := range []float64{0, 29, -29, 360, 331, 720, math.NaN(), math.Inf(1)} {
		if w, err := Separate(y, y, by); err == nil || !strings.Contains(err.Error(), "30 to 330 degrees") {
			t.Errorf("turned by %v: %+v, %v", by, w, err)
		}
	}
	if _, err := Separate(y, y[:6], 180); err == nil {
		t.Error("eight and six readings passed")
	}
	if _, err := Separate(y[:3], y[:3], 180); err == nil {
		t.Error("three readings passed")
	}
	far := append([]model.Length{model.MaxLength + 1}, y[1:]...)
	for _, sets := range [][2][]model.Length{{far, y}, {y, far}} {
		if _, err := Separate(sets[0], sets[1], 180); err == nil {
			t.Error("a reading beyond anything on a saw passed")
		}
	}
}

// Flange wobble grows to the rim by the ratio of radii: 254 mm blade on a 63.5 mm
// flange: 4 (computed).
func TestFlangeToRim(t *testing.T) {
	got, err := AtRim(given.MM(0.025), given.MM(63.5), given.MM(254))
	if err != nil || got != given.MM(0.1) {
		t.Errorf("%v, %v", got, err)
	}
	for _, bad := range [][2]model.Length{{0, 1}, {1, 0}, {-1, 1}} {
		if got, err := AtRim(1, bad[0], bad[1]); err == nil {
			t.Errorf("%v: %v", bad, got)
		}
	}
}

// Flange runout at most 0.003 in (woodworking magazine, seen): 0.0762 mm.
func TestDialWords(t *testing.T) {
	h, err := FirstHarmonic(wave(38_100, 4))
	if err != nil {
		t.Fatal(err)
	}
	reasons := FlangeWords(h, given.MM(63.5), given.MM(254), metric)
	if given.Codes(reasons) != "flange-runout flange-at-rim" || reasons[0].Weight != model.Explains {
		t.Errorf("%+v", reasons)
	}
	given.Says(t, reasons, "reads 0.08 mm altogether", "rim of a 254 mm blade its wobble grows to 0.30 mm")
	h, err = FirstHarmonic([]model.Length{38_200, 0, -38_100, 0})
	warned := FlangeWords(h, 0, 0, metric)
	if err != nil || warned[0].Weight != model.Warns || given.Codes(warned[:1]) != "flange-runout" || given.Has(warned, "flange-at-rim") {
		t.Errorf("0.0763 mm: %v, %v", warned, err)
	}
	given.Says(t, warned, "more than 0.08 mm: clean it and look for burrs")
	h, err = FirstHarmonic([]model.Length{50_000, 0, 50_000, 0})
	if err != nil || given.Codes(RimWords(h, Wobbles{}, metric)) != "rim-runout no-wobble" {
		t.Errorf("%v, %v", given.Codes(RimWords(h, Wobbles{}, metric)), err)
	}
	for _, v := range []struct {
		left, read float64
		codes      string
	}{{0.04, 0.08, "rim-runout"}, {0.040001, 0.08, "rim-runout no-wobble"}, {0.02, 0.02, "rim-runout"}, {0.020001, 0.02, "rim-runout no-wobble"}} {
		if got := given.Codes(RimWords(Harmonic{Left: given.MM(v.left), Read: given.MM(v.read)}, Wobbles{}, metric)); got != v.codes {
			t.Errorf("%+v: %q", v, got)
		}
	}
	fine := metrology.Words{Unit: model.MM, Resolution: given.MM(0.001)}
	for read, code := range map[float64]string{0.0099: "rim-runout", 0.0101: "rim-runout no-wobble"} { // under 0.01 mm nobody cleans
		if got := given.Codes(RimWords(Harmonic{Left: given.MM(0.006), Read: given.MM(read)}, Wobbles{}, fine)); got != code {
			t.Errorf("%v: %q", read, got)
		}
	}
	given.Says(t, RimWords(h, Wobbles{20_000, -30_000i}, metric), "flange wobbles 0.04 mm and the blade 0.06 mm", "by 270 deg", "read 0.02 mm instead of 0.07 mm")
}
