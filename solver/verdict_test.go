package solver

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"example.com/sawdatum/model"
)

// ILAC-G8:09/2019, guard band w = U: the value just beside each limit.
func TestILACDecisionRule(t *testing.T) {
	for _, v := range []struct {
		residual, u, tolerance float64
		want                   model.Verdict
	}{
		{0.03, 0.02, 0.05, model.In}, {-0.03, 0.02, 0.05, model.In}, {0.030001, 0.02, 0.05, model.Doubtful}, {-0.030001, 0.02, 0.05, model.Doubtful},
		{0.07, 0.02, 0.05, model.Doubtful}, {0.070001, 0.02, 0.05, model.Out}, {-0.070001, 0.02, 0.05, model.Out},
		{0, 0.05, 0.05, model.In}, {0, 0.050001, 0.05, model.Doubtful}, {0, 0, 0, model.In}, {0.000001, 0, 0, model.Out},
		{0, -0.000001, 0.05, model.Doubtful}, {1, 0, -0.000001, model.Doubtful},
	} {
		if got := Decide(mm(v.residual), mm(v.u), mm(v.tolerance)); got != v.want {
			t.Errorf("%+v: %s", v, got)
		}
	}
	if got := Decide(1, math.MaxInt64, math.MaxInt64); got != model.Doubtful {
		t.Errorf("an uncertainty without end: %s", got)
	}
	if got := Decide(math.MaxInt64, 1, 5); got != model.Out {
		t.Errorf("a residual without end: %s", got)
	}
}

// ILAC-G8:09/2019: at the limit with w = U = 2u the chance of a false accept is
// 0.0227501 (computed), without a guard band up to 0.5.
func TestILACFalseAcceptAtTheLimit(t *testing.T) {
	closeTo(t, "false accept", (1-Coverage)/2, 0.0227501, 1e-7)
	closeTo(t, "false accept", distuv.UnitNormal.CDF(-studentT(Coverage, math.Inf(1))), 0.0227501, 1e-7)
	closeTo(t, "without guard band", distuv.UnitNormal.CDF(0), 0.5, 0.1)
}

// 200,000 blades whose true residual is the tolerance itself: at most 2.3 % may be
// called in, with known scatter and with few readings (ILAC-G8:09/2019), within
// three standard errors of the simulation.
func TestGuardedAcceptanceSimulation(t *testing.T) {
	const blades, limit = 200_000, 0.023
	tolerance, scatter := mm(0.05), mm(0.008)
	random := rand.New(rand.NewPCG(2019, 9))
	read := func(n int, at model.Length, step model.Length) []model.Length {
		out := make([]model.Length, n)
		for i := range out {
			out[i] = rounded((float64(at)+random.NormFloat64()*float64(scatter))/float64(step)) * step
		}
		return out
	}
	measure := func(nb, nr int, step, resolution model.Length) func() bool {
		return func() bool {
			// Where the true width falls between two marks of the caliper is chance too.
			width := mm(120) + model.Length(random.Int64N(int64(step)))
			o, err := MeasuredOffset(read(nb, width-tolerance, step), read(nr, width, step), resolution)
			return err == nil && Decide(-o.Value, o.U, tolerance) == model.In
		}
	}
	for _, v := range []struct {
		name   string
		accept func() bool
		least  float64 // a rule that never accepts would pass the limit too
	}{
		{"normal", func() bool {
			return Decide(tolerance+rounded(random.NormFloat64()*float64(scatter)), 2*scatter, tolerance) == model.In
		}, 0.0217},
		{"three and three readings", measure(3, 3, 1, 0), 0.01},
		{"three and five readings", measure(3, 5, 1, 0), 0.01},
		{"three and three in steps of 0.01 mm", measure(3, 3, mm(0.01), mm(0.01)), 0.005},
	} {
		accepted := 0
		for range blades {
			if v.accept() {
				accepted++
			}
		}
		rate := float64(accepted) / blades
		t.Logf("%s: %.3f %%", v.name, 100*rate)
		if rate > limit+3*math.Sqrt(limit*(1-limit)/blades) || rate < v.least {
			t.Errorf("%s: %.3f %% of blades at the limit are called in", v.name, 100*rate)
		}
	}
}

func TestAssess(t *testing.T) {
	three := func(mid, step float64) []model.Length { return lengths(mid-step, mid, mid+step) }
	for _, v := range []struct {
		name             string
		blade, reference []model.Length
		resolution       float64
		residual         float64
		want             model.Verdict
		more, reference2 int
		says             string
	}{
		{"in", three(120, 0.005), three(120, 0.005), 0.01, 0.01, model.In, 0, 0, "the cut face lies 0.010 mm from the datum face, toward the fence"},
		{"in the middle", three(120, 0.005), three(120, 0.005), 0.01, 0, model.In, 0, 0, "the cut face lies on the datum face"},
		{"by less than is shown", three(120, 0.005), three(120, 0.005), 0.01, -0.0003, model.In, 0, 0, "the cut face lies on the datum face"},
		{"the least that is shown", three(120, 0.005), three(120, 0.005), 0.01, -0.0005, model.In, 0, 0, "the cut face lies 0.001 mm from the datum face, away from the fence"},
		{"out", three(120, 0.005), three(120, 0.005), 0.01, -0.2, model.Out, 0, 0, "the cut face lies 0.200 mm from the datum face, away from the fence"},
		{"two readings", three(120, 0.005), lengths(120, 120), 0.01, 0, model.Doubtful, 1, 0, "take 1 more reading"},
		{"the blade's half alone", three(120, 0.03), three(120, 0), 0.01, 0, model.Doubtful, 2, 0, "2 more readings of the blade's half should settle it"},
		{"both halves", three(120, 0.03), three(120, 0.03), 0.01, 0, model.Doubtful, 2, 2, "2 more readings of each half should settle it"},
		{"the caliper alone is too coarse", three(120, 0), three(120, 0), 0.05, 0.01, model.Doubtful, -1, 0, "this caliper cannot settle it"},
		{"on the limit", three(120, 0), three(120, 0), 0.01, 0.05, model.Doubtful, -1, 0, "this caliper cannot settle it"},
		{"coarse but far out", three(120, 0), three(120, 0), 0.05, 0.2, model.Out, 0, 0, "more than the tolerance of 0.050 mm"},
	} {
		o, err := MeasuredOffset(v.blade, v.reference, mm(v.resolution))
		if err != nil {
			t.Fatal(err)
		}
		a := Assess(o, mm(v.residual), mm(0.05), metric)
		if a.Verdict != v.want || a.More != v.more || a.MoreReference != v.reference2 {
			t.Errorf("%s: %s, %d and %d more (U %v)", v.name, a.Verdict, a.More, a.MoreReference, o.U)
		}
		says(t, a.Reasons, v.says)
	}
}

// TestUnevenPiece: where more readings would be wanted than anybody takes, it is said what
// to do instead; where they are few, it is not. With s 0.05 mm and a residual of 0.03 mm
// U has to come down to 0.02 mm: (2*0.05/0.02)^2 = 25 readings of the half at least.
func TestUnevenPiece(t *testing.T) {
	for residual, uneven := range map[float64]bool{0.03: true, 0: false} {
		o, err := MeasuredOffset(lengths(119.95, 120, 120.05), lengths(120, 120, 120), mm(0.01))
		if err != nil {
			t.Fatal(err)
		}
		a := Assess(o, mm(residual), mm(0.05), metric)
		if got := len(a.Reasons) == 2 && a.Reasons[1].Code == "uneven"; got != uneven || uneven && a.More < 22 {
			t.Errorf("%v: %d more, %v", residual, a.More, a.Reasons)
		}
	}
}

// The number of further readings is the least that settles it, if they fall as the
// ones before: with the scatter as it is, so many settle it and one fewer does not.
func TestFurtherReadingsSettleIt(t *testing.T) {
	blade, reference := lengths(119.97, 120, 120.03), lengths(120, 120, 120)
	o, err := MeasuredOffset(blade, reference, mm(0.01))
	if err != nil {
		t.Fatal(err)
	}
	more := Assess(o, 0, mm(0.05), metric).More
	for extra, settled := range map[int]bool{more - 1: false, more: true} {
		n := float64(3 + extra)
		s2, q2 := 0.03*0.03/n, 2*0.01*0.01/12
		freedom := (s2 + q2) * (s2 + q2) / (s2 * s2 / (n - 1))
		k := distuv.StudentsT{Sigma: 1, Nu: math.Floor(freedom)}.Quantile((1 + Coverage) / 2)
		if got := k*math.Sqrt(s2+q2) <= 0.05; got != settled {
			t.Errorf("%d more readings: settled %v", extra, got)
		}
	}
}

func TestAssessByDifference(t *testing.T) {
	o, err := MeasuredByDifference(lengths(-0.03, 0, 0.03), nil, mm(0.01))
	if err != nil {
		t.Fatal(err)
	}
	// The zeroing scatters as much as any reading; nothing averages it out.
	if a := Assess(o, 0, mm(0.05), metric); a.Verdict != model.Doubtful || a.More != -1 || a.MoreReference != 0 {
		t.Errorf("%+v", a)
	}
}

// One more difference tells more of the scatter, also of the zeroing's: s 0.01 mm, u^2 =
// s^2 (1 + 1/4) + 2*0.01^2/12, nu_eff 3.8, k 3.3068222 (GUM table G.2): U 0.03936 mm.
func TestOneMoreDifferenceSettlesIt(t *testing.T) {
	o, err := MeasuredByDifference(lengths(-0.01, 0, 0.01), nil, mm(0.01))
	if err != nil {
		t.Fatal(err)
	}
	if a := Assess(o, 0, mm(0.03935), metric); a.More == 1 {
		t.Errorf("a hair under U: %+v", a)
	}
	if a := Assess(o, 0, mm(0.03937), metric); a.More != 1 || a.MoreReference != 0 {
		t.Errorf("%+v", a)
	}
}

func TestGuardPrediction(t *testing.T) {
	a := Guard(mm(0.01), mm(0.02), mm(0.05), metric)
	if a.Verdict != model.In || codes(a.Reasons) != "predicted-in" {
		t.Errorf("%+v", a)
	}
	says(t, a.Reasons, "0.010 mm from the datum face, toward the fence", "0.020 mm", "0.050 mm", "the comparison cut decides")
	a = Assess(Offset{Basis: model.Predicted, U: mm(0.1)}, 0, mm(0.05), metric)
	if a.Verdict != model.Doubtful || a.More != 0 {
		t.Errorf("%+v", a)
	}
}

// More than both expanded uncertainties together (solver.md 4).
func TestSurprise(t *testing.T) {
	for _, v := range []struct{ measured, predicted, want float64 }{{0.25, 0.2, 0}, {0.250001, 0.2, 1}, {0.15, 0.2, 0}, {0.149999, 0.2, 1}} {
		if got := Surprise(model.Far, mm(v.measured), mm(0.02), mm(v.predicted), mm(0.03), metric); len(got) != int(v.want) {
			t.Errorf("%+v: %v", v, got)
		}
	}
	says(t, Surprise(model.Far, mm(0.35), mm(0.02), mm(0.2), mm(0.03), metric), "0.150 mm wider", "the 0.050 mm", "relief", "wrong blade", "mistyped")
	says(t, Surprise(model.Far, mm(0.05), mm(0.02), mm(0.2), mm(0.03), metric), "0.150 mm narrower", "dust or a burr", "resin")
}

func TestWordsHaveTheDigitsOfTheCaliper(t *testing.T) {
	for _, v := range []struct {
		words       Words
		set, result string
	}{
		{metric, "0.13 mm", "0.127 mm"}, {Words{Unit: model.MM}, "0.13 mm", "0.13 mm"}, {Words{Unit: model.IN, Resolution: model.Inch / 1000}, "0.005 in", "0.0050 in"},
		{Words{Unit: model.MM, Resolution: 1}, "0.127000 mm", "0.127000 mm"},
	} {
		if set, result := v.words.set(5*model.Thou), v.words.result(5*model.Thou); set != v.set || result != v.result {
			t.Errorf("%+v: %s, %s", v.words, set, result)
		}
	}
}
