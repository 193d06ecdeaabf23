package simsaw

import (
	"math"
	"testing"

	"example.com/sawdatum/model"
)

const mm = model.Millimetre

func at(v float64) model.Length {
	l, err := model.FromMillimetres(v)
	if err != nil {
		panic(err)
	}
	return l
}

// true1 is a saw whose truth is written down here, without any wobble.
func true1(flange model.Flange) Saw {
	return Saw{
		flange: flange, flangeSize: 80 * mm, random: chance(1, "test"),
		blades: map[string]Blade{
			"wide": {250 * mm, at(2.2), at(3.2), 0}, "mid": {250 * mm, at(2.0), at(3.0), 0}, "thin": {240 * mm, at(1.8), at(2.4), 0},
		},
		rings: map[string]ring{
			"r20": {at(0.2), []model.Length{at(0.2) - airBetween, at(0.21)}}, "r60": {at(0.6), []model.Length{at(0.6) - airBetween}},
		},
		caliper: instrument{step: 1}, micrometer: instrument{step: 1},
	}
}

// The geometry vectors of facts.md (computed there): plate and kerf to cut face, and
// the stack that reaches the datum of 2.7 (far) and 0.3 mm (near).
func TestGeometryVectors(t *testing.T) {
	for _, v := range []struct {
		flange model.Flange
		blade  string
		rings  []string
		want   float64
	}{
		{model.Far, "wide", nil, 2.7}, {model.Far, "mid", nil, 2.5}, {model.Far, "thin", nil, 2.1},
		{model.Near, "wide", nil, 0.5}, {model.Near, "mid", nil, 0.5}, {model.Near, "thin", nil, 0.3},
		{model.Far, "mid", []string{"r20"}, 2.7}, {model.Far, "thin", []string{"r60"}, 2.7},
		{model.Near, "wide", []string{"r20"}, 0.3}, {model.Near, "mid", []string{"r20"}, 0.3},
		{model.Far, "wide", []string{"gone"}, 2.7},
		{model.Far, "wide", []string{"r20", "r20"}, 3.111}, // the second ring of the sort is thicker
	} {
		if got := true1(v.flange).CutFace(v.blade, v.rings); got != at(v.want) {
			t.Errorf("%s %s %v: %v, want %v", v.flange, v.blade, v.rings, got, v.want)
		}
	}
}

// A wobble with a total reading of t brings the cut face t/2 toward the fence, and
// flange and blade add or cancel as they are clocked (job.md, Geometry).
func TestWobble(t *testing.T) {
	for _, flange := range []model.Flange{model.Far, model.Near} {
		s := true1(flange)
		still := s.CutFace("mid", nil)
		s.blades["mid"] = Blade{250 * mm, at(2.0), at(3.0), turned(20_000, 0)}
		if got := s.CutFace("mid", nil) - still; got != 20_000 {
			t.Errorf("%s: a total reading of 0.04 mm moves the face by %v", flange, got)
		}
		s.wobble = turned(8_000, 180)                                                                        // 0.025 mm at the rim: 250 to 80
		for clocks, want := range map[float64]model.Length{0: 5_000, 180: 45_000, 90: 32_016, 270: 32_016} { // hypot(20, 25) = 32.016
			if got := s.cutFace(Setup{Blade: "mid", Clocks: clocks}) - still; got != want {
				t.Errorf("%s clocked %v: %v, want %v", flange, clocks, got, want)
			}
		}
	}
}

// The blade's mark turned by 90 degrees past the arbor's carries the blade's high spot
// with it.
func TestClocking(t *testing.T) {
	s := true1(model.Far)
	s.wobble = turned(8_000, 90) // 25 um at the rim
	s.blades["mid"] = Blade{250 * mm, at(2.0), at(3.0), turned(20_000, 0)}
	for clocks, want := range map[float64]model.Length{90: 45_000, 270: 5_000} {
		if got := s.cutFace(Setup{Blade: "mid", Clocks: clocks}) - at(2.5); got != want {
			t.Errorf("clocked %v: %v, want %v", clocks, got, want)
		}
	}
}

// The gap grows by half of what a blade is smaller (job.md, Knife window).
func TestTipGapOfASmallerBlade(t *testing.T) {
	s := true1(model.Far)
	s.anchor, s.tipGap = s.blades["wide"], 5*mm
	if wide, thin := s.TipGap("wide"), s.TipGap("thin"); wide != 5*mm || thin != 10*mm {
		t.Errorf("250 mm: %v, 240 mm: %v", wide, thin)
	}
}

// The first harmonic of the dial readings, by the sums themselves, is the wobble.
func TestDialsShowTheWobble(t *testing.T) {
	s := true1(model.Far)
	s.wobble = turned(9_000, 30)
	const n = 72
	var a, b float64
	for k, y := range s.FlangeDial(n) {
		a += 2. / n * float64(y) * math.Cos(2*math.Pi*float64(k)/n)
		b += 2. / n * float64(y) * math.Sin(2*math.Pi*float64(k)/n)
	}
	if math.Abs(math.Hypot(a, b)-9_000) > 400 || math.Abs(math.Atan2(b, a)*180/math.Pi-30) > 3 {
		t.Errorf("amplitude %v, high spot %v", math.Hypot(a, b), math.Atan2(b, a)*180/math.Pi)
	}
	var low, high model.Length
	for _, y := range s.RimDial(Setup{Blade: "wide"}, n) {
		low, high = min(low, y), max(high, y)
	}
	if total := high - low; total < 54_000 || total > 62_000 { // 0.018 mm, 250 to 80
		t.Errorf("total reading at the rim %v", total)
	}
}

func TestWidths(t *testing.T) {
	s := true1(model.Far)
	f := Fence{at: 102_700_000}
	ref, thin := Setup{Blade: "wide"}, Setup{Blade: "thin"}
	if got := s.Rip(ref, f); got != 100*mm {
		t.Errorf("reference %v", got)
	}
	if got := s.Rip(thin, f); got != at(100.6) {
		t.Errorf("the thin blade cuts wide: %v", got)
	}
	if got := s.Rip(Setup{Blade: "thin", Rings: []string{"r60"}}, f); got != 100*mm {
		t.Errorf("rings move it to the line of the reference: %v", got)
	}
	if got := s.Rip(ref, f.Nudged(at(0.1))); got != at(100.1) {
		t.Errorf("nudged away from the blade: %v", got)
	}
	for _, g := range s.KnifeGaps() {
		if g < 0 || g > 40_000 {
			t.Errorf("feeler gap %v", g)
		}
	}
}

func TestScaleAndCursor(t *testing.T) {
	s := true1(model.Far)
	s.scale = scale{zero: at(2.7), offset: at(0.3), slope: 0.001}
	width := func(s Saw) float64 { return s.Rip(Setup{Blade: "wide"}, s.SetFence(120*mm)).Millimetres() }
	if got := width(s); math.Abs(got-120.42) > 0.06 {
		t.Errorf("set to 120: %v", got)
	}
	// The cursor moved toward the higher numbers: 120 is now found nearer the blade.
	if got := width(s.MoveCursor(at(0.42))); math.Abs(got-120) > 0.06 {
		t.Errorf("cursor moved: %v", got)
	}
}

func TestHeelToeOpensTowardTheRear(t *testing.T) {
	s := true1(model.Far)
	s.fenceOpens, s.slotOpens = 0.0005, -0.001
	got := s.HeelToe(Setup{Blade: "wide"}, Fence{at: 102_700_000})
	if want := (Tooth{95 * mm, at(94.8), 100 * mm, at(100.1), 200 * mm}); got != want {
		t.Errorf("%v, want %v", got, want)
	}
}

// Caliper readings scatter round the truth and the caliper's own error, in its steps;
// differences lose the error.
func TestReadingsScatter(t *testing.T) {
	s := true1(model.Far)
	s.caliper = instrument{step: 10_000, scatter: 4_000, bias: 30_000}
	var sum, squares float64
	const n = 4000
	for _, w := range s.readings(s.caliper, 120*mm, n) {
		if w%10_000 != 0 {
			t.Fatalf("%v is between two steps", w)
		}
		d := float64(w - 120*mm - 30_000)
		sum, squares = sum+d, squares+d*d
	}
	// The variance of the scatter and of the steps: 4^2 + 10^2/12 um^2.
	if mean, deviation := sum/n, math.Sqrt(squares/n); math.Abs(mean) > 400 || math.Abs(deviation-4934) > 300 {
		t.Errorf("mean %v, deviation %v", mean, deviation)
	}
}

func TestRulesReadInTheUnitOfTheShop(t *testing.T) {
	s := New(model.Profile{Units: model.IN, Saw: model.Saw{Flange: model.Near}, Blades: []model.Blade{{ID: "a", Diameter: (10 * model.Inch).Of(model.IN)}}}, 3)
	for range 20 {
		if g := s.TipGap("a"); g%(model.Inch/64) != 0 || g < 4*mm || g > 6*mm {
			t.Errorf("gap %v", g)
		}
		if l := s.BoardLength(); l%(model.Inch/2) != 0 || l < 600*mm {
			t.Errorf("board %v", l)
		}
	}
}

func profile() model.Profile {
	of := func(millimetres ...float64) (out []model.Measure) {
		for _, v := range millimetres {
			out = append(out, at(v).Of(model.MM))
		}
		return out
	}
	return model.Profile{
		Units: model.MM, Saw: model.Saw{Flange: model.Far}, Instruments: model.Instruments{Caliper: at(0.01).Of(model.MM), Micrometer: at(0.001).Of(model.MM)},
		Blades: []model.Blade{
			{ID: "rip", Plate: of(2.199, 2.2, 2.2), Kerf: of(3.201, 3.2, 3.202)},
			{ID: "fine", Plate: of(1.98, 1.979, 1.98), Kerf: of(2.801, 2.8, 2.8)},
		},
		Rings: []model.Ring{{ID: "r10", Thickness: at(0.1).Of(model.MM), Count: 2}, {ID: "r30", Thickness: at(0.3).Of(model.MM), Measured: at(0.311).Of(model.MM), Count: 1}},
	}
}

func TestNewIsNearItsProfile(t *testing.T) {
	p := profile()
	p.Blades[1].Runout = at(0.05).Of(model.MM)
	s := New(p, 5)
	for _, b := range p.Blades {
		want := model.Sum(model.Lengths(b.Kerf)) / 3
		for _, got := range s.Kerf(b.ID, 20) {
			if (got-want).Abs() > 8_000 || got%1_000 != 0 {
				t.Errorf("%s: kerf read %v, in the profile %v", b.ID, got, want)
			}
		}
	}
	on := Setup{Blade: p.Blades[1].ID}
	swing := s.cutFace(on) - s.blades[on.Blade].Plate/2 - s.blades[on.Blade].Kerf/2
	if (swing - 25_000).Abs() > 2 {
		t.Errorf("a runout of 0.05 mm as read: %v", swing)
	}
	for _, r := range p.Rings {
		if d := (s.Ring(r.ID) - r.Height()).Abs(); d > 24_000 || r.Measured.Unit != model.NoUnit && d > 7_000 {
			t.Errorf("ring %s off by %v", r.ID, d)
		}
	}
}

func TestWithLeavesTheTruthAlone(t *testing.T) {
	p := profile()
	s := New(p, 5)
	ids := []string{p.Rings[0].ID, p.Rings[0].ID}
	face := s.CutFace(p.Blades[0].ID, ids)
	q := p
	q.Blades = append([]model.Blade{}, p.Blades...)
	q.Blades[0].Kerf = []model.Measure{at(9).Of(model.MM)}
	q.Blades = append(q.Blades, model.Blade{ID: "new"})
	q.Rings = append([]model.Ring{}, p.Rings...)
	q.Rings[0].Measured = at(1).Of(model.MM)
	if got := s.With(q).CutFace(p.Blades[0].ID, ids); got != face {
		t.Errorf("the cut face moved from %v to %v", face, got)
	}
	if s.With(q).CutFace("new", nil) != s.CutFace("new", nil) {
		t.Error("a blade that is named twice is two blades")
	}
	sharp := s.Sharpened(p.Blades[0].ID)
	if lost := 2 * (face - sharp.CutFace(p.Blades[0].ID, ids)); lost < 10_000 || lost > 50_002 {
		t.Errorf("sharpening took %v", lost)
	}
	if s.CutFace(p.Blades[0].ID, ids) != face {
		t.Error("sharpening reached back")
	}
}

func TestEmptyProfileGrows(t *testing.T) {
	s := New(model.Profile{}, 9)
	if k, p := s.Kerf("x", 1)[0], s.Plate("x", 1)[0]; k <= p {
		t.Errorf("kerf %v, plate %v", k, p)
	}
	s = s.With(profile())
	b := profile().Blades[0].ID
	if got := s.Rip(Setup{Blade: b}, s.SetFence(120*mm)); (got - 120*mm).Abs() > mm {
		t.Errorf("set to 120: %v", got)
	}
}
