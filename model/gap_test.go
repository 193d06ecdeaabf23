package model

import "testing"

// inMillimetres tells lengths with two decimals.
func inMillimetres(l Length) string { return l.Show(MM, 0) }

// weight of the one reason that a rule gives; Explains where it gives none.
func weight(t *testing.T, reasons []Reason) Weight {
	t.Helper()
	if len(reasons) > 1 {
		t.Fatalf("more than one reason: %v", reasons)
	}
	for _, r := range reasons {
		return r.Weight
	}
	return Explains
}

// EN 1870-1 clause 6.3: 3 to 8 mm. Cal. Code Regs. title 8 section 4296: at most 1/2 in,
// 12.7 mm; that the two may not touch, and 3 mm, are common practice there.
func TestTipGap(t *testing.T) {
	for _, v := range []struct {
		gap  Length // in nanometres
		rule GapRule
		want Weight
	}{
		{-1_000_000, GapEN, Danger}, {0, GapEN, Danger}, {2_999_999, GapEN, Danger}, {3_000_000, GapEN, Explains},
		{8_000_000, GapEN, Explains}, {8_000_001, GapEN, Danger}, {8_100_000, "", Danger}, {2_900_000, "", Danger},
		{-1, GapUS, Danger}, {0, GapUS, Danger}, {1, GapUS, Warns}, {2_999_999, GapUS, Warns}, {3_000_000, GapUS, Explains},
		{8_100_000, GapUS, Explains}, {12_700_000, GapUS, Explains}, {12_700_001, GapUS, Danger}, {12_800_000, GapUS, Danger},
	} {
		if got := weight(t, TipGap(v.gap, v.rule, inMillimetres)); got != v.want {
			t.Errorf("a gap of %s under %q: %v, want %v", v.gap.Of(MM), v.rule, got, v.want)
		}
	}
}
