package wizard

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
)

// The sizes at which the layouts change.
const (
	leastWidth, leastHeight = 60, 20
	fullHeight              = 24 // below it notices are short
	wideWidth, wideHeight   = 100, 30
	textWidth               = 92 // lines of text are no longer than this, however wide the window
)

// nbsp and minus are a blank and a hyphen at which no line ends: a 24-tooth rip is one word.
const nbsp, minus = "\u00a0", "\u2011"

// held keeps a number, its sign and its unit on one line, and loose lets them go.
var loose = strings.NewReplacer(nbsp, " ", minus, "-")

var held = func() *strings.Replacer {
	pairs := []string{" ± ", nbsp + "±" + nbsp, "-", minus}
	for _, digit := range "0123456789" {
		for _, unit := range []string{"mm", "in", "deg", "thou"} {
			pairs = append(pairs, string(digit)+" "+unit, string(digit)+nbsp+unit)
		}
	}
	return strings.NewReplacer(pairs...)
}()

// wrapped sets text on lines of at most w cells, the first behind one lead and the
// others behind blanks of the same width. Nothing is cut: what is too long for a line
// is broken.
func wrapped(lead, text string, w int, style brush) []string {
	indent := cells(lead)
	if len(text) <= max(w-indent, 8) && ascii(text) { // most texts fit as they are
		return []string{lead + style.Render(strings.TrimRight(text, " "))}
	}
	lines := strings.Split(ansi.Wrap(held.Replace(text), max(w-indent, 8), ""), "\n")
	for i, line := range lines {
		line = style.Render(strings.TrimRight(loose.Replace(line), " "))
		if i == 0 {
			lines[i] = lead + line
		} else {
			lines[i] = strings.Repeat(" ", indent) + line
		}
	}
	return lines
}

// wording keeps texts as they were set, by all that their lines depend on: most texts of
// a visit stay the same from key to key.
type wording map[setting][]string

type setting struct {
	lead, text string
	w          int
	style      brush
}

func (k wording) wrapped(lead, text string, w int, style brush) []string {
	of := setting{lead, text, w, style}
	lines, ok := k[of]
	if !ok {
		lines = wrapped(lead, text, w, style)
		k[of] = lines
	}
	return lines
}

// cells is the width of a text on the screen. Plain letters, our marks and colours are
// counted; a text with anything else in it is measured.
func cells(s string) int {
	n := 0
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		switch colour := colourAhead(s[i:]); {
		case colour > 0:
			size = colour
		case r >= ' ' && r <= '~', r >= 0x2500 && r < 0x25fd, r == '✓', r == '±':
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
	rest = strings.TrimLeft(rest, "0123456789;")
	if !ok || !strings.HasPrefix(rest, "m") {
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

// ends sets one text at the left and one at the right of a line, or below each other
// where both have no room.
func ends(left, right string, w int) []string {
	gap := w - cells(left) - cells(right)
	switch {
	case right == "":
		return []string{left}
	case gap < 1:
		return []string{left, right}
	}
	return []string{left + strings.Repeat(" ", gap) + right}
}

// tall brings lines to exactly h.
func tall(lines []string, h int) []string {
	for len(lines) < h {
		lines = append(lines, "")
	}
	return lines[:h]
}

// window is the part of lines, at most h, that holds line at.
func window(lines []string, at, h int) []string {
	if len(lines) <= h {
		return lines
	}
	from := min(max(0, at-h/2), len(lines)-h)
	return lines[from : from+h]
}

// columns sets a column of exactly lw cells left of another, with an upright between.
func columns(l look, left []string, lw int, right []string, h int) []string {
	left, right = tall(left, h), tall(right, h)
	out, between := make([]string, h), " "+l.dim.Render(l.upright)+" "
	for i := range out {
		gap := strings.Repeat(" ", max(0, lw-cells(left[i])))
		out[i] = strings.TrimRight(left[i]+gap+between+strings.TrimRight(right[i], " "), " ")
	}
	return out
}

func itoa(n int) string { return strconv.Itoa(n) }

// right sets text at the right of n cells.
func right(s string, n int) string { return strings.Repeat(" ", max(0, n-cells(s))) + s }

func join(lines []string) string { return strings.Join(lines, "\n") }
