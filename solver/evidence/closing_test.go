package evidence

import (
	"math"
	"testing"

	"example.com/sawdatum/testdata/given"
)

func (w *writer) closing(lock string, widths ...float64) *writer {
	for _, v := range widths {
		w.rip(lock, ref, ForClosing, "m9"+lock, v)
	}
	return w
}

// round is two blades compared under one lock: variances 1e-4 (2 degrees) and twice
// 2e-4 (1 degree each), together 6e-4/4 mm2 with 4 degrees.
func round() *writer {
	return new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120.04, 120.06).blade("l", rip, 120.02, 120.04)
}

// A lock held where the blade of the datum, ripped again, comes within U of its strips:
// Variance of one strip times 1 + 1/3, and two steps of the caliper, no mounting.
func TestClosingStrip(t *testing.T) {
	last := 6
	if got, _ := round().judge(0.1).Round("l", last); got != RoundOpen {
		t.Errorf("before the closing strip: %v", got)
	}
	variance := 1.5e-4*(1+1./3) + 1e-4/6
	// Freedom 4*(2.1667/2)^2 = 4.69, cut to 4; t(98.2 %, 4) in closed form.
	alpha := 4 * 0.991 * 0.009
	t4 := 2 * math.Sqrt(math.Cos(math.Acos(math.Sqrt(alpha))/3)/math.Sqrt(alpha)-1)
	u := t4 * math.Sqrt(variance)
	for _, v := range []struct {
		off  float64
		want Round
	}{{0, RoundClosed}, {u - 1e-4, RoundClosed}, {-u + 1e-4, RoundClosed}, {u + 1e-4, RoundBroken}, {-u - 1e-4, RoundBroken}} {
		got, c := round().closing("l", 120.01+v.off).judge(0.1).Round("l", last)
		if got != v.want || c.Value != given.MM(v.off) {
			t.Errorf("off by %v: %v, %+v", v.off, got, c)
		}
		given.Close(t, "U", c.U.Millimetres(), u, 4e-6)
	}
}

// Where U is wider than the tolerance, a second strip is wanted, and their mean counts.
func TestSecondClosingStrip(t *testing.T) {
	if got, c := round().closing("l", 120.01).judge(0.04).Round("l", 6); got != RoundOpen || !c.Again || c.Strips != 1 {
		t.Errorf("%v, %+v", got, c)
	}
	got, c := round().closing("l", 120.03, 120.01).judge(0.04).Round("l", 6)
	if got != RoundClosed || c.Again || c.Strips != 2 || c.Value != given.MM(0.01) {
		t.Errorf("%v, %+v", got, c)
	}
	if got, c := round().closing("l", 120.2, 120.18).judge(0.04).Round("l", 6); got != RoundBroken || c.Value != given.MM(0.18) {
		t.Errorf("%v, %+v", got, c)
	}
	// Where the first decides, the second does not.
	if got, _ := round().closing("l", 120.2, 120.01).judge(0.1).Round("l", 6); got != RoundBroken {
		t.Errorf("%v", got)
	}
}

// One blade alone closes by itself. A closing strip closes what was compared before it,
// and is no strip of the datum.
func TestWhatARoundCloses(t *testing.T) {
	alone := new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120.04, 120.06)
	if got, _ := alone.judge(0.1).Round("l", 4); got != RoundClosed {
		t.Errorf("one blade: %v", got)
	}
	first := new(writer).datum("l", 120, 120.01, 120.02).blade("l", thin, 120.04, 120.06)
	first.strips[len(first.strips)-1].Round = true
	if got, _ := first.judge(0.1).Round("l", 4); got != RoundOpen {
		t.Errorf("one blade, and others follow: %v", got)
	}
	if got, _ := first.closing("l", 120.01).judge(0.1).Round("l", 4); got != RoundClosed {
		t.Errorf("the others were left: %v", got)
	}
	w := round()
	before := *w.judge(0.1).Course(rip)
	w.closing("l", 120.01).blade("l", Outfit{Blade: "fine"}, 120, 120.01)
	l := w.judge(0.1)
	if got, _ := l.Round("l", 6); got != RoundClosed {
		t.Errorf("compared before the closing strip: %v", got)
	}
	if got, _ := l.Round("l", 9); got != RoundOpen {
		t.Errorf("compared after it: %v", got)
	}
	if c := l.Course(rip); c.Estimate != before.Estimate {
		t.Errorf("the closing strip changed a comparison: %+v", c)
	}
	if c := l.Course(Outfit{Blade: "fine"}); c.Datum != 3 {
		t.Errorf("the closing strip counts for the datum: %+v", c)
	}
	if got, _ := w.closing("l", 120.02).judge(0.1).Round("l", 9); got != RoundClosed {
		t.Errorf("%v", got)
	}
}

// A strip that closes is held against those that its own blade ripped for the datum, and what
// closed a round stays.
func TestAgainstWhatARoundCloses(t *testing.T) {
	// The datum's mean is 120.01; a stand-in that cuts 0.05 wider ripped strips for it too.
	w := round()
	for _, v := range []float64{120.06, 120.07} {
		w.rip("l", Outfit{Blade: "fine"}, ForDatum, "stand-in", v)
	}
	if got, c := w.closing("l", 120.02).judge(0.1).Round("l", 6); got != RoundClosed || c.Value != given.MM(0.01) {
		t.Errorf("beside a stand-in: %v, %+v", got, c)
	}
	// The first strip, 0.19 off, decides; a second one that brings their mean back changes nothing.
	if got, c := round().closing("l", 120.2, 119.82).judge(0.1).Round("l", 6); got != RoundBroken || c.Strips != 1 || c.Value != given.MM(0.19) {
		t.Errorf("decided before: %v, %+v", got, c)
	}
	// Each round has strips of its own.
	w = round().closing("l", 120.2).blade("l", Outfit{Blade: "fine"}, 120, 120.01).closing("l", 120.02)
	if got, c := w.judge(0.1).Round("l", 6); got != RoundBroken || c.Value != given.MM(0.19) {
		t.Errorf("the first round: %v, %+v", got, c)
	}
	if got, c := w.judge(0.1).Round("l", 9); got != RoundClosed || c.Strips != 1 || c.Value != given.MM(0.01) {
		t.Errorf("the second: %v, %+v", got, c)
	}
}

// No round is closed where nothing is there to close it by.
func TestNothingToCloseBy(t *testing.T) {
	old := round()
	for i := range 3 {
		old.strips[i].Present = false
	}
	for name, w := range map[string]*writer{
		"no strip of its blade":       new(writer).blade("l", thin, 120.04, 120.06).blade("l", rip, 120.02, 120.04).closing("l", 120.01),
		"those of an older datum":     old.closing("l", 120.01),
		"nothing tells how they vary": new(writer).datum("l", 120).blade("l", thin, 120).blade("l", rip, 120).closing("l", 120),
	} {
		if got, c := w.judge(0.1).Round("l", 2); got != RoundOpen || c != (Closing{}) {
			t.Errorf("%s: %v, %+v", name, got, c)
		}
	}
	if got, _ := round().judge(0.1).Round("another", 2); got != RoundOpen {
		t.Errorf("a lock of which nothing is on file: %v", got)
	}
}
