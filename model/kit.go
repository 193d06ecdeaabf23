package model

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// maxTyped bounds what is read as a list of rings.
const maxTyped = 2000

var (
	ringWord = regexp.MustCompile(`^(.+?)(?:\s*([xX])\s*(\d*))?$`)
	ringTail = regexp.MustCompile(`^(mm|in|"|thou)?([xX]\d*)?$`) // of a ring that is typed with spaces in it
)

// ringWords are the rings of a list, each with its unit and its count, also where these
// stand apart: 0.10 mm x 2.
func ringWords(text string) []string {
	var out []string
	for _, word := range strings.Fields(text) {
		n := len(out) - 1
		if n >= 0 && (ringTail.MatchString(word) || strings.HasSuffix(strings.ToLower(out[n]), "x")) {
			out[n] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

// counted is a word of ringWords without its count, which is 1 where none is typed and 0
// where it is no count.
func counted(word string) (ring string, count int) {
	m := ringWord.FindStringSubmatch(word)
	if m[2] == "" {
		return m[1], 1
	}
	count, _ = strconv.Atoi(m[3])
	return m[1], count
}

// ParseKit reads thicknesses with counts: 0.10x2 0.25 0.50, or 0.10mmx2, or 0.10 mm
// x2. A thickness that comes again adds to the count of the first. bare is the unit of
// a bare number; with NoUnit it is refused.
func ParseKit(text string, bare Unit) ([]Ring, error) {
	if len(text) > maxTyped {
		return nil, errors.New("that is too long for a list of rings: type thicknesses separated by spaces")
	}
	var rings []Ring
	for i, word := range ringWords(text) {
		number, count := counted(word)
		thickness, err := ParseLength(number, bare)
		if err != nil {
			return nil, fmt.Errorf("ring %d: %w", i+1, err)
		}
		if !isRing(thickness.Length) || count < 1 || count > maxCount {
			return nil, fmt.Errorf("ring %d: %q is not a ring: type a thickness up to 10 mm, and x2 behind it for two of them", i+1, Clip(word))
		}
		if same := slices.IndexFunc(rings, func(r Ring) bool { return r.Thickness.Length == thickness.Length }); same >= 0 {
			rings[same].Count += count
			continue
		}
		rings = append(rings, Ring{ID: RingID(thickness), Thickness: thickness, Count: count})
	}
	return rings, nil
}

const maxCount = 99

func isRing(l Length) bool { return l > 0 && l <= 10*Millimetre }

// RingID names a ring after its thickness: r25 is 0.25 mm, t10 is 10 thou, f1-64 is 1/64 in.
func RingID(m Measure) string {
	switch {
	case m.Unit != MM && m.Length%Thou == 0:
		return fmt.Sprintf("t%d", m.Length/Thou)
	case m.Unit == Fraction && m.Length%(Inch/64) == 0:
		return "f" + strings.ReplaceAll(sixtyFourths(m.Length), "/", "-")
	case m.Length%(Millimetre/100) == 0:
		return fmt.Sprintf("r%02d", m.Length/(Millimetre/100))
	}
	return fmt.Sprintf("r%dn", m.Length)
}

// noRings are the words for an empty stack, as screens and cards have them.
var noRings = []string{"none", "no rings", "no ring", "0"}

// ParseStack reads the rings behind a blade, flange first, into ids of the kit: as a
// screen or a card names them (0.10 mm + 0.25 mm, flange first; no rings; 0), or as
// people type them (0.10 0.25; 0.10x2; none). A ring goes by its thickness, by what it
// measures, or by its id.
func (p Profile) ParseStack(text string) ([]string, error) {
	ids := []string{}
	text = stackWords(text)
	switch {
	case len(text) > maxTyped:
		return nil, errors.New("that is too long for a stack: type thicknesses separated by spaces")
	case text == "":
		return nil, errors.New("nothing typed: type the rings, flange first, or none")
	case slices.ContainsFunc(noRings, func(w string) bool { return strings.EqualFold(text, w) }):
		return ids, nil
	}
	used := map[string]int{}
	for _, word := range ringWords(text) {
		name, count := counted(word)
		r, err := ringCalled(name, p.Rings, p.Units)
		switch {
		case err != nil:
			return nil, err
		case count < 1:
			return nil, fmt.Errorf("%q does not say how many: type x2 behind a ring for two of them", Clip(word))
		}
		if used[r.ID] += count; used[r.ID] > r.Count {
			return nil, fmt.Errorf("the kit has only %d of %s: type rings that are there", r.Count, r.Thickness)
		}
		ids = append(ids, slices.Repeat([]string{r.ID}, count)...)
	}
	return ids, nil
}

// stackWords takes away what a stack carries beside its rings where it is shown.
func stackWords(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	for _, order := range []string{", flange first", " flange first", "(flange first)"} {
		if n := len(text) - len(order); n >= 0 && strings.EqualFold(text[n:], order) {
			text = text[:n]
		}
	}
	if head := "flange first"; len(text) >= len(head) && strings.EqualFold(text[:len(head)], head) {
		text = strings.TrimLeft(text[len(head):], ":, ")
	}
	return strings.Join(strings.Fields(strings.NewReplacer("+", " ", ", ", " ", "; ", " ").Replace(text)), " ")
}

func ringCalled(name string, kit []Ring, bare Unit) (Ring, error) {
	for _, r := range kit {
		if r.ID == name {
			return r, nil
		}
	}
	example := "0.25 mm"
	if len(kit) > 0 {
		example = kit[0].Thickness.String()
	}
	m, err := ParseLength(name, bare)
	if err != nil {
		return Ring{}, fmt.Errorf("%q is no ring of the kit: type rings such as %s, flange first, or none", Clip(name), example)
	}
	for _, r := range kit {
		if r.Thickness.Length == m.Length || r.Measured.Unit != NoUnit && r.Measured.Length == m.Length {
			return r, nil
		}
	}
	var near []Ring
	off := rounding(name, m.Unit)
	for _, r := range kit {
		if (r.Thickness.Length-m.Length).Abs() <= off || (r.Height()-m.Length).Abs() <= off {
			near = append(near, r)
		}
	}
	if len(near) == 1 {
		return near[0], nil
	}
	return Ring{}, fmt.Errorf("the kit has no ring of %s: type rings such as %s, flange first, or none", m, example)
}

// KnifeCalled is the knife of the saw that a thickness names: the one of that thickness, or
// the only one that is shown so. A knife of 2.5 mm is 0.0984 in to a shop that reads inches.
func (p Profile) KnifeCalled(m Measure) (Knife, bool) {
	var near []Knife
	off := rounding(m.String(), m.Unit)
	for _, k := range p.Knives {
		switch d := (k.Thickness.Length - m.Length).Abs(); {
		case d == 0:
			return k, true
		case d <= off:
			near = append(near, k)
		}
	}
	if len(near) == 1 {
		return near[0], true
	}
	return Knife{}, false
}

// rounding is how far a ring or a knife may lie from what is typed for it, half of the last
// digit: a ring of 0.10 mm is 0.004 in to a shop that reads thousandths. Fewer digits than a shop
// reads are not rounded.
func rounding(number string, u Unit) Length {
	_, decimals, _ := strings.Cut(strings.TrimRight(number, ` "minthou`), ".")
	step, least := u.size(), map[Unit]int{MM: 2, IN: 3}[u]
	if len(decimals) < least || u == Fraction {
		return 0
	}
	for range min(len(decimals), 6) {
		step /= 10
	}
	return step / 2
}
