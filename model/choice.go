package model

import (
	"fmt"
	"strconv"
	"strings"
)

// Choose finds what a text names in a list that is shown with numbers: a whole name, else
// a number, else the beginning of one name only. Capitals do not matter. The result
// counts from 0; the error says what would be right.
func Choose(text string, names []string) (int, error) {
	text = strings.TrimSpace(text)
	for i, name := range names {
		if strings.EqualFold(text, name) {
			return i, nil
		}
	}
	if n, err := strconv.Atoi(text); err == nil && n >= 1 && n <= len(names) && strconv.Itoa(n) == text {
		return n - 1, nil
	}
	var begun []int
	for i, name := range names {
		if text != "" && hasBeginning(name, text) {
			begun = append(begun, i)
		}
	}
	switch len(begun) {
	case 0:
		return 0, fmt.Errorf("%q is not one of them: type %s", Clip(text), Either(names))
	case 1:
		return begun[0], nil
	}
	several := make([]string, len(begun))
	for i, at := range begun {
		several[i] = names[at]
	}
	return 0, fmt.Errorf("%q begins more than one: type more of %s", Clip(text), Either(several))
}

// ChooseWord does so too by the beginning of any word of a name, where one name only has one
// such: cross finds the 80-tooth fine crosscut.
func ChooseWord(text string, names []string) (int, error) {
	at, err := Choose(text, names)
	if err == nil {
		return at, nil
	}
	text = strings.TrimSpace(text)
	found := -1
	for i, name := range names {
		for j, r := range name {
			if j > 0 && (name[j-1] == ' ' || name[j-1] == '-') && r != ' ' && text != "" && hasBeginning(name[j:], text) {
				if found >= 0 && found != i {
					return 0, fmt.Errorf("%q begins a word of more than one: type more of it", Clip(text))
				}
				found = i
			}
		}
	}
	if found < 0 {
		return 0, err
	}
	return found, nil
}

func hasBeginning(name, text string) bool {
	have, want := []rune(name), []rune(text)
	return len(want) <= len(have) && strings.EqualFold(string(have[:len(want)]), text)
}

// Either lists what may be typed: near or far.
func Either(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}
