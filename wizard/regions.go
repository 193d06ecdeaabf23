package wizard

import (
	"slices"
	"strings"

	"example.com/sawdatum/wizard/picture"
)

// regions are the rows of a step screen at one size. They are worked out once a visit:
// typing changes what stands in a region, never where it stands. At one size the answers,
// the field and the keys have the same rows on every step; orders and picture share what
// lies above them.
type regions struct {
	w, h    int
	rail    int // columns of the stages at the left, the line behind them included; 0: none
	air     int // empty rows: below the strip, below the title, above the answers, above the keys
	orders  int // rows of orders and cautions, the figure beside them
	beside  int // columns of the figure; 0: none
	picture int
	label   int // rows of the field's label and hint
	said    int // rows of count or fault, and of what follows
}

// The rows that every step has, whatever its size: the strip of the saw's state, the title,
// the answers of the step, what is typed, the keys.
const (
	stripRows = 2
	fixedRows = stripRows + 4
)

// The least that a region is worth, and what the figure takes.
const (
	leastOrders   = 6 // five, and the caption of the figure or an empty row
	figureColumns = 24
	figureRows    = 5
	besideFigure  = 51 // columns of orders that a figure leaves room for
	railColumns   = 31
	ordersWidth   = 76 // of it the marks take four
	margin        = 2
	saidRows      = 3
)

// regionsOf lays out a step. need is how many rows the orders take at a width; figure and
// drawn tell whether the step has a figure and a picture. The figure goes before the
// picture does.
func regionsOf(w, h int, need func(width int) int, figure, drawn bool) regions {
	r := regions{w: w, h: h, label: 2, said: saidRows}
	switch {
	case wide(w, h):
		r.rail, r.air, r.label = railColumns, 4, 1
		if w-railColumns < usualWidth {
			r.label = 2
		}
	case h >= fullHeight && w >= usualWidth:
		r.air, r.label = 1, 1
	}
	upper := h - fixedRows - r.air - r.label - r.said
	lay := func(beside, least int) bool {
		r.beside = beside
		r.orders = max(need(r.text()), least)
		r.picture = upper - r.orders
		return r.picture >= picture.MinHeight
	}
	besides := figure && h >= fullHeight && r.work()-2*margin-figureColumns > 0
	switch {
	case h < fullHeight || !drawn:
		beside := 0
		if besides && r.work()-2*margin-figureColumns >= besideFigure+1 {
			beside = figureColumns
		}
		lay(beside, upper)
		r.orders, r.picture = upper, 0
	case besides && lay(figureColumns, leastOrders), lay(0, leastOrders), lay(0, 1):
	default:
		r.orders, r.picture = upper, 0
	}
	return r
}

// work is the width of the screen right of the rail.
func (r regions) work() int { return r.w - r.rail }

// text is the width of a line of orders.
func (r regions) text() int {
	if r.beside > 0 {
		return min(r.work()-2*margin-r.beside-1, ordersWidth)
	}
	return min(r.work()-2*margin, ordersWidth)
}

// block brings lines to exactly h rows.
func block(lines []string, h int) []string { return tall(slices.Clone(lines), max(h, 0)) }

// padded sets lines behind the left margin.
func padded(lines []string, by int) []string {
	out := make([]string, len(lines))
	for i, line := range lines {
		if line != "" {
			out[i] = strings.Repeat(" ", by) + line
		}
	}
	return out
}

// joined sets a block of lines right of another, of w columns.
func joined(left, right []string, w int) []string {
	out := make([]string, len(left))
	for i := range left {
		out[i] = left[i]
		if i < len(right) && right[i] != "" {
			out[i] += strings.Repeat(" ", max(0, w-cells(left[i]))) + right[i]
		}
	}
	return out
}

// digits are the figures and letters of the figure, five rows of pixels each.
var digits = map[rune][figureRows]string{
	'0': {"###", "# #", "# #", "# #", "###"}, '1': {" # ", "## ", " # ", " # ", " # "}, '2': {"###", "  #", "###", "#  ", "###"},
	'3': {"###", "  #", " ##", "  #", "###"}, '4': {"# #", "# #", "###", "  #", "  #"}, '5': {"###", "#  ", "###", "  #", "###"},
	'6': {"###", "#  ", "###", "# #", "###"}, '7': {"###", "  #", "  #", "  #", "  #"}, '8': {"###", "# #", "###", "# #", "###"},
	'9': {"###", "# #", "###", "  #", "###"}, '.': {" ", " ", " ", " ", "#"}, '/': {"  #", "  #", " # ", "#  ", "#  "}, ' ': {" ", " ", " ", " ", " "},
	'O': {"###", "# #", "# #", "# #", "###"}, 'U': {"# #", "# #", "# #", "# #", "###"}, 'T': {"###", " # ", " # ", " # ", " # "},
	'I': {"#", "#", "#", "#", "#"}, 'N': {"#  #", "## #", "# ##", "#  #", "#  #"},
}

// large is a figure in block digits, at most w columns wide; where it has no room, or a
// sign that is not drawn, it is one bold line.
func (l look) large(text string, w int, style brush) []string {
	rows := make([]string, figureRows)
	for i, c := range text {
		glyph, ok := digits[c]
		if !ok {
			return []string{"", "", right(l.title.Render(text), w)}
		}
		for y, part := range glyph {
			if i > 0 {
				rows[y] += " "
			}
			rows[y] += strings.ReplaceAll(strings.ReplaceAll(part, " ", "  "), "#", l.filled+l.filled)
		}
	}
	if cells(rows[0]) > w {
		return []string{"", "", right(l.title.Render(text), w)}
	}
	for y := range rows {
		rows[y] = strings.Repeat(" ", w-cells(rows[y])) + style.Render(strings.TrimRight(rows[y], " "))
	}
	return rows
}
