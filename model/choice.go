package model

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// ErrSeveral is in the error where a text names more than one.
var ErrSeveral = errors.New("fits more than one")

// Choose finds what a text names in a list that is shown with numbers: a whole name, else
// a number, else the beginning of one name only. Capitals do not matter. The result
// counts from 0; the error says what would be right.
func Choose(text string, names []string) (int, error) {
	at, begun, err := choose(text, names)
	if len(begun) > 1 {
		err = severalOf(text, begun, names)
	}
	return at, err
}

// ChooseWord does so too by the beginning of any word of a name, where one name only has one
// such: cross finds the 80-tooth fine crosscut.
func ChooseWord(text string, names []string) (int, error) {
	at, _, err := choose(text, names)
	if err == nil {
		return at, nil
	}
	return one(text, names, false)
}

// ChooseWhole takes a whole name, else a whole word that one name only has and that is no number, and
// no beginnings: what is typed where somebody says what was seen.
func ChooseWhole(text string, names []string) (int, error) {
	text = strings.TrimSpace(text)
	if at := slices.IndexFunc(names, func(name string) bool { return strings.EqualFold(text, name) }); at >= 0 {
		return at, nil
	}
	if _, err := strconv.Atoi(text); err == nil {
		return 0, noneOf(text, names)
	}
	return one(text, names, true)
}

// choose is Choose, with all names that begin so where that does not decide.
func choose(text string, names []string) (at int, begun []int, err error) {
	text = strings.TrimSpace(text)
	for i, name := range names {
		if strings.EqualFold(text, name) {
			return i, nil, nil
		}
	}
	if n, err := strconv.Atoi(text); err == nil && n >= 1 && n <= len(names) && strconv.Itoa(n) == text {
		return n - 1, nil, nil
	}
	for i, name := range names {
		if text != "" && hasBeginning(name, text) {
			begun = append(begun, i)
		}
	}
	if len(begun) == 1 {
		return begun[0], nil, nil
	}
	return 0, begun, noneOf(text, names)
}

// one is the only name that has a word, or one that begins so.
func one(text string, names []string, whole bool) (int, error) {
	var found []int
	for i, name := range names {
		if hasWord(name, strings.TrimSpace(text), whole) {
			found = append(found, i)
		}
	}
	switch len(found) {
	case 0:
		return 0, noneOf(text, names)
	case 1:
		return found[0], nil
	}
	return 0, severalOf(text, found, names)
}

func noneOf(text string, names []string) error {
	return fmt.Errorf("%q is not one of them: type %s", Clip(strings.TrimSpace(text)), Either(names))
}

func severalOf(text string, found []int, names []string) error {
	several := make([]string, len(found))
	for i, at := range found {
		several[i] = names[at]
	}
	return fmt.Errorf("%q %w: type more of %s", Clip(strings.TrimSpace(text)), ErrSeveral, Either(several))
}

// hasWord reports whether text begins a word of a name, and where it is to be whole, ends one too. Words
// stand behind a space or a dash.
func hasWord(name, text string, whole bool) bool {
	if text == "" {
		return false
	}
	for at := range name {
		if at > 0 && !between(rune(name[at-1])) || !hasBeginning(name[at:], text) {
			continue
		}
		rest := []rune(name[at:])[len([]rune(text)):]
		if !whole || len(rest) == 0 || between(rest[0]) {
			return true
		}
	}
	return false
}

func between(r rune) bool { return r == ' ' || r == '-' }

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
