package model

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func typedKit(t *testing.T, units Unit, rows ...string) Profile {
	t.Helper()
	p := Profile{Units: units}
	for _, row := range rows {
		r, err := ParseRing(row, units)
		if err != nil {
			t.Fatal(err)
		}
		r.ID = RingID(r.Thickness)
		p.Rings = append(p.Rings, r)
	}
	return p
}

// TestParseStack: what a screen or a card shows as a stack is taken when it is typed.
func TestParseStack(t *testing.T) {
	mm := typedKit(t, MM, "0.10 0.101 78 2", "0.25 0.2481 78 1", "0.50 - - 1")
	in := typedKit(t, IN, ".002 - 3 2", ".005 - 3 1", "1/64 - 3 1", "0.10mm - 3 1")
	for _, c := range []struct {
		kit   Profile
		text  string
		want  string
		fault string
	}{
		{mm, "none", "", ""}, {mm, "no rings", "", ""}, {mm, " No  Rings ", "", ""}, {mm, "0", "", ""},
		{mm, "0.10", "r10", ""}, {mm, ".1", "r10", ""}, {mm, "0.10 mm + 0.25 mm", "r10 r25", ""}, {mm, "0.10 mm + 0.25 mm, flange first", "r10 r25", ""},
		{mm, "0.25 0.10", "r25 r10", ""}, {mm, "r10 r50", "r10 r50", ""}, {mm, "0.10x2 0.50", "r10 r10 r50", ""}, {mm, "0.10 mm x 2", "r10 r10", ""},
		{mm, "flange first: 0.10, 0.50", "r10 r50", ""}, {mm, "0.101", "r10", ""}, {mm, "0.248", "r25", ""}, {mm, "0.10 mm+0.25 mm", "r10 r25", ""},
		{in, "0.002 in + 0.005 in, flange first", "t2 t5", ""}, {in, "2 thou 5 thou", "t2 t5", ""}, {in, `.002" .005"`, "t2 t5", ""}, {in, "0.10 mm", "r10", ""}, {in, "0.004", "r10", ""},
		{in, "1/64 in", "r396875n", ""},
		{mm, "", "", "nothing typed"}, {mm, "0.30", "", "no ring of 0.3 mm"}, {mm, "0.10 0.10 0.10", "", "has only 2 of 0.1 mm"}, {mm, "0.25x2", "", "has only 1"},
		{mm, "0.10x0", "", "how many"}, {mm, "0,10", "", "no ring of the kit"}, {mm, "0.105", "", "no ring of 0.105 mm"}, {mm, "0.3", "", "no ring of"}, {mm, "two", "", "no ring of the kit"},
		{mm, "0 0.10", "", "no ring of 0 mm"}, {mm, "none 0.10", "", "no ring of the kit"}, {in, "0.01", "", "no ring of 0.01 in"}, {mm, "2", "", "no ring of 2 mm"},
	} {
		ids, err := c.kit.ParseStack(c.text)
		if c.fault != "" {
			if err == nil || !strings.Contains(err.Error(), c.fault) {
				t.Errorf("%q: %v and %v, want a fault with %q", c.text, ids, err, c.fault)
			}
			continue
		}
		if err != nil || strings.Join(ids, " ") != c.want || ids == nil {
			t.Errorf("%q: %v %v, want %q", c.text, ids, err, c.want)
		}
	}
}

// TestShownStackIsTyped: whatever stack the screen names, typing that names it again.
func TestShownStackIsTyped(t *testing.T) {
	mm := typedKit(t, MM, "0.10 0.101 78 2", "0.25 0.2481 78 1", "0.50 - - 1")
	in := typedKit(t, IN, ".002 - 3 2", ".005 - 3 1", "1/64 - 3 1", "0.10mm - 3 1")
	rapid.Check(t, func(t *rapid.T) {
		kit := rapid.SampledFrom([]Profile{mm, in}).Draw(t, "kit")
		var ids []string
		for _, r := range rapid.Permutation(kit.Rings).Draw(t, "order") {
			ids = append(ids, slices.Repeat([]string{r.ID}, rapid.IntRange(0, r.Count).Draw(t, "count"))...)
		}
		shown := kit.RingNames(ids)
		if got, err := kit.ParseStack(shown); err != nil || !slices.Equal(got, ids) {
			t.Fatalf("%q reads as %v, %v; it shows %v", shown, got, err, ids)
		}
	})
}

func TestParseRing(t *testing.T) {
	mm := func(s string) Measure { m, _ := ParseLength(s, MM); return m }
	for _, c := range []struct {
		text string
		want Ring
	}{
		{"0.25 0.248 78 1", Ring{Thickness: mm("0.25"), Measured: mm("0.248"), Outer: mm("78"), Count: 1}},
		{"0.10 mm - 78 mm x2", Ring{Thickness: mm("0.10"), Outer: mm("78"), Count: 2}},
		{".010in .0101in - 0", Ring{Thickness: Measure{254_000, IN}, Measured: Measure{256_540, IN}}},
	} {
		if got, err := ParseRing(c.text, MM); err != nil || got != c.want {
			t.Errorf("%q: %+v %v, want %+v", c.text, got, err, c.want)
		}
	}
	for text, fault := range map[string]string{
		"": "four things", "0.25 0.248 78": "four things", "0.25 0.248 78 1 2": "four things", "- 0.248 78 1": "thickness", "0.25 x 78 1": "as measured",
		"0.25 - 0 1": "outer diameter", "0.25 - 78 -1": "how many", "0.25 - 78 1.5": "how many", "0.25 - 78 100": "how many", "0 - 78 1": "up to 10 mm", "11 - 78 1": "up to 10 mm", "0.25 -0.2 78 1": "up to 10 mm",
	} {
		if r, err := ParseRing(text, MM); err == nil || !strings.Contains(err.Error(), fault) {
			t.Errorf("%q: %+v %v, want a fault with %q", text, r, err, fault)
		}
	}
}

// TestRingRow: a row reads as the ring that it shows.
func TestRingRow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := func(most int64) Measure {
			return Measure{Length(rapid.Int64Range(1, most).Draw(t, "length")), rapid.SampledFrom([]Unit{MM, IN, Fraction, Mil}).Draw(t, "unit")}
		}
		want := Ring{Thickness: length(10_000_000), Count: rapid.IntRange(0, 99).Draw(t, "count")}
		if rapid.Bool().Draw(t, "measured") {
			want.Measured = length(10_000_000)
		}
		if rapid.Bool().Draw(t, "outer") {
			want.Outer = length(300_000_000)
		}
		got, err := ParseRing(want.Row(), NoUnit)
		if err != nil || got.Thickness.Length != want.Thickness.Length || got.Measured.Length != want.Measured.Length || got.Outer.Length != want.Outer.Length || got.Count != want.Count {
			t.Fatalf("%q reads as %+v, %v; it shows %+v", want.Row(), got, err, want)
		}
		if again := got.Row(); again != want.Row() {
			t.Fatalf("%q becomes %q", want.Row(), again)
		}
	})
}
