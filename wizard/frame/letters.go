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
	'9': {"###", "# #", "###", "  #", "###"}, '.': {" ", " ", " ", " ", "#"}, '/': {"  #", "  #", " # ", "#  ", "#  "}, ' ': {" ", " ", " ", " ", " "}, '+': {"   ", " # ", "###", " # ", "   "},
	'O': {"###", "# #", "# #", "# #", "###"}, 'U': {"# #", "# #", "# #", "# #", "###"}, 'T': {"###", " # ", " # ", " # ", " # "},
	'I': {"#", "#", "#", "#", "#"}, 'N': {"#  #", "## #", "# ##", "#  #", "#  #"},
}

// Large is a figure in block digits, at most w columns wide; where it has no room, or a
// sign that is not drawn, it is one bold line.
func (l Look) Large(text string, w int, style Brush) []string {
	rows := pixels(text)
	if rows == nil || l.across(rows, 1) > w {
		return []string{"", "", Right(l.Title.Render(text), w)}
	}
	return l.blocks(rows, 1, w-l.across(rows, 1), style)
}

// Huge is a figure in the middle of w by h cells with its caption below, as large as has room
// there, up to three times that of Large.
func (l Look) Huge(text, caption string, w, h int, style Brush) []string {
	rows, times := pixels(text), 3
	for times > 1 && (rows == nil || l.across(rows, times) > w || FigureRows*times+captionRows > h) {
		times--
	}
	wide := l.across(rows, times)
	if rows == nil || wide > w {
		return l.Large(text, w, style)
	}
	left := (w - wide) / 2
	out := append(l.blocks(rows, times, left, style), "", Right(l.Dim.Render(caption), left+wide))
	return append(slices.Repeat([]string{""}, max(0, h-len(out))/2), out...)
}

// captionRows are an empty row and the caption below a figure.
const captionRows = 2

// pixels are the rows of a text's digits; nil: a sign of it is not drawn.
func pixels(text string) []string {
	rows := make([]string, FigureRows)
	for i, c := range text {
		glyph, ok := digits[c]
		if !ok {
			return nil
		}
		for y, part := range glyph {
			if i > 0 {
				rows[y] += "-"
			}
			rows[y] += part
		}
	}
	return rows
}

// across is the width of rows of pixels: a pixel is two cells wide, a gap between digits one.
func (l Look) across(rows []string, times int) int {
	if len(rows) == 0 {
		return 0
	}
	return times * (2*len(rows[0]) - strings.Count(rows[0], "-"))
}

// blocks are pixels as cells, behind so many blanks.
func (l Look) blocks(rows []string, times, left int, style Brush) (out []string) {
	cells := strings.NewReplacer("#", strings.Repeat(l.Filled, 2*times), " ", strings.Repeat(" ", 2*times), "-", strings.Repeat(" ", times))
	for _, row := range rows {
		line := strings.TrimRight(strings.Repeat(" ", left)+style.Render(strings.TrimRight(cells.Replace(row), " ")), " ")
		out = append(out, slices.Repeat([]string{line}, times)...)
	}
	return out
}
