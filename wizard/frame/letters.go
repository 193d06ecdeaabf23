package frame

import (
	"slices"
	"strings"
)

// letters are those of the signs, five rows each.
var letters = map[rune][5]string{
	'I': {"###", " # ", " # ", " # ", "###"},
	'S': {"####", "#   ", "####", "   #", "####"},
	'O': {"####", "#  #", "#  #", "#  #", "####"},
	'L': {"#   ", "#   ", "#   ", "#   ", "####"},
	'A': {"####", "#  #", "####", "#  #", "#  #"},
	'T': {"#####", "  #  ", "  #  ", "  #  ", "  #  "},
	'E': {"####", "#   ", "### ", "#   ", "####"},
	'D': {"### ", "#  #", "#  #", "#  #", "### "},
	'V': {"#   #", "#   #", " # # ", " # # ", "  #  "},
	'?': {"####", "   #", " ## ", "    ", " #  "},
}

// SignHeight is the height of a sign with a line of air below.
const SignHeight = 6

// Banner is a word in large letters, in the middle of w cells; larger where w and h
// have room for that. It is nothing where w has none.
func (l Look) Banner(word string, w, h int, style Brush) []string {
	var rows [5]strings.Builder
	for i, r := range word {
		for y, part := range letters[r] {
			if i > 0 {
				rows[y].WriteString("  ")
			}
			rows[y].WriteString(part)
		}
	}
	n, stretch, tall := rows[0].Len(), 1, 1
	if n > w {
		return nil
	}
	if 2*n+8 <= w {
		stretch = 2
	}
	if 4*n+8 <= w && h >= 2*SignHeight {
		stretch, tall = 4, 2
	}
	lines := make([]string, 0, tall*SignHeight)
	for y := range rows {
		var b strings.Builder
		for _, r := range rows[y].String() {
			c := " "
			if r == '#' {
				c = l.Filled
			}
			b.WriteString(strings.Repeat(c, stretch))
		}
		line := strings.Repeat(" ", max(0, (w-n*stretch)/2)) + style.Render(b.String())
		lines = append(lines, slices.Repeat([]string{line}, tall)...)
	}
	return append(lines, "")
}

// digits are the figures and letters of the figure, five rows of pixels each.
var digits = map[rune][FigureRows]string{
	'0': {"###", "# #", "# #", "# #", "###"}, '1': {" # ", "## ", " # ", " # ", " # "}, '2': {"###", "  #", "###", "#  ", "###"},
	'3': {"###", "  #", " ##", "  #", "###"}, '4': {"# #", "# #", "###", "  #", "  #"}, '5': {"###", "#  ", "###", "  #", "###"},
	'6': {"###", "#  ", "###", "# #", "###"}, '7': {"###", "  #", "  #", "  #", "  #"}, '8': {"###", "# #", "###", "# #", "###"},
	'9': {"###", "# #", "###", "  #", "###"}, '.': {" ", " ", " ", " ", "#"}, '/': {"  #", "  #", " # ", "#  ", "#  "}, ' ': {" ", " ", " ", " ", " "},
	'O': {"###", "# #", "# #", "# #", "###"}, 'U': {"# #", "# #", "# #", "# #", "###"}, 'T': {"###", " # ", " # ", " # ", " # "},
	'I': {"#", "#", "#", "#", "#"}, 'N': {"#  #", "## #", "# ##", "#  #", "#  #"},
}

// Large is a figure in block digits, at most w columns wide; where it has no room, or a
// sign that is not drawn, it is one bold line.
func (l Look) Large(text string, w int, style Brush) []string {
	rows := make([]string, FigureRows)
	for i, c := range text {
		glyph, ok := digits[c]
		if !ok {
			return []string{"", "", Right(l.Title.Render(text), w)}
		}
		for y, part := range glyph {
			if i > 0 {
				rows[y] += " "
			}
			rows[y] += strings.ReplaceAll(strings.ReplaceAll(part, " ", "  "), "#", l.Filled+l.Filled)
		}
	}
	if Cells(rows[0]) > w {
		return []string{"", "", Right(l.Title.Render(text), w)}
	}
	for y := range rows {
		rows[y] = strings.Repeat(" ", w-Cells(rows[y])) + style.Render(strings.TrimRight(rows[y], " "))
	}
	return rows
}
