package model

import (
	"regexp"
	"strconv"
	"strings"
)

// Lengths as a shop reads them on its own rules: hundredths of a millimetre and whole
// millimetres, or thousandths and fractions of an inch.

var pairRE = regexp.MustCompile(`\{([^{}|]*)\|([^{}|]*)\}`)

// Words is a text as a shop reads it: of each {300 mm|12 in} the part in its unit.
func (u Unit) Words(text string) string {
	part := "$1"
	if u != NoUnit && u != MM {
		part = "$2"
	}
	return pairRE.ReplaceAllString(text, part)
}

// Computed is the digit of a computed length, from that of the instrument that it comes from:
// one more. An inch shop reads tenths of a thousandth at the finest.
func Computed(instrument Length, u Unit) Length {
	finer := instrument / 10
	if u == NoUnit || u == MM || instrument == 0 {
		return finer
	}
	return max(finer, min(instrument, Thou/10))
}

// ScaleMark is how far the marks of a fence scale in inches lie apart (common practice).
const ScaleMark = Inch / 32

// Between is a range for people to read. It is round in millimetres. An inch shop reads fractions
// where a rule or a tape is what reaches so far, or both limits are marks of a scale; else
// thousandths, in a wide range no more than two figures, and tenths and hundredths of a
// thousandth below one; all of it within the range: a limit that is typed as it reads is
// taken.
func Between(lo, hi Length, u Unit) string {
	if u == NoUnit || u == MM {
		return lo.Of(MM).String() + " to " + hi.Of(MM).String()
	}
	wide := hi > 2*lo
	if lo%ScaleMark == 0 && hi%ScaleMark == 0 || hi >= Inch && (wide || hi-lo >= 4*Inch) {
		return roundUp(lo, ruleStep(lo)).Of(Fraction).String() + " to " + (-roundUp(-hi, ruleStep(hi))).Of(Fraction).String()
	}
	from, to := Thou, Thou
	switch {
	case wide && lo >= Inch/5-Thou*4:
		from = Inch / 10
	case wide && lo >= Inch/10:
		from = Inch / 100
	}
	for lo > 0 && from > lo && from > Thou/100 {
		from /= 10
	}
	if from < Thou {
		from *= 10 // one figure, rounded up
	}
	switch {
	case wide && hi >= Inch/10:
		to = Inch / 100
	case hi < 10*Thou:
		to = Thou / 10
	}
	return roundUp(lo, from).Of(IN).String() + " to " + (-roundUp(-hi, to)).Of(IN).String()
}

// ruleStep is how finely a limit is told as a fraction: one that is a mark already stays.
func ruleStep(l Length) Length {
	switch l = l.Abs(); {
	case l%ScaleMark == 0:
		return ScaleMark
	case l < Inch/8:
		return Inch / 64
	case l < Inch:
		return Inch / 16
	case l < 10*Inch:
		return Inch / 8
	}
	return Inch
}

// roundUp is the next whole step from l on, toward the larger numbers.
func roundUp(l, step Length) Length {
	n := l / step * step
	if n < l {
		n += step
	}
	return n
}

// Size is l as a knife is called: a whole 64th of an inch as a fraction where the shop works in
// inches, else whole thousandths; hundredths of a millimetre without noughts at their end; else as
// Show has it.
func (l Length) Size(u Unit, resolution Length) string {
	switch {
	case u == IN && l%(Inch/64) == 0:
		return l.Of(Fraction).String()
	case u == IN && l%Thou == 0:
		return l.Of(IN).Padded(0)
	case (u == MM || u == NoUnit) && l%(Millimetre/100) == 0:
		return l.Of(MM).String()
	}
	return l.Show(u, resolution)
}

// leastDecimals are those that a reading in this unit has at the least: 0.10 mm, 0.010 in.
var leastDecimals = map[Unit]int{MM: 2, IN: 3}

// Padded is String with so many decimals, and at the least two of a millimetre or three of an inch; fractions
// and thousandths stay as they are.
func (m Measure) Padded(decimals int) string {
	number, unit := m.number()
	least, pads := leastDecimals[unit]
	if !pads {
		return m.String()
	}
	whole, behind, _ := strings.Cut(number, ".")
	return whole + "." + behind + strings.Repeat("0", max(0, max(least, decimals)-len(behind))) + " " + unit.Label()
}

// Decimals is how many digits String has behind the point.
func (m Measure) Decimals() int {
	number, _ := m.number()
	_, behind, _ := strings.Cut(number, ".")
	return len(behind)
}

// Tape is l as a shop reads it on a tape, rounded up: whole millimetres, or eighths of an
// inch.
func (l Length) Tape(u Unit) string {
	if u == NoUnit || u == MM {
		return roundUp(l, Millimetre).Of(MM).String()
	}
	return roundUp(l, Inch/8).Of(Fraction).String()
}

// Like makes up readings near l, as somebody would type them without the unit, for an
// example: each is so many hundredths of a millimetre, or thousandths of an inch, off l.
func Like(l Length, u Unit, off ...Length) string {
	step := Millimetre / 100
	if u != NoUnit && u != MM {
		step = Thou
	}
	words := make([]string, len(off))
	for i, n := range off {
		words[i], _, _ = strings.Cut((l/step*step+n*step).Show(u, step), " ")
	}
	return strings.Join(words, " ")
}

// Show is l rounded to the digits of an instrument of the given resolution, with
// its unit, for people to read: 0.25 mm, 0.010 in. A resolution of zero gives two
// decimals of a millimetre or three of an inch.
func (l Length) Show(u Unit, resolution Length) string {
	if u == NoUnit || u == MM {
		return fixed(l, Millimetre, resolution, 2) + " mm"
	}
	return fixed(l, Inch, resolution, 3) + " in"
}

// Signed is Show with a plus before positive lengths; what is shown as zero has no sign.
func (l Length) Signed(u Unit, resolution Length) string {
	s := l.Show(u, resolution)
	if l > 0 && strings.ContainsAny(s, "123456789") {
		return "+" + s
	}
	return s
}

func fixed(l, unit, resolution Length, digits int) string {
	if resolution > 0 {
		digits = 0
		for step := unit; step > resolution && digits < 6; step /= 10 {
			digits++
		}
	}
	scale := uint64(1)
	for range digits {
		scale *= 10
	}
	size, one := uint64(l), uint64(unit)
	if l < 0 {
		size = -size
	}
	whole, part := size/one, (size%one*scale*2+one)/(2*one) // half a digit rounds away from zero
	whole, part = whole+part/scale, part%scale
	s := strconv.FormatUint(whole, 10)
	if digits > 0 {
		s += "." + strconv.FormatUint(scale+part, 10)[1:]
	}
	if l < 0 && (whole > 0 || part > 0) {
		s = "-" + s
	}
	return s
}
