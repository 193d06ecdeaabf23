package model

import (
	"strings"
	"testing"
)

func TestPrintable(t *testing.T) {
	for text, want := range map[string]string{
		"bay-two.yaml": "bay-two.yaml", "a\x1b[31mb": `a\x1b[31mb`, "x\u202ey": `x\u202ey`, "\u009b2J": `\u009b2J`, "Säge ½": "Säge ½", "a\nb": `a\x0ab`,
	} {
		if got := Printable(text); got != want {
			t.Errorf("Printable(%q) = %q, want %q", text, got, want)
		}
	}
}

// TestUnbroken: the blanks within a length are hard, those between words are not.
func TestUnbroken(t *testing.T) {
	const text = "the 24-tooth rip: -0.20 mm / -0.008 in ± 0.01 mm, left / right 3 in 4 turns +- 1 thou"
	if got, want := HardSpaces(text), "the 24-tooth rip: -0.20~mm~/~-0.008~in~±~0.01~mm, left / right 3~in 4 turns~+-~1~thou"; got != strings.ReplaceAll(want, "~", "\u00a0") {
		t.Errorf("%q", got)
	}
	if got := Unbroken("24-tooth, -0.2 mm"); got != "24\u2011tooth, \u20110.2\u00a0mm" {
		t.Errorf("%q", got)
	}
	if got := Loose(Unbroken(text)); got != text {
		t.Errorf("%q", got)
	}
}
