package picture

import (
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
)

type cell struct {
	r       rune // 0: the right half of a wide character
	kind    Kind
	reverse bool
}

// canvas is a sheet of cells. Writing outside of it does nothing.
type canvas struct {
	w, h  int
	look  Look
	cells []cell
}

func newCanvas(w, h int, look Look) *canvas {
	c := &canvas{w: w, h: h, look: look, cells: make([]cell, w*h)}
	for i := range c.cells {
		c.cells[i].r = ' '
	}
	return c
}

// draw runs a picture's own drawing on a sheet of the size asked for, or tells that
// the size is too small.
func draw(w, h int, look Look, paint func(*canvas)) string {
	w, h = max(w, 0), max(h, 0)
	c := newCanvas(w, h, look)
	if w < MinWidth || h < MinHeight {
		words := strings.Split(ansi.Wrap("too small for a picture: it needs 30 columns and 6 lines", max(w, 1), ""), "\n")
		for y, line := range words {
			c.write(0, y, line, Plain)
		}
	} else {
		paint(c)
	}
	return c.String()
}

func (c *canvas) put(x, y int, r rune, k Kind) {
	if x >= 0 && x < c.w && y >= 0 && y < c.h {
		c.split(x, y)
		c.cells[y*c.w+x] = cell{r: r, kind: k}
	}
}

// split blanks the other half of a wide character of which one cell is written over.
func (c *canvas) split(x, y int) {
	if i := y*c.w + x; c.cells[i].r == 0 && x > 0 {
		c.cells[i-1].r = ' '
	} else if x+1 < c.w && c.cells[i+1].r == 0 {
		c.cells[i+1].r = ' '
	}
}

func (c *canvas) at(x, y int) rune {
	if x < 0 || x >= c.w || y < 0 || y >= c.h {
		return ' '
	}
	return c.cells[y*c.w+x].r
}

// free reports whether n cells and their neighbours hold nothing but lines.
func (c *canvas) free(x, y, n int) bool {
	for i := max(x-1, 0); i <= x+n && i < c.w; i++ {
		if r := c.at(i, y); c.cells[y*c.w+i].kind == Danger && r < 0x2500 && r != ' ' {
			return false
		}
	}
	return true
}

// write puts text at a place and returns the column behind it.
func (c *canvas) write(x, y int, text string, k Kind) int {
	for _, r := range c.clean(text) {
		n := cells(r)
		if n == 2 && (x < 0 || x+1 >= c.w) {
			n, r = 1, '?'
		}
		c.put(x, y, r, k)
		if n == 2 {
			c.put(x+1, y, ' ', k)
			if x+1 < c.w && y >= 0 && y < c.h {
				c.cells[y*c.w+x+1].r = 0
			}
		}
		x += n
	}
	return x
}

// clean keeps what takes one or two cells of its own and cannot join or turn its
// neighbours; in ASCII it spells out the signs that the pictures use.
func (c *canvas) clean(text string) string {
	if !strings.ContainsFunc(text, func(r rune) bool { return r < ' ' || r >= 0x7f }) {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		switch {
		case r < ' ' || r == 0x7f:
			b.WriteByte('?')
		case r < 0x7f:
			b.WriteRune(r)
		case c.look.Charset == ASCII && r == '±':
			b.WriteString("+-")
		case c.look.Charset == ASCII || !unicode.IsPrint(r) && !unicode.Is(unicode.Cf, r):
			b.WriteByte('?')
		case unicode.In(r, unicode.M, unicode.Cf) || cells(r) == 0:
		case unicode.In(r, unicode.Sk) && r > 0xffff || r >= 0x1f1e6 && r <= 0x1f1ff:
			b.WriteByte('?')
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// width is the number of cells that text takes on this canvas.
func (c *canvas) width(text string) int {
	n := 0
	for _, r := range c.clean(text) {
		n += cells(r)
	}
	return n
}

// cells is the number of cells that a character takes.
func cells(r rune) int {
	if r < 0x7f || Drawn(r) {
		return 1
	}
	return ansi.StringWidth(string(r))
}

// Drawn reports a box line, block, mark or sign of the kind that pictures are made of: each
// takes one cell.
func Drawn(r rune) bool { return r >= 0x2500 && r < 0x25fd || r == '±' }

// fit is the first of several ways to say a thing that has room in n cells. When
// none has, the last is cut, and its end shows that.
func (c *canvas) fit(n int, ways ...string) string {
	for _, s := range ways {
		if c.width(s) <= n {
			return s
		}
	}
	if n <= 0 || len(ways) == 0 {
		return ""
	}
	var b strings.Builder
	for _, r := range c.clean(ways[len(ways)-1]) {
		if n -= cells(r); n < 1 {
			break
		}
		b.WriteRune(r)
	}
	return strings.TrimRight(b.String(), " ") + string(c.glyphs().cut)
}

// writeRight ends text before column x.
func (c *canvas) writeRight(x, y int, text string, k Kind) { c.write(x-c.width(text), y, text, k) }

// writeMid centres text between the columns x0 and x1 where it has room.
func (c *canvas) writeMid(x0, x1, y int, text string, k Kind) {
	x0, x1 = max(x0, 0), min(x1, c.w)
	if n := c.width(text); n <= x1-x0 {
		c.write(x0+(x1-x0-n)/2, y, text, k)
	}
}

// fill puts one character into the whole columns nearest to a..b of one line.
func (c *canvas) fill(y int, a, b float64, r rune, k Kind) {
	for x := c.column(min(a, b)); x < c.column(max(a, b)); x++ {
		c.put(x, y, r, k)
	}
}

// column is the nearest whole column, kept on the sheet.
func (c *canvas) column(x float64) int {
	if !(x > 0) {
		return 0
	}
	return int(min(math.Round(x), float64(c.w)))
}

// bar fills a..b of one line with the full block, its ends in the smallest steps
// that the charset has.
func (c *canvas) bar(y int, a, b float64, k Kind) {
	a, b = clampColumn(min(a, b), c.w), clampColumn(max(a, b), c.w)
	a8, b8 := int(math.Round(a*8)), int(math.Round(b*8))
	for x := a8 / 8; x*8 < b8; x++ {
		from, to := max(a8-x*8, 0), min(b8-x*8, 8)
		if from >= to {
			continue
		}
		r, reverse := c.part(from, to)
		if r == ' ' {
			continue
		}
		c.put(x, y, r, k)
		if x >= 0 && x < c.w && y >= 0 && y < c.h {
			c.cells[y*c.w+x].reverse = reverse
		}
	}
}

// line is the thinnest upright line nearest to a place, for a rule down the rows. A
// dashed one stays dashed, as the legend has it.
func (c *canvas) line(x float64, y int, r rune, k Kind) {
	col := math.Floor(x + 1e-9)
	if c.look.Charset == Blocks && r == c.glyphs().vertical {
		switch f := x - col; {
		case f < 0.25:
			r = '▏'
		case f >= 0.75:
			r = '▕'
		}
	}
	c.put(c.floor(x), y, r, k)
}

// mark is a block one cell wide about a place, to the nearest eighth where the
// charset has them, else a point.
func (c *canvas) mark(x float64, y int, k Kind) {
	if c.look.Charset == Blocks {
		c.bar(y, x-0.5, x+0.5, k)
		return
	}
	c.put(c.floor(x), y, c.glyphs().dot, k)
}

// floor is the column that a place lies in; -1 off the sheet.
func (c *canvas) floor(x float64) int {
	if !(x >= 0 && x < float64(c.w)) {
		return -1
	}
	return int(x + 1e-9)
}

func clampColumn(x float64, w int) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return min(max(x, 0), float64(w))
}

// part is the character that covers the eighths from..to of its cell.
func (c *canvas) part(from, to int) (r rune, reverse bool) {
	g := c.glyphs()
	switch {
	case from == 0 && to == 8:
		return g.full, false
	case c.look.Charset != Blocks:
		return g.partial[((to-from)*(len(g.partial)-1)+4)/8], false
	case from == 0:
		return g.partial[to], false
	case to < 8:
		return g.partial[to-from], false
	case c.look.Paint != nil && c.look.Reverse:
		return g.partial[from], true
	}
	return []rune("██▐▐▐▐▕▕▕")[from], false
}

// String renders the sheet, run by run.
func (c *canvas) String() string {
	out := make([]byte, 0, 2*len(c.cells))
	for y := range c.h {
		row := c.cells[y*c.w : (y+1)*c.w]
		if joins(row) {
			row = tame(row)
		}
		if y > 0 {
			out = append(out, '\n')
		}
		for x := 0; x < len(row); {
			end := x + 1
			for end < len(row) && row[end].kind == row[x].kind && row[end].reverse == row[x].reverse {
				end++
			}
			on, off := "", ""
			if c.look.Paint != nil {
				on, off = c.look.Paint(row[x].kind, row[x].reverse)
			}
			out = append(appendText(append(out, on...), row[x:end]), off...)
			x = end
		}
	}
	return string(out)
}

// joins reports whether a terminal would give a row another width than its cells.
func joins(row []cell) bool {
	for _, c := range row {
		if c.r > 0x7e && !Drawn(c.r) {
			return ansi.StringWidth(string(appendText(nil, row))) != len(row)
		}
	}
	return false
}

// appendText writes cells behind out.
func appendText(out []byte, row []cell) []byte {
	for _, c := range row {
		if c.r != 0 {
			out = utf8.AppendRune(out, c.r)
		}
	}
	return out
}

// tame replaces letters that a terminal may join with their neighbours.
func tame(row []cell) []cell {
	out := make([]cell, len(row))
	for i, c := range row {
		if c.r == 0 || c.r > 0x7e && unicode.IsLetter(c.r) {
			c.r = '?'
		}
		out[i] = c
	}
	return out
}
