package field

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/huh"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
)

// Look is the styles of a list. Marks carry the meaning: ">" before what is typed
// now, "!" before what is wrong.
type Look struct {
	Label, Focused lipgloss.Style // the label, and the label of the field at work
	Text           lipgloss.Style // what is typed
	Cursor         lipgloss.Style // shown in reverse
	Hint           lipgloss.Style
	Wrong          lipgloss.Style
}

// Mono is the look without colours.
func Mono() Look {
	n := lipgloss.NewStyle()
	return Look{Label: n, Focused: n.Bold(true), Text: n, Cursor: n, Hint: n, Wrong: n.Bold(true)}
}

func (k Look) theme() *huh.Theme {
	n := lipgloss.NewStyle()
	cursor := k.Cursor
	if lipgloss.ColorProfile() == termenv.Ascii {
		// Drawn for no terminal: reverse video is dropped there, and with it the cursor.
		cursor = cursor.Transform(func(string) string { return "_" })
	}
	style := huh.FieldStyles{Base: n, Title: n, Description: n}
	style.TextInput = huh.TextInputStyles{Cursor: cursor, CursorText: k.Text, Placeholder: k.Hint, Prompt: n, Text: k.Text}
	return &huh.Theme{Focused: style, Blurred: style}
}

// Sizes of a line: mark, label, prompt, text, hint.
const (
	leastText = 14 // cells for what is typed, beside a hint
	gap       = 2
	prompt    = 2
)

// Resize fits the fields into a column of the given width. Texts and focus stay.
func (l *List) Resize(width int) {
	l.width = max(width, 12)
	for i := range l.entries {
		l.fit(i)
		if i == l.at && ansi.StringWidth(*l.entries[i].text) > l.textWidth(i) {
			l.toEnd()
		}
	}
}

// toEnd puts the cursor behind the text of the field at work and starts its blinking
// anew. In a narrower field, or
// over a text that was written for the user, huh finds the part to show only when the
// cursor moves to an end.
func (l *List) toEnd() tea.Cmd {
	l.focus()
	l.entries[l.at].input.Update(tea.KeyMsg{Type: tea.KeyHome})
	l.entries[l.at].input.Update(tea.KeyMsg{Type: tea.KeyEnd})
	return l.focus()
}

// fit gives huh's field its width, one cell more for the cursor, and lets it find the
// part of its text that it shows.
func (l *List) fit(i int) {
	l.entries[i].input.WithWidth(l.textWidth(i) + 1)
	l.entries[i].input.Update(nil)
}

// labels is the width of the labels' column; wider labels take a line of their own.
func (l *List) labels() int {
	limit, n := max(l.width*2/5, 8), 0
	for _, e := range l.entries {
		if w := ansi.StringWidth(e.spec.Label); w <= limit {
			n = max(n, w)
		}
	}
	return n
}

// stacked reports whether a field's label stands on a line above its text.
func (l *List) stacked(i int) bool {
	return ansi.StringWidth(l.entries[i].spec.Label) > l.labels()
}

func (l *List) indent() int { return 1 + l.labels() + 1 + prompt }

// textWidth is the number of cells for the text itself, less where a hint stands
// beside it.
func (l *List) textWidth(i int) int {
	if l.inline(i) {
		return l.beside() - 1
	}
	return max(l.width-l.indent()-1, 4)
}

// beside is the width of the texts that have their hint beside them: the hints begin
// in one column. Hints that would leave too little for the text do not count.
func (l *List) beside() int {
	room, widest := l.width-l.indent()-gap, 0
	for _, e := range l.entries {
		if n := ansi.StringWidth(e.spec.hint()); n <= room-leastText {
			widest = max(widest, n)
		}
	}
	return room - widest
}

// inline reports whether a field's hint stands beside its text: while both have room.
func (l *List) inline(i int) bool {
	e := l.entries[i]
	hint := ansi.StringWidth(e.spec.hint())
	return hint > 0 && hint <= l.width-l.indent()-gap-leastText && ansi.StringWidth(*e.text) < l.beside()
}

// View gives the lines, none wider than the list, and the number of the line that
// the focused field's text stands on.
func (l *List) View() (lines []string, focusLine int) {
	for i := range l.entries {
		above := l.above(i)
		lines = append(lines, above...)
		if i == l.at {
			focusLine = len(lines)
		}
		lines = append(lines, l.line(i))
		lines = append(lines, l.below(i)...)
	}
	for i, line := range lines {
		if ansi.StringWidth(line) > l.width {
			lines[i] = ansi.Truncate(line, l.width, "")
		}
	}
	return lines, focusLine
}

func (l *List) label(i int) lipgloss.Style {
	if i == l.at {
		return l.look.Focused
	}
	return l.look.Label
}

// above is a label that has no room beside its text.
func (l *List) above(i int) []string {
	if !l.stacked(i) {
		return nil
	}
	var lines []string
	for _, s := range wrap(l.entries[i].spec.Label, l.width-1) {
		lines = append(lines, " "+l.label(i).Render(s))
	}
	return lines
}

func (l *List) line(i int) string {
	e := l.entries[i]
	mark := " "
	if e.err != nil {
		mark = l.look.Wrong.Render("!")
	}
	name := ""
	if !l.stacked(i) {
		name = e.spec.Label
	}
	name += strings.Repeat(" ", max(l.labels()-ansi.StringWidth(name), 0))
	sign := ": "
	if i == l.at {
		sign = "> "
	}
	line := mark + l.label(i).Render(name) + " " + l.label(i).Render(sign) + l.text(i)
	if !l.inline(i) {
		return line
	}
	line += strings.Repeat(" ", max(l.indent()+l.textWidth(i)+1-ansi.StringWidth(line), 0))
	return line + strings.Repeat(" ", gap) + l.look.Hint.Render(e.spec.hint())
}

// text is what is typed: with the cursor where the focus is, else its beginning.
func (l *List) text(i int) string {
	e, n := l.entries[i], l.textWidth(i)
	if i != l.at {
		return l.look.Text.Render(ansi.Truncate(visible(*e.text), n, "~"))
	}
	first, _, _ := strings.Cut(e.input.View(), "\n")
	return ansi.Truncate(strings.TrimRight(first, " "), n+1, "")
}

// Input is the text of the field at work alone, with the cursor; empty without fields.
func (l *List) Input() string {
	if len(l.entries) == 0 {
		return ""
	}
	return l.text(l.at)
}

// visible makes what may stand in a text safe to show.
func visible(text string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, text)
}

// below is the hint that has no room beside the text, of the field at work, and what
// is wrong.
func (l *List) below(i int) []string {
	e := l.entries[i]
	var lines []string
	if i == l.at && !l.inline(i) && e.spec.hint() != "" {
		lines = append(lines, l.under(e.spec.hint(), l.look.Hint, "")...)
	}
	if e.err != nil {
		lines = append(lines, l.under(e.err.Error(), l.look.Wrong, "! ")...)
	}
	return lines
}

// under wraps words below the text, or across the list where that is too narrow.
func (l *List) under(words string, style lipgloss.Style, mark string) []string {
	at := l.indent()
	if l.width-at < 36 {
		at = 3
	}
	var lines []string
	for _, s := range wrap(mark+visible(words), l.width-at) {
		lines = append(lines, strings.Repeat(" ", at)+style.Render(s))
	}
	return lines
}

func wrap(s string, n int) []string {
	return strings.Split(ansi.Wrap(s, max(n, 1), ""), "\n")
}
