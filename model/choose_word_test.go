package model

import "testing"

func TestChooseWord(t *testing.T) {
	names := []string{"48-tooth general", "80-tooth fine crosscut", "24-tooth rip", "60-tooth fine veneer"}
	for text, want := range map[string]int{"cross": 1, "rip": 2, "24": 2, "3": 2, "VENEER": 3, "fine v": 3, "48-tooth": 0} {
		if got, err := ChooseWord(text, names); err != nil || got != want {
			t.Errorf("%q is %d, want %d: %v", text, got, want, err)
		}
	}
	for _, text := range []string{"", "fine", "tooth", "oss", "table"} {
		if got, err := ChooseWord(text, names); err == nil {
			t.Errorf("%q is taken for %s", text, names[got])
		}
	}
}
