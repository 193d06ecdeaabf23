package model

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"
)

// MaxMarks is how many combining marks one letter may carry.
const MaxMarks = 4

// TextFault says in words why a text may not stand in a profile; empty: it may.
// Escape and control characters, bidirectional overrides and other characters that
// cannot be seen are refused, since a text is shown on screens and cards.
func TextFault(s string) string {
	if len(s) > MaxText && utf8.RuneCountInString(s) > MaxText {
		return fmt.Sprintf("the text has %d characters", utf8.RuneCountInString(s))
	}
	marks := 0
	for i, r := range s {
		if r < utf8.RuneSelf && r >= ' ' && r != 0x7f {
			marks = 0
			continue
		}
		if r == utf8.RuneError {
			return fmt.Sprintf("character %d is not text", utf8.RuneCountInString(s[:i])+1)
		}
		if !Visible(r) {
			return fmt.Sprintf("U+%04X is a character that cannot be seen", r)
		}
		if marks = marksOn(r, marks); marks > MaxMarks {
			return "a letter carries too many marks"
		}
	}
	return ""
}

// Visible reports whether a character can be seen, so that it may stand in a text: no
// control character, none that turns the direction of writing, no part of an escape, no
// space but the plain one, and none of the letters and marks that are drawn as nothing
// (Unicode, Default_Ignorable_Code_Point; U+2800 is a braille letter without a dot).
func Visible(r rune) bool {
	return unicode.IsPrint(r) && (r < 0x34f || r != 0x2800 && !unicode.In(r, unicode.Other_Default_Ignorable_Code_Point, unicode.Variation_Selector))
}

// Printable makes a text from outside (a file's name, an error that quotes a file)
// harmless for one line of a terminal, a card or a message: what would not be seen as it
// stands (control characters, escapes, what turns the direction of writing, invisible
// characters, marks without end, bytes that are no text) becomes an escape that can be read.
func Printable(s string) string { return PrintableTo(s, math.MaxInt) }

// PrintableTo is Printable, cut behind so many bytes.
func PrintableTo(s string, most int) string {
	plain, marks := true, 0
	for _, r := range s {
		if marks = marksOn(r, marks); !Visible(r) || r == utf8.RuneError || marks > MaxMarks {
			plain = false
			break
		}
	}
	if plain && len(s) <= most {
		return s
	}
	var b strings.Builder
	marks = 0
	for i, size := 0, 0; i < len(s); i += size {
		if b.Len() > most {
			b.WriteString("...")
			break
		}
		var r rune
		r, size = utf8.DecodeRuneInString(s[i:])
		marks = marksOn(r, marks)
		switch {
		case r == utf8.RuneError && size == 1:
			fmt.Fprintf(&b, `\x%02x`, s[i])
		case !unicode.IsPrint(r) && r < 0x80:
			fmt.Fprintf(&b, `\x%02x`, r)
		case !Visible(r) || r == utf8.RuneError || marks > MaxMarks:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// marksOn is how many marks a letter carries with this character, and before it.
func marksOn(r rune, before int) int {
	if r < 0x300 || !unicode.In(r, unicode.Mn, unicode.Me) {
		return 0
	}
	return before + 1
}

// hardSpace and hardHyphen look like a blank and a hyphen, and no line ends at them.
const hardSpace, hardHyphen = "\u00a0", "\u2011"

// hardSpaces keeps the parts of a length on one line.
var hardSpaces = func() *strings.Replacer {
	var pairs []string
	for _, digit := range "0123456789" {
		for _, unit := range []string{"mm", "in", "deg", "thou"} {
			whole := string(digit) + hardSpace + unit
			pairs = append(pairs, string(digit)+" "+unit+" / ", whole+hardSpace+"/"+hardSpace, string(digit)+" "+unit, whole)
		}
	}
	for _, sign := range []string{"±", "+-"} {
		pairs = append(pairs, " "+sign+" ", hardSpace+sign+hardSpace)
	}
	return strings.NewReplacer(pairs...)
}()

// HardSpaces is a text in which no line ends at a blank within a length: between the number
// and its unit, the two units of one length, a length and what it is unsure by. A hand may
// take the two parts for two lengths.
func HardSpaces(s string) string { return hardSpaces.Replace(s) }

// Unbroken is HardSpaces, and no line ends at a hyphen: neither behind a sign nor within a
// word, such as 24-tooth. It is for what breaks lines at every hyphen; Loose undoes it.
func Unbroken(s string) string {
	return strings.ReplaceAll(HardSpaces(s), "-", hardHyphen)
}

var loose = strings.NewReplacer(hardSpace, " ", hardHyphen, "-")

// Loose is a text with the blanks and hyphens back that Unbroken made hard.
func Loose(s string) string { return loose.Replace(s) }
