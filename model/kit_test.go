package model

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func typedKit(t *testing.T, units Unit, rows ...string) Profile {
	t.Helper()
	p := Profile{Units: units}
	for _, row := range rows {
		var measures [2]Measure // thickness, and as measured or a dash
		words := strings.Fields(row)
		for i, word := range words[:2] {
			m, err := ParseLength(word, units)
			if err != nil && word != "-" {
				t.Fatal(err)
			}
			measures[i] = m
		}
		count, err := strconv.Atoi(words[2])
		if err != nil {
			t.Fatal(err)
		}
		p.Rings = append(p.Rings, Ring{ID: RingID(measures[0]), Thickness: measures[0], Measured: measures[1], Count: count})
	}
	return p
}

// TestParseStack: what a screen or a card shows as a stack is taken when it is typed.
func TestParseStack(t *testing.T) {
	mm := typedKit(t, MM, "0.10 0.101 2", "0.25 0.2481 1", "0.50 - 1")
	in := typedKit(t, IN, ".002 - 2", ".005 - 1", "1/64 - 1", "0.10mm - 1")
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
		{in, "1/64 in", "f1-64", ""},
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
	mm := typedKit(t, MM, "0.10 0.101 2", "0.25 0.2481 1", "0.50 - 1")
	in := typedKit(t, IN, ".002 - 2", ".005 - 1", "1/64 - 1", "0.10mm - 1")
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

// TestKitHas: one ring stands in a stack as often as the kit has it, and no oftener.
func TestKitHas(t *testing.T) {
	p := Profile{Rings: []Ring{{ID: "r10", Count: 2}, {ID: "r20", Count: 1}, {ID: "gone"}}}
	for text, want := range map[string]bool{"": true, "r10": true, "r10 r10": true, "r10 r20 r10": true, "r10 r10 r10": false, "r20 r20": false, "gone": false, "r99": false} {
		if got := p.KitHas(strings.Fields(text)); got != want {
			t.Errorf("a stack of %q can be put on: %v", text, got)
		}
	}
}
