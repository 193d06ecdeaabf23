// Package field asks for typed answers with huh's fields, without huh's forms: a
// form moves on by messages that arrive after the key, so a double enter could pass a
// gate with nothing typed. Here every key is finished inside one Update.
// What stands around a text is drawn by the screen.
package field

import (
	"fmt"

	"example.com/sawdatum/model"
)

// MaxText is the number of characters that a field holds.
const MaxText = 2000

// Spec is one thing to type.
type Spec struct {
	Key     string
	Value   string                  // text to start with; a gate always starts empty
	Default bool                    // Value is not what was typed: the first letter or figure replaces it
	Gate    bool                    // typed by hand, key by key: no paste, no burst, no start text
	Check   func(text string) error // what is wrong with a text; nil: it takes every text
}

// check is what is wrong with a text, nil when the field takes it.
func (s Spec) check(text string) error {
	if s.Check == nil {
		return nil
	}
	return s.Check(text)
}

// refuse is why text may not go into a field that holds n characters already.
func (s Spec) refuse(n int, text []rune) error {
	if s.Gate && len(text) != 1 {
		return fmt.Errorf("type the word by hand: here nothing is pasted or typed ahead; press enter first")
	}
	if n+len(text) > MaxText {
		return fmt.Errorf("%d characters are too many: a field holds %d, so nothing was taken", n+len(text), MaxText)
	}
	for _, r := range text {
		if !model.Visible(r) && r != '\n' && r != '\r' && r != '\t' {
			return fmt.Errorf("the text holds the invisible character %U, so nothing was taken: type it by hand", r)
		}
	}
	return nil
}
