package evidence

import (
	"math"
	"strconv"
	"testing"

	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// GUM H.5 (JCGM 100:2008), a voltage standard on ten days, five readings a day: the
// standard deviation of the daily means is 57 uV, that of a day's readings 85 uV pooled,
// so that from day to day there is 43 uV (table H.9; daily means and deviations quoted).
// A day is a mounting here, a reading a strip, a microvolt a micrometre.
var gumH5 = []struct{ mean, deviation float64 }{
	{172, 60}, {116, 77}, {13, 111}, {144, 101}, {106, 67}, {31, 93}, {60, 80}, {125, 73}, {163, 88}, {41, 86},
}

func TestMountingAsGUMH5(t *testing.T) {
	w := new(writer).datum("l", 100)
	for day, d := range gumH5 {
		// Five strips with this mean and this deviation: two below, one at, two above.
		step := d.deviation * math.Sqrt(4./10) / 1000
		for _, k := range []float64{-2, -1, 0, 1, 2} {
			w.rip("l", thin, ForBlade, strconv.Itoa(day), 100+d.mean/1000+k*step)
		}
	}
	seats := LedgerOf(w.strips, ref, given.MM(10), 1).Seats()
	if seats.Freedom != 9 || seats.Of != thin {
		t.Fatalf("%+v", seats)
	}
	given.Close(t, "between mountings", math.Sqrt(seats.Variance)/1e3, 43, 1)
	given.Close(t, "to more digits", seats.Variance/1e6, 57.0895*57.0895-84.88698*84.88698/5, 0.1)
	given.Close(t, "largest difference", seats.Largest/1e3, 172-13, 1e-2)
}

// Under a lock each, the datum strips bring noise of their own, which is taken off; what
// comes out below zero is nothing.
func TestMountingUnderManyLocks(t *testing.T) {
	w := new(writer)
	for i, off := range []float64{0.02, -0.02, 0.02, -0.02} {
		lock := strconv.Itoa(i)
		w.datum(lock, 100, 100.01, 100.02).blade(lock, thin, 100.01+off+0.005, 100.01+off-0.005)
	}
	// Variance between mountings 4*4e-4/3; of a strip (4*2*1e-4 + 4*5e-5)/12; its share
	// 1/2 + 1/3.
	want := 4*4e-4/3 - (8e-4+2e-4)/12*5/6
	if s := w.judge(10).Seats(); s.Freedom != 3 {
		t.Errorf("%+v", s)
	} else {
		given.Close(t, "variance", s.Variance/1e12, want, 1e-9)
	}
	w = new(writer)
	for i := range 3 {
		lock := strconv.Itoa(i)
		w.datum(lock, 100, 100.01, 100.02).blade(lock, thin, 100, 100.02)
	}
	if s := w.judge(10).Seats(); s.Variance != 0 || s.Freedom != 2 {
		t.Errorf("%+v", s)
	}
}

// The closing strip is the reference mounted once more. One mounting under two locks is
// one.
func TestClosingStripIsAMounting(t *testing.T) {
	w := new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120, 120.01).blade("l", rip, 120, 120.01).closing("l", 120.03)
	s := w.judge(0.1).Seats()
	if s.Freedom != 1 || s.Of != ref {
		t.Fatalf("%+v", s)
	}
	given.Close(t, "difference", s.Largest/1e6, 0.02, 1e-6)
	broken := new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120, 120.01).blade("l", rip, 120, 120.01).closing("l", 120.3)
	if s := broken.judge(0.1).Seats(); s.Freedom != 0 {
		t.Errorf("of a lock that did not hold: %+v", s)
	}
	for _, lock := range []string{"k", "j"} {
		w.datum(lock, 120, 120.01, 120.02).rip(lock, thin, ForBlade, "stays on", 120)
	}
	if s := w.judge(0.1).Seats(); s.Freedom != 2 {
		t.Errorf("%+v", s)
	}
}

// From five degrees on, what mounting does is added to first looks and proofs, and a
// verdict that was taken stays.
func TestSeatIsAdded(t *testing.T) {
	w := new(writer)
	for i, off := range []float64{0.02, -0.02, 0.02, -0.02, 0.02} {
		lock := strconv.Itoa(i)
		w.datum(lock, 100, 100.001, 100.002).blade(lock, thin, 100+off, 100.002+off)
	}
	verdict := *w.judge(0.2).Course(thin)
	w.datum("x", 100, 100.001, 100.002).blade("x", rip, 100, 100.002)
	if c := w.judge(0.2).Course(rip); c.Seat.Standard != 0 {
		t.Errorf("with four degrees: %+v", c.Seat)
	}
	w.blade("x", thin, 100.02, 100.022).datum("y", 100, 100.001, 100.002)
	other := Outfit{Blade: "fine"}
	l := w.blade("y", other, 100, 100.002).judge(0.2)
	c := l.Course(other)
	if c.Seat.Freedom != 5 || c.Seat.Standard < 15_000 || c.Seat.Standard > 30_000 || c.Uncertainty.Standard < c.Seat.Standard {
		t.Errorf("with five: %+v", c)
	}
	if now := l.Course(thin); now.Verdict != model.In || now.Estimate != verdict.Estimate {
		t.Errorf("%+v", now)
	}
	if p := l.Course(thin).Proofs; len(p) != 5 {
		t.Errorf("%d proofs", len(p))
	}
}

// What a pair shows is no measure of what it may show: after quiet mountings one that lies far
// off is out, however far, and tells nothing of how the next blade is mounted.
func TestAPairDoesNotHideItself(t *testing.T) {
	quiet := func() *writer {
		w := new(writer)
		for i := range 7 {
			lock := strconv.Itoa(i)
			w.datum(lock, 100, 100.01, 100.02).blade(lock, thin, 100.01, 100.02)
		}
		return w
	}
	for _, off := range []float64{0.2, 0.3, 0.5, 2} {
		w := quiet().datum("x", 100).blade("x", thin, 100.01+off)
		if p := w.judge(0.1).Course(thin).Proofs; p[len(p)-1].Verdict != model.Out {
			t.Errorf("%v off: %+v", off, p[len(p)-1].Course)
		}
		other := Outfit{Blade: "fine"}
		c := w.datum("y", 100, 100.01, 100.02).blade("y", other, 100, 100.02).judge(0.1).Course(other)
		before := quiet().datum("y", 100, 100.01, 100.02).blade("y", other, 100, 100.02).judge(0.1).Course(other)
		if c.Verdict != model.In || c.Seat.Standard > before.Seat.Standard {
			t.Errorf("after a pair %v off the next blade is %s, with %v of mounting; before %v", off, c.Verdict, c.Seat, before.Seat)
		}
	}
	// Nor does one that is rather out, or that was ripped before the datum moved.
	for what, spoil := range map[string]func(*writer){
		"rather out": func(w *writer) { w.datum("x", 100).blade("x", thin, 100.125) },
		"out, and the datum moved since": func(w *writer) {
			w.datum("x", 100).blade("x", thin, 100.4)
			for i := range w.strips {
				w.strips[i].Present = false
			}
		},
	} {
		w := quiet()
		spoil(w)
		if p := w.judge(0.1).Course(thin); what == "rather out" && p.Proofs[len(p.Proofs)-1].Verdict != model.Doubtful {
			t.Fatalf("it is %s", p.Proofs[len(p.Proofs)-1].Verdict)
		}
		other := Outfit{Blade: "fine"}
		if c := w.datum("y", 100, 100.01, 100.02).blade("y", other, 100, 100.02).judge(0.1).Course(other); c.Verdict != model.In {
			t.Errorf("%s: the next blade is %s, with %v of mounting", what, c.Verdict, c.Seat)
		}
	}
	// Nor does a lock that was seen not to hold.
	w := quiet().datum("x", 100, 100.01, 100.02).blade("x", thin, 100.01, 100.02).blade("x", rip, 100.31, 100.31).closing("x", 100.31)
	broken := w.datum("y", 100, 100.01, 100.02).blade("y", rip, 100.01, 100.02).judge(0.1).Seats()
	if broken.Variance > quiet().judge(0.1).Seats().Variance {
		t.Errorf("%+v", broken)
	}
}

// A pair that is out tells nothing of mounting again, though it lies within the tolerance of where
// the blade was first: only the seven times that the other was mounted again do.
func TestAnOutPairIsNoMounting(t *testing.T) {
	w := new(writer)
	for i := range 8 {
		lock := strconv.Itoa(i)
		w.datum(lock, 100, 100.001, 100.002).blade(lock, rip, 100, 100.002)
	}
	w.datum("l", 100, 100.001, 100.002).blade("l", thin, 100.061, 100.063).datum("k", 100, 100.002).blade("k", thin, 100.141)
	l := w.judge(0.1)
	if c := l.Course(thin); c.Verdict != model.In || len(c.Proofs) != 1 || c.Proofs[0].Verdict != model.Out {
		t.Fatalf("%+v", c)
	}
	if got := l.Seats().Freedom; got != 7 {
		t.Errorf("%v degrees", got)
	}
}

// Which mountings are told of, and which are not.
func TestWhichMountingsCount(t *testing.T) {
	other := Outfit{Blade: "fine"}
	gone := func(w *writer) *writer {
		for i := range w.strips {
			w.strips[i].Present = false
		}
		return w
	}
	zeroed := new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120, 120.01).datum("k", 121, 121.01, 121.02)
	zeroed.strips = append(zeroed.strips, Strip{Index: len(zeroed.strips), Lock: "k", Mounting: "again", Outfit: thin, For: ForBlade, Differences: given.Lengths(0.01), Zeroed: []int{99}, Present: true})
	again := round().closing("l", 120.01).datum("k", 121, 121.05).blade("k", thin, 121.065).blade("k", rip, 121.045).closing("k", 121.3)
	settled := func() *writer { // seven mountings again, that tell how rips repeat
		w := new(writer)
		for i := range 8 {
			lock := strconv.Itoa(i)
			w.datum(lock, 100, 100.001, 100.002).blade(lock, other, 100, 100.002)
		}
		return w.datum("l", 100, 100.001, 100.002).blade("l", thin, 100.061, 100.063)
	}
	for _, v := range []struct {
		name      string
		w         *writer
		tolerance float64
		freedom   float64
	}{
		{"none", new(writer), 0.1, 0},
		{"one", new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120, 120.01), 0.1, 0},
		{"two", new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120, 120.01).datum("k", 121, 121.01, 121.02).blade("k", thin, 121), 0.1, 1},
		{"of another blade", new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120, 120.01).datum("k", 121, 121.01, 121.02).blade("k", other, 121), 0.1, 0},
		{"read against strips that are gone", zeroed, 0.1, 0},
		// What cut the datum strips is what most of them were cut by: 0.02 of two blades is no mounting again.
		{"against another blade", new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120, 120.01).datum("k", 121).standIn("k", rip, 121.02, 121.03).blade("k", thin, 121), 0.1, 0},
		{"against the same with more strips", new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120, 120.01).standIn("k", rip, 121.02).datum("k", 121, 121.01).blade("k", thin, 121), 0.1, 1},
		{"against the same, and one strip of another", new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120, 120.01).datum("k", 121, 121.01).standIn("k", rip, 121.02).blade("k", thin, 121), 0.1, 1},
		{"far off", new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120, 120.01).datum("k", 121, 121.01, 121.02).blade("k", thin, 121.3), 0.1, 0},
		{"far off, without a tolerance", new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120, 120.01).datum("k", 121, 121.01, 121.02).blade("k", thin, 121.3), 0, 1},
		{"a round that held", round().closing("l", 120.01), 0.1, 1},
		{"closed by another than cut the datum strips", round().standIn("l", other, 120).closing("l", 120.01), 0.1, 1},
		{"a round that did not", round().closing("l", 120.3).datum("k", 121, 121.01, 121.02).blade("k", thin, 121.05, 121.05), 1, 0},
		{"a round that wants another closing strip", again, 0.02, 2},
		{"a closing strip of a datum before this one", gone(round().closing("l", 120.01)), 0.1, 0},
		{"a pair that is out, and one that is not", settled().datum("k", 100, 100.002).blade("k", thin, 100.141).datum("j", 100, 100.002).blade("j", thin, 100.062), 0.1, 8},
		{"one that stays on: in under one lock, out under the next", settled().datum("k", 100, 100.002).rip("k", thin, ForBlade, "stays", 100.062).datum("j", 100, 100.002).rip("j", thin, ForBlade, "stays", 100.141).datum("k", 100), 0.1, 8},
		{"two under one lock, of which one is out", settled().datum("k", 100, 100.002).rip("k", thin, ForBlade, "out", 100.141).rip("k", thin, ForBlade, "back", 100.062), 0.1, 8},
	} {
		if got := v.w.judge(v.tolerance).Seats(); got.Freedom != v.freedom || math.IsNaN(got.Variance) || v.freedom == 0 && got.Largest > 0 {
			t.Errorf("%s: %+v, want %v", v.name, got, v.freedom)
		}
	}
}

// The largest difference is that of the blade that shows it, whichever was mounted again first.
func TestTheLargestDifference(t *testing.T) {
	for _, blades := range [][]Outfit{{thin, rip}, {rip, thin}} {
		w := new(writer)
		for lock, width := range map[string]float64{"l": 120, "k": 121} {
			w.datum(lock, width, width, width)
		}
		for _, o := range blades {
			w.blade("l", o, 120).blade("k", o, 121+map[Outfit]float64{thin: 0.05, rip: 0.02}[o])
		}
		if got := w.judge(0.1).Seats(); got.Of != thin || math.Abs(got.Largest-50_000) > 1e-3 {
			t.Errorf("%+v", got)
		}
	}
}

// What a closing strip tells of mounting is its difference less what its own strips and those of the
// datum scatter: 0.03, and of four degrees 1.5e-4 mm2 for 1/2 + 1/6 of a strip.
func TestMountingByAClosingStrip(t *testing.T) {
	got := round().closing("l", 120.04).judge(0.2).Seats()
	if got.Freedom != 1 {
		t.Fatalf("%+v", got)
	}
	given.Close(t, "variance", got.Variance/1e12, 0.03*0.03/2-1.5e-4*(1+1./3)/2, 1e-12)
}

// What was known of mounting before a pair is of the blade's own other mountings, too.
func TestSeatBeforeAPair(t *testing.T) {
	w := new(writer)
	for i := range 8 {
		lock, off := strconv.Itoa(i), 0.02-0.04*float64(i%2)
		w.datum(lock, 100, 100.01, 100.02).blade(lock, thin, 100.005+off, 100.015+off)
	}
	p := w.judge(0.2).Course(thin).Proofs
	if last := p[len(p)-1]; last.Seat.Freedom != 6 || last.Seat.Standard < 15_000 {
		t.Errorf("%+v", last.Course)
	}
}
