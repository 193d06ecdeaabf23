package frame

import (
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	"example.com/sawdatum/wizard/picture"
)

// Look holds the styles. They only add to words and marks: nothing is said by colour
// or by reverse alone. The colours are of the sixteen that every terminal has, and
// follow its background.
type Look struct {
	Title, Isolated, Live, Alarm, Good, Dim, key, Focus, Reversed Brush
	kinds                                                         map[picture.Kind]painted
	chars                                                         picture.Charset
	marks
}

// marks are the characters that frames are drawn with.
type marks struct {
	Here, Done, Careful, Now, Come string
	Heavy, Light, upright, Filled  string
	plusMinus, cut, Arrows         string
}

var markTable = [...]marks{
	picture.Blocks: {Here: "▸", Done: "✓", Careful: "!", Now: "•", Come: "·", Heavy: "━", Light: "─", upright: "│", Filled: "█", plusMinus: "±", cut: "…", Arrows: "▲▼"},
	picture.Lines:  {Here: ">", Done: "+", Careful: "!", Now: "*", Come: ".", Heavy: "█", Light: "─", upright: "│", Filled: "█", plusMinus: "±", cut: "~", Arrows: "up/down"},
	picture.ASCII:  {Here: ">", Done: "x", Careful: "!", Now: "o", Come: ".", Heavy: "=", Light: "-", upright: "|", Filled: "#", plusMinus: "+-", cut: "~", Arrows: "up/down"},
}

// Brush is a style worked out once: what goes before a text and behind it. The zero
// brush changes nothing.
type Brush struct{ on, off string }

func brushOf(s lipgloss.Style) Brush {
	on, off, _ := strings.Cut(s.Render("x"), "x")
	return Brush{on, off}
}

// Render sets text between the two.
func (b Brush) Render(text string) string {
	if text == "" {
		return ""
	}
	return b.on + text + b.off
}

// painted is a kind of thing in a picture, as it is and in reverse.
type painted [2]Brush

func paintedOf(s lipgloss.Style) painted { return painted{brushOf(s), brushOf(s.Reverse(true))} }

// NewLook chooses the styles: colours, or attributes only.
func NewLook(noColor bool, chars picture.Charset) Look {
	l := Look{marks: markTable[chars], chars: chars}
	plain, bold := lipgloss.NewStyle(), lipgloss.NewStyle().Bold(true)
	l.Reversed = brushOf(bold.Reverse(true))
	if noColor {
		reverse := bold.Reverse(true)
		l.Title, l.key, l.Focus, l.Good = brushOf(bold), brushOf(bold), brushOf(bold), brushOf(bold)
		l.Isolated, l.Live, l.Alarm = brushOf(bold.Underline(true)), brushOf(reverse), brushOf(bold)
		l.kinds = map[picture.Kind]painted{picture.Plain: paintedOf(plain), picture.Danger: paintedOf(bold), picture.Datum: paintedOf(bold)}
		return l
	}
	coloured := func(s lipgloss.Style, light, dark string) lipgloss.Style {
		return s.Foreground(lipgloss.AdaptiveColor{Light: light, Dark: dark})
	}
	l.Title, l.key, l.Focus = brushOf(bold), brushOf(bold), brushOf(coloured(bold, "6", "14"))
	l.Live = brushOf(coloured(bold, "1", "9").Reverse(true)) // red is for what could hurt somebody now
	l.Alarm = brushOf(coloured(bold, "1", "9"))
	l.Isolated, l.Good = brushOf(coloured(bold, "2", "10")), brushOf(coloured(bold, "2", "10"))
	l.Dim = brushOf(coloured(plain, "", "7")) // grey on white is too pale to read
	l.kinds = map[picture.Kind]painted{
		picture.Plain: paintedOf(plain), picture.Faint: paintedOf(coloured(plain, "8", "7")), picture.Flange: paintedOf(coloured(plain, "8", "7")),
		picture.Plate: paintedOf(plain), picture.Stock: paintedOf(coloured(plain, "8", "7")), picture.Datum: paintedOf(coloured(bold, "6", "14")),
		picture.Good: paintedOf(coloured(plain, "2", "10")), picture.Danger: paintedOf(bold),
		picture.Ring: paintedOf(coloured(plain, "6", "14")), picture.Knife: paintedOf(plain),
	}
	return l
}

// Colourless makes the terminal's styles keep bold and reverse where only colour is
// unwanted: without it the profile for no colour drops every attribute, and the
// cursor's block with it.
func Colourless() { lipgloss.SetColorProfile(termenv.ANSI) }

// Pictures is how pictures are drawn.
func (l Look) Pictures() picture.Look {
	return picture.Look{Charset: l.chars, Paint: func(kind picture.Kind, reverse bool) (on, off string) {
		p, ok := l.kinds[kind]
		if !ok {
			p = l.kinds[picture.Plain]
		}
		b := p[0]
		if reverse {
			b = p[1]
		}
		return b.on, b.off
	}}
}

// Charset is what the terminal can show by its locale: plain characters where that is
// not UTF-8 or where some terminals draw the marks two cells wide; no eighth blocks on
// a console whose font lacks them.
func Charset(env func(string) string) picture.Charset {
	locale := ""
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if locale = strings.ToLower(env(name)); locale != "" {
			break
		}
	}
	utf8 := strings.Contains(locale, "utf-8") || strings.Contains(locale, "utf8")
	wide := env("RUNEWIDTH_EASTASIAN") == "1"
	for _, language := range []string{"ja", "ko", "zh"} {
		wide = wide || strings.HasPrefix(locale, language)
	}
	switch {
	case !utf8 || wide:
		return picture.ASCII
	case env("TERM") == "linux":
		return picture.Lines
	}
	return picture.Blocks
}
