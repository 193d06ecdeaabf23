// Package frame is what the screens are drawn with: lines of so many cells, the styles,
// large letters, the regions of a step, and the keys with the line that names them. It
// knows no run.
package frame

import (
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/picture"
)

// The sizes at which the layouts change.
const (
	LeastWidth, LeastHeight = 60, 20
	UsualWidth, UsualHeight = 80, 24 // of a terminal that does not tell its size
	FullHeight              = 24     // below it notices are short
	WideWidth, wideHeight   = 100, 30
	airyHeight              = 36 // from it on empty rows separate the regions
	tallHeight              = 44 // from it on more may follow below the field
	TextWidth               = 92 // lines of text are no longer than this, however wide the window
)

// Wrapped sets text on lines of at most w cells, the first behind one lead and the
// others behind blanks of the same width. Nothing is cut: what is too long for a line
// is broken.
func Wrapped(lead, text string, w int, style Brush) []string {
	indent := Cells(lead)
	if len(text) <= max(w-indent, 8) && ascii(text) { // most texts fit as they are
		return []string{lead + style.Render(strings.TrimRight(text, " "))}
	}
	lines := strings.Split(ansi.Wrap(model.Unbroken(text), max(w-indent, 8), ""), "\n")
	for i, line := range lines {
		line = style.Render(strings.TrimRight(model.Loose(line), " "))
		if i == 0 {
			lines[i] = lead + line
		} else {
			lines[i] = strings.Repeat(" ", indent) + line
		}
	}
	return lines
}

// Wording keeps the lines of texts that were wrapped before: most texts of a visit stay the
// same from key to key.
type Wording map[setting][]string

type setting struct {
	lead, text string
	w          int
	style      Brush
}

// Wrapped does what the function Wrapped does, once for each text.
func (k Wording) Wrapped(lead, text string, w int, style Brush) []string {
	of := setting{lead, text, w, style}
	lines, ok := k[of]
	if !ok {
		lines = Wrapped(lead, text, w, style)
		k[of] = lines
	}
	return lines
}

// Cells is the width of a text on the screen. Plain letters, our marks and colours are
// counted; a text with anything else in it is measured.
func Cells(s string) int {
	n := 0
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		switch colour := colourAhead(s[i:]); {
		case colour > 0:
			size = colour
		case r >= ' ' && r <= '~', picture.Drawn(r), r == '✓':
			n++
		default:
			return lipgloss.Width(s)
		}
		i += size
	}
	return n
}

// colourAhead is the length of the sequence for a colour that a text begins with; 0:
// it begins with none.
func colourAhead(s string) int {
	rest, ok := strings.CutPrefix(s, "\x1b[")
	if !ok {
		return 0
	}
	if rest = strings.TrimLeft(rest, "0123456789;"); !strings.HasPrefix(rest, "m") {
		return 0
	}
	return len(s) - len(rest) + 1
}

// ascii reports whether a text is of letters that take one cell each.
func ascii(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// Ends sets one text at the left and one at the right of a line, or below each other
// where both have no room.
func Ends(left, right string, w int) []string {
	gap := w - Cells(left) - Cells(right)
	switch {
	case right == "":
		return []string{left}
	case gap < 1:
		return []string{left, right}
	}
	return []string{left + strings.Repeat(" ", gap) + right}
}

// Tall brings lines to exactly h.
func Tall(lines []string, h int) []string {
	for len(lines) < h {
		lines = append(lines, "")
	}
	return lines[:h]
}

// Window is the part of lines, at most h, that holds line at.
func Window(lines []string, at, h int) []string {
	if len(lines) <= h {
		return lines
	}
	from := min(max(0, at-h/2), len(lines)-h)
	return lines[from : from+h]
}

// Columns sets a column of exactly lw cells left of another, with an upright between.
func Columns(l Look, left []string, lw int, right []string, h int) []string {
	left, right = Tall(left, h), Tall(right, h)
	out, between := make([]string, h), " "+l.Dim.Render(l.upright)+" "
	for i := range out {
		gap := strings.Repeat(" ", max(0, lw-Cells(left[i])))
		out[i] = strings.TrimRight(left[i]+gap+between+strings.TrimRight(right[i], " "), " ")
	}
	return out
}

// Right sets text at the right of n cells.
func Right(s string, n int) string { return strings.Repeat(" ", max(0, n-Cells(s))) + s }

// Join is lines as one text.
func Join(lines []string) string { return strings.Join(lines, "\n") }

// Clipped is a text of at most w cells; what is cut ends in an ellipsis.
func (l Look) Clipped(text string, w int) string {
	if Cells(text) <= w {
		return text
	}
	runes := []rune(text)
	for len(runes) > 0 && Cells(string(runes)) > w-1 {
		runes = runes[:len(runes)-1]
	}
	return strings.TrimRight(string(runes), " ") + l.cut
}

// Block brings lines to exactly h rows.
func Block(lines []string, h int) []string { return Tall(slices.Clone(lines), max(h, 0)) }

// Padded sets lines behind the left margin.
func Padded(lines []string, by int) []string {
	out := make([]string, len(lines))
	for i, line := range lines {
		if line != "" {
			out[i] = strings.Repeat(" ", by) + line
		}
	}
	return out
}

// Joined sets a block of lines right of another, of w columns.
func Joined(left, right []string, w int) []string {
	out := make([]string, len(left))
	for i := range left {
		out[i] = left[i]
		if i < len(right) && right[i] != "" {
			out[i] += strings.Repeat(" ", max(0, w-Cells(left[i]))) + right[i]
		}
	}
	return out
}

// Flow sets words on lines of at most w cells; a word is never broken.
func Flow(words []string, gap string, w int) []string {
	var lines []string
	line := ""
	for _, word := range words {
		switch {
		case line == "":
			line = word
		case Cells(line)+Cells(gap)+Cells(word) <= w:
			line += gap + word
		default:
			lines, line = append(lines, line), word
		}
	}
	if strings.TrimSpace(line) != "" {
		lines = append(lines, line)
	}
	return lines
}
