package model

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestWords(t *testing.T) {
	text := "push stick for the last {300 mm|12 in}; {a|b}, {none} and | stand"
	for u, want := range map[Unit]string{MM: "push stick for the last 300 mm; a, {none} and | stand", IN: "push stick for the last 12 in; b, {none} and | stand", Fraction: "push stick for the last 12 in; b, {none} and | stand", NoUnit: "push stick for the last 300 mm; a, {none} and | stand"} {
		if got := u.Words(text); got != want {
			t.Errorf("%v: %q", u, got)
		}
	}
}

func TestBetween(t *testing.T) {
	mm := Millimetre
	for _, c := range []struct {
		lo, hi Length
		unit   Unit
		want   string
	}{
		{20 * mm, 700 * mm, MM, "20 mm to 700 mm"},
		{20 * mm, 700 * mm, IN, "13/16 in to 27 in"},  // 0.78740 and 27.55906
		{-5 * mm, 5 * mm, IN, "-0.196 in to 0.19 in"}, // 0.19685
		{1000, mm, IN, "0.0001 in to 0.039 in"},       // 0.00004 and 0.03937
		{100, mm / 10, IN, "0.0001 in to 0.0039 in"},  // 0.000004 and 0.003937
		{mm / 200, mm, IN, "0.001 in to 0.039 in"},    // 0.000197
		{0, 60 * mm, IN, "0 in to 2 1/4 in"},          // 2.36
		{Inch, 2 * Inch, IN, "1 in to 2 in"},
		{5*Inch + Inch*15/32, 5*Inch + Inch*17/32, IN, "5 15/32 in to 5 17/32 in"},
		{50 * mm, 1000 * mm, IN, "2 in to 39 in"},
	} {
		if got := Between(c.lo, c.hi, c.unit); got != c.want {
			t.Errorf("%s to %s: %q, want %q", c.lo.Of(MM), c.hi.Of(MM), got, c.want)
		}
	}
}

// TestBetweenLiesWithin: a limit that an inch shop types as it reads it is taken.
func TestBetweenLiesWithin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := Length(rapid.Int64Range(-10*int64(Millimetre), 100*int64(Millimetre)).Draw(t, "lo"))
		hi := lo + Length(rapid.Int64Range(int64(Millimetre), 1000*int64(Millimetre)).Draw(t, "more"))
		for _, word := range strings.Split(Between(lo, hi, IN), " to ") {
			if m, err := ParseLength(word, NoUnit); err != nil || m.Length < lo || m.Length > hi {
				t.Fatalf("%s to %s: %q, %v", lo.Of(MM), hi.Of(MM), word, err)
			}
		}
	})
}

func TestTapeAndLike(t *testing.T) {
	for _, c := range [][2]string{
		{(660 * Millimetre).Tape(MM), "660 mm"}, {(660*Millimetre + 1).Tape(MM), "661 mm"}, {(660 * Millimetre).Tape(IN), "26 in"}, {(656 * Millimetre).Tape(IN), "25 7/8 in"},
		{Like(120*Millimetre, MM, -2, -1, -2), "119.98 119.99 119.98"}, {Like(5*Inch, IN, -1, 0, -1), "4.999 5.000 4.999"}, {Like(160*Millimetre, IN, 1), "6.300"},
	} {
		if c[0] != c[1] {
			t.Errorf("%q, want %q", c[0], c[1])
		}
	}
}
