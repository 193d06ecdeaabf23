package wizard

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
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
		if got := charset(func(name string) string { return env[name] }); got != c.want {
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
		if got := newLook(false, picture.Blocks).dim.Render("hint"); got != want {
			t.Errorf("dark %v: %q, want %q", dark, got, want)
		}
	}
}

// TestNoColour looks at the styles as they are sent: with no colour wanted there are
// attributes and no colours; else colours of the sixteen only.
func TestNoColour(t *testing.T) {
	defer lipgloss.SetColorProfile(termenv.Ascii)
	lipgloss.SetColorProfile(termenv.TrueColor)
	colourless()
	l := newLook(true, picture.Blocks)
	for name, b := range map[string]brush{"reversed": l.reversed, "live": l.live, "title": l.title, "isolated": l.isolated} {
		if b.on == "" || strings.ContainsAny(strings.NewReplacer("\x1b[", "", "m", "", ";", " ").Replace(b.on), "3") {
			t.Errorf("%s without colour is %q", name, b.on)
		}
	}
	lipgloss.SetColorProfile(termenv.TrueColor)
	l = newLook(false, picture.Blocks)
	for name, b := range map[string]brush{"live": l.live, "title": l.title, "focus": l.focus, "good": l.good, "dim": l.dim} {
		if b.on == "" || strings.Contains(b.on, "38;") || strings.Contains(b.on, "48;") {
			t.Errorf("%s is %q: not one of sixteen colours", name, b.on)
		}
	}
	lipgloss.SetHasDarkBackground(false)
	light := newLook(false, picture.Blocks)
	lipgloss.SetHasDarkBackground(true)
	if light.live == l.live {
		t.Error("a light background changes nothing")
	}
}

// TestRedIsForHands: nothing but the power that is not isolated is red, and nothing is yellow.
func TestRedIsForHands(t *testing.T) {
	defer lipgloss.SetColorProfile(termenv.Ascii)
	lipgloss.SetColorProfile(termenv.ANSI)
	for _, dark := range []bool{true, false} {
		lipgloss.SetHasDarkBackground(dark)
		l := newLook(false, picture.Blocks)
		brushes := map[string]brush{"title": l.title, "isolated": l.isolated, "good": l.good, "dim": l.dim, "key": l.key, "focus": l.focus, "reversed": l.reversed}
		for kind, p := range l.kinds {
			brushes["picture "+itoa(int(kind))], brushes["reversed picture "+itoa(int(kind))] = p[0], p[1]
		}
		for name, b := range brushes {
			for _, hue := range []string{"31", "33", "91", "93"} {
				if slices.Contains(strings.FieldsFunc(b.on, func(r rune) bool { return r < '0' || r > '9' }), hue) {
					t.Errorf("%s is %q", name, b.on)
				}
			}
		}
		if !strings.Contains(l.live.on, map[bool]string{true: "91", false: "31"}[dark]) {
			t.Errorf("live power is %q", l.live.on)
		}
	}
	lipgloss.SetHasDarkBackground(true)
}

func TestTally(t *testing.T) {
	f := procedure.Field{Kind: procedure.FieldLengths, Measuring: true, Unit: model.MM, AtLeast: 3}
	inches := procedure.Field{Kind: procedure.FieldLengths, Measuring: true, Unit: model.IN, AtLeast: 2}
	for _, c := range []struct {
		field procedure.Field
		text  string
		want  string
	}{
		{f, "", ""},
		{f, "119.98", "1 reading (2 more wanted)"},
		{f, "119.98 119.99", "2 readings (1 more wanted), mean 119.985 mm, spread 0.01 mm"},
		{f, "119.98 119.99 120.00", "3 readings, mean 119.990 mm, spread 0.02 mm"},
		{f, "119.98 119.99 12x", "2 readings (1 more wanted), mean 119.985 mm, spread 0.01 mm"},
		{f, "abc 119.99", ""},
		{procedure.Field{Kind: procedure.FieldLengths, Measuring: true, Unit: model.MM, AtLeast: 4, AtMost: 4}, "0 0.05", "2 of 4"},
		{inches, "0.126 0.128", "2 readings, mean 0.1270 in, spread 0.002 in"},
		{procedure.Field{Kind: procedure.FieldText}, "12 13", ""},
	} {
		if got := tally(c.field, c.text); got != c.want {
			t.Errorf("tally(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}

func TestPrintable(t *testing.T) {
	for text, want := range map[string]string{
		"bay-two.yaml": "bay-two.yaml", "a\x1b[31mb": "a<001B>[31mb", "x\u202ey": "x<202E>y", "\u009b2J": "<009B>2J", "Säge ½": "Säge ½", "a\nb": "a<000A>b",
	} {
		if got := printable(text); got != want {
			t.Errorf("printable(%q) = %q, want %q", text, got, want)
		}
	}
}

func TestIdleTimeHasALimit(t *testing.T) {
	for minutes, want := range map[int]time.Duration{0: model.DefaultIdleMinutes * time.Minute, 5: 5 * time.Minute, 10_000: model.MaxIdleMinutes * time.Minute, -3: model.DefaultIdleMinutes * time.Minute} {
		if got := idleTime(model.Profile{IdleMinutes: minutes}); got != want {
			t.Errorf("%d minutes: %s, want %s", minutes, got, want)
		}
	}
}

// TestMarksOfASCII holds every mark and the letters of the signs to plain characters.
func TestMarksOfASCII(t *testing.T) {
	l := newLook(true, picture.ASCII)
	all := l.here + l.done + l.careful + l.heavy + l.light + l.upright + l.filled + strings.Join(l.banner("ISOLATED", 60, 6, brush{}), "")
	for _, r := range all {
		if r > 0x7e {
			t.Errorf("%q is not ASCII", r)
		}
	}
}
