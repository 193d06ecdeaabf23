package model

import "fmt"

// Tell says a length as the shop reads it.
type Tell func(Length) string

// The gap from the riving knife to the tooth tips.
const (
	leastGapEN  = 3 * Millimetre // EN 1870-1 clause 6.3
	mostGapEN   = 8 * Millimetre // EN 1870-1 clause 6.3; HSE, circular rip saws
	mostRulesUS = Inch / 2       // Cal. Code Regs. title 8 section 4296; 29 CFR 1910.213(c)(2)
	usualGapMin = 3 * Millimetre // common practice where the rule has no least gap
)

// TipGap holds the gap from knife to tooth tips against a rule: EN 1870-1 clause 6.3,
// 3 to 8 mm, or Cal. Code Regs. title 8 section 4296, at most 1/2 in. A blade that touches
// the knife, or reaches into it (a negative gap), is a danger under every rule; a gap under
// 3 mm that the rule allows is asked about. No reasons: it is right.
func TipGap(gap Length, rule Rules, tell Tell) []Reason {
	least, most := TipGapRange(rule)
	switch {
	case gap == 0:
		return reason("tip-gap", Danger, "the blade touches the knife: move the knife back until the gap is %s to %s", tell(usualGapMin), tell(most))
	case gap < 0:
		return reason("tip-gap", Danger, "the blade reaches %s into the knife: move the knife back by %s to %s", tell(-gap), tell(usualGapMin-gap), tell(most-gap))
	case gap < least:
		return reason("tip-gap", Danger, "the knife is %s from the tooth tips, %s too near: move it back until the gap is %s to %s", tell(gap), tell(least-gap), tell(least), tell(most))
	case gap > most:
		return reason("tip-gap", Danger, "the knife is %s from the tooth tips, %s too far: move it forward until the gap is at most %s", tell(gap), tell(gap-most), tell(most))
	case gap < usualGapMin:
		return reason("tip-gap-small", Warns, "the knife is only %s from the tooth tips: %s or more is common practice, so that neither touches the other when the blade starts", tell(gap), tell(usualGapMin))
	}
	return nil
}

// TipGapRange is what a rule allows; under the one whose least is zero the two may not touch
// either.
func TipGapRange(rule Rules) (least, most Length) {
	if rule == RulesUS {
		return 0, mostRulesUS
	}
	return leastGapEN, mostGapEN
}

func reason(code string, weight Weight, format string, a ...any) []Reason {
	return []Reason{{Code: code, Weight: weight, Text: fmt.Sprintf(format, a...)}}
}
