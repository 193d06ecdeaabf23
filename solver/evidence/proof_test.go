package evidence

import (
	"strconv"
	"testing"

	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// shop is a rack whose strips repeat to some hundredths: thin is in, and so much history
// is on file, in groups of three.
func history(degrees int) *writer {
	w := new(writer)
	for i := range degrees / 2 {
		w.blade("h"+strconv.Itoa(i), Outfit{Blade: "old"}, 100, 100.01, 100.02)
	}
	return w.datum("l", 120, 120.01, 120.02).blade("l", thin, 120.02, 120.01)
}

// A proof of one strip of each needs twelve degrees of freedom; with fewer, two of each.
func TestProofNeedsStrips(t *testing.T) {
	for _, v := range []struct {
		degrees      int // with the comparison's three
		datum, blade []float64
		looks        int
	}{
		{10, []float64{121}, []float64{121}, 1},
		{8, []float64{121}, []float64{121}, 0},
		{8, []float64{121, 121}, []float64{121}, 1}, // with its own degree, twelve
		{6, []float64{121, 121}, []float64{121}, 0},
		{6, []float64{121}, []float64{121, 121}, 0},
		{6, []float64{121, 121}, []float64{121, 121}, 1},
	} {
		w := history(v.degrees).datum("k", v.datum...).blade("k", thin, v.blade...)
		c := w.judge(0.1).Course(thin)
		if c.Verdict != model.In || len(c.Proofs) != 1 || c.Proofs[0].Looks != v.looks {
			t.Errorf("%+v: %+v", v, c)
		}
		// The blade that is on may rip first.
		w = history(v.degrees).blade("k", thin, v.blade...).datum("k", v.datum...)
		if c := w.judge(0.1).Course(thin); c.Proofs[0].Looks != v.looks {
			t.Errorf("%+v, blade first: %+v", v, c)
		}
	}
}

// Twelve degrees of history and the comparison's three: the variance is 1e-4 throughout
// but for the blade's pair (5e-5). One strip of each, U of v*(1+1) + q^2/6.
func TestProofOfOneStrip(t *testing.T) {
	for _, v := range []struct {
		off  float64
		want model.Verdict
	}{{0.05, model.In}, {0.08, model.Doubtful}, {0.2, model.Out}} {
		c := history(14).datum("k", 121).blade("k", thin, 121+v.off).judge(0.1).Course(thin)
		p := c.Proofs[0]
		if p.Verdict != v.want || p.Value != given.MM(v.off) {
			t.Errorf("off by %v: %+v", v.off, p.Course)
		}
		variance := (8*2*1e-4 + 5e-5) / 17 // seven groups of history and the datum's, two degrees each, and the blade's one
		given.Close(t, "standard", p.Uncertainty.Standard/1e6*p.Uncertainty.Standard/1e6, variance*2+1e-4/6, 1e-9)
	}
}

// A doubtful proof asks for more, three at most; a second mounting is a second proof.
func TestDoubtfulProof(t *testing.T) {
	w := history(14).datum("k", 121).blade("k", thin, 121.08)
	l := w.judge(0.1)
	if further, obstacle := l.Settle(&l.Course(thin).Proofs[0].Course); obstacle != TooFewStrips && len(further) == 0 {
		t.Errorf("%v, %v", further, obstacle)
	}
	c := w.blade("k", thin, 121.12).datum("k", 121).blade("k", thin, 121.1).judge(0.1).Course(thin)
	if p := c.Proofs[0]; p.Further != 3 || !p.UsedUp() || c.Verdict != model.In {
		t.Errorf("%+v", p)
	}
	c = w.blade("k", thin, 121).rip("k", thin, ForBlade, "again", 121).judge(0.1).Course(thin)
	if len(c.Proofs) != 2 || c.Proofs[0].Own != 3 || c.Proofs[1].Verdict != model.In {
		t.Errorf("%+v", c.Proofs)
	}
}

// As many strips of each as a pair is said to take renew a blade whose offset is as it was,
// and one fewer would not; three at the most, two at the least where little is on file.
func TestPairKeepsItsWord(t *testing.T) {
	seen := map[int]int{}
	for _, degrees := range []int{6, 14} {
		for off := 0.0; off < 0.1; off += 0.005 {
			verdict := func(n int) model.Verdict {
				w := history(degrees)
				for range n {
					w.datum("k", 121)
				}
				for range n {
					w.blade("k", thin, 121+off)
				}
				return w.judge(0.1).Course(thin).Proofs[0].Verdict
			}
			n := history(degrees).judge(0.1).Pair(given.MM(off))
			seen[n]++
			if n < 1 || n > 3 || degrees < 8 && n < 2 {
				t.Errorf("%v off with %d degrees: %d strips", off, degrees, n)
			}
			if n < 3 && verdict(n) != model.In {
				t.Errorf("%v off with %d degrees: %d strips do not renew it: %s", off, degrees, n, verdict(n))
			}
			if n > 1 && (degrees >= 8 || n > 2) && verdict(n-1) == model.In {
				t.Errorf("%v off with %d degrees: %d strips, and one fewer would do", off, degrees, n)
			}
		}
	}
	if seen[1] == 0 || seen[2] == 0 || seen[3] == 0 {
		t.Errorf("the cases are lopsided: %v", seen)
	}
}
