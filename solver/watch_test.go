package solver

import (
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/drift"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/testdata/given"
)

// TestWhatIsCharted: the proofs of each blade's present stack, in its present life, against a blade
// whose own offset is known; a knife squared and voided begins no other chart, closing strips are
// no proofs of the reference.
func TestWhatIsCharted(t *testing.T) {
	weeks := func(d *days, n int, blade string, rings ...string) *days {
		for range n {
			d.pair("w"+string(rune('a'+len(d.p.Records))), blade, rings, []float64{120.01, 120.01}, 120, 120, 120)
		}
		return d
	}
	for name, c := range map[string]struct {
		do   func(d *days)
		want map[string]int // proofs on the chart of each blade
	}{
		"three weeks":         {func(d *days) { weeks(d, 3, "rip", "r20") }, map[string]int{"rip": 3}},
		"one week":            {func(d *days) { weeks(d, 1, "rip", "r20") }, nil},
		"sharpened since":     {func(d *days) { weeks(d, 3, "rip", "r20").sharpened("rip", 2.97, "") }, nil},
		"another stack since": {func(d *days) { weeks(weeks(d, 3, "rip", "r20"), 2, "rip", "r10", "r10") }, map[string]int{"rip": 2}},
		"squared and voided":  {func(d *days) { weeks(weeks(d, 2, "rip", "r20").square(0, 0, 0, 0).voidLast(), 2, "rip", "r20") }, map[string]int{"rip": 4}},
		"squared":             {func(d *days) { weeks(weeks(d, 2, "rip", "r20").square(0, 0, 0, 0), 3, "rip", "r20") }, map[string]int{"rip": 3}},
		"against what is unknown": {func(d *days) {
			for _, l := range []string{"la", "lb", "lc"} {
				d.mount("rip", "r20").fence(l).rip(model.ForBlade, 120.01, 120.01).mount("fine", "r20").rip(model.Datum, 120, 120, 120)
			}
		}, nil},
		"closed twice": {func(d *days) {
			for _, l := range []string{"la", "lb", "lc"} {
				d.mount("general").fence(l).rip(model.Datum, 120, 120, 120).mount("rip", "r20").rip(model.ForBlade, 120, 120).mount("fine", "r20").rip(model.ForBlade, 120, 120).mount("general").rip(model.Closing, 120.01)
			}
		}, map[string]int{"rip": 3, "fine": 3}},
		"two stacks in turn under one lock": {func(d *days) {
			weeks(d, 2, "rip", "r20").mount("rip", "r10", "r10").rip(model.ForBlade, 120, 120).mount("rip", "r20").rip(model.ForBlade, 120, 120)
		}, map[string]int{"rip": 3}},
	} {
		d := begun()
		c.do(d)
		got := map[string]int{}
		for _, w := range WatchRack(d.p) {
			got[w.Blade] = len(w.Proofs)
		}
		for blade, n := range c.want {
			if got[blade] != n {
				t.Errorf("%s: %d proofs of %s, want %d", name, got[blade], blade, n)
			}
		}
		if len(got) != len(c.want) {
			t.Errorf("%s: charts of %v", name, got)
		}
	}
}

// TestWhatAChartTells: a drift of 0.001 mm a day is 0.028 mm in four weeks; with when it leaves the
// tolerance, as far as that is known.
func TestWhatAChartTells(t *testing.T) {
	day := func(month time.Month) time.Time { return time.Date(2027, month, 1, 0, 0, 0, 0, time.UTC) }
	const micron = float64(model.Millimetre) / 1000
	j := judging{words: metrology.WordsOf(shop())}
	for name, c := range map[string]struct {
		trend drift.Trend
		code  string
		says  []string
	}{
		"none":               {drift.Trend{}, "watch-steady", []string{"0 proofs lie within"}},
		"toward":             {drift.Trend{Rate: micron, Likeliest: day(time.May), Earliest: day(time.March)}, "watch-drifts", []string{"drifts toward the fence by 0.028 mm in four weeks, and leaves the tolerance about 2027-05-01, on 2027-03-01 at the earliest"}},
		"away, if ever":      {drift.Trend{Rate: -micron, Earliest: day(time.March)}, "watch-drifts", []string{"drifts away from the fence by 0.028 mm in four weeks, and leaves the tolerance on 2027-03-01 at the earliest"}},
		"too slow to matter": {drift.Trend{Rate: micron / 10}, "watch-drifts", []string{"by 0.003 mm in four weeks, and does not leave the tolerance within ten years so"}},
	} {
		got := j.watchWords(BladeWatch{Watch: drift.Watch{Trend: c.trend}})
		if len(got) != 1 || !given.Has(got, c.code, c.says...) {
			t.Errorf("%s: %v", name, got)
		}
	}
}
