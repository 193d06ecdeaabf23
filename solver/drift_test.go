package solver

import (
	"math"
	"testing"
	"time"

	"example.com/sawdatum/model"
)

func proofs(v ...float64) []Proof {
	out := make([]Proof, len(v))
	for i, x := range v {
		out[i] = Proof{time.Date(2026, 3, 1+i, 9, 0, 0, 0, time.UTC), "KB", mm(x)}
	}
	return out
}

// NIST/SEMATECH e-Handbook 6.3.2.2: with d2 1.128, not the rounded 2.66.
func TestIndividualsChart(t *testing.T) {
	c, err := Drift(proofs(49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1), mm(60), metric)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "mean", c.Mean/1e6, 50.81, 1e-2)
	closeTo(t, "mean moving range", c.MeanRange/1e6, 1.8778, 1e-4)
	closeTo(t, "upper limit", c.Upper/1e6, 55.8041, 1e-4)
	closeTo(t, "lower limit", c.Lower/1e6, 45.8159, 1e-4)
	if c.Beyond != nil || codes(c.Reasons) != "drift-steady" {
		t.Errorf("%+v", c)
	}
}

func TestDriftNamesWhatIsBeyond(t *testing.T) {
	c, err := Drift(proofs(0.01, 0.01, 0.02, 0.01, 0.01, 0.02, 0.01, 0.30, 0.01), mm(0.05), metric)
	if err != nil || len(c.Beyond) != 1 || c.Beyond[0] != 7 {
		t.Fatalf("%+v, %v", c, err)
	}
	says(t, c.Reasons, "2026-03-08 KB at +0.300 mm", "past the tolerance of 0.050 mm")
	c, err = Drift(proofs(0.02, 0.02), mm(0.05), metric)
	if err != nil || c.Beyond != nil || codes(c.Reasons) != "drift-steady drift-early" || c.Upper != c.Lower {
		t.Errorf("all equal: %+v, %v", c, err)
	}
	c, err = Drift(proofs(-0.02, -0.04, -0.03), mm(0.05), metric)
	if err != nil || codes(c.Reasons) != "drift-steady drift-early drift-tolerance" {
		t.Errorf("%+v, %v", c, err)
	}
}

// Eight proofs are no longer few; limits on the tolerance do not reach past it.
func TestDriftAtTheEdges(t *testing.T) {
	for _, v := range []struct {
		n     int
		at    float64
		codes string
	}{
		{7, 0.05, "drift-steady drift-early"}, {8, 0.05, "drift-steady"}, {8, -0.05, "drift-steady"}, {8, 0.050001, "drift-steady drift-tolerance"}, {8, -0.050001, "drift-steady drift-tolerance"},
	} {
		same := make([]float64, v.n)
		for i := range same {
			same[i] = v.at
		}
		if c, err := Drift(proofs(same...), mm(0.05), metric); err != nil || codes(c.Reasons) != v.codes {
			t.Errorf("%+v: %+v, %v", v, c, err)
		}
	}
}

func TestDriftRefuses(t *testing.T) {
	for _, bad := range [][]Proof{nil, proofs(1), {{}, {Residual: math.MaxInt64}}, {{Residual: math.MinInt64}, {}}} {
		if c, err := Drift(bad, mm(0.05), metric); err == nil {
			t.Errorf("%+v: %+v", bad, c)
		}
	}
}

// Half of the kerf lost comes back in rings: far more, near less. A 10-inch blade
// loses 0.01 to 0.05 mm of kerf per sharpening (from memory).
func TestWear(t *testing.T) {
	for flange, want := range map[model.Flange]float64{model.Far: 0.01, model.Near: -0.01} {
		got, err := WearOf(flange, lengths(3.20, 3.19, 3.16), metric)
		if err != nil || got.Mean != mm(0.02) || got.Stack != mm(want) || codes(got.Reasons) != "kerf-lost" {
			t.Errorf("%s: %+v, %v", flange, got, err)
		}
	}
	got, err := WearOf(model.Far, lengths(3.20, 3.10, 3.12, 3.07), metric)
	if err != nil || codes(got.Reasons) != "kerf-lost-much kerf-grew kerf-lost" {
		t.Errorf("%+v, %v", got, err)
	}
	says(t, got.Reasons, "sharpening 1 took 0.100 mm", "is 0.020 mm wider after sharpening 2", "0.043 mm off the kerf on average (3 so far)", "a stack 0.022 mm higher")
	got, err = WearOf(model.Far, lengths(3.20, 3.20, 3.15), metric)
	if err != nil || codes(got.Reasons) != "kerf-lost" {
		t.Errorf("none and 0.05 mm lost: %+v, %v", got, err)
	}
	if got, err := WearOf(model.Far, lengths(3.2), metric); err == nil {
		t.Errorf("%+v", got)
	}
}
