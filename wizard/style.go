package wizard

import (
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"

	"example.com/sawdatum/wizard/picture"
)

// look holds the styles. They only add to words and marks: nothing is said by colour
// or by reverse alone. The colours are of the sixteen that every terminal has, and
// follow its background.
type look struct {
	title, power, isolated, live, danger, warn, good, dim, key, focus lipgloss.Style
	kinds                                                             map[picture.Kind]lipgloss.Style
	chars                                                             picture.Charset
	marks
}

// marks are the characters that frames are drawn with.
type marks struct {
	here, done, careful           string
	heavy, light, upright, filled string
	plusMinus                     string
}

var markTable = [...]marks{
	picture.Blocks: {here: "▶", done: "✓", careful: "!", heavy: "━", light: "─", upright: "│", filled: "█", plusMinus: "±"},
	picture.Lines:  {here: ">", done: "+", careful: "!", heavy: "█", light: "─", upright: "│", filled: "█", plusMinus: "±"},
	picture.ASCII:  {here: ">", done: "+", careful: "!", heavy: "=", light: "-", upright: "|", filled: "#", plusMinus: "+-"},
}

// newLook chooses the styles: colours, or attributes only.
func newLook(noColor bool, chars picture.Charset) look {
	l := look{marks: markTable[chars], chars: chars}
	s := lipgloss.NewStyle
	l.title, l.key, l.focus = s().Bold(true), s().Bold(true), s().Bold(true)
	if noColor {
		l.power, l.isolated, l.live = s().Bold(true), s().Bold(true).Underline(true), s().Bold(true).Reverse(true)
		l.danger, l.warn, l.good, l.dim = s().Bold(true).Reverse(true), s().Bold(true), s().Bold(true), s()
		l.kinds = map[picture.Kind]lipgloss.Style{picture.Danger: s().Bold(true), picture.Datum: s().Bold(true)}
		return l
	}
	red, yellow := lipgloss.AdaptiveColor{Light: "1", Dark: "9"}, lipgloss.AdaptiveColor{Light: "5", Dark: "11"}
	green, cyan := lipgloss.AdaptiveColor{Light: "2", Dark: "10"}, lipgloss.AdaptiveColor{Light: "6", Dark: "14"}
	l.title = l.title.Foreground(cyan)
	l.power, l.live = s().Bold(true).Foreground(yellow), s().Bold(true).Reverse(true).Foreground(red)
	l.isolated, l.good = s().Bold(true).Foreground(green), s().Bold(true).Foreground(green)
	l.danger, l.warn = s().Bold(true).Foreground(red), s().Foreground(yellow)
	l.dim = s().Foreground(lipgloss.AdaptiveColor{Light: "8", Dark: "7"})
	l.focus = l.focus.Foreground(cyan)
	l.kinds = map[picture.Kind]lipgloss.Style{
		picture.Faint: l.dim, picture.Datum: s().Bold(true).Foreground(cyan), picture.Good: s().Foreground(green), picture.Danger: l.danger,
		picture.Ring: s().Foreground(yellow), picture.Knife: s().Foreground(green), picture.Flange: l.dim,
	}
	return l
}

// colourless makes the terminal's styles keep bold and reverse where only colour is
// unwanted: without it the profile for no colour drops every attribute, and the
// cursor's block with it.
func colourless() { lipgloss.SetColorProfile(termenv.ANSI) }

// pictures is how pictures are drawn.
func (l look) pictures() picture.Look {
	return picture.Look{Charset: l.chars, Paint: func(kind picture.Kind, reverse bool, text string) string {
		style, ok := l.kinds[kind]
		if !ok && !reverse {
			return text
		}
		return style.Reverse(reverse).Render(text)
	}}
}

// charset is what the terminal can show by its locale: plain characters where that is
// not UTF-8 or where some terminals draw the marks two cells wide; no eighth blocks on
// a console whose font lacks them.
func charset(env func(string) string) picture.Charset {
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
