package frame

import (
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/wizard/picture"
)

// TestNumbersStayWhole: no line ends within a number, its sign and its unit.
func TestNumbersStayWhole(t *testing.T) {
	const text = "cut 0.20 mm or 0.008 in (-0.009 deg) and -0.012 mm ± 0.014 mm off"
	for w := 20; w < 70; w++ {
		lines := Wrapped("", text, w, Brush{})
		if got := strings.Join(lines, " "); got != text {
			t.Errorf("at %d: %q", w, got)
		}
		for _, line := range lines {
			if Cells(line) > w {
				t.Errorf("at %d: %q is wider", w, line)
			}
			if last := line[len(line)-1]; last >= '0' && last <= '9' || last == '-' || strings.HasSuffix(line, "±") {
				t.Errorf("at %d: a line ends in %q", w, line)
			}
		}
	}
}

// TestCells: what is counted is as wide as the library measures it, whatever stands
// together, and so is every mark and block that can be counted.
func TestCells(t *testing.T) {
	parts := []string{"word", " ", "✓", "±", "▶", "█▏┊", "\x1b[1;36m", "\x1b[0m", "\x1b[2J", "\x1b[", "\x1b", "ä", "木", "e\u0301", "\ufe0f", "\u200d", "\n", "\t", "\xff"}
	for r := rune(0x2500); r < 0x2600; r++ {
		parts = append(parts, string(r))
	}
	for _, a := range parts {
		for _, b := range parts {
			if text := a + b + "x"; Cells(text) != lipgloss.Width(text) {
				t.Errorf("%q takes %d cells, not %d", text, lipgloss.Width(text), Cells(text))
			}
		}
	}
}

// TestWording: a text that was set before stands as one that is set anew, whatever goes
// before it, in every width and style.
func TestWording(t *testing.T) {
	kept := Wording{}
	for range 2 {
		for _, lead := range []string{" 1  ", " 2  ", ""} {
			for _, style := range []Brush{{}, {"\x1b[1m", "\x1b[0m"}} {
				for _, w := range []int{20, 40} {
					for _, text := range []string{"Close the guard and take the hands out.", "Look at it."} {
						if got, want := kept.Wrapped(lead, text, w, style), Wrapped(lead, text, w, style); !slices.Equal(got, want) {
							t.Errorf("%q before %q in %d: %q, want %q", lead, text, w, got, want)
						}
					}
				}
			}
		}
	}
}

// TestHuge: a figure is as many times as large as has room, in the middle, its caption at its right
// end; the drawings are by hand.
func TestHuge(t *testing.T) {
	l := NewLook(true, picture.ASCII)
	for _, c := range []struct {
		w, h int
		want []string
	}{
		{13, 7, []string{"  ##   ######", "####       ##", "  ##   ######", "  ##   ##", "  ##   ######", "", "         wide"}},
		{30, 13, []string{
			"      ####      ############", "      ####      ############", "  ########              ####", "  ########              ####", "      ####      ############", "      ####      ############",
			"      ####      ####", "      ####      ####", "      ####      ############", "      ####      ############", "", "                        wide",
		}},
		{12, 7, []string{"", "", "          12"}}, // no room for the smallest
	} {
		if got := l.Huge("12", "wide", c.w, c.h, Brush{}); ansi.Strip(strings.Join(got, "\n")) != strings.Join(c.want, "\n") {
			t.Errorf("in %d by %d:\n%s\nwant\n%s", c.w, c.h, strings.Join(got, "\n"), strings.Join(c.want, "\n"))
		}
	}
	two := ansi.Strip(strings.Join(l.Huge("1+1", "", 20, 7, Brush{})[:FigureRows], "\n"))
	if want := "  ##            ##\n####     ##   ####\n  ##   ######   ##\n  ##     ##     ##\n  ##            ##"; two != want {
		t.Errorf("two rings:\n%s\nwant\n%s", two, want)
	}
	for w := 13; w < 140; w++ {
		for h := FigureRows; h < 40; h++ {
			got := l.Huge("0.12", "one ring, mm", w, h, Brush{})
			if len(got) > max(h, FigureRows+captionRows) {
				t.Errorf("in %d by %d it has %d rows", w, h, len(got))
			}
			for _, line := range got {
				if Cells(line) > w {
					t.Errorf("in %d by %d a row is wider: %q", w, h, line)
				}
			}
		}
	}
}

// TestKeysOnOneLine: where lines are few the keys take one, and those that are needed to
// go on, back, to the help and out are always among them.
func TestKeysOnOneLine(t *testing.T) {
	l := NewLook(true, picture.Blocks)
	for w := LeastWidth; w < 120; w++ {
		few, many := NewKeys().Lines(l, w, true), NewKeys().Lines(l, w, false)
		if shown := strings.Join(many, " "); !holds(shown, "F2 records", "F3 work", "ctrl+s") {
			t.Errorf("at %d: %q", w, shown)
		}
		if !holds(strings.Join(few, " "), "enter accept", "esc back", "F1 why", "ctrl+c leave") {
			t.Errorf("at %d: %q", w, few)
		}
	}
	k := NewKeys()
	Off(false, &k.Down, &k.PageDown)
	if few := k.Lines(l, 76, true); !holds(few[0], "F2 records") { // an order may name the list of records
		t.Errorf("in the least window that is whole: %q", few)
	}
	if few := k.Lines(l, LeastWidth, true); len(few) != 1 {
		t.Errorf("%d lines: %q", len(few), few)
	}
}

// holds reports whether all words are in a text.
func holds(text string, words ...string) bool {
	return !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) })
}
