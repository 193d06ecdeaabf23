package solver

import (
	"math"
	"os"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
)

func lengths(v ...float64) []model.Length {
	out := make([]model.Length, len(v))
	for i, x := range v {
		out[i] = mm(x)
	}
	return out
}

func measures(v ...float64) []model.Measure {
	out := make([]model.Measure, len(v))
	for i, x := range v {
		out[i] = mm(x).Of(model.MM)
	}
	return out
}

// table reads the lines of a file of published numbers.
func table(t *testing.T, file string) [][]string {
	t.Helper()
	text, err := os.ReadFile("testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]string
	for _, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if !strings.HasPrefix(line, "#") {
			rows = append(rows, strings.Fields(line))
		}
	}
	return rows
}

// GUM (JCGM 100:2008) 4.4.3, twenty readings: mean printed 100.14, s 1.49, s of the
// mean 0.33; longer digits computed.
func TestGUM443(t *testing.T) {
	mean, c, err := readMean(lengths(96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
		100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72), 0)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "mean", mean/1e6, 100.145, 1e-6)
	closeTo(t, "mean as printed", math.Floor(mean/1e4)/100, 100.14, 1e-6)
	closeTo(t, "s", c.Standard*math.Sqrt(20)/1e6, 1.48884448, 1e-8)
	closeTo(t, "s of the mean", c.Standard/1e6, 0.33291575, 1e-8)
	if c.Freedom != 19 {
		t.Errorf("freedom %v", c.Freedom)
	}
}

// NIST StRD Michelso, n 100.
func TestMichelso(t *testing.T) {
	var readings []model.Length
	for _, row := range table(t, "michelso.txt") {
		m, err := model.ParseLength(row[0], model.MM)
		if err != nil {
			t.Fatal(err)
		}
		readings = append(readings, m.Length)
	}
	mean, c, err := readMean(readings, 0)
	if err != nil || c.Freedom != 99 {
		t.Fatal(c, err)
	}
	closeTo(t, "mean", mean/1e6, 299.852400000000, 1e-12)
	closeTo(t, "s", c.Standard*math.Sqrt(100)/1e6, 0.0790105478190518, 1e-15)
}

// NIST StRD NumAcc1.
func TestNumAcc1(t *testing.T) {
	mean, c, err := readMean([]model.Length{10000001, 10000003, 10000002}, 0)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "mean", mean, 10000002, 1e-9)
	closeTo(t, "s", c.Standard*math.Sqrt(3), 1, 1e-15)
}

// A ring known by its nominal thickness: rectangular, half width 0.02 mm or the
// profile's; a measured one: the micrometer's resolution (solver.md 3).
func TestWithRings(t *testing.T) {
	p := model.Profile{
		Instruments: model.Instruments{Micrometer: mm(0.001).Of(model.MM)},
		Rings: []model.Ring{
			{ID: "nominal", Count: 2}, {ID: "own", Count: 1, HalfWidth: mm(0.05).Of(model.MM)},
			{ID: "measured", Count: 1, Measured: mm(0.248).Of(model.MM)}, {ID: "huge", Count: 1, HalfWidth: model.Measure{Length: math.MaxInt64, Unit: model.MM}},
		},
	}
	for _, v := range []struct {
		stack, standing []string
		variance        float64 // mm^2
	}{
		{nil, nil, 0}, {[]string{"nominal"}, nil, 0.02 * 0.02 / 3}, {[]string{"nominal"}, []string{"nominal"}, 2 * 0.02 * 0.02 / 3},
		{[]string{"own"}, nil, 0.05 * 0.05 / 3}, {[]string{"own"}, []string{"own"}, 0}, {[]string{"measured"}, nil, 0.001 * 0.001 / 12},
		{[]string{"measured", "own"}, []string{"measured"}, 0.05 * 0.05 / 3},
	} {
		u, err := Offset{}.WithRings(p, v.stack, v.standing)
		if err != nil {
			t.Fatal(err)
		}
		closeTo(t, "U", u.Millimetres(), 2*math.Sqrt(v.variance), 2e-6)
	}
	if _, err := (Offset{}).WithRings(p, []string{"huge"}, nil); err == nil {
		t.Error("a huge half width passed")
	}
	o := Offset{parts: []Contribution{Resolution(100_000)}}
	u, err := o.WithRings(p, []string{"nominal"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "U of both", u.Millimetres(), 2*math.Sqrt(0.1*0.1/12+0.02*0.02/3), 2e-6)
}

// The mean that the readings show is gonum's, to the nanometre.
func TestMeanIsGonums(t *testing.T) {
	got, err := Mean(lengths(2.201, 2.203, 2.200))
	if want := stat.Mean([]float64{2.201, 2.203, 2.200}, nil); err != nil || got != mm(want) {
		t.Errorf("%v, %v", got, err)
	}
}

func TestMeanRefuses(t *testing.T) {
	three := lengths(1, 2, 3)
	for _, v := range []struct {
		name       string
		readings   []model.Length
		resolution model.Length
		says       string
	}{
		{"none", nil, 0, "there are no readings: take three"},
		{"huge", []model.Length{1, math.MaxInt64, 3}, 0, "reading 2 is larger than anything on a saw"},
		{"hugely negative", []model.Length{math.MinInt64}, 0, "reading 1 is larger"},
		{"negative resolution", three, -1, "the resolution is not a size"},
		{"huge resolution", three, math.MaxInt64, "the resolution is not a size"},
	} {
		if mean, _, err := readMean(v.readings, v.resolution); err == nil || !strings.Contains(err.Error(), v.says) {
			t.Errorf("%s: %v, %v", v.name, mean, err)
		}
	}
	if _, err := Mean(nil); err == nil {
		t.Error("a mean of nothing passed")
	}
}
