package model

import "testing"

func TestPrintable(t *testing.T) {
	for text, want := range map[string]string{
		"bay-two.yaml": "bay-two.yaml", "a\x1b[31mb": "a<001B>[31mb", "x\u202ey": "x<202E>y", "\u009b2J": "<009B>2J", "Säge ½": "Säge ½", "a\nb": "a<000A>b",
	} {
		if got := Printable(text); got != want {
			t.Errorf("Printable(%q) = %q, want %q", text, got, want)
		}
	}
}
