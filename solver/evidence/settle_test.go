package evidence

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// Strips that Settle asks for settle the verdict, if the offset stays; one fewer would
// not.
func TestSettleKeepsItsWord(t *testing.T) {
	r := rand.New(rand.NewPCG(18, 3))
	asked := 0
	for range 3000 {
		width := func(at float64) float64 { return float64(int(100*(at+0.012*r.NormFloat64()))) / 100 }
		off := 0.03 + 0.03*r.Float64()
		w := new(writer).datum("l", width(120), width(120), width(120)).blade("l", thin, width(120+off), width(120+off))
		l := w.judge(0.1)
		c := l.Course(thin)
		if c.Verdict != model.Doubtful {
			if further, _ := l.Settle(c); further != nil {
				t.Fatalf("decided, and asks for %v", further)
			}
			continue
		}
		further, obstacle := l.Settle(c)
		if obstacle == NoObstacle && (len(further) == 0 || len(further) > 3) || obstacle != NoObstacle && further != nil {
			t.Fatalf("%v, %v", further, obstacle)
		}
		mean := func(purpose Purpose) (v float64) {
			n := 0.
			for _, s := range w.strips {
				if s.For == purpose {
					v, n = v+s.reading()/1e6, n+1
				}
			}
			return v / n
		}
		// Strips at the means leave the offset where it is.
		for i, purpose := range further {
			if purpose == ForBlade {
				w.blade("l", thin, mean(ForBlade))
			} else {
				w.datum("l", mean(ForDatum))
			}
			verdict := w.judge(0.1).Course(thin).Verdict
			if last := i == len(further)-1; last != (verdict != model.Doubtful) {
				t.Fatalf("strip %d of %v: %s", i+1, further, verdict)
			}
			asked++
		}
	}
	if asked < 100 {
		t.Errorf("only %d strips were asked for", asked)
	}
}

// Which strip comes next, and what stands in the way.
func TestSettle(t *testing.T) {
	for _, v := range []struct {
		name      string
		w         *writer
		tolerance float64
		further   []Purpose
		obstacle  Obstacle
	}{
		{"no look yet", new(writer).datum("l", 120, 120, 120).blade("l", thin, 120), 0.05, nil, NoObstacle},
		// 1/2 for the blade is more than 1/3 for the reference.
		{"one of the blade", new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120.055, 120.075), 0.1050, []Purpose{ForBlade}, NoObstacle},
		{"then of the reference", new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120.055, 120.075), 0.0940, []Purpose{ForBlade, ForDatum}, NoObstacle},
		{"more than count", new(writer).datum("l", 120, 120.03, 120.06).blade("l", thin, 120.06, 120.09), 0.08, nil, TooFewStrips},
		// |r| 0.045: 0.005 to the tolerance, and the caliper steps by 0.01.
		{"the caliper", new(writer).datum("l", 120, 120, 120).blade("l", thin, 120.04, 120.05), 0.05, nil, CoarseCaliper},
		{"the caliper, outside", new(writer).datum("l", 120, 120, 120).blade("l", thin, 120.05, 120.06), 0.05, nil, CoarseCaliper},
		{"the caliper, further off", new(writer).datum("l", 120, 120, 120).blade("l", thin, 119.94, 119.95), 0.05, nil, CoarseCaliper},
		// As far outside as the first of the blade is inside: what settles that one settles this.
		{"outside", new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120.155, 120.175), 0.1050, []Purpose{ForBlade}, NoObstacle},
		{"outside, then of the reference", new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120.139, 120.159), 0.1, []Purpose{ForBlade, ForDatum}, NoObstacle},
		// What waits for datum strips under another lock is no hindrance, but uses up one: "then of the reference" above.
		{"one that waits", new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120.055, 120.075).blade("k", thin, 121), 0.0940, []Purpose{ForBlade, ForDatum}, NoObstacle},
		{"one that waits for one more", new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120.055, 120.075).datum("k", 121, 121).blade("k", thin, 121), 0.1050, []Purpose{ForBlade}, NoObstacle},
	} {
		l := v.w.judge(v.tolerance)
		further, obstacle := l.Settle(l.Course(thin))
		if !slices.Equal(further, v.further) || obstacle != v.obstacle {
			t.Errorf("%s: %v, %v; %+v", v.name, further, obstacle, l.Course(thin).Estimate)
		}
	}
}

// How many datum strips are missing before strips are compared with them.
func TestLacks(t *testing.T) {
	begun := func() *writer { return new(writer).datum("l", 120, 120.02, 120.04).blade("l", thin, 120.05, 120.09) }
	for n, w := range map[int]*writer{
		3: begun().blade("k", thin, 121),
		2: begun().datum("k", 121).blade("k", thin, 121),
		1: begun().blade("k", thin, 121).datum("k", 121, 121),
		0: begun().blade("k", thin, 121).datum("k", 121, 121, 121),
	} {
		l := w.judge(0.05)
		c := l.Course(thin)
		if got := []int{l.Lacks(c, "l"), l.Lacks(c, "k"), l.Lacks(c, "j")}; !slices.Equal(got, []int{0, n, 0}) {
			t.Errorf("%d: %v", n, got)
		}
	}
}

// A caliper that was zeroed once for all readings: zeroing anew would settle it.
func TestSettleByZeroing(t *testing.T) {
	w := new(writer).datum("l", 120, 120.01, 120.02)
	for _, d := range []float64{0.03, 0.04} {
		w.strips = append(w.strips, Strip{Index: len(w.strips), Lock: "l", Outfit: thin, For: ForBlade, Differences: given.Lengths(d, d, d), Present: true})
	}
	l := w.judge(0.07)
	further, obstacle := l.Settle(l.Course(thin))
	if further != nil || obstacle != OneZeroing {
		t.Errorf("%v, %v: %+v", further, obstacle, l.Course(thin).Estimate)
	}
}

// What a first look is said to come to: the comparison of TestOneComparison by hand, and as a look
// says that comes, with what carries the datum and what mounting does.
func TestFirstLookKeepsItsWord(t *testing.T) {
	byHand := Scatter{4e8 / 3, 3}
	variance := 4e-4/3*(1./2+1./3) + 2*1e-4/12
	plain := new(writer).datum("l", 120, 120.01, 120.02).judge(0.1)
	for _, lock := range []string{"l", "nothing on file"} {
		given.Close(t, lock, plain.FirstLook(lock, byHand).Millimetres(), 4.72118*math.Sqrt(variance), 2e-6)
	}
	stand := new(writer).datum("l", 120, 120, 120.01).blade("l", rip, 120.02, 120.03)
	for _, v := range []float64{121, 121.01, 121.02} {
		stand.rip("k", rip, ForDatum, "mk", v)
	}
	mounted := func(times int) *writer {
		w := new(writer)
		for i := range times {
			lock, off := strconv.Itoa(i), 0.02-0.04*float64(i%2)
			w.datum(lock, 100, 100.01, 100.02).blade(lock, thin, 100.005+off, 100.015+off)
		}
		return w.datum("k", 121, 121.01, 121.02)
	}
	other := Outfit{Blade: "fine"}
	for _, v := range []struct {
		name          string
		w             *writer
		carried, seat bool
	}{
		{"alone", new(writer).datum("k", 121, 121.01, 121.02), false, false},
		{"a stand-in", stand, true, false},
		{"five mountings", mounted(5), false, false},
		{"eight", mounted(8), false, true},
	} {
		said := v.w.judge(0.2)
		c := v.w.blade("k", other, 121, 121.02).judge(0.2).Course(other)
		if carried := c.Carrier != ref; carried != v.carried || c.Seat.Standard > 0 != v.seat || c.Looks != 1 {
			t.Fatalf("%s: %+v", v.name, c)
		}
		// The strips of the look itself tell a little of how much of a mounting is their scatter.
		if u := said.FirstLook("k", c.Spread.Taken()); u != c.U && !v.seat || (u-c.U).Abs() > c.U/100 {
			t.Errorf("%s: said to be %d, and is %d", v.name, u, c.U)
		}
	}
	for _, s := range []Scatter{{1e24, 3}, {1e8, 0}} {
		if u := plain.FirstLook("l", s); u != model.MaxLength {
			t.Errorf("%+v: %d", s, u)
		}
	}
}

// Where strips are asked for they settle it, with a caliper that was zeroed once and a datum that a
// stand-in carries too; and one zeroing is blamed only where there was one.
func TestSettleKeepsItsWordOtherwise(t *testing.T) {
	differences := func(lock string, zeroed []int) func(w *writer) {
		return func(w *writer) {
			w.strips = append(w.strips, Strip{Index: len(w.strips), Lock: lock, Outfit: thin, For: ForBlade, Differences: given.Lengths(0.03, 0.04, 0.035), Zeroed: zeroed, Present: true})
		}
	}
	for _, v := range []struct {
		name  string
		w     func() *writer
		blade func(w *writer)
		datum func(w *writer)
		lock  string
		can   []Obstacle
	}{
		{"zeroed once", func() *writer {
			w := new(writer)
			for _, d := range []float64{120, 120.01, 120.02} {
				w.rip("l", ref, ForDatum, "m", d-0.01, d, d+0.01) // read three times each, which scatter
			}
			return w
		}, differences("l", nil), nil, "l", []Obstacle{CoarseCaliper, OneZeroing, TooFewStrips}},
		{"zeroed on one strip each time", func() *writer { return new(writer).datum("l", 120, 120.01, 120.02) }, differences("l", []int{0, 0, 0}), nil, "l", []Obstacle{CoarseCaliper, TooFewStrips}},
		{"a stand-in", func() *writer {
			w := new(writer).datum("l", 120, 120.02, 120.04).blade("l", rip, 120.01, 120.03)
			for _, d := range []float64{121, 121.01, 121.02} {
				w.rip("k", rip, ForDatum, "mk", d)
			}
			return w
		}, func(w *writer) { w.blade("k", thin, 121.045) }, func(w *writer) { w.rip("k", rip, ForDatum, "mk", 121.01) }, "k", []Obstacle{CoarseCaliper, TooFewStrips}},
	} {
		asked, refused := 0, 0
		for tolerance := 0.02; tolerance < 0.4; tolerance += 0.0005 {
			w := v.w()
			v.blade(w)
			v.blade(w)
			l := w.judge(tolerance)
			c := l.Course(thin)
			if c.Looks == 0 || c.Verdict != model.Doubtful {
				continue
			}
			further, obstacle := l.Settle(c)
			if further == nil {
				refused++
				if !slices.Contains(v.can, obstacle) {
					t.Errorf("%s: obstacle %v", v.name, obstacle)
				}
			}
			for i, purpose := range further {
				asked++
				if purpose == ForBlade {
					v.blade(w)
				} else {
					v.datum(w)
				}
				verdict := w.judge(tolerance).Course(thin).Verdict
				if last := i == len(further)-1; last != (verdict != model.Doubtful) {
					t.Errorf("%s, within %.3f: strip %d of %v: %s", v.name, tolerance, i+1, further, verdict)
				}
			}
		}
		if asked == 0 || refused == 0 {
			t.Errorf("%s: the cases are lopsided: %d, %d", v.name, asked, refused)
		}
	}
}

// What a lock has without enough datum strips is worth nothing yet: 1/2 + 1/3 of the other alone.
func TestShareOfALockNotYetCompared(t *testing.T) {
	for _, datum := range [][]float64{nil, {121}, {121, 121.02}} {
		l := new(writer).datum("l", 120, 120.02, 120.04).blade("l", thin, 120.05, 120.09).datum("k", datum...).blade("k", thin, 121.11).judge(0.05)
		given.Close(t, "share", l.share(l.Course(thin)), 5./6, 1e-9)
	}
}
