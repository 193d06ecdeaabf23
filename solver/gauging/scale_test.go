package gauging

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// NIST StRD Norris, n 36.
func TestNorris(t *testing.T) {
	var x, y []float64
	for _, row := range given.Table(t, "testdata/norris.txt") {
		a, errY := strconv.ParseFloat(row[0], 64)
		b, errX := strconv.ParseFloat(row[1], 64)
		if errX != nil || errY != nil {
			t.Fatal(errX, errY)
		}
		y, x = append(y, a), append(x, b)
	}
	l, err := metrology.FitLine(x, y, metrology.Contribution{})
	if err != nil || len(x) != 36 {
		t.Fatal(len(x), err)
	}
	// To the digits that double precision allows, of the fifteen published: twelve of
	// B0, fourteen of B1, thirteen of the others.
	given.Close(t, "B0", l.A, -0.262323073774029, 2e-13)
	given.Close(t, "s(B0)", l.StandardA, 0.232818234301152, 2e-14)
	given.Close(t, "B1", l.B, 1.00211681802045, 2e-14)
	given.Close(t, "s(B1)", l.StandardB, 0.429796848199937e-3, 2e-17)
	given.Close(t, "residual s", l.Scatter, 0.884796396144373, 4e-14)
}

func pairs(v ...float64) []model.Pair {
	var out []model.Pair
	for i := 0; i < len(v); i += 2 {
		out = append(out, model.Pair{Set: given.MM(v[i]).Of(model.MM), Read: given.MM(v[i+1]).Of(model.MM)})
	}
	return out
}

func TestScaleOfTwo(t *testing.T) {
	f, err := FitScale(pairs(60, 60.06, 120, 120.12), given.MM(120), metric)
	if err != nil {
		t.Fatal(err)
	}
	given.Close(t, "slope", f.B, 0.001, 1e-12)
	given.Close(t, "offset", f.A, 0, 1e-3)
	if f.Cursor != given.MM(0.12) || f.Ends != [2]End{{given.MM(60), given.MM(-0.06)}, {given.MM(120), 0}} || !math.IsNaN(f.StandardB) || f.Significant {
		t.Errorf("%+v", f)
	}
	given.Says(t, f.Reasons, "move the cursor 0.12 mm toward the higher numbers", "read at a third", "+0.100 mm over 100 mm", "0.060 mm too narrow at 60.00 mm and right at 120.00 mm")
	if f, err = FitScale(pairs(60, 59.9, 120, 119.9), given.MM(120), metric); err != nil || f.Cursor != given.MM(-0.1) {
		t.Errorf("%+v, %v", f, err)
	}
	given.Says(t, f.Reasons, "move the cursor 0.10 mm toward the lower numbers")
}

// The slope is called real only where t = |b|/s(b) passes Student's t: with one degree
// of freedom 12.706205 (NIST TN 1297 table B.1). Errors 0, d, 2d+e on settings 0, 1, 2
// give b = d + e/2, s = e/sqrt(6), s = e/sqrt(12) of b; the caliper's steps of 0.01 mm add
// 0.01/sqrt(24) to it, as the sum of squares: all worked by hand.
func TestScaleSlopeTest(t *testing.T) {
	for _, v := range []struct {
		d, e float64
		real bool
	}{
		{0.0676, 0.02, false}, // 0.0776/0.0061237 = 12.672
		{0.0680, 0.02, true},  // 0.0780/0.0061237 = 12.737
		{-0.0680, -0.02, true},
	} {
		f, err := FitScale(pairs(100, 100, 101, 101+v.d, 102, 102+2*v.d+v.e), given.MM(101), metric)
		if err != nil {
			t.Fatal(err)
		}
		given.Close(t, "b", f.B, v.d+v.e/2, 1e-9)
		given.Close(t, "s(b)", f.StandardB, math.Sqrt(v.e*v.e/12+1e-4/24), 1e-9)
		if f.Significant != v.real {
			t.Errorf("%+v: t %v over %v", v, f.TestFigure, f.TestCritical)
		}
	}
	f, err := FitScale(pairs(60, 60.10, 120, 120.11, 180, 180.10), given.MM(120), metric)
	if err != nil || f.Significant {
		t.Fatal(f, err)
	}
	given.Says(t, f.Reasons, "a slope cannot be told from the scatter of 0.008 mm")
	f, err = FitScale(pairs(60, 59.94, 120, 119.88, 180, 179.82), given.MM(120), metric)
	if err != nil || !f.Significant {
		t.Fatal(f, err)
	}
	given.Says(t, f.Reasons, "-0.100 mm over 100 mm is real (t is 29.4, over 12.7)", "too wide at 60.00 mm and 0.060 mm too narrow at 180.00 mm")
	level := pairs(100, 100, 200, 200.01, 300, 300.02) // t 0.0001/(0.01/sqrt(12)/sqrt(20000)) = 4.90
	if f, err = FitScale(level, given.MM(120), metric); err != nil || f.Significant {
		t.Errorf("readings that round to one line prove a slope: %+v, %v", f, err)
	}
	if f, err = FitScale(level, given.MM(120), metrology.Words{Unit: model.MM}); err != nil || !f.Significant {
		t.Errorf("read without steps: %+v, %v", f, err)
	}
	given.Says(t, f.Reasons, "is real (all readings lie on the line)")
	inches := metrology.Words{Unit: model.IN, Resolution: model.Thou / 2}
	if f, err = FitScale(pairs(50.8, 50.8, 101.6, 101.7016, 152.4, 152.6286), given.MM(101.6), inches); err != nil {
		t.Fatal(err)
	}
	given.Says(t, f.Reasons, "the slope of +0.00900 in over 4 in is real (t is 14.7, over 12.7)")
	if f, err = FitScale(pairs(60, 60.1, 120, 120.1, 180, 180.1), given.MM(120), metric); err != nil || f.Significant || f.B != 0 || given.Codes(f.Reasons) != "cursor slope-not-real" {
		t.Errorf("a level line: %+v, %v", f, err)
	}
}

func TestScaleRefuses(t *testing.T) {
	for _, v := range []struct {
		pairs []model.Pair
		says  string
	}{
		{nil, "two or more settings"}, {pairs(60, 60), "two or more settings"}, {pairs(60, 60, 60, 60.1), "all settings are the same"},
		{[]model.Pair{{}, {Set: model.Measure{Length: math.MinInt64, Unit: model.MM}}}, "pair 2 is larger"},
		{[]model.Pair{{Read: model.Measure{Length: math.MaxInt64, Unit: model.MM}}, {}}, "pair 1 is larger"},
	} {
		if f, err := FitScale(v.pairs, given.MM(120), metric); err == nil || !strings.Contains(err.Error(), v.says) {
			t.Errorf("%+v: %+v, %v", v, f, err)
		}
	}
}

func TestACursorThatStaysIsLeft(t *testing.T) {
	for by, want := range map[float64]string{0: "leave the cursor where it is", 0.004: "leave the cursor where it is", -0.004: "leave the cursor where it is",
		0.2: "move the cursor 0.20 mm toward the higher numbers", -0.2: "move the cursor 0.20 mm toward the lower numbers"} {
		if got := CursorWords(given.MM(by), metric); got != want {
			t.Errorf("%v: %s", by, got)
		}
	}
}

// TestScaleEnds: with the cursor right at the one end, the other is still told.
func TestScaleEnds(t *testing.T) {
	for _, width := range []float64{60, 300} {
		f, err := FitScale(pairs(60, 60, 180, 180.2, 300, 300.4), given.MM(width), metric)
		if err != nil || !given.Has(f.Reasons, "scale-ends", "right at") {
			t.Errorf("at %v: %v, %v", width, f.Reasons, err)
		}
	}
	if _, err := FitScale(pairs(60, 60, 180, 180), model.MaxLength+1, metric); err == nil {
		t.Error("a width beyond anything on a saw passed")
	}
}
