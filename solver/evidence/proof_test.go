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
	for i := range 64 {
		off := 0.04 + 0.005*float64(i/2)
		datum := []float64{121, 121}[:1+i%2] // one strip of the datum, or two: then one more of the blade does more
		pair := func() *writer { return history(14).datum("k", datum...).blade("k", thin, 121+off) }
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

// The proof that is out and was decided last stands, until one that was begun and decided after it
// is in. Proofs are listed as they were begun; a strip of the datum may decide an older one last.
func TestOverturned(t *testing.T) {
	type decided struct {
		verdict model.Verdict
		at      int
	}
	const in, out, doubtful = model.In, model.Out, model.Doubtful
	for _, v := range []struct {
		proofs []decided
		want   int // what decided it; 0: none is overturned
	}{
		{nil, 0},
		{[]decided{{in, 5}}, 0},
		{[]decided{{doubtful, 5}}, 0},
		{[]decided{{out, 5}}, 5},
		{[]decided{{in, 5}, {out, 7}}, 7},
		{[]decided{{out, 5}, {in, 7}}, 0},
		{[]decided{{out, 5}, {doubtful, 7}}, 5},
		{[]decided{{doubtful, 5}, {out, 7}, {doubtful, 9}}, 7},
		{[]decided{{out, 5}, {out, 7}}, 7},
		{[]decided{{out, 9}, {out, 7}}, 9},
		{[]decided{{out, 9}, {in, 7}}, 9},
		{[]decided{{in, 9}, {out, 7}}, 7},
		{[]decided{{out, 5}, {in, 7}, {out, 9}}, 9},
		{[]decided{{out, 5}, {out, 7}, {in, 6}}, 7},
	} {
		var c Course
		for _, p := range v.proofs {
			c.Proofs = append(c.Proofs, &Proofing{Course: Course{Verdict: p.verdict, At: p.at}})
		}
		at := 0
		if p := c.Overturned(); p != nil {
			at = p.At
		}
		if at != v.want {
			t.Errorf("%v: %d, want %d", v.proofs, at, v.want)
		}
	}
}

// A pair that is in doubt, or has no look yet, neither says where a blade lies now nor takes it back.
func TestOutAgainBesideADoubt(t *testing.T) {
	proofs := func(verdicts ...model.Verdict) *Proofing {
		var c Course
		for i, v := range verdicts {
			c.Proofs = append(c.Proofs, &Proofing{Mounting: strconv.Itoa(i), Course: Course{Verdict: v, At: i}})
		}
		return c.OutAgain()
	}
	if p := proofs(model.Out, model.Doubtful); p != nil {
		t.Errorf("out, and a doubt: %+v", p)
	}
	for _, verdicts := range [][]model.Verdict{{model.Out, model.Out, model.Doubtful}, {model.Out, model.Doubtful, model.Out}, {model.In, model.Out, model.Out}} {
		want := 2
		if verdicts[2] == model.Doubtful {
			want = 1
		}
		if p := proofs(verdicts...); p == nil || p.At != want {
			t.Errorf("%v: %+v", verdicts, p)
		}
	}
}

// Differences are worth the datum strips that they were zeroed on: one more of those is worth
// nothing to a proof, one more of the blade's is.
func TestMoreByDifferences(t *testing.T) {
	settled := 0
	for off := 0.07; off < 0.2; off += 0.005 {
		w := history(14).datum("k", 121, 121)
		n := len(w.strips)
		w.strips = append(w.strips, Strip{Index: n, Lock: "k", Mounting: "m-thin", Outfit: thin, For: ForBlade, Differences: given.Lengths(off, off), Zeroed: []int{n - 2, n - 1}, Present: true})
		l := w.judge(0.1)
		p := l.Course(thin).Proofs[0]
		if p.Looks != 1 {
			t.Fatalf("%+v", p.Course)
		}
		if n := l.More(p, ForDatum); n != 0 {
			t.Errorf("%v off: %d datum strips", off, n)
		}
		if l.More(p, ForBlade) > 0 {
			settled++
		}
		if by := history(14).datum("k", 121, 121).blade("k", thin, 121+off).judge(0.1); by.Course(thin).Proofs[0].Verdict != p.Verdict {
			t.Errorf("%v off: %s as differences, %s as widths", off, p.Verdict, by.Course(thin).Proofs[0].Verdict)
		}
	}
	if settled == 0 {
		t.Error("no doubt is settled by strips of the blade")
	}
}

// A proof that nothing can be compared of yet wants no strips by count: it is begun anew by any.
func TestMoreBeforeTheFirstLook(t *testing.T) {
	for name, w := range map[string]*writer{
		"no datum strip": history(14).blade("k", thin, 121.08),
		"too few":        history(6).blade("k", thin, 121.08).datum("k", 121),
	} {
		l := w.judge(0.1)
		p := l.Course(thin).Proofs[0]
		if p.Looks != 0 || l.More(p, ForBlade) != 0 || l.More(p, ForDatum) != 0 {
			t.Errorf("%s: %d looks, %d and %d", name, p.Looks, l.More(p, ForBlade), l.More(p, ForDatum))
		}
	}
}

// What mounting again does is reckoned in from five degrees on, before the pair as after it.
func TestPairReckonsWithMounting(t *testing.T) {
	total := map[int]int{}
	for _, mountings := range []int{5, 8} {
		ripped := func() *writer {
			w := new(writer)
			for i := range mountings {
				lock, off := "h"+strconv.Itoa(i), 0.02-0.04*float64(i%2)
				w.datum(lock, 100, 100.01, 100.02).blade(lock, Outfit{Blade: "old"}, 100.005+off, 100.015+off)
			}
			return w.datum("l", 120, 120.01, 120.02).blade("l", thin, 120.02, 120.01)
		}
		l := ripped().judge(0.1)
		if got := l.Seats().Freedom; got != float64(mountings-1) {
			t.Fatalf("%v degrees", got)
		}
		for off := 0.0; off < 0.1; off += 0.005 {
			verdict := func(n int) model.Verdict {
				w := ripped()
				for range n { // in turn: strips that are looked at after the first change only the counts
					w.datum("k", 121).blade("k", thin, 121+off)
				}
				return w.judge(0.1).Course(thin).Proofs[0].Verdict
			}
			n := l.Pair(given.MM(off))
			total[mountings] += n
			if n < MostFurther && verdict(n) != model.In {
				t.Errorf("%v off after %d mountings: %d strips do not renew it: %s", off, mountings, n, verdict(n))
			}
			if n > 1 && verdict(n-1) == model.In {
				t.Errorf("%v off after %d mountings: %d strips, and one fewer would do", off, mountings, n)
			}
		}
	}
	if total[8] <= total[5] {
		t.Errorf("mounting asks for no strip: %v", total)
	}
}
