package evidence

import (
	"testing"

	"example.com/sawdatum/testdata/given"

	"example.com/sawdatum/model"
)

// Strips read as differences come onto the scale of their lock by the datum strips that the caliper
// was zeroed on, so that they repeat as they would as widths.
func TestStripsOnOneScale(t *testing.T) {
	differ := func(zeroed []int, d ...float64) Strip {
		return Strip{Differences: given.Lengths(d...), Zeroed: zeroed}
	}
	for _, v := range []struct {
		name string
		s    Strip
		want float64
	}{
		{"as a width", Strip{Widths: given.Lengths(120.04, 120.06)}, 120.05},
		{"on the first", differ([]int{0}, 0.04), 120.04},
		{"on the second", differ([]int{1}, 0.02), 120.04},
		{"on the first and the last", differ([]int{0, 2}, 0.04, 0), 120.04}, // 0.02 over 120.02
		{"on all", differ([]int{0, 1, 2}, 0.04, 0.01, 0.01), 120.04},        // 0.02 over 120.02
		{"zeroed once", differ(nil, 0.03, 0.05), 120.06},
		{"on one that is gone", differ([]int{9}, 0.03), 120.05},
	} {
		l := new(writer).datum("l", 120, 120.02, 120.04).judge(0.1)
		v.s.Index, v.s.Lock, v.s.Outfit, v.s.For, v.s.Present = 3, "l", thin, ForBlade, true
		l.Take(v.s)
		given.Close(t, v.name, l.Locks["l"].Blades[0].Values[0]/1e6, v.want, 1e-9)
	}
}

// A difference from no datum strip says nothing, neither of where the blade cuts nor of how its strips
// repeat: not that it lies 120 mm from one that was read as a width.
func TestDifferenceFromNothing(t *testing.T) {
	for name, w := range map[string]*writer{
		"alone":           new(writer),
		"before a strip":  new(writer).blade("l", thin, 120),
		"under two locks": new(writer).datum("k", 120, 120, 120),
	} {
		w.strips = append(w.strips, Strip{Index: len(w.strips), Lock: "l", Mounting: "m-thinl", Outfit: thin, For: ForBlade, Differences: given.Lengths(0.03), Present: true})
		l := w.datum("l", 120, 120.01, 120.02).blade("l", thin, 120, 120.02).judge(0.1)
		if c := l.Course(thin); c.Own != 2 || c.Value.Abs() > given.MM(0.01) || c.Verdict != model.In || !(c.Spread.Own.Variance < 1e-3*1e12) {
			t.Errorf("%s: %+v", name, c.Estimate)
		}
	}
}

// Each mounting scatters about its own mean, wherever in between it was taken off.
func TestScatterOfMountings(t *testing.T) {
	l := new(writer).rip("l", thin, ForBlade, "a", 100).rip("l", thin, ForBlade, "b", 101).rip("l", thin, ForBlade, "a", 100.02).rip("l", thin, ForBlade, "b", 101.04).judge(0.1)
	got := l.Locks["l"].Blades[0].scatter()
	// 0.02 apart: 2e-4; 0.04 apart: 8e-4; one degree each.
	if given.Close(t, "variance", got.Variance/1e12, 5e-4, 1e-9); got.Freedom != 2 {
		t.Errorf("%+v", got)
	}
	l = new(writer).rip("l", thin, ForBlade, "a", 100).rip("l", thin, ForBlade, "b", 101).rip("l", thin, ForBlade, "a", 100).judge(0.1)
	if got := l.Locks["l"].Blades[0].scatter(); got != (Scatter{0, 1}) {
		t.Errorf("taken off in between: %+v", got)
	}
}

// Where nothing can be compared there is no difference, and not one of nothing.
func TestNoDifference(t *testing.T) {
	width := func(index int) []Strip {
		return []Strip{{Index: index, Widths: []model.Length{100}, value: 100}}
	}
	gone := []Strip{{Index: 2, Differences: []model.Length{5}, Zeroed: []int{9}, value: 5}}
	for name, v := range map[string][2][]Strip{
		"no strip of the blade": {nil, width(0)},
		"nor of the datum":      {width(1), nil},
		"zeroed on one gone":    {gone, width(0)},
	} {
		if d, ok := differ(v[0], v[1]); ok || d != (Difference{}) {
			t.Errorf("%s: %+v, %v", name, d, ok)
		}
	}
	if d, ok := differ(append(gone, width(1)...), width(0)); !ok || d.Strips() != 1 || d.Value != 0 || d.zeroing() != nil {
		t.Errorf("beside one that counts: %+v, %v", d, ok)
	}
}
