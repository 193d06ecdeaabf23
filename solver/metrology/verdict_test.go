package metrology

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/sawdatum/testdata/given"

	"gonum.org/v1/gonum/stat/distuv"

	"example.com/sawdatum/model"
)

// metric is how a metric shop with a caliper of 0.01 mm reads lengths.
var metric = Words{Unit: model.MM, Resolution: given.MM(0.01)}

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
		if got := Decide(given.MM(v.residual), given.MM(v.u), given.MM(v.tolerance)); got != v.want {
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
	given.Close(t, "false accept", (1-Coverage)/2, 0.0227501, 1e-7)
	given.Close(t, "false accept", distuv.UnitNormal.CDF(-StudentT(Coverage, math.Inf(1))), 0.0227501, 1e-7)
	given.Close(t, "without guard band", distuv.UnitNormal.CDF(0), 0.5, 0.1)
}

// 200,000 blades whose true residual is the tolerance itself, their scatter known: at most
// 2.3 % may be called in (ILAC-G8:09/2019), within three standard errors of the simulation.
// By strips, where it is not known: TestFalseAccepts.
func TestGuardedAcceptanceSimulation(t *testing.T) {
	const blades, limit = 200_000, 0.023
	tolerance, scatter := given.MM(0.05), given.MM(0.008)
	random := rand.New(rand.NewPCG(2019, 9))
	accepted := 0
	for range blades {
		if Decide(tolerance+Rounded(random.NormFloat64()*float64(scatter)), 2*scatter, tolerance) == model.In {
			accepted++
		}
	}
	// A rule that never accepts would pass the limit too.
	if rate := float64(accepted) / blades; rate > limit+3*math.Sqrt(limit*(1-limit)/blades) || rate < 0.0217 {
		t.Errorf("%.3f %% of blades at the limit are called in", 100*rate)
	}
}

func TestGuardPrediction(t *testing.T) {
	verdict, why := Guard(given.MM(0.01), given.MM(0.02), given.MM(0.05), metric)
	if verdict != model.In || given.Codes(why) != "predicted-in" {
		t.Errorf("%s, %v", verdict, why)
	}
	given.Says(t, why, "0.010 mm from the datum face, toward the fence", "0.020 mm", "0.050 mm", "its strips decide")
	if verdict, _ := Guard(0, given.MM(0.1), given.MM(0.05), metric); verdict != model.Doubtful {
		t.Errorf("%s", verdict)
	}
}

// One that shows as zero has no side.
func TestWhereACutFaceLies(t *testing.T) {
	for nm, want := range map[model.Length]string{
		0: "on the datum face", 10_000: "0.010 mm from the datum face, toward the fence", -300: "on the datum face",
		-500: "0.001 mm from the datum face, away from the fence", -200_000: "0.200 mm from the datum face, away from the fence",
	} {
		if got := Where(nm, metric); got != "the cut face lies "+want {
			t.Errorf("%d nm: %s", nm, got)
		}
	}
}

func TestWordsHaveTheDigitsOfTheCaliper(t *testing.T) {
	for _, v := range []struct {
		words       Words
		set, result string
	}{
		{metric, "0.13 mm", "0.127 mm"}, {Words{Unit: model.MM}, "0.13 mm", "0.13 mm"}, {Words{Unit: model.IN, Resolution: model.Inch / 1000}, "0.005 in", "0.0050 in"},
		{Words{Unit: model.MM, Resolution: 1}, "0.127000 mm", "0.127000 mm"},
	} {
		if set, result := v.words.Set(5*model.Thou), v.words.Result(5*model.Thou); set != v.set || result != v.result {
			t.Errorf("%+v: %s, %s", v.words, set, result)
		}
	}
}
