package model

import (
	"slices"
	"strconv"
	"time"
)

// Tell says a length as the shop reads it.
type Tell func(Length) string

// The limits below answer in reasons: what is a danger is refused at its field, what only
// warns is asked again there. A file that holds such a value is told of the same. No reasons:
// the value is as it should be.

// What may be typed at a saw, as common practice has it where no source is named.
const (
	LeastWorkingWidth = 100 * Millimetre // nut, wrench and throat plate come out beside the locked fence
	StickWidth        = 150 * Millimetre // under it a push stick is a must (IEC 62841-3-1)
	mostWorkingWidth  = 295 * Millimetre // a caliper of 300 mm ends there
	jaws              = 5 * Millimetre   // over a strip (common practice)
	Parallel          = Thou             // what two such readings may differ by where nothing leans
	WellHeelToe       = 3 * Thou         // well set, from heel to toe
	MostHeelToe       = 5 * Thou         // more is to be corrected
	farOff            = Millimetre / 2   // no fence and no trunnion is found that far off: a slip
	shortSpan         = 100 * Millimetre // what a tooth travels over the table is more
	mostTaper         = Millimetre / 10  // of the gauge board
	boardOff          = 3 * Millimetre   // an unverified scale is off by less
	BoardFarOff       = 10 * Millimetre  // no scale is off by more
	MostFeelerGap     = Millimetre / 10  // a knife that lies on the board
)

// WorkingWidth holds the fence setting that blades are compared at. A push stick is a must
// under 150 mm: that is only said.
func WorkingWidth(w Length, tell Tell) []Reason {
	switch {
	case w < LeastWorkingWidth:
		return Because("working-width", Danger, "a part of %s is too narrow: hands come too near to the blade, and nut and wrench do not come out beside the locked fence; compare at %s or more", tell(w), tell(LeastWorkingWidth))
	case w > mostWorkingWidth:
		return Because("working-width", Warns, "most calipers do not reach over %s", tell(w))
	case w < StickWidth:
		return Because("push-stick", Explains, "for strips of %s a push stick is a must", tell(w))
	}
	return nil
}

// CaliperReaches holds the working width against what the caliper opens to: its jaws have to
// go over the strip.
func CaliperReaches(w, opens Length, tell Tell) []Reason {
	if w <= opens-jaws {
		return nil
	}
	return Because("caliper-short", Danger, "a caliper that opens to %s measures strips of %s at the most: type less, or take a longer caliper", tell(opens), tell(opens-jaws))
}

// FenceLies holds how a fence lies to the blade, by the distances of one tooth: rise is rear
// less front, positive where it opens toward the rear, over is the tooth's way, 0 where that is
// not known yet, and doubt what the instrument shows. One that closes presses the stock onto the rising teeth.
func FenceLies(rise, over, doubt Length, tell Tell) []Reason {
	by := tell(rise.Abs())
	switch {
	case parallel(rise, doubt):
	case rise < 0:
		return Because("fence-closes", Danger, "the fence closes toward the rear by %s%s: it presses the stock onto the rising teeth, and they throw it back; turn its rear end %s away from the blade before any cut, then measure both again", by, way(" over ", over, tell), by)
	case rise > farOff:
		return Because("fence-far-off", Danger, "the fence opens toward the rear by %s%s: no saw can be worked with so; see whether front and rear were typed right, else turn its rear end %s toward the blade, then measure both again", by, way(" over ", over, tell), by)
	case rise > MostHeelToe:
		return Because("fence-opens-wide", Warns, "the fence opens toward the rear by %s%s, more than %s: turn the fence's rear end %s toward the blade", by, way(" over ", over, tell), tell(MostHeelToe), by)
	}
	return nil
}

// BladeLies is as FenceLies for the blade against the mitre slot: it may lean either way.
func BladeLies(rise, over, doubt Length, tell Tell) []Reason {
	by, where, turn := tell(rise.Abs()), "farther from", "toward"
	if rise < 0 {
		where, turn = "nearer to", "away from"
	}
	switch size := rise.Abs(); {
	case parallel(rise, doubt) || size <= MostHeelToe:
	case size > farOff:
		return Because("blade-far-off", Danger, "the rear of the blade lies %s %s the slot than the front%s: no saw can be worked with so; see whether front and rear were typed right, else turn its rear %s %s the slot by the trunnion, then measure again", by, where, way(", over ", over, tell), by, turn)
	default:
		return Because("blade-askew", Warns, "the rear of the blade lies %s %s the slot than the front%s: turn its rear %s %s the slot by the trunnion, then measure the fence again", by, where, way(", over ", over, tell), by, turn)
	}
	return nil
}

// way is the tooth's way behind a word, where it is known.
func way(word string, over Length, tell Tell) string {
	if over == 0 {
		return ""
	}
	return word + tell(over)
}

// LeanDoubt is what the instrument hides of a lean: the caliper's step, nothing where a dial
// was zeroed on the tooth at the front. The reading there is 0 then, and the one at the rear
// what the dial shows, positive where the tooth lies farther away.
func LeanDoubt(front, caliper Length) Length {
	if front == 0 {
		return 0
	}
	return caliper
}

// parallel reports whether readings of a rise tell nothing of a lean.
func parallel(rise, doubt Length) bool { return rise.Abs() <= max(Parallel, doubt) }

// ToothWay holds the way that a tooth was turned from front to rear.
func ToothWay(span Length, tell Tell) []Reason {
	if span < shortSpan {
		return Because("span", Warns, "%s is a short way, and over it a lean hardly shows: turn the tooth from where it comes through the table to where it goes in again", tell(span))
	}
	return nil
}

// RipWidth holds the width of a board or strip against the setting that it was ripped at.
func RipWidth(read, set Length, tell Tell) []Reason {
	switch off := (read - set).Abs(); {
	case off > BoardFarOff:
		return Because("rip-width", Danger, "%s is %s off the setting of %s: read it again, or look at the fence, and rip another", tell(read), tell(off), tell(set))
	case off > boardOff:
		return Because("rip-width", Warns, "%s is %s off the setting of %s", tell(read), tell(off), tell(set))
	}
	return nil
}

// BoardTaper holds the change of the gauge board's width from its leading to its trailing
// end, + = wider.
func BoardTaper(rise Length, tell Tell) []Reason {
	if rise.Abs() <= mostTaper {
		return nil
	}
	side := "wider"
	if rise < 0 {
		side = "narrower"
	}
	return Because("taper-large", Danger, "the board is %s %s at its trailing end, more than %s: no knife can be set by it; see that its edge is straight, go back to heel and toe, then rip another", tell(rise.Abs()), side, tell(mostTaper))
}

// FeelerGaps holds the four gaps between the gauge board and a knife that is pressed to it,
// in the order front low, front high, rear low, rear high. play is the smallest kerf less
// knife of the blades that run with it; what it leaves is more than a gap may take.
func FeelerGaps(gaps []Length, play Length, tell Tell) []Reason {
	most := min(MostFeelerGap, play)
	i := slices.IndexFunc(gaps, func(g Length) bool { return g > most })
	switch {
	case i < 0:
		return nil
	case most < MostFeelerGap:
		return Because("feeler-gap", Danger, "%s at %s is more than the %s that this knife has to spare in the kerf of its blades: loosen it, press it to the board and tighten it again", tell(gaps[i]), corner(i), tell(most))
	}
	return Because("feeler-gap", Danger, "%s at %s: loosen the knife, press it to the board and tighten it again, until no gap is over %s", tell(gaps[i]), corner(i), tell(most))
}

// KnifeFaces holds how far a knife lies behind a straightedge on the fence-side tips of a
// blade, low and high: negative in front of it.
func KnifeFaces(faces []Length, tell Tell) []Reason {
	i := slices.IndexFunc(faces, func(f Length) bool { return f.Abs() > MostFeelerGap })
	if i < 0 {
		return nil
	}
	side := "behind"
	if faces[i] < 0 {
		side = "in front of"
	}
	return Because("knife-face", Danger, "%s it stands %s %s the straightedge, more than %s: set it by the saw's manual, then feel again", [...]string{"low", "high"}[min(i, 1)], tell(faces[i].Abs()), side, tell(MostFeelerGap))
}

// RunDownTyped holds a run-down against the time for which the place that asks for it was
// open: nobody has seen more of it there, but for what a second is rounded by. A zero opened
// means that the time is not known.
func RunDownTyped(runDown time.Duration, opened, typed time.Time) []Reason {
	if seen := typed.Sub(opened); !opened.IsZero() && runDown > seen+time.Second {
		return Because("run-down-early", Warns, "%s were typed %s after this place was shown: look again, the blade must stand still now, and count from switching off",
			strconv.FormatFloat(runDown.Seconds(), 'f', -1, 64)+" s", strconv.Itoa(int(seen.Seconds()))+" s")
	}
	return nil
}

func corner(i int) string {
	return [...]string{"front low", "front high", "rear low", "rear high"}[min(i, 3)]
}

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
		return Because("tip-gap", Danger, "the blade touches the knife: move the knife back until the gap is %s to %s", tell(usualGapMin), tell(most))
	case gap < 0:
		return Because("tip-gap", Danger, "the blade reaches %s into the knife: move the knife back by %s to %s", tell(-gap), tell(usualGapMin-gap), tell(most-gap))
	case gap < least:
		return Because("tip-gap", Danger, "the knife is %s from the tooth tips, %s too near: move it back until the gap is %s to %s", tell(gap), tell(least-gap), tell(least), tell(most))
	case gap > most:
		return Because("tip-gap", Danger, "the knife is %s from the tooth tips, %s too far: move it forward until the gap is at most %s", tell(gap), tell(gap-most), tell(most))
	case gap < usualGapMin:
		return Because("tip-gap-small", Warns, "the knife is only %s from the tooth tips: %s or more is common practice, so that neither touches the other when the blade starts", tell(gap), tell(usualGapMin))
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
