package drift

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/given"

	"gonum.org/v1/gonum/stat"
)

// NIST/SEMATECH e-Handbook 6.3.2.2, individuals chart: mean moving range 1.8778, limits
// 55.8041 and 45.8159 about 50.81 (d2 1.128, not the rounded 2.66).
func TestIndividualsAsTheHandbook(t *testing.T) {
	values := []float64{49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}
	mean, meanRange := stat.Mean(values, nil), stat.Mean(MovingRanges(values), nil)
	given.Close(t, "mean", mean, 50.81, 1e-2)
	given.Close(t, "mean moving range", meanRange, 1.8778, 1e-4)
	given.Close(t, "upper limit", mean+3*meanRange/d2, 55.8041, 1e-4)
	given.Close(t, "lower limit", mean-3*meanRange/d2, 45.8159, 1e-4)
}

// NIST/SEMATECH e-Handbook 6.3.2.4, EWMA: target 50, s 2.0539, weight 0.3, limits 52.5884
// and 47.4115 (from memory). The averages as printed there, from memory too; worked out
// again, all twenty agree to the last digit.
func TestEWMAAsTheHandbook(t *testing.T) {
	data := []float64{52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}
	want := []float64{50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99}
	averages, widths := EWMA(data, 50, 2.0539, 0.3, 3, 0)
	for i := range want {
		given.Close(t, "average", averages[i], want[i], 0.0101)
	}
	given.Close(t, "upper limit", 50+widths[len(widths)-1], 52.5884, 1e-3)
	given.Close(t, "lower limit", 50-widths[len(widths)-1], 47.4115, 1e-3)
	// After one value the average has moved by the weight of it: 3*2.0539*0.3.
	given.Close(t, "first limit", widths[0], 3*2.0539*0.3, 1e-9)
}

// weekly is proofs a week apart, in thousandths of a millimetre.
func weekly(um ...float64) []Dated {
	out := make([]Dated, len(um))
	for i, v := range um {
		out[i] = Dated{time.Date(2026, 3, 2+7*i, 9, 0, 0, 0, time.UTC), v * 1000}
	}
	return out
}

var steady = []float64{0, 10, -10, 5, -5, 10, -10, 0}

// The chart begins with the eighth proof, and wants twelve degrees of freedom: twenty
// moving ranges of the saw.
func TestWatchWantsEnough(t *testing.T) {
	good := Repeatability{8_000, 12}
	for _, v := range []struct {
		proofs int
		r      Repeatability
		want   TooFew
		says   string
	}{
		{7, good, TooFew{Proofs: 1}, "1 proof more of this blade"}, {0, good, TooFew{Proofs: 8}, "8 proofs more of this blade"},
		{8, Repeatability{8_000, 11.4}, TooFew{Ranges: 1}, "1 more are wanted"}, {8, Repeatability{8_000, 4.2}, TooFew{Ranges: 13}, "13 more are wanted"}, {8, Repeatability{}, TooFew{Ranges: 20}, "20 more are wanted"},
	} {
		_, err := WatchOf(weekly(steady[:v.proofs]...), v.r, given.MM(0.05), given.MM(0.01))
		var few *TooFew
		if !errors.As(err, &few) || *few != v.want || !strings.Contains(err.Error(), v.says) {
			t.Errorf("%+v: %v", v, err)
		}
	}
	if w, err := WatchOf(weekly(steady...), good, given.MM(0.05), given.MM(0.01)); err != nil || w.Moved || len(w.Averages) != 0 {
		t.Errorf("%+v, %v", w, err)
	}
	r := RepeatabilityOf([][]float64{{0, 1, 3}, {5, 5, 9, 9, 9, 9, 9, 9, 99}, {7}}, 0)
	// Ranges 1 2 and 0 4 0 0 0 0 0, the ninth proof left out.
	given.Close(t, "deviation", r.Deviation, 7./9/1.128, 1e-12)
	given.Close(t, "freedom", r.Freedom, 9*0.6, 1e-9)
	if r := RepeatabilityOf([][]float64{{0, 1, 3}}, 50); r.Deviation != 50 {
		t.Errorf("%+v", r)
	}
}

// What a chart tells: a single proof beyond 3.5 s sqrt(9/8), or an average beyond its
// limit; since when, by how much, and no good proof named.
func TestWatchTells(t *testing.T) {
	r := Repeatability{10_000, 12}
	with := func(more ...float64) Watch {
		w, err := WatchOf(weekly(append(append([]float64{}, steady...), more...)...), r, given.MM(0.1), given.MM(0.01))
		if err != nil {
			t.Fatal(err)
		}
		return w
	}
	if w := with(); w.Deviation != 10_000 {
		t.Errorf("%+v", w)
	} else {
		given.Close(t, "centre", w.Centre/1000, 0, 1e-9)
	}
	if w, err := WatchOf(weekly(5, 15, -5, 10, 0, 15, -5, 5), r, given.MM(0.1), given.MM(0.01)); err != nil || w.Centre != 5000 {
		t.Errorf("about 5: %+v, %v", w, err)
	}
	if got := RepeatabilityOf(nil, 5); got != (Repeatability{}) {
		t.Errorf("by no proofs: %+v", got)
	}
	limit := 3.5 * 10 * math.Sqrt(9./8) // 37.12
	for _, v := range []struct {
		more   []float64
		moved  bool
		beyond int
	}{
		{[]float64{limit - 0.1}, false, 0}, {[]float64{limit + 0.1}, true, 1}, {[]float64{-limit - 0.1}, true, 1},
		{[]float64{limit + 0.1, 0}, false, 1}, // one proof far off, then as before
	} {
		if w := with(v.more...); w.Moved != v.moved || len(w.Beyond) != v.beyond {
			t.Errorf("%v: %+v", v.more, w)
		}
	}
	// Five proofs at about 25: no single one is beyond, their average is.
	w := with(2, -3, 25, 27, 24, 26, 25)
	if !w.Moved || w.Since != 10 {
		t.Fatalf("%+v", w)
	}
	given.Close(t, "by", w.By/1000, (25+27+24+26+25)/5., 1e-9)
	if len(w.Beyond) > 3 || w.Beyond[0] < 11 {
		t.Errorf("beyond: %v", w.Beyond)
	}
}

// A trend is told with its rate, and the dates at which its line, and the edge of its 95 %
// band, leave the tolerance. An exact line leaves when it says: 2 um a week from 0, 50 um
// at 25 weeks.
func TestWatchTrend(t *testing.T) {
	r := Repeatability{10_000, 12}
	var line, noisy []float64
	noise := rand.New(rand.NewPCG(1, 2))
	for i := range 12 {
		line = append(line, 2*float64(i))
		noisy = append(noisy, -2*float64(i)+noise.NormFloat64())
	}
	w, err := WatchOf(weekly(line...), r, given.MM(0.05), 1)
	if err != nil {
		t.Fatal(err)
	}
	start := weekly(0)[0].At
	given.Close(t, "rate", w.Trend.Rate, 2000./7, 1e-6)
	if got := w.Trend.Likeliest.Sub(start).Hours() / 24; got < 175 || got > 177 {
		t.Errorf("leaves on day %v, want 175", got)
	}
	w, err = WatchOf(weekly(noisy...), r, given.MM(0.05), 1)
	if err != nil || w.Trend.Rate >= 0 || !w.Trend.Earliest.Before(w.Trend.Likeliest) || w.Trend.Earliest.Before(start.AddDate(0, 0, 120)) {
		t.Errorf("%+v, %v", w.Trend, err)
	}
	for _, v := range [][]float64{append(append([]float64{}, steady...), 3, -2, 4), {5, 5, 5, 5, 5, 5, 5, 5, 5}} {
		if w, err := WatchOf(weekly(v...), r, given.MM(0.05), given.MM(0.01)); err != nil || w.Trend.Rate != 0 {
			t.Errorf("%v: %+v, %v", v, w.Trend, err)
		}
	}
	// A slope of 1.5 um a week in noise of 6.5 um: t is 2.8 of ten degrees, real at 95 % (2.228)
	// and not at 99.73 %.
	var faint []float64
	for i := range 12 {
		faint = append(faint, 1.5*float64(i)+float64(6-12*(i%2)))
	}
	if w, err := WatchOf(weekly(faint...), r, given.MM(0.05), 1); err != nil || w.Trend.Rate != 0 {
		t.Errorf("%+v, %v", w.Trend, err)
	}
	// 0.5 um a week, as straight as can be: a caliper that steps by 10 um cannot tell it.
	var slow []float64
	for i := range 12 {
		slow = append(slow, 0.5*float64(i))
	}
	for step, seen := range map[model.Length]bool{1: true, given.MM(0.01): false} {
		if w, err := WatchOf(weekly(slow...), r, given.MM(0.05), step); err != nil || (w.Trend.Rate != 0) != seen {
			t.Errorf("by steps of %d: %+v, %v", step, w.Trend, err)
		}
	}
	// 0.002 um a week, and 50 um to go: that is 480 years.
	for i := range slow {
		slow[i] = 0.002 * float64(i)
	}
	if w, err := WatchOf(weekly(slow...), r, given.MM(0.05), 1); err != nil || w.Trend.Rate == 0 || !w.Trend.Likeliest.IsZero() || !w.Trend.Earliest.IsZero() {
		t.Errorf("for ages: %+v, %v", w.Trend, err)
	}
	same := weekly(steady...)
	for i := range same {
		same[i].At = start
	}
	if w, err := WatchOf(same, r, given.MM(0.05), given.MM(0.01)); err != nil || w.Trend.Rate != 0 {
		t.Errorf("all of one day: %+v, %v", w, err)
	}
}
