package evidence

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// writer writes strips down one after the other.
type writer struct {
	strips []Strip
}

func (w *writer) rip(lock string, o Outfit, purpose Purpose, mounting string, widths ...float64) *writer {
	w.strips = append(w.strips, Strip{Index: len(w.strips), Lock: lock, Mounting: mounting, Outfit: o, For: purpose, Widths: given.Lengths(widths...), Present: true})
	return w
}

var (
	ref  = Outfit{Blade: "general"}
	thin = Outfit{Blade: "thin", Stack: "r30"}
	rip  = Outfit{Blade: "rip", Stack: "r10"}
)

func (w *writer) datum(lock string, widths ...float64) *writer {
	for _, v := range widths {
		w.rip(lock, ref, ForDatum, "m0"+lock, v)
	}
	return w
}

func (w *writer) blade(lock string, o Outfit, widths ...float64) *writer {
	for _, v := range widths {
		w.rip(lock, o, ForBlade, "m-"+o.Blade+lock, v)
	}
	return w
}

func (w *writer) judge(tolerance float64) *Ledger {
	return LedgerOf(w.strips, ref, given.MM(tolerance), given.MM(0.01))
}

// The first look comes with two strips of the blade and three of the reference, in
// whatever order, and not before.
func TestFirstLook(t *testing.T) {
	for _, v := range []struct {
		w     *writer
		looks int
	}{
		{new(writer).datum("l", 120, 120).blade("l", thin, 120, 120), 0},
		{new(writer).datum("l", 120, 120, 120).blade("l", thin, 120), 0},
		{new(writer).datum("l", 120, 120, 120).blade("l", thin, 120, 120), 1},
		{new(writer).blade("l", thin, 120, 120).datum("l", 120, 120, 120), 1},
		{new(writer).datum("l", 120, 120, 120).blade("l", thin, 120).blade("k", thin, 120), 0},
		{new(writer).datum("l", 120, 120, 120).blade("l", thin, 120).blade("l", rip, 120), 0},
	} {
		if c := v.w.judge(0.05).Course(thin); c == nil && v.looks > 0 || c != nil && c.Looks != v.looks {
			t.Errorf("%d strips: %+v, want %d looks", len(v.w.strips), c, v.looks)
		}
	}
}

// One comparison worked out by hand: strips of 120.00 120.01 120.02 and 120.04 120.06.
// The variances are 1e-4 (2 degrees) and 2e-4 (1 degree), together 4e-4/3 mm2; the
// difference of the means is 0.04 mm.
func TestOneComparison(t *testing.T) {
	l := new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120.04, 120.06).judge(0.1)
	c := l.Course(thin)
	if c.Value != given.MM(0.04) || c.Own != 2 || c.Datum != 3 || c.Carrier != ref {
		t.Fatalf("%+v", c.Estimate)
	}
	variance := 4e-4/3*(1./2+1./3) + 2*1e-4/12
	given.Close(t, "standard", c.Uncertainty.Standard/1e6, math.Sqrt(variance), 1e-9)
	// Welch-Satterthwaite 3.97, cut to 3; t(98.2 %, 3) = 4.72118 by its closed form.
	given.Close(t, "freedom", c.Uncertainty.Freedom, 3*math.Pow(variance/(4e-4/3*5/6), 2), 1e-6)
	given.Close(t, "U", c.U.Millimetres(), 4.72118*math.Sqrt(variance), 2e-6)
	if c.Verdict != metrology.Decide(given.MM(-0.04), c.U, given.MM(0.1)) {
		t.Errorf("%s", c.Verdict)
	}
}

// A further strip changes the mean and the counts; how strips repeat stays that of the
// first look. Three count, of blade and reference together; then the stack is used up,
// and a fourth changes nothing.
func TestFurtherStrips(t *testing.T) {
	w := new(writer).datum("l", 120, 120.02, 120.04).blade("l", thin, 120.05, 120.09)
	first := *w.judge(0.05).Course(thin)
	if first.Verdict != model.Doubtful || first.UsedUp() || first.Further != 0 {
		t.Fatalf("%+v", first)
	}
	w.blade("l", thin, 120.20)
	c := w.judge(0.05).Course(thin)
	if c.Further != 1 || c.Looks != 2 || c.Own != 3 || c.Spread != first.Spread || c.Value == first.Value {
		t.Errorf("%+v", c)
	}
	w.datum("l", 120.02)
	if c = w.judge(0.05).Course(thin); c.Further != 2 || c.Datum != 4 || c.Spread != first.Spread {
		t.Errorf("%+v", c)
	}
	w.blade("l", thin, 119.93)
	last := *w.judge(0.05).Course(thin)
	if last.Further != 3 || !last.UsedUp() {
		t.Errorf("%+v", last)
	}
	w.blade("l", thin, 120.02).datum("l", 120.02)
	if c = w.judge(0.05).Course(thin); c.Estimate != last.Estimate || c.Looks != last.Looks || !c.UsedUp() {
		t.Errorf("a strip too many: %+v", c)
	}
}

// A strip of the reference uses up one of each blade undecided under that lock, of no
// other.
func TestDatumStripUsesUp(t *testing.T) {
	w := new(writer).datum("l", 120, 120.02, 120.04).blade("l", thin, 120.05, 120.09).blade("l", rip, 120.02, 120.03)
	before := *w.judge(0.1).Course(rip)
	if before.Verdict != model.In {
		t.Fatalf("%+v", before)
	}
	l := w.datum("l", 120.02).judge(0.1)
	if c := l.Course(thin); c.Further != 1 {
		t.Errorf("undecided: %+v", c)
	}
	if c := l.Course(rip); c.Further != 0 || c.Estimate != before.Estimate {
		t.Errorf("decided: %+v", c)
	}
}

// A verdict is kept; later strips are proofs.
func TestVerdictIsKept(t *testing.T) {
	w := new(writer).datum("l", 120, 120, 120.01).blade("l", thin, 120.01, 120.01)
	in := *w.judge(0.1).Course(thin)
	if in.Verdict != model.In {
		t.Fatalf("%+v", in)
	}
	c := w.datum("k", 121, 121, 121.01).blade("k", thin, 121.3, 121.3).judge(0.1).Course(thin)
	if c.Verdict != model.In || c.Estimate != in.Estimate || len(c.Proofs) != 1 || c.Proofs[0].Verdict != model.Out {
		t.Errorf("%+v", c)
	}
	out := new(writer).datum("l", 120, 120, 120.01).blade("l", thin, 120.3, 120.3)
	if c := out.blade("l", thin, 119.7, 119.7, 119.7).judge(0.1).Course(thin); c.Verdict != model.Out || c.Looks != 1 {
		t.Errorf("%+v", c)
	}
}

// A course goes on under another lock: its strips there count against datum strips
// there, and use up further ones as before; what a lock without a first look had is
// history.
func TestCourseOverTwoLocks(t *testing.T) {
	w := new(writer).datum("l", 120, 120.02, 120.04).blade("l", thin, 120.05, 120.09).datum("k", 121, 121.02, 121.04)
	first := *w.judge(0.05).Course(thin)
	if first.Further != 0 || first.Looks != 1 {
		t.Fatalf("datum strips of a lock without the blade: %+v", first)
	}
	c := w.blade("k", thin, 121.11).judge(0.05).Course(thin)
	if c.Further != 1 || c.Own != 3 || c.Spread != first.Spread {
		t.Fatalf("%+v", c)
	}
	// By the worth of each lock: 1/(1/2+1/3) = 1.2 for 0.05 and 1/(1+1/3) = 0.75 for 0.09.
	given.Close(t, "offset", c.Value.Millimetres(), (1.2*0.05+0.75*0.09)/1.95, 2e-6)
	given.Close(t, "share", w.judge(0.05).share(c), 1/1.95, 1e-9)

	// The blade that is on may rip first: the three datum strips that its strip there is
	// compared with use none up; the fourth does.
	before := new(writer).datum("l", 120, 120.02, 120.04).blade("l", thin, 120.05, 120.09).blade("k", thin, 121.11).datum("k", 121, 121.02, 121.04)
	if c := before.judge(0.05).Course(thin); c.Further != 1 || c.Own != 3 {
		t.Errorf("%+v", c)
	}
	if c := before.datum("k", 121.02).judge(0.05).Course(thin); c.Further != 2 {
		t.Errorf("%+v", c)
	}

	alone := new(writer).datum("l", 120, 120, 120).blade("l", thin, 125).datum("k", 121, 121.02, 121.04).blade("k", thin, 121.04, 121.06).judge(0.05).Course(thin)
	if alone.Looks != 1 || alone.Own != 2 || alone.Value != given.MM(0.03) {
		t.Errorf("%+v", alone)
	}
}

// Strips that the shop ripped before the first look say how rips repeat, whatever was
// cut; those after it do not.
func TestHistoryIsFrozenAtTheFirstLook(t *testing.T) {
	old := Outfit{Blade: "old"}
	w := new(writer).blade("h", old, 100, 100.03, 100.01).datum("l", 120, 120.02, 120.04).blade("l", thin, 120.05, 120.09)
	before := *w.judge(0.1).Course(thin)
	if before.Spread.Pool.Freedom != 5 || before.Spread.Own.Freedom != 3 {
		t.Fatalf("%+v", before.Spread)
	}
	if c := w.blade("h", old, 130, 140).blade("i", rip, 1, 2, 3).judge(0.1).Course(thin); c.Spread != before.Spread {
		t.Errorf("%+v", c.Spread)
	}
	// A group that began before goes in as far as it had come.
	w = new(writer).blade("h", old, 100, 100.03).datum("l", 120, 120.02, 120.04).blade("l", thin, 120.05, 120.09).blade("h", old, 100.5)
	if c := w.judge(0.1).Course(thin); c.Spread.Pool.Freedom != 4 {
		t.Errorf("%+v", c.Spread)
	}
}

// A stand-in carries the datum with its offset on record and that offset's uncertainty;
// a blade proved against a stand-in carries none.
func TestStandIn(t *testing.T) {
	w := new(writer).datum("l", 120, 120, 120.01).blade("l", rip, 120.02, 120.03)
	for _, v := range []float64{121, 121, 121.01} {
		w.rip("k", rip, ForDatum, "mk", v)
	}
	l := w.blade("k", thin, 121, 121.01).judge(0.1)
	stand, c := l.Course(rip), l.Course(thin)
	if stand.Verdict != model.In || c.Carrier != rip {
		t.Fatalf("%+v, %+v", stand, c)
	}
	raw := 0.005 - 0.01/3
	given.Close(t, "offset", c.Value.Millimetres(), raw+stand.Value.Millimetres(), 3e-6)
	own := c.Spread.Taken().Variance*(1./2+1./3) + 2*1e8/12
	given.Close(t, "standard", c.Uncertainty.Standard, math.Sqrt(own+math.Pow(stand.Uncertainty.Standard, 2)), 1e-3)

	for _, v := range []float64{122, 122, 122.01} {
		w.rip("j", thin, ForDatum, "mj", v)
	}
	other := Outfit{Blade: "fine"}
	if c := w.blade("j", other, 122, 122).judge(0.1).Course(other); c.Looks != 0 {
		t.Errorf("compared with a stand-in of a stand-in: %+v", c)
	}
	// The reference itself, sharpened, may carry it though a stand-in said where it cuts.
	sharp := Outfit{Blade: "general", Life: 1}
	w = new(writer).datum("l", 120, 120, 120.01).blade("l", rip, 120.02, 120.03)
	for _, v := range []float64{121, 121, 121.01} {
		w.rip("k", rip, ForDatum, "mk", v)
	}
	w.blade("k", sharp, 121.01, 121.01)
	for _, v := range []float64{122, 122, 122.01} {
		w.rip("j", sharp, ForDatum, "mj", v)
	}
	if c := w.blade("j", thin, 122, 122).judge(0.1).Course(thin); c.Carrier != sharp || c.Looks != 1 {
		t.Errorf("%+v", c)
	}
}

// Differences: one reading of the blade's strip for each datum strip, zeroed anew.
func TestDifferences(t *testing.T) {
	diff := func(zeroed []int, d ...float64) Strip {
		return Strip{Outfit: thin, For: ForBlade, Lock: "l", Differences: given.Lengths(d...), Zeroed: zeroed, Present: true}
	}
	base := new(writer).datum("l", 120, 120.02, 120.04).strips
	with := func(strips ...Strip) *Course {
		all := append(append([]Strip{}, base...), strips...)
		for i := range all {
			all[i].Index = i
		}
		return LedgerOf(all, ref, given.MM(0.05), given.MM(0.01)).Course(thin)
	}
	even := []int{0, 1, 2}
	c := with(diff(even, 0.04, 0.02, 0), diff(even, 0.06, 0.04, 0.02))
	if c.Value != given.MM(0.03) || c.Datum < 2.999 || c.Datum > 3.001 || c.Zeroed {
		t.Errorf("%+v", c.Estimate)
	}
	// The same strips typed as widths come to the same.
	widths := new(writer).datum("l", 120, 120.02, 120.04).blade("l", thin, 120.04, 120.06).judge(0.05).Course(thin)
	if widths.Value != c.Value || math.Abs(widths.Uncertainty.Standard-c.Uncertainty.Standard) > 1e-3 {
		t.Errorf("%+v, as widths %+v", c.Estimate, widths.Estimate)
	}
	// Zeroed on one strip only, that strip stands for the reference.
	if c := with(diff([]int{0, 0, 0}, 0.04, 0.04, 0.04), diff([]int{0, 0, 0}, 0.06, 0.06, 0.06)); math.Abs(c.Datum-1) > 1e-9 || c.Value != given.MM(0.05) {
		t.Errorf("%+v", c.Estimate)
	}
	// Zeroed once and typed so.
	if c := with(diff(nil, 0.02, 0.02, 0.02), diff(nil, 0.04, 0.04, 0.04)); !c.Zeroed || math.Abs(c.Datum-1) > 1e-9 || c.Value != given.MM(0.03) {
		t.Errorf("%+v", c.Estimate)
	}
	// A datum strip that is gone takes its differences along.
	if c := with(diff([]int{0, 1, 9}, 0.04, 0.02, 5), diff([]int{0, 1, 9}, 0.06, 0.04, 5)); c.Value != given.MM(0.04) || math.Abs(c.Datum-2) > 1e-9 {
		t.Errorf("%+v", c.Estimate)
	}
	if c := with(diff([]int{9}, 0.04), diff([]int{9}, 0.06)); c.Looks != 0 {
		t.Errorf("%+v", c.Estimate)
	}
}

// Stein's two-stage sampling (Stein 1945): with the spread and its freedom from the
// first sample only, (mean - mu)*sqrt(n)/s is Student t with the first sample's
// freedom, whatever n was made of s. So 98.2 % of intervals hold the truth however many
// further strips the spread asked for.
func TestFrozenSpreadCovers(t *testing.T) {
	r := rand.New(rand.NewPCG(1945, 1))
	const n = 20_000
	held := 0
	for range n {
		strips := new(writer)
		width := func() float64 { return 120 + 0.01*r.NormFloat64() }
		strips.datum("l", width(), width(), width()).blade("l", thin, width(), width())
		c := judgeFine(strips).Course(thin)
		further := 1
		if c.Spread.Taken().Variance > 1e8 {
			further = 3
		}
		for range further {
			strips.blade("l", thin, width())
		}
		c = judgeFine(strips).Course(thin)
		if c.Further != further {
			t.Fatalf("%+v", c)
		}
		if c.Value.Abs() <= c.U {
			held++
		}
	}
	if share := float64(held) / n; math.Abs(share-StripCoverage) > 3*math.Sqrt(0.982*0.018/n) {
		t.Errorf("%.4f of the intervals held the truth, want %.3f", share, StripCoverage)
	}
}

// judgeFine reads so finely that only strips scatter, and has no tolerance, so that nothing is
// decided.
func judgeFine(w *writer) *Ledger { return LedgerOf(w.strips, ref, -1, 1) }
