package field

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/huh"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
)

// theme is huh's look without colours, with no room around the text.
func theme() *huh.Theme {
	n := lipgloss.NewStyle()
	cursor := n
	if lipgloss.ColorProfile() == termenv.Ascii {
		// Drawn for no terminal: reverse video is dropped there, and with it the cursor.
		cursor = cursor.Transform(func(string) string { return "_" })
	}
	style := huh.FieldStyles{Base: n, Title: n, Description: n}
	style.TextInput = huh.TextInputStyles{Cursor: cursor, CursorText: n, Placeholder: n, Prompt: n, Text: n}
	return &huh.Theme{Focused: style, Blurred: style}
}

// leastText is the least number of cells that a text is drawn in, the cursor's included.
const leastText = 8

// Resize draws the texts in so many cells. Texts and focus stay.
func (l *List) Resize(width int) {
	l.width = max(width, leastText)
	for i := range l.entries {
		l.fit(i)
		if i == l.at && ansi.StringWidth(*l.entries[i].text) >= l.width {
			l.toEnd()
		}
	}
}

// toEnd puts the cursor behind the text of the field at work and starts its blinking
// anew. In a narrower field, or over a text that was written for the user, huh finds the
// part to show only when the cursor moves to an end.
func (l *List) toEnd() tea.Cmd {
	l.focus()
	l.entries[l.at].input.Update(tea.KeyMsg{Type: tea.KeyHome})
	l.entries[l.at].input.Update(tea.KeyMsg{Type: tea.KeyEnd})
	return l.focus()
}

// fit gives huh's field its width, the cursor's cell included, and lets it find the part of
// its text that it shows.
func (l *List) fit(i int) {
	l.entries[i].input.WithWidth(l.width)
	l.entries[i].input.Update(nil)
}

// Input is the text of the field at work, with the cursor, on one line of at most as many
// cells as the list is wide; empty without fields.
func (l *List) Input() string {
	if len(l.entries) == 0 {
		return ""
	}
	line, _, _ := strings.Cut(l.entries[l.at].input.View(), "\n")
	return ansi.Truncate(strings.TrimRight(line, " "), l.width, "")
}
