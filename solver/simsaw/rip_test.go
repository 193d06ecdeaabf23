package simsaw

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
)

// ripping is the written-down saw with habits, its fence locked.
func ripping(h Habits, seed uint64) (Saw, Fence) {
	s := true1(model.Far)
	s.seed, s.random = seed, chance(seed, "test")
	return s.Behaving(h, "wide"), Fence{at(100)}
}

func widths(s Saw, f Fence, on Setup, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = float64(s.RipStrip(on, f).Width())
	}
	return out
}

// Without habits every strip is the fence less the cut face (job.md, Geometry), and no
// chance is drawn for it.
func TestStripWithoutHabits(t *testing.T) {
	s, f := ripping(Habits{}, 1)
	other, _ := ripping(Habits{}, 1)
	for range 3 {
		if got := s.RipStrip(Setup{Blade: "mid"}, f); got.Width() != at(97.5) || s.at(got, 2) != at(97.5) {
			t.Errorf("%v", got)
		}
	}
	if s.random.Uint64() != other.random.Uint64() {
		t.Error("ripping drew from the readings' stream of chance")
	}
}

func TestRipsScatter(t *testing.T) {
	const n = 4000
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got/want-1) > 0.05 { // 4.5 standard errors of a standard deviation
			t.Errorf("%s: %.0f nm, want %.0f", what, got, want)
		}
	}
	s, f := ripping(Habits{Rip: 10_000, Quiet: 0.3}, 2)
	mean, sd := stat.MeanStdDev(widths(s, f, Setup{Blade: "mid"}, n), nil)
	near("a blade", sd, 10_000)
	if math.Abs(mean-97.5e6) > 700 { // 4.4 standard errors
		t.Errorf("mean %v", mean)
	}
	near("the quiet reference", stat.StdDev(widths(s, f, Setup{Blade: "wide"}, n), nil), 3_000)

	s, f = ripping(Habits{Rip: 5_000, BadDays: 3}, 3)
	bad := 0
	for day := range 300 {
		today := s.OnDay(day)
		want := 5_000.
		if today.WorseToday() {
			bad++
			want = 10_000
		}
		if day < 12 {
			near("a day", stat.StdDev(widths(today, f, Setup{Blade: "mid"}, n), nil), want)
		}
	}
	if bad < 75 || bad > 125 {
		t.Errorf("%d bad days of 300, want a third", bad)
	}
}

// One mounting seats a blade at one place; mountings scatter.
func TestMountingsScatter(t *testing.T) {
	s, f := ripping(Habits{Mounting: 10_000}, 4)
	var means []float64
	for i := range 1000 {
		on := Setup{Blade: "mid", Mounting: string(rune('a'+i%26)) + string(rune('a'+i/26))}
		of := widths(s, f, on, 2)
		if of[0] != of[1] {
			t.Fatal("one mounting cut at two places")
		}
		means = append(means, of[0])
	}
	if sd := stat.StdDev(means, nil); math.Abs(sd/10_000-1) > 0.1 {
		t.Errorf("mountings scatter by %v nm, want 10000", sd)
	}
}

// The width runs alike along every strip of a saw, no further than asked, and is right
// in the middle; a burr stands at one end.
func TestAlongAStrip(t *testing.T) {
	most := 0.
	for seed := range uint64(200) {
		s, f := ripping(Habits{Edge: 20_000}, seed)
		a, b := s.RipStrip(Setup{Blade: "mid"}, f), s.RipStrip(Setup{Blade: "thin"}, f)
		var run []float64
		for place := range 5 {
			off := float64(s.at(a, place) - a.Width())
			if off != float64(s.at(b, place)-b.Width()) {
				t.Fatal("two strips run differently")
			}
			run = append(run, off)
		}
		if run[1] != 0 {
			t.Errorf("off by %v in the middle", run[1])
		}
		most = max(most, slices.Max(run)-slices.Min(run))
	}
	if most > 20_000 || most < 8_000 {
		t.Errorf("runs over %v at most, asked for 20000", most)
	}
	s, f := ripping(Habits{Burrs: 4, Burr: 80_000}, 5)
	ends := map[int]int{}
	for range 4000 {
		p := s.RipStrip(Setup{Blade: "mid"}, f)
		for place := range 3 {
			if s.at(p, place) == p.Width()+80_000 {
				ends[place]++
			}
		}
	}
	if ends[1] != 0 || ends[0]+ends[2] < 880 || ends[0]+ends[2] > 1120 || ends[0] < 400 || ends[2] < 400 {
		t.Errorf("burrs at %v of 4000 strips, want a quarter, at both ends", ends)
	}
}

// Readings are of the marked places in their order.
func TestReadStrip(t *testing.T) {
	s, f := ripping(Habits{Edge: 20_000, Burrs: 1, Burr: 80_000}, 6)
	p := s.RipStrip(Setup{Blade: "mid"}, f)
	three, more := s.ReadStrip(p, 0, 3), s.ReadStrip(p, 3, 2)
	for place, got := range append(three, more...) {
		if got != s.at(p, place) {
			t.Errorf("place %d reads %v, is %v", place, got, s.at(p, place))
		}
	}
}
