package picture

import "strings"

// List is two columns of plain text, each below its head, such as what to lay out.
type List struct{ Left, Right []string }

// Draw gives the columns side by side; where not all rows have room, the last says so.
func (l List) Draw(w, h int, look Look) string { return draw(w, h, look, l.paint) }

func (l List) paint(c *canvas) {
	at := 0
	for _, text := range l.Left {
		at = max(at, min(c.width(text), c.w))
	}
	rows := max(len(l.Left), len(l.Right))
	for y := range min(rows, c.h) {
		kind := Plain
		if y == 0 {
			kind = Faint
		}
		if y == c.h-1 && rows > c.h {
			c.write(0, y, "and more", Faint)
			break
		}
		if y < len(l.Left) {
			c.write(0, y, c.fit(c.w, l.Left[y]), kind)
		}
		if y < len(l.Right) {
			c.write(at+2, y, c.fit(c.w-at-2, l.Right[y]), kind)
		}
	}
}

// Sentence reads one column, then the other.
func (l List) Sentence() string {
	var out []string
	for _, column := range [][]string{l.Left, l.Right} {
		var parts []string
		for _, line := range column {
			if text := strings.Join(strings.Fields(line), " "); text != "" {
				parts = append(parts, text)
			}
		}
		if len(parts) > 0 {
			out = append(out, parts[0]+": "+strings.Join(parts[1:], "; ")+".")
		}
	}
	if len(out) == 0 {
		return "An empty list."
	}
	return strings.Join(out, " ")
}
