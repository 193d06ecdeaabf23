package model

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Verdict is what a residual is worth against the tolerance.
type Verdict string

// The verdicts (guarded acceptance, ILAC-G8:09/2019), and cannot: no stack of the
// kit comes within the acceptance zone.
const (
	In       Verdict = "in"
	Out      Verdict = "out"
	Doubtful Verdict = "doubtful"
	Cannot   Verdict = "cannot"
)

// Basis says where an offset comes from.
type Basis string

// From micrometer readings of plate and kerf, or from strips that were ripped.
const (
	Predicted Basis = "predicted"
	Measured  Basis = "measured"
)

// KnifeFit says whether a blade may run with the knife that it names.
type KnifeFit string

// Fits; the knife is as thick as the kerf or thicker; it is not thick enough over
// the plate; the blade names no knife; the shop has the knife no more that it names.
const (
	KnifeFits     KnifeFit = "fits"
	KnifeTooThick KnifeFit = "too-thick"
	KnifeTooThin  KnifeFit = "too-thin"
	KnifeNone     KnifeFit = "none"
	KnifeMissing  KnifeFit = "gone"
)

// Weight says how loud a reason is.
type Weight uint8

// A reason explains, warns, or names a danger to people or to the work.
const (
	Explains Weight = iota
	Warns
	Danger
)

// Reason is one sentence that travels beside a number.
type Reason struct {
	Code   string // stable, for programs: knife-too-thick
	Weight Weight
	Text   string // one sentence for people, with figures and direction
}

// Because is one reason, its text made as by fmt.Sprintf.
func Because(code string, weight Weight, format string, a ...any) []Reason {
	return []Reason{{Code: code, Weight: weight, Text: fmt.Sprintf(format, a...)}}
}

// Sentence makes the text of a reason, or of a refusal, stand alone: a capital at the
// beginning, a stop at the end.
func Sentence(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return ""
	}
	text = string(unicode.ToUpper(first)) + text[size:]
	if !strings.ContainsRune(".?!", rune(text[len(text)-1])) {
		text += "."
	}
	return text
}
