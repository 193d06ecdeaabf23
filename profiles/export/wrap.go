package export

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/model"
)

// ends sets two texts at both ends of a line; the left one is cut where they would
// touch.
func ends(left, right string, width int) string {
	room := width - ansi.StringWidth(right) - 1
	left = ansi.Truncate(left, room, "...")
	return padded(left, room) + " " + right
}

func padded(s string, width int) string {
	return s + strings.Repeat(" ", max(width-ansi.StringWidth(s), 0))
}

// hanging wraps text behind a first word, with the following lines set in as far.
func hanging(first, text string, width int) string {
	in := ansi.StringWidth(first)
	lines := strings.Split(wrapped(text, width-in), "\n")
	return first + strings.Join(lines, "\n"+strings.Repeat(" ", in)) + "\n"
}

// wrapped breaks text at spaces, but not within a length, whose parts a hand may take
// for two.
func wrapped(text string, width int) string {
	lines := strings.Split(ansi.Wrap(model.Unbroken(text), width, ""), "\n")
	for i := range lines {
		lines[i] = strings.TrimSpace(model.Loose(lines[i]))
	}
	return strings.Join(lines, "\n")
}

// fitted is a name in so many columns; one that is longer ends in dots.
func fitted(name string, w int) string { return ansi.Truncate(name, w, "...") }

// clipped is a text in so many lines; one that is longer ends with what is said whole in the last of
// them, or else in dots behind a word.
func clipped(text string, w, most int) []string {
	lines := strings.Split(wrapped(text, w), "\n")
	if len(lines) <= most {
		return lines
	}
	lines = lines[:most]
	last := &lines[most-1]
	ended := *last + " "
	if i := max(strings.LastIndex(ended, ", "), strings.LastIndex(ended, "; "), strings.LastIndex(ended, ": ")); i > 0 {
		*last = (*last)[:i]
		return lines
	}
	short := ansi.Truncate(*last, w-3, "")
	if i := strings.LastIndexByte(short, ' '); i > 0 && len(short) < len(*last) {
		short = short[:i]
	}
	*last = strings.TrimRight(short, " ,;:") + "..."
	return lines
}

// cut is a text of at most so many letters, cut between words where there are some.
func cut(s string, most int) string {
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	s = string(r[:most-1])
	if i := strings.LastIndexByte(s, ' '); i > len(s)/2 {
		s = s[:i]
	}
	return s + "…"
}
