package evidence

import (
	"math/rand/v2"
	"slices"
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
	} {
		l := v.w.judge(v.tolerance)
		further, obstacle := l.Settle(l.Course(thin))
		if !slices.Equal(further, v.further) || obstacle != v.obstacle {
			t.Errorf("%s: %v, %v; %+v", v.name, further, obstacle, l.Course(thin).Estimate)
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
