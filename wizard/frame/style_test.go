package frame

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	"example.com/sawdatum/wizard/picture"
)

func TestCharset(t *testing.T) {
	for _, c := range []struct {
		env  string
		want picture.Charset
	}{
		{"LANG=en_US.UTF-8", picture.Blocks},
		{"LANG=C.utf8", picture.Blocks},
		{"LANG=C", picture.ASCII},
		{"", picture.ASCII},
		{"LANG=en_US.UTF-8 LC_ALL=C", picture.ASCII},
		{"LANG=C LC_CTYPE=de_DE.UTF-8", picture.Blocks},
		{"LANG=en_US.UTF-8 TERM=linux", picture.Lines},
		{"LANG=C TERM=linux", picture.ASCII},
		{"LANG=ja_JP.UTF-8", picture.ASCII},
		{"LANG=en_US.UTF-8 RUNEWIDTH_EASTASIAN=1", picture.ASCII},
	} {
		env := map[string]string{}
		for _, word := range strings.Fields(c.env) {
			name, value, _ := strings.Cut(word, "=")
			env[name] = value
		}
		if got := Charset(func(name string) string { return env[name] }); got != c.want {
			t.Errorf("%q: charset %d, want %d", c.env, got, c.want)
		}
	}
}

// TestHintsInLight: grey on white is too pale for what is to be read at arm's length (a
// contrast of 3.9, and WCAG 2.1, 1.4.3 wants 4.5: from memory), so hints are plain there.
func TestHintsInLight(t *testing.T) {
	defer lipgloss.SetColorProfile(termenv.Ascii)
	defer lipgloss.SetHasDarkBackground(lipgloss.HasDarkBackground())
	lipgloss.SetColorProfile(termenv.TrueColor)
	for dark, want := range map[bool]string{false: "hint", true: "\x1b[37mhint\x1b[0m"} {
		lipgloss.SetHasDarkBackground(dark)
		if got := NewLook(false, picture.Blocks).Dim.Render("hint"); got != want {
			t.Errorf("dark %v: %q, want %q", dark, got, want)
		}
	}
}

// TestNoColour looks at the styles as they are sent: with no colour wanted there are
// attributes and no colours; else colours of the sixteen only.
func TestNoColour(t *testing.T) {
	defer lipgloss.SetColorProfile(termenv.Ascii)
	lipgloss.SetColorProfile(termenv.TrueColor)
	Colourless()
	l := NewLook(true, picture.Blocks)
	for name, b := range map[string]Brush{"reversed": l.Reversed, "live": l.Live, "title": l.Title, "isolated": l.Isolated} {
		if b.on == "" || strings.ContainsAny(strings.NewReplacer("\x1b[", "", "m", "", ";", " ").Replace(b.on), "3") {
			t.Errorf("%s without colour is %q", name, b.on)
		}
	}
	lipgloss.SetColorProfile(termenv.TrueColor)
	l = NewLook(false, picture.Blocks)
	for name, b := range map[string]Brush{"live": l.Live, "title": l.Title, "focus": l.Focus, "good": l.Good, "dim": l.Dim} {
		if b.on == "" || strings.Contains(b.on, "38;") || strings.Contains(b.on, "48;") {
			t.Errorf("%s is %q: not one of sixteen colours", name, b.on)
		}
	}
	lipgloss.SetHasDarkBackground(false)
	light := NewLook(false, picture.Blocks)
	lipgloss.SetHasDarkBackground(true)
	if light.Live == l.Live {
		t.Error("a light background changes nothing")
	}
}

// TestRedIsForHands: nothing but the power that is not isolated is red, and nothing is yellow.
func TestRedIsForHands(t *testing.T) {
	defer lipgloss.SetColorProfile(termenv.Ascii)
	lipgloss.SetColorProfile(termenv.ANSI)
	for _, dark := range []bool{true, false} {
		lipgloss.SetHasDarkBackground(dark)
		l := NewLook(false, picture.Blocks)
		brushes := map[string]Brush{"title": l.Title, "isolated": l.Isolated, "good": l.Good, "dim": l.Dim, "key": l.key, "focus": l.Focus, "reversed": l.Reversed}
		for kind, p := range l.kinds {
			brushes["picture "+strconv.Itoa(int(kind))], brushes["reversed picture "+strconv.Itoa(int(kind))] = p[0], p[1]
		}
		for name, b := range brushes {
			for _, hue := range []string{"31", "33", "91", "93"} {
				if slices.Contains(strings.FieldsFunc(b.on, func(r rune) bool { return r < '0' || r > '9' }), hue) {
					t.Errorf("%s is %q", name, b.on)
				}
			}
		}
		if !strings.Contains(l.Live.on, map[bool]string{true: "91", false: "31"}[dark]) {
			t.Errorf("live power is %q", l.Live.on)
		}
	}
	lipgloss.SetHasDarkBackground(true)
}

// TestMarksOfASCII holds every mark and the letters of the signs to plain characters.
func TestMarksOfASCII(t *testing.T) {
	l := NewLook(true, picture.ASCII)
	all := l.Here + l.Done + l.Careful + l.Heavy + l.Light + l.upright + l.Filled + strings.Join(l.Banner("ISOLATED", 60, 6, Brush{}), "")
	for _, r := range all {
		if r > 0x7e {
			t.Errorf("%q is not ASCII", r)
		}
	}
}
