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

// So many strips more of the one or the other settle a doubtful pair, and one fewer does not; what
// no strip that still counts settles wants none.
func TestMoreSettles(t *testing.T) {
	settled, none := 0, 0
	for off := 0.04; off < 0.2; off += 0.005 {
		pair := func() *writer { return history(14).datum("k", 121).blade("k", thin, 121+off) }
		l := pair().judge(0.1)
		p := l.Course(thin).Proofs[0]
		for _, of := range []Purpose{ForBlade, ForDatum} {
			n := l.More(p, of)
			verdict := func(n int) model.Verdict {
				w := pair()
				for range n {
					if of == ForBlade {
						w.blade("k", thin, 121+off)
					} else {
						w.datum("k", 121)
					}
				}
				return w.judge(0.1).Course(thin).Proofs[0].Verdict
			}
			switch {
			case p.Verdict != model.Doubtful && n != 0, n < 0 || n > MostFurther:
				t.Errorf("%v off, %s: %d strips", off, p.Verdict, n)
			case p.Verdict != model.Doubtful:
			case n == 0:
				none++
				if verdict(MostFurther) != model.Doubtful {
					t.Errorf("%v off: three strips of %v settle it", off, of)
				}
			default:
				settled++
				if verdict(n) == model.Doubtful || n > 1 && verdict(n-1) != model.Doubtful {
					t.Errorf("%v off: %d strips of %v, and it is %s, with one fewer %s", off, n, of, verdict(n), verdict(n-1))
				}
			}
		}
	}
	if settled == 0 || none == 0 {
		t.Errorf("the cases are lopsided: %d, %d", settled, none)
	}
}

// The pair after a doubtful one takes as many strips as decide on what that one said.
func TestPairAfterADoubt(t *testing.T) {
	w := history(14).datum("k", 121).blade("k", thin, 121.13)
	l := w.judge(0.1)
	p := l.Course(thin).Proofs[0]
	n := l.Pair(p.Value)
	if p.Verdict != model.Doubtful || n != 2 || l.Pair(0) != 1 {
		t.Fatalf("%s, %d strips of each, %d for one at the datum", p.Verdict, n, l.Pair(0))
	}
	for range n {
		w.datum("m", 122)
	}
	for range n {
		w.blade("m", thin, 122.13)
	}
	if p := w.judge(0.1).Course(thin).Proofs[1]; p.Verdict != model.Out {
		t.Errorf("%+v", p.Course)
	}
}

// Two pairs in a row that are out, each mounted anew, say where the blade lies now; one does not,
// nor two of one mounting, nor where one between them was in.
func TestOutAgain(t *testing.T) {
	w := history(14).datum("k", 121).blade("k", thin, 121.4)
	if p := w.judge(0.1).Course(thin).OutAgain(); p != nil {
		t.Errorf("once: %+v", p)
	}
	w.datum("m", 122).rip("m", thin, ForBlade, "m-think", 122.4)
	if p := w.judge(0.1).Course(thin).OutAgain(); p != nil {
		t.Errorf("twice in one mounting: %+v", p)
	}
	w.datum("n", 123).blade("n", thin, 123.4)
	if p := w.judge(0.1).Course(thin).OutAgain(); p == nil || p.Lock != "n" || p.Value != given.MM(0.4) {
		t.Errorf("mounted anew: %+v", p)
	}
	w.datum("o", 124).blade("o", thin, 124)
	if p := w.judge(0.1).Course(thin).OutAgain(); p != nil {
		t.Errorf("in since: %+v", p)
	}
	w.datum("q", 125).blade("q", thin, 125.4)
	if p := w.judge(0.1).Course(thin).OutAgain(); p != nil {
		t.Errorf("out, in, out: %+v", p)
	}
}
