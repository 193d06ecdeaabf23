package model

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"regexp"
	"strconv"
	"strings"
)

// Length is a signed length in whole nanometres. Sums of lengths are exact.
type Length int64

// The units that lengths are written in. 1 in = 25.4 mm exactly (NBS Circular
// 572 addendum, 1960); a thou is a thousandth of an inch.
const (
	Nanometre  Length = 1
	Millimetre Length = 1_000_000
	Thou       Length = 25_400
	Inch       Length = 25_400_000
)

// MaxLength bounds what is accepted as a length of this trade, either sign.
const MaxLength = 100_000 * Millimetre

// Unit is the unit in which a length was typed; it is written back in it.
type Unit uint8

// NoUnit means that a bare number is not a length.
const (
	NoUnit Unit = iota
	MM
	IN
	Fraction // inches with a fraction: 3 1/4 in
	Mil      // thou
)

// Label is the word behind a number in this unit.
func (u Unit) Label() string { return [...]string{"", "mm", "in", "in", "thou"}[u] }

// Measure is a length with the unit that it was typed in.
type Measure struct {
	Length Length
	Unit   Unit
}

// Of is l shown in unit u.
func (l Length) Of(u Unit) Measure { return Measure{l, u} }

// Near is the length nearest to l that has a finite decimal in unit u: a mean, or a pitch, that
// is to stand in a file in the unit of its shop. In inches that is a multiple of 127 nm, for
// 1 in = 2^6 x 5^5 x 127 nm.
func (l Length) Near(u Unit) Measure {
	if u == NoUnit || u == MM {
		return l.Of(u)
	}
	const prime = 127
	over := (l%prime + prime) % prime
	if l -= over; over > prime/2 {
		l += prime
	}
	return l.Of(u)
}

// Millimetres is for statistics and drawing; it is exact to 2^53 nm.
func (l Length) Millimetres() float64 { return float64(l) / float64(Millimetre) }

// FromMillimetres rounds to the nearest nanometre. NaN, infinities and lengths
// over MaxLength are refused.
func FromMillimetres(mm float64) (Length, error) {
	if math.IsNaN(mm) || math.Abs(mm) > MaxLength.Millimetres() {
		return 0, fmt.Errorf("%v mm is not a length of this trade", mm)
	}
	return Length(math.Round(mm * float64(Millimetre))), nil
}

// Abs is the size of l without its sign.
func (l Length) Abs() Length {
	if l < 0 {
		return -l
	}
	return l
}

// Toward says on which side across the blade l lies: the fence's, or where l is negative the other.
func Toward(l Length) string {
	if l < 0 {
		return "away from the fence"
	}
	return "toward the fence"
}

var (
	decimal    = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)$`)
	fraction   = regexp.MustCompile(`^([+-]?)(?:(\d+)(?: +|-))?(\d+)/(\d+)$`)
	splitMixed = regexp.MustCompile(`^[+-]?0*[1-9]\d* \d+/\d`)
	lengthRE   = regexp.MustCompile(`^(.*?)\s*(mm|in|"|thou|[a-zA-Zµ'°%]+)?$`)
)

// ParseLength reads a length as people of the trade type it: 0.25 mm, 0.010 in,
// .010", 1/8 in, 3 1/4", 3-1/4 in, 12 thou. A bare number has unit bare; with
// NoUnit it is refused. Lengths that are not a whole number of nanometres are
// refused too (1/128 in).
func ParseLength(text string, bare Unit) (Measure, error) {
	s := strings.Join(strings.Fields(text), " ")
	example := "such as " + bare.Words("{0.25 mm|0.010 in}")
	switch {
	case s == "":
		return Measure{}, errors.New("nothing typed: type a length, " + example)
	case len(s) > 40:
		return Measure{}, fmt.Errorf("%q is too long for a length: type a number and its unit, %s", Clip(s), example)
	case strings.Contains(s, ","):
		return Measure{}, fmt.Errorf("%q has a comma: type a decimal point, %s", Clip(s), example)
	}
	m := lengthRE.FindStringSubmatch(s)
	if m == nil {
		return Measure{}, fmt.Errorf("%q is not a length: type a number and its unit, %s", Clip(s), example)
	}
	number, name := m[1], m[2]
	unit, ok := map[string]Unit{"mm": MM, "in": IN, `"`: IN, "thou": Mil, "": bare}[name]
	if !ok && number != "" {
		return Measure{}, fmt.Errorf("%q has no unit that is known here: write mm, in, \" or thou", Clip(s))
	}
	value, isFraction, err := parseNumber(number)
	if err != nil {
		return Measure{}, fmt.Errorf("%q is not a length: type a number and its unit, %s", Clip(s), example)
	}
	if unit == NoUnit {
		return Measure{}, fmt.Errorf("%q has no unit: write %s mm or %s in", Clip(s), Clip(number), Clip(number))
	}
	if isFraction {
		if unit != IN && unit != Fraction {
			return Measure{}, fmt.Errorf("%q: fractions are for inches: write a decimal number, such as 0.25 mm", Clip(s))
		}
		unit = Fraction
	}
	value.Mul(value, new(big.Rat).SetInt64(int64(unit.size())))
	if value.Cmp(new(big.Rat).SetInt64(int64(MaxLength))) > 0 || value.Cmp(new(big.Rat).SetInt64(-int64(MaxLength))) < 0 {
		return Measure{}, fmt.Errorf("%q is larger than anything on a saw: check the digits and the unit", Clip(s))
	}
	if !value.IsInt() {
		nm, _ := value.Float64()
		return Measure{}, fmt.Errorf("%q is finer than is reckoned here: write it rounded, such as %s", Clip(s), rounded(nm, unit))
	}
	return Measure{Length(value.Num().Int64()), unit}, nil
}

// rounded is a length in nanometres to a micrometre, or to a ten-thousandth of an inch, as it
// would be typed.
func rounded(nm float64, u Unit) Measure {
	step := Millimetre / 1000
	if u != MM {
		u, step = IN, Inch/10000
	}
	return (Length(math.Round(nm/float64(step))) * step).Of(u)
}

func (u Unit) size() Length { return [...]Length{0, Millimetre, Inch, Inch, Thou}[u] }

func parseNumber(s string) (value *big.Rat, isFraction bool, err error) {
	if decimal.MatchString(s) {
		v, ok := new(big.Rat).SetString(s)
		if !ok {
			return nil, false, strconv.ErrSyntax
		}
		return v, false, nil
	}
	m := fraction.FindStringSubmatch(s)
	if m == nil {
		return nil, false, strconv.ErrSyntax
	}
	v, ok := new(big.Rat).SetString(m[3] + "/" + m[4])
	if !ok {
		return nil, false, strconv.ErrSyntax
	}
	if m[2] != "" {
		whole, _ := new(big.Rat).SetString(m[2])
		v.Add(v, whole)
	}
	if m[1] == "-" {
		v.Neg(v)
	}
	return v, true, nil
}

// Clip shortens what a user typed for a message.
func Clip(s string) string {
	if r := []rune(s); len(r) > 24 {
		return string(r[:24]) + "..."
	}
	return s
}

// String is the shortest text that ParseLength reads as the same length, in the
// unit typed. A fraction that is not a whole number of 64ths becomes a decimal; a
// length that has no finite decimal in inches becomes millimetres.
func (m Measure) String() string {
	number, unit := m.number()
	return number + " " + unit.Label()
}

func (m Measure) number() (string, Unit) {
	if m.Unit == NoUnit || m.Unit == MM {
		return trimmed(big.NewRat(int64(m.Length), int64(Millimetre)), 6), MM
	}
	if m.Unit == Fraction && m.Length%(Inch/64) == 0 {
		return sixtyFourths(m.Length), Fraction
	}
	u := m.Unit
	if u == Fraction {
		u = IN
	}
	r := big.NewRat(int64(m.Length), int64(u.size()))
	if n, exact := r.FloatPrec(); exact {
		return trimmed(r, n), u
	}
	return trimmed(big.NewRat(int64(m.Length), int64(Millimetre)), 6), MM
}

func trimmed(r *big.Rat, digits int) string {
	s := r.FloatString(digits)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// sixtyFourths writes a whole number of 1/64 in with the smallest denominator.
func sixtyFourths(l Length) string {
	n, sign := int64(l.Abs()/(Inch/64)), ""
	if l < 0 {
		sign = "-"
	}
	whole, rest, den := n/64, n%64, int64(64)
	for rest != 0 && rest%2 == 0 {
		rest, den = rest/2, den/2
	}
	switch {
	case rest == 0:
		return fmt.Sprintf("%s%d", sign, whole)
	case whole == 0:
		return fmt.Sprintf("%s%d/%d", sign, rest, den)
	}
	return fmt.Sprintf("%s%d %d/%d", sign, whole, rest, den)
}

// ParseReadings reads several lengths separated by spaces. Each may carry its own
// unit (0.25mm 0.26mm, or 0.25 mm 0.26 mm); a bare one has unit bare. A mixed
// number is written 3-1/4 here, since a space separates readings; 3 1/4 is refused
// as neither two readings nor one.
func ParseReadings(text string, bare Unit) ([]Measure, error) {
	if len(text) > 2000 {
		return nil, errors.New("that is too long for a list of readings: type them separated by spaces")
	}
	var out []Measure
	words := strings.Fields(text)
	for i := 0; i < len(words); i++ {
		word := words[i]
		if i+1 < len(words) {
			if mixed, ok := SplitMixed(word, words[i+1]); ok {
				return nil, fmt.Errorf("reading %d: write %s %s as %s, with a dash: a space separates readings", len(out)+1, word, Clip(words[i+1]), Clip(mixed))
			}
			switch words[i+1] {
			case "mm", "in", `"`, "thou":
				word += " " + words[i+1]
				i++
			}
		}
		m, err := ParseLength(word, bare)
		if err != nil {
			return nil, fmt.Errorf("reading %d: %w", len(out)+1, err)
		}
		out = append(out, m)
	}
	if len(out) == 0 {
		return nil, errors.New("nothing typed: type the readings separated by spaces")
	}
	return out, nil
}

// SplitMixed joins a whole number and the fraction behind it, which a space keeps apart, as 3 and
// 1/4; false where they are not that.
func SplitMixed(whole, rest string) (joined string, ok bool) {
	return whole + "-" + rest, splitMixed.MatchString(whole + " " + rest)
}

// Finished is a list of readings of one thing without the last, where that is still being typed:
// no space stands behind it, and it has fewer digits behind the point than one before it.
func Finished(text string) string {
	at := strings.LastIndexAny(text, " \t") + 1
	last := text[at:]
	if last == "" || !strings.ContainsAny(last[:1], "0123456789.+-") {
		return text
	}
	for _, word := range strings.Fields(text[:at]) {
		if decimals(word) > decimals(last) {
			return text[:at]
		}
	}
	return text
}

// decimals is how many digits stand behind the point of a number as it is typed.
func decimals(word string) int {
	_, after, _ := strings.Cut(word, ".")
	return len(after) - len(strings.TrimLeft(after, "0123456789"))
}

// Lengths drops the units.
func Lengths(ms []Measure) []Length {
	out := make([]Length, len(ms))
	for i, m := range ms {
		out[i] = m.Length
	}
	return out
}

// Sum adds lengths exactly.
func Sum(ls []Length) Length {
	var s Length
	for _, l := range ls {
		s += l
	}
	return s
}
