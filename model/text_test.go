package model

import "testing"

func TestPrintable(t *testing.T) {
	for text, want := range map[string]string{
		"bay-two.yaml": "bay-two.yaml", "a\x1b[31mb": `a\x1b[31mb`, "x\u202ey": `x\u202ey`, "\u009b2J": `\u009b2J`, "Säge ½": "Säge ½", "a\nb": `a\x0ab`,
	} {
		if got := Printable(text); got != want {
			t.Errorf("Printable(%q) = %q, want %q", text, got, want)
		}
	}
}
