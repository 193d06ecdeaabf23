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
	h, mean, err := readHalf(lengths(96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
		100.33, 100.42, 100.68, 100.95, 101.11, 101.20, 101.57, 101.84, 102.36, 102.72), 0)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "mean", mean/1e6, 100.145, 1e-6)
	closeTo(t, "mean as printed", math.Floor(mean/1e4)/100, 100.14, 1e-6)
	closeTo(t, "s", h.scatter/1e6, 1.48884448, 1e-8)
	closeTo(t, "s of the mean", h.mean(0).Standard/1e6, 0.33291575, 1e-8)
	if h.mean(0).Freedom != 19 {
		t.Errorf("freedom %v", h.mean(0).Freedom)
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
	h, mean, err := readHalf(readings, 0)
	if err != nil || h.n != 100 {
		t.Fatal(h.n, err)
	}
	closeTo(t, "mean", mean/1e6, 299.852400000000, 1e-12)
	closeTo(t, "s", h.scatter/1e6, 0.0790105478190518, 1e-16)
}

// NIST StRD NumAcc1.
func TestNumAcc1(t *testing.T) {
	h, mean, err := readHalf([]model.Length{10000001, 10000003, 10000002}, 0)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "mean", mean, 10000002, 1e-9)
	closeTo(t, "s", h.scatter, 1, 1e-15)
}

// DIN 862: digital caliper to 100 mm, 0.02 mm greatest error: rectangular u
// 0.011547 mm. It stands in where nothing was read twice.
func TestDIN862Caliper(t *testing.T) {
	closeTo(t, "u", Rectangular(0.02).Standard, 0.011547, 1e-6)
	o, err := MeasuredOffset(lengths(120.10), lengths(120.00), 0)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "u of the difference", o.Uncertainty.Standard/1e6/math.Sqrt2, 0.011547, 1e-6)
	if o.Short != 2 || codes(o.Reasons) != "single-reading few-readings caliper-cancels" {
		t.Errorf("short %d, %q", o.Short, codes(o.Reasons))
	}
}

// solver.md 3 worked by hand: s_b = 0.01, s_r = 0.02 mm, three readings each, steps
// of 0.01 mm.
func TestMeasuredOffset(t *testing.T) {
	o, err := MeasuredOffset(lengths(120.11, 120.12, 120.13), lengths(119.98, 120.00, 120.02), mm(0.01))
	if err != nil {
		t.Fatal(err)
	}
	if o.Value != mm(0.12) || o.Basis != model.Measured || o.Short != 0 {
		t.Errorf("%+v", o)
	}
	b, r, q := 0.01*0.01/3, 0.02*0.02/3, 2*0.01*0.01/12
	closeTo(t, "u", o.Uncertainty.Standard/1e6, math.Sqrt(b+r+q), 1e-12)
	closeTo(t, "freedom", o.Uncertainty.Freedom, (b+r+q)*(b+r+q)/(b*b/2+r*r/2), 1e-9)
	if codes(o.Reasons) != "caliper-cancels" {
		t.Errorf("%q", codes(o.Reasons))
	}
	if same, err := o.WithRings(model.Profile{}, nil, nil); err != nil || same != o.U {
		t.Errorf("no rings: %v, %v", same, err)
	}
	// nu_eff 3.96 is truncated to 3: 3.3068222 (GUM table G.2).
	closeTo(t, "U", o.U.Millimetres(), 3.3068222*math.Sqrt(b+r+q), 2e-6)
}

func TestMeasuredByDifference(t *testing.T) {
	// With the reference's own widths: s_d = 0.01 over 4, s_r = 0.02, once.
	o, err := MeasuredByDifference(lengths(0.11, 0.12, 0.12, 0.13), lengths(119.98, 120.00, 120.02), mm(0.01))
	if err != nil {
		t.Fatal(err)
	}
	s2 := (0.01*0.01 + 0.01*0.01) / 3
	closeTo(t, "u", o.Uncertainty.Standard/1e6, math.Sqrt(s2/4+0.02*0.02+2*0.01*0.01/12), 1e-12)
	if o.Value != mm(0.12) || o.Short != 0 {
		t.Errorf("%+v", o)
	}
	// Without them the zeroing scatters as the differences do: one and the same s.
	o, err = MeasuredByDifference(lengths(-0.11, -0.12, -0.12, -0.13), nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "u", o.Uncertainty.Standard/1e6, math.Sqrt(s2/4+s2), 1e-12)
	closeTo(t, "freedom", o.Uncertainty.Freedom, 3, 1e-9)
	if codes(o.Reasons) != "caliper-cancels" {
		t.Errorf("zeroing is one reading by its nature: %q", codes(o.Reasons))
	}
	if o.Value != mm(-0.12) || o.U != rounded(3.3068222*math.Sqrt(s2/4+s2)*1e6) {
		t.Errorf("%+v", o)
	}
}

func TestOffsetAtTheEdges(t *testing.T) {
	for _, v := range []struct {
		name             string
		blade, reference []model.Length
		resolution       model.Length
		u                float64 // mm
		short            int
		codes            string
	}{
		{"all equal", lengths(120.1, 120.1, 120.1), lengths(120, 120, 120), mm(0.01), 2 * 0.01 * math.Sqrt(2./12), 0, "readings-agree caliper-cancels"},
		{"all equal, zero resolution", lengths(120.1, 120.1, 120.1), lengths(120, 120, 120), 0, 0, 0, "no-resolution caliper-cancels"},
		{"one on the blade", lengths(120.1), lengths(119.99, 120, 120.01), 0, 4.5265367 * 0.01 * math.Sqrt(1+1./3), 2, "single-reading few-readings caliper-cancels"},
		{"one on the reference", lengths(119.99, 120, 120.01), lengths(120.1), 0, 4.5265367 * 0.01 * math.Sqrt(1+1./3), 2, "single-reading few-readings caliper-cancels"},
		{"one half agrees", lengths(120, 120, 120), lengths(119.99, 120, 120.01), 0, 4.5265367 * 0.01 / math.Sqrt(3), 0, "caliper-cancels"},
		{"two each", lengths(120, 120.02), lengths(120, 120.02), 0, 4.5265367 * 0.02 / math.Sqrt2, 1, "few-readings caliper-cancels"},
	} {
		o, err := MeasuredOffset(v.blade, v.reference, v.resolution)
		if err != nil {
			t.Errorf("%s: %v", v.name, err)
			continue
		}
		closeTo(t, v.name+": U", o.U.Millimetres(), v.u, 2e-6)
		if o.Short != v.short || codes(o.Reasons) != v.codes {
			t.Errorf("%s: short %d, %q", v.name, o.Short, codes(o.Reasons))
		}
	}
}

func TestOffsetRefuses(t *testing.T) {
	three, huge := lengths(1, 2, 3), []model.Length{1, math.MaxInt64, 3}
	for _, v := range []struct {
		name             string
		blade, reference []model.Length
		resolution       model.Length
		says             string
	}{
		{"no blade", nil, three, 0, "the blade's half: there are no readings: take three"},
		{"no reference", three, nil, 0, "the reference half: there are no readings: take three"},
		{"huge", huge, three, 0, "reading 2 is larger than anything on a saw"},
		{"hugely negative", three, []model.Length{math.MinInt64}, 0, "the reference half: reading 1 is larger"},
		{"negative resolution", three, three, -1, "the resolution is not a size"},
		{"huge resolution", three, three, math.MaxInt64, "the resolution is not a size"},
	} {
		if o, err := MeasuredOffset(v.blade, v.reference, v.resolution); err == nil || !strings.Contains(err.Error(), v.says) {
			t.Errorf("%s: %+v, %v", v.name, o, err)
		}
	}
	if _, err := MeasuredByDifference(nil, three, 0); err == nil {
		t.Error("no differences passed")
	}
	if _, err := MeasuredByDifference(three, huge, 0); err == nil {
		t.Error("a huge reference passed")
	}
	if _, err := Mean(nil); err == nil {
		t.Error("a mean of nothing passed")
	}
}

// solver.md 3 and job.md: far ((P_ref+K_ref)-(P+K))/2, near ((K_ref-P_ref)-(K-P))/2,
// plus half of what the reference wobbles more.
func TestPredictedOffset(t *testing.T) {
	reference := model.Blade{ID: "ref", Plate: measures(2.20, 2.20), Kerf: measures(3.20, 3.20)}
	for _, v := range []struct {
		flange            model.Flange
		plate, kerf       float64
		refRun, run, want float64
	}{
		{model.Far, 2.0, 3.0, 0, 0, 0.2}, {model.Far, 1.8, 2.4, 0, 0, 0.6}, {model.Near, 2.0, 3.0, 0, 0, 0}, {model.Near, 1.8, 2.4, 0, 0, 0.2},
		{model.Far, 2.0, 3.0, 0.06, 0.02, 0.22}, {model.Near, 1.8, 2.4, 0.02, 0.06, 0.18},
	} {
		blade := model.Blade{ID: "b", Plate: measures(v.plate, v.plate), Kerf: measures(v.kerf, v.kerf)}
		reference.Runout, blade.Runout = mm(v.refRun).Of(model.MM), mm(v.run).Of(model.MM)
		o, err := PredictedOffset(v.flange, reference, blade, mm(0.001))
		if err != nil || o.Value != mm(v.want) || o.Basis != model.Predicted {
			t.Errorf("%+v: %v, %v", v, o.Value, err)
		}
		// Four means and two runouts, each with its resolution, halved.
		closeTo(t, "u", o.Uncertainty.Standard, math.Sqrt(6)/2*1000/math.Sqrt(12), 1e-9)
	}
}

func TestPredictedUncertainty(t *testing.T) {
	reference := model.Blade{ID: "ref", Plate: measures(2.20, 2.20, 2.20), Kerf: measures(3.19, 3.20, 3.21)}
	blade := model.Blade{ID: "b", Plate: measures(2.0), Kerf: measures(3.0, 3.0, 3.0), Runout: mm(0.04).Of(model.MM)}
	o, err := PredictedOffset(model.Far, reference, blade, 0)
	if err != nil {
		t.Fatal(err)
	}
	if codes(o.Reasons) != "single-reading runout-one-sided" {
		t.Error(codes(o.Reasons))
	}
	// Half of 0.01/sqrt 3 with two degrees of freedom: 4.5265367 (GUM table G.2).
	closeTo(t, "U", o.U.Millimetres(), 4.5265367*0.005/math.Sqrt(3), 2e-6)
	for _, bad := range []struct {
		flange model.Flange
		blade  model.Blade
	}{{"", blade}, {model.Far, model.Blade{ID: "empty"}}, {model.Near, model.Blade{Plate: measures(2), Kerf: nil}}} {
		if o, err := PredictedOffset(bad.flange, reference, bad.blade, 0); err == nil {
			t.Errorf("predicted %+v", o)
		}
	}
	flat := model.Blade{ID: "flat", Plate: measures(2, 2), Kerf: measures(3, 3)}
	if o, err := PredictedOffset(model.Far, flat, flat, 0); err != nil || codes(o.Reasons) != "no-resolution" || o.U != 0 {
		t.Errorf("%+v, %v", o, err)
	}
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
	o, err := PredictedOffset(model.Far, model.Blade{Plate: measures(2.2, 2.2), Kerf: measures(3.2, 3.2)}, model.Blade{Plate: measures(2, 2), Kerf: measures(3, 3)}, mm(0.1))
	if err != nil {
		t.Fatal(err)
	}
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
