package model

import (
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"
)

// n/64 in = n x 396 875 nm exactly, 1 in = 25.4 mm exactly (NBS Circular 572
// addendum, 1960).
func TestInchesAreExact(t *testing.T) {
	for text, nm := range map[string]Length{
		"1/64 in": 396_875, "1/16 in": 1_587_500, "5/64 in": 1_984_375, "3/32 in": 2_381_250, "1/8 in": 3_175_000, "3/4 in": 19_050_000, "63/64 in": 25_003_125,
		"1 in": 25_400_000,
	} {
		if m, err := ParseLength(text, NoUnit); err != nil || m.Length != nm {
			t.Errorf("%s: %d nm, %v", text, m.Length, err)
		}
	}
	for n := Length(1); n < 64; n++ {
		if Inch/64*n != 396_875*n {
			t.Fatalf("%d/64 in", n)
		}
	}
}

func TestParseLength(t *testing.T) {
	for _, v := range []struct {
		text string
		bare Unit
		nm   Length
		unit Unit
	}{
		{"0.25 mm", NoUnit, 250_000, MM}, {"0.25mm", NoUnit, 250_000, MM}, {"  0.25  mm  ", NoUnit, 250_000, MM}, {".25 mm", NoUnit, 250_000, MM}, {"25. mm", NoUnit, 25_000_000, MM},
		{"0.010 in", NoUnit, 254_000, IN}, {`.010"`, NoUnit, 254_000, IN}, {"12 thou", NoUnit, 304_800, Mil}, {"0.5 thou", NoUnit, 12_700, Mil},
		{"1/8 in", NoUnit, 3_175_000, Fraction}, {`3 1/4"`, NoUnit, 82_550_000, Fraction}, {"3-1/4 in", NoUnit, 82_550_000, Fraction}, {"-3-1/4 in", NoUnit, -82_550_000, Fraction}, {"-1/8 in", NoUnit, -3_175_000, Fraction},
		{"7/16", IN, 11_112_500, Fraction}, {"0.25", MM, 250_000, MM}, {"0.25", IN, 6_350_000, IN}, {"12", Mil, 304_800, Mil}, {"1/8", Fraction, 3_175_000, Fraction},
		{"+0.03 mm", NoUnit, 30_000, MM}, {"-0.03 mm", NoUnit, -30_000, MM}, {"0", MM, 0, MM}, {"-0 mm", NoUnit, 0, MM},
		{"0.000001 mm", NoUnit, 1, MM}, {"100000 mm", NoUnit, MaxLength, MM}, {"-100000 mm", NoUnit, -MaxLength, MM}, {"0.000005 in", NoUnit, 127, IN},
	} {
		m, err := ParseLength(v.text, v.bare)
		if err != nil || m != (Measure{v.nm, v.unit}) {
			t.Errorf("%q: %+v, %v", v.text, m, err)
		}
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for _, v := range []struct {
		text string
		bare Unit
		says string
	}{
		{"", MM, "nothing typed"}, {"   ", MM, "nothing typed"},
		{"0.25", NoUnit, "has no unit: write 0.25 mm or 0.25 in"}, {"1/8", NoUnit, "has no unit"},
		{"0,25 mm", NoUnit, "type a decimal point"}, {"1,000 mm", NoUnit, "decimal point"},
		{"1/128 in", NoUnit, "finer than is reckoned here: write it rounded, such as 0.0078 in"}, {"-1/128", IN, "such as -0.0078 in"}, {"0.0000001 mm", NoUnit, "finer than is reckoned here"}, {"0.2500004 mm", NoUnit, "such as 0.25 mm"}, {"0.0123456789 in", NoUnit, "such as 0.0123 in"},
		{"1/8 mm", NoUnit, "fractions are for inches"}, {"1/8", MM, "fractions are for inches"}, {"1/8 thou", NoUnit, "fractions are for inches"},
		{"1/0 in", NoUnit, "is not a length"}, {"1 1 in", NoUnit, "is not a length"}, {"abc", MM, "unit"}, {"1e3 mm", NoUnit, "is not a length"}, {"0x10 mm", NoUnit, "is not a length"}, {"NaN mm", NoUnit, "is not a length"}, {"Inf mm", NoUnit, "is not a length"},
		{"5 cm", NoUnit, "no unit that is known here"}, {"5 MM", NoUnit, "no unit that is known here"}, {"5 %", NoUnit, "no unit that is known here"},
		{"--1 mm", NoUnit, "is not a length"}, {"1.2.3 mm", NoUnit, "is not a length"}, {". mm", NoUnit, "is not a length"}, {"mm", NoUnit, "is not a length"},
		{"100000.000001 mm", NoUnit, "larger than anything on a saw"}, {"-100001 mm", NoUnit, "larger than anything"}, {"4000 in", NoUnit, "larger than anything"},
		{strings.Repeat("9", 40), MM, "larger than anything"}, {strings.Repeat("9", 41), MM, "too long for a length"}, {strings.Repeat("a page ", 500), MM, "too long for a length"},
	} {
		m, err := ParseLength(v.text, v.bare)
		if err == nil || !strings.Contains(err.Error(), v.says) {
			t.Errorf("%q: %+v, %v", v.text, m, err)
			continue
		}
		if text := err.Error(); len(text) > 200 || strings.Contains(text, "\n") || strings.HasSuffix(text, ".") {
			t.Errorf("%q: not one short line: %q", v.text, text)
		}
	}
}

// The shortest text that reads as the same length, in the unit typed.
func TestMeasureString(t *testing.T) {
	for typed, want := range map[string]string{
		"0.250 mm": "0.25 mm", "25. mm": "25 mm", "-0.03mm": "-0.03 mm", "0 mm": "0 mm", "0.010 in": "0.01 in", `.0105"`: "0.0105 in", "12.0 thou": "12 thou", "0.5 thou": "0.5 thou",
		"2/16 in": "1/8 in", "3 1/4 in": "3 1/4 in", "-3-1/4 in": "-3 1/4 in", "64/64 in": "1 in", "0/8 in": "0 in", "1/5 in": "0.2 in", "1/128 thou": "", "100000 mm": "100000 mm",
	} {
		m, err := ParseLength(typed, NoUnit)
		if want == "" {
			if err == nil {
				t.Errorf("%s passed", typed)
			}
			continue
		}
		if err != nil || m.String() != want {
			t.Errorf("%s: %s, %v", typed, m, err)
		}
	}
	for _, v := range []struct {
		m    Measure
		want string
	}{
		{Measure{Length: 250_000}, "0.25 mm"}, {Length(1).Of(IN), "0.000001 mm"}, {Length(1).Of(Fraction), "0.000001 mm"}, {(5 * Thou).Of(Fraction), "0.005 in"},
	} {
		if got := v.m.String(); got != v.want {
			t.Errorf("%+v: %s", v.m, got)
		}
	}
}

// TestNear: every whole nanometre has a neighbour within 63 nm that inches can show, and one that
// they can show is its own.
// TestPadded: a reading stands as an instrument shows it.
func TestPadded(t *testing.T) {
	for text, want := range map[string][2]string{ // with no decimals wanted, and with four
		"0.100 in": {"0.100 in", "0.1000 in"}, "140 mm": {"140.00 mm", "140.0000 mm"}, "-0.2 mm": {"-0.20 mm", "-0.2000 mm"},
		"2.2015 mm": {"2.2015 mm", "2.2015 mm"}, "3/32 in": {"3/32 in", "3/32 in"}, "5 1/2 in": {"5 1/2 in", "5 1/2 in"}, "10 thou": {"10 thou", "10 thou"},
	} {
		m, err := ParseLength(text, NoUnit)
		if err != nil {
			t.Fatal(err)
		}
		if got := [2]string{m.Padded(0), m.Padded(4)}; got != want {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
		for _, padded := range want {
			if again, err := ParseLength(padded, NoUnit); err != nil || again.Length != m.Length {
				t.Errorf("%s reads back as %v, %v", padded, again, err)
			}
		}
	}
	for text, want := range map[string]string{"0.1 in": "0.100 in", "3/32 in": "3/32 in", "2.5 mm": "2.5 mm"} {
		m, _ := ParseLength(text, NoUnit)
		if got := (Knife{Thickness: m}).Label(); got != want {
			t.Errorf("a knife of %s is called %q", text, got)
		}
	}
	if n := (2201 * Millimetre / 1000).Of(MM).Decimals(); n != 3 {
		t.Errorf("2.201 mm has %d decimals", n)
	}
}

func TestNear(t *testing.T) {
	for l := Length(-300); l < 300; l++ {
		for _, u := range []Unit{IN, Mil, Fraction} {
			near := l.Near(u)
			back, err := ParseLength(near.String(), NoUnit)
			if off := (near.Length - l).Abs(); err != nil || off > 63 || back.Length != near.Length || strings.Contains(near.String(), "mm") {
				t.Errorf("%d nm near %s is %s", l, u.Label(), near)
			}
		}
		if l.Near(MM) != l.Of(MM) {
			t.Errorf("%d nm is moved in millimetres", l)
		}
	}
	for l, want := range map[Length]string{139_704_233: "5.500165 in", 1_411_111: "0.055555 in", 25_400_000: "1 in", -2540: "-0.0001 in"} {
		if got := l.Near(IN).String(); got != want {
			t.Errorf("%d nm: %s, want %s", l, got, want)
		}
	}
}

func TestShow(t *testing.T) {
	for _, v := range []struct {
		nm         Length
		unit       Unit
		resolution Length
		want       string
		signed     string
	}{
		{123_456, MM, 10_000, "0.12 mm", "+0.12 mm"}, {123_456, MM, 1_000, "0.123 mm", "+0.123 mm"}, {-125_000, MM, 10_000, "-0.13 mm", "-0.13 mm"}, {123_456, MM, 0, "0.12 mm", "+0.12 mm"},
		{254_000, IN, 25_400, "0.010 in", "+0.010 in"}, {254_000, IN, 12_700, "0.0100 in", "+0.0100 in"}, {254_000, Fraction, 0, "0.010 in", "+0.010 in"}, {254_000, Mil, 0, "0.010 in", "+0.010 in"},
		{-4_000, MM, 10_000, "0.00 mm", "0.00 mm"}, {4_000, MM, 10_000, "0.00 mm", "0.00 mm"}, {100, IN, 2_540, "0.0000 in", "0.0000 in"}, {0, MM, 10_000, "0.00 mm", "0.00 mm"}, {5 * Millimetre, MM, Millimetre, "5 mm", "+5 mm"}, {1, NoUnit, 1, "0.000001 mm", "+0.000001 mm"},
	} {
		if got := v.nm.Show(v.unit, v.resolution); got != v.want {
			t.Errorf("%+v: %s", v, got)
		}
		if got := v.nm.Signed(v.unit, v.resolution); got != v.signed {
			t.Errorf("%+v signed: %s", v, got)
		}
	}
}

// TestShowAgainstFractions holds the digits of a length against those of math/big, which
// rounds halves away from zero too.
func TestShowAgainstFractions(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	for range 200_000 {
		l := Length(random.Int64N(2_000_000_000) - 1_000_000_000)
		switch random.IntN(4) {
		case 0:
			l = Length(random.Int64()) * Length(1-2*random.IntN(2))
		case 1:
			l = l / 1270 * 1270 // halves of a digit, in both units
		}
		unit, one := MM, Millimetre
		if random.IntN(2) == 0 {
			unit, one = IN, Inch
		}
		resolution, digits := one, random.IntN(7)
		for range digits {
			resolution /= 10
		}
		want := big.NewRat(int64(l), int64(one)).FloatString(digits)
		if strings.Trim(want, "-0.") == "" {
			want = strings.TrimPrefix(want, "-")
		}
		if got, _, _ := strings.Cut(l.Show(unit, max(resolution, 1)), " "); got != want {
			t.Fatalf("%d nm in %s with %d digits: %s, want %s", l, unit.Label(), digits, got, want)
		}
	}
	if got := Length(math.MinInt64).Show(MM, Millimetre); got != "-9223372036855 mm" {
		t.Error(got)
	}
}

func TestFromMillimetres(t *testing.T) {
	for mm, nm := range map[float64]Length{0.25: 250_000, 2.7: 2_700_000, -0.0000014: -1, 0.0000016: 2, 100_000: MaxLength, 0.1 + 0.2: 300_000} {
		if got, err := FromMillimetres(mm); err != nil || got != nm {
			t.Errorf("%v: %d, %v", mm, got, err)
		}
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 100_000.1, -1e300} {
		if got, err := FromMillimetres(bad); err == nil {
			t.Errorf("%v: %d", bad, got)
		}
	}
	if got := Length(-250_000).Abs().Millimetres(); got != 0.25 {
		t.Errorf("%v", got)
	}
}

// TestFinished: the last reading of a list counts when it has as many digits as the others, or a
// space behind it; a unit is no reading.
func TestFinished(t *testing.T) {
	for text, want := range map[string]string{
		"139.87 139.88 1": "139.87 139.88 ", "139.87 139.88 139.9": "139.87 139.88 ", "139.87 139.88 139.9 ": "139.87 139.88 139.9 ",
		"139.87 139.88": "139.87 139.88", "139": "139", "": "", "140 140 14": "140 140 14", "5.500 5.501 .": "5.500 5.501 ",
		"5.5005 in": "5.5005 in", "0.02 -0.0": "0.02 ", "0.02mm 0.0": "0.02mm ",
	} {
		if got := Finished(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func TestParseReadings(t *testing.T) {
	for _, v := range []struct {
		text string
		bare Unit
		want []Length
	}{
		{"0.25 0.26 0.27", MM, []Length{250_000, 260_000, 270_000}}, {" 0.25mm\t0.26 mm \n 0.27", MM, []Length{250_000, 260_000, 270_000}},
		{"0.010 in 12 thou", NoUnit, []Length{254_000, 304_800}}, {`3-1/4 1/8"`, IN, []Length{82_550_000, 3_175_000}}, {"0 1/8 0 1/8", IN, []Length{0, 3_175_000, 0, 3_175_000}}, {"3.0 1/4", IN, []Length{76_200_000, 6_350_000}}, {"-0.02 +0.01", MM, []Length{-20_000, 10_000}},
	} {
		ms, err := ParseReadings(v.text, v.bare)
		if err != nil || len(ms) != len(v.want) || Sum(Lengths(ms)) != Sum(v.want) {
			t.Errorf("%q: %v, %v", v.text, ms, err)
		}
	}
	for _, v := range []struct {
		text, says string
	}{
		{"", "nothing typed: type the readings"}, {"0.25 x 0.27", "reading 2: "}, {"0.25 0.26 0,27", "reading 3: "}, {"0.25 mm mm", "reading 2: "}, {strings.Repeat("1 ", 1001), "too long for a list of readings"},
		{"5.5 5 1/2 in", "reading 2: write 5 1/2 as 5-1/2, with a dash: a space separates readings"}, {"3 1/4\"", "write 3 1/4\" as 3-1/4\""},
	} {
		if ms, err := ParseReadings(v.text, MM); err == nil || !strings.Contains(err.Error(), v.says) {
			t.Errorf("%q: %v, %v", v.text, ms, err)
		}
	}
}

func TestClip(t *testing.T) {
	if got := Clip(strings.Repeat("ä", 25)); got != strings.Repeat("ä", 24)+"..." {
		t.Error(got)
	}
	if got := Clip(strings.Repeat("ä", 24)); got != strings.Repeat("ä", 24) {
		t.Error(got)
	}
}

// What is read is written so that it reads the same again, in one unit and one text.
func FuzzLength(f *testing.F) {
	for _, seed := range []string{"0.25 mm", ".010\"", "1/8 in", "3 1/4 in", "3-1/4", "12 thou", "1/128 in", "0,25 mm", "99999999999999999999999999999999999999 mm", "-0", "\x00", "1 mm\u202e", "63/64", "0\r0/1"} {
		for _, unit := range []uint8{0, 1, 2, 3, 4} {
			f.Add(seed, unit)
		}
	}
	f.Fuzz(func(t *testing.T, text string, unit uint8) {
		m, err := ParseLength(text, Unit(unit%5))
		if err != nil {
			if e := err.Error(); strings.ContainsAny(e, "\n\r\x1b") || len(e) > 400 {
				t.Fatalf("%q: not one clean line: %q", text, e)
			}
			return
		}
		if m.Unit == NoUnit || m.Length > MaxLength || m.Length < -MaxLength {
			t.Fatalf("%q: %+v", text, m)
		}
		again, err := ParseLength(m.String(), NoUnit)
		if err != nil || again.Length != m.Length || again.String() != m.String() {
			t.Fatalf("%q reads as %s, and that as %+v, %v", text, m, again, err)
		}
		m.Length.Show(m.Unit, m.Length)
	})
}

// A list of readings is stable in the same way, whatever separates them.
func FuzzReadings(f *testing.F) {
	for _, seed := range []string{"0.25 0.26 0.27", "0.25mm 0.26 mm\t12 thou", "3-1/4 1/8\"", "1 in in", "mm 1", "1,2 3"} {
		f.Add(seed, uint8(1))
		f.Add(seed, uint8(2))
	}
	f.Fuzz(func(t *testing.T, text string, unit uint8) {
		ms, err := ParseReadings(text, Unit(unit%5))
		if err != nil {
			return
		}
		var written []string
		for _, m := range ms {
			s := m.String()
			if m.Unit == Fraction { // a space inside a mixed number would separate it
				s = strings.Replace(s, " ", "-", strings.Count(s, " ")-1)
			}
			written = append(written, s)
		}
		again, err := ParseReadings(strings.Join(written, " "), NoUnit)
		if err != nil || len(again) != len(ms) {
			t.Fatalf("%q: %q reads as %v, %v", text, written, again, err)
		}
		for i := range ms {
			if again[i].Length != ms[i].Length {
				t.Fatalf("%q: reading %d: %v, then %v", text, i+1, ms[i], again[i])
			}
		}
	})
}
