package model

import (
	"strings"
	"testing"
)

func TestChooseWord(t *testing.T) {
	names := []string{"48-tooth general", "80-tooth fine crosscut", "24-tooth rip", "60-tooth fine veneer"}
	for text, want := range map[string]int{"cross": 1, "rip": 2, "24": 2, "3": 2, "VENEER": 3, "fine v": 3, "48-tooth": 0} {
		if got, err := ChooseWord(text, names); err != nil || got != want {
			t.Errorf("%q is %d, want %d: %v", text, got, want, err)
		}
	}
	for text, says := range map[string]string{
		"": "is not one of them", "oss": "is not one of them", "table": "type 48-tooth general, 80-tooth fine crosscut, 24-tooth rip or 60-tooth fine veneer",
		" fine ": `"fine" fits more than one: type more of 80-tooth fine crosscut or 60-tooth fine veneer`, "tooth": "more of 48-tooth general, 80-tooth fine crosscut, 24-tooth rip or 60-tooth fine veneer",
	} {
		if got, err := ChooseWord(text, names); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q is taken for %s: %v", text, names[got], err)
		}
	}
	// One that begins so comes before words within; two that begin so, and one that has the word, are three.
	for text, says := range map[string]string{"fine": "more of fine 80, fine 60 or 48 fine", "rip": ""} {
		if got, err := ChooseWord(text, []string{"fine 80", "48 rip", "fine 60", "48 fine", "rip-24"}); says == "" && (err != nil || got != 4) || says != "" && (err == nil || !strings.Contains(err.Error(), says)) {
			t.Errorf("%q: %d, %v", text, got, err)
		}
	}
}

func TestChooseWhole(t *testing.T) {
	names := []string{"48-tooth general", "80-tooth fine crosscut", "24-tooth rip", "60-tooth fine veneer", "2"}
	for text, want := range map[string]int{"rip": 2, " RIP ": 2, "24-tooth rip": 2, "crosscut": 1, "fine crosscut": 1, "fine veneer": 3, "2": 4} {
		if got, err := ChooseWhole(text, names); err != nil || got != want {
			t.Errorf("%q is %d, want %d: %v", text, got, want, err)
		}
	}
	for text, says := range map[string]string{
		"": "is not one of them", "ri": "is not one of them", "r": "is not one of them", " 24 ": "is not one of them", "1": "is not one of them", "24-tooth r": "is not one of them", "fine": "type more of 80-tooth fine crosscut or 60-tooth fine veneer",
	} {
		if got, err := ChooseWhole(text, names); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q is taken for %s: %v", text, names[got], err)
		}
	}
}
