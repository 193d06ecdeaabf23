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
		rule Rules
		want Weight
	}{
		{-1_000_000, RulesEN, Danger}, {0, RulesEN, Danger}, {2_999_999, RulesEN, Danger}, {3_000_000, RulesEN, Explains},
		{8_000_000, RulesEN, Explains}, {8_000_001, RulesEN, Danger}, {8_100_000, "", Danger}, {2_900_000, "", Danger},
		{-1, RulesUS, Danger}, {0, RulesUS, Danger}, {1, RulesUS, Warns}, {2_999_999, RulesUS, Warns}, {3_000_000, RulesUS, Explains},
		{8_100_000, RulesUS, Explains}, {12_700_000, RulesUS, Explains}, {12_700_001, RulesUS, Danger}, {12_800_000, RulesUS, Danger},
	} {
		if got := weight(t, TipGap(v.gap, v.rule, inMillimetres)); got != v.want {
			t.Errorf("a gap of %s under %q: %v, want %v", v.gap.Of(MM), v.rule, got, v.want)
		}
	}
}
