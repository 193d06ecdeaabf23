package model

import (
	"math"
	"slices"
	"strconv"
	"time"
)

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
		return reason("working-width", Danger, "a part of %s is too narrow: hands come too near to the blade, and nut and wrench do not come out beside the locked fence; compare at %s or more", tell(w), tell(LeastWorkingWidth))
	case w > mostWorkingWidth:
		return reason("working-width", Warns, "most calipers do not reach over %s", tell(w))
	case w < StickWidth:
		return reason("push-stick", Explains, "under %s between fence and blade a push stick is a must", tell(StickWidth))
	}
	return nil
}

// CaliperReaches holds the working width against what the caliper opens to: its jaws have to
// go over the strip.
func CaliperReaches(w, opens Length, tell Tell) []Reason {
	if w <= opens-jaws {
		return nil
	}
	return reason("caliper-short", Danger, "a caliper that opens to %s measures strips of %s at the most: type less, or take a longer caliper", tell(opens), tell(opens-jaws))
}

// FenceLies holds how a fence lies to the blade, by the distances of one tooth: rise is rear
// less front, positive where it opens toward the rear, over is the tooth's way, and doubt
// what the instrument shows. One that closes presses the stock onto the rising teeth.
func FenceLies(rise, over, doubt Length, tell Tell) []Reason {
	by := tell(rise.Abs())
	switch {
	case parallel(rise, doubt):
	case rise < 0:
		return reason("fence-closes", Danger, "the fence closes toward the rear by %s over %s (%.3f deg): it presses the stock onto the rising teeth, and they throw it back; turn its rear end %s away from the blade before any cut, then measure both again", by, tell(over), degrees(rise, over), by)
	case rise > farOff:
		return reason("fence-far-off", Danger, "the fence opens toward the rear by %s over %s (%.3f deg): no saw can be worked with so; see whether front and rear were typed right, else turn its rear end %s toward the blade, then measure both again", by, tell(over), degrees(rise, over), by)
	case rise > MostHeelToe:
		return reason("fence-opens-wide", Warns, "the fence opens toward the rear by %s over %s (%.3f deg), more than %s: turn the fence's rear end %s toward the blade", by, tell(over), degrees(rise, over), tell(MostHeelToe), by)
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
		return reason("blade-far-off", Danger, "the rear of the blade lies %s %s the slot than the front, over %s (%.3f deg): no saw can be worked with so; see whether front and rear were typed right, else turn its rear %s %s the slot by the trunnion, then measure again", by, where, tell(over), degrees(rise, over), by, turn)
	default:
		return reason("blade-askew", Warns, "the rear of the blade lies %s %s the slot than the front, over %s (%.3f deg): turn its rear %s %s the slot by the trunnion, then measure the fence again", by, where, tell(over), degrees(rise, over), by, turn)
	}
	return nil
}

// parallel reports whether readings of a rise tell nothing of a lean.
func parallel(rise, doubt Length) bool { return rise.Abs() <= max(Parallel, doubt) }

func degrees(rise, over Length) float64 {
	return math.Atan2(float64(rise), float64(over)) * 180 / math.Pi
}

// ToothWay holds the way that a tooth was turned from front to rear.
func ToothWay(span Length, tell Tell) []Reason {
	if span < shortSpan {
		return reason("span", Warns, "%s is a short way, and over it a lean hardly shows: turn the tooth from where it comes through the table to where it goes in again", tell(span))
	}
	return nil
}

// RipWidth holds the width of a board or strip against the setting that it was ripped at.
func RipWidth(read, set Length, tell Tell) []Reason {
	switch off := (read - set).Abs(); {
	case off > BoardFarOff:
		return reason("rip-width", Danger, "%s is %s off the setting of %s: read it again, or look at the fence, and rip another", tell(read), tell(off), tell(set))
	case off > boardOff:
		return reason("rip-width", Warns, "%s is %s off the setting of %s", tell(read), tell(off), tell(set))
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
	return reason("taper-large", Danger, "the board is %s %s at its trailing end, more than %s: no knife can be set by it; see that its edge is straight, go back to heel and toe, then rip another", tell(rise.Abs()), side, tell(mostTaper))
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
		return reason("feeler-gap", Danger, "%s at %s is more than the %s that this knife has to spare in the kerf of its blades: loosen it, press it to the board and tighten it again", tell(gaps[i]), corner(i), tell(most))
	}
	return reason("feeler-gap", Danger, "%s at %s: loosen the knife, press it to the board and tighten it again, until no gap is over %s", tell(gaps[i]), corner(i), tell(most))
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
	return reason("knife-face", Danger, "%s it stands %s %s the straightedge, more than %s: set it by the saw's manual, then feel again", [...]string{"low", "high"}[min(i, 1)], tell(faces[i].Abs()), side, tell(MostFeelerGap))
}

// RunDownTyped holds a run-down against the time for which the place that asks for it was
// open: nobody has seen more of it there, but for what a second is rounded by. A zero opened
// means that the time is not known.
func RunDownTyped(runDown time.Duration, opened, typed time.Time) []Reason {
	if seen := typed.Sub(opened); !opened.IsZero() && runDown > seen+time.Second {
		return reason("run-down-early", Warns, "%s were typed %s after this place was shown: look again, the blade must stand still now, and count from switching off",
			strconv.FormatFloat(runDown.Seconds(), 'f', -1, 64)+" s", strconv.Itoa(int(seen.Seconds()))+" s")
	}
	return nil
}

func corner(i int) string {
	return [...]string{"front low", "front high", "rear low", "rear high"}[min(i, 3)]
}
