package picture

import (
	"math"
	"slices"

	"example.com/sawdatum/model"
)

// plot is a field of columns and lines in which lengths grow upward.
type plot struct {
	c              *canvas
	x0, x1, y0, y1 int     // cells, the ends not included
	step           float64 // nanometres a line
	anchor         float64 // nanometres, in the middle of its line
	line           float64 // that line, with its half
}

// newPlot fits lo..hi into the lines y0..y1.
func newPlot(c *canvas, x0, x1, y0, y1 int, lo, hi, anchor float64, u model.Unit) plot {
	n := max(y1-y0, 1)
	above, below := max(hi-anchor, 0), max(anchor-lo, 0)
	need := func(step float64) float64 {
		return math.Ceil(above/step-0.5) + math.Ceil(below/step-0.5) + 1
	}
	step := niceStep(above+below, n, u)
	for range 64 {
		if need(step) <= float64(n) || n == 1 {
			break
		}
		step = niceStep(step*1.01*float64(n), n, u)
	}
	spare := math.Floor(max(float64(n)-need(step), 0) / 2)
	return plot{c, x0, x1, y0, y1, step, anchor, float64(y0) + spare + max(math.Ceil(above/step-0.5), 0) + 0.5}
}

// y is the line of a length, with its fraction.
func (p plot) y(v float64) float64 { return p.line - (v-p.anchor)/p.step }

// off is -1 below the field, +1 above it, 0 inside.
func (p plot) off(v float64) int {
	switch y := p.y(v); {
	case y < float64(p.y0):
		return 1
	case y >= float64(p.y1):
		return -1
	}
	return 0
}

// stroke is the third of a cell in which a flat line runs.
func (p plot) stroke(col int, v float64, k Kind) {
	if col < p.x0 || col >= p.x1 || p.off(v) != 0 {
		return
	}
	g, y := p.c.glyphs(), p.y(v)
	r := g.horizontal
	switch f := y - math.Floor(y); {
	case f < 1.0/3:
		r = g.high
	case f > 2.0/3:
		r = g.low
	}
	p.c.put(col, int(y), r, k)
}

// rule draws a level line, every nth column, with a word in the gutter.
func (p plot) rule(v float64, every int, word string, k Kind) {
	for col := p.x0; col < p.x1; col += every {
		p.stroke(col, v, k)
	}
	if p.off(v) == 0 {
		y := int(p.y(v))
		if at := p.x0 - 1 - p.c.width(word); at >= 0 && p.c.at(p.x0-2, y) == ' ' {
			p.c.write(at, y, word, k)
		}
	}
}

// curve draws a line through a length for every column, with no gaps where it is
// steep.
func (p plot) curve(at func(col float64) float64, k Kind) {
	for col := p.x0; col < p.x1; col++ {
		v := at(float64(col) + 0.5)
		next := at(float64(col) + 1.5)
		p.stroke(col, v, k)
		if p.off(v) != 0 || p.off(next) != 0 || col+1 == p.x1 {
			continue
		}
		from, to := int(p.y(v)), int(p.y(next))
		for y := min(from, to) + 1; y < max(from, to); y++ {
			p.c.put(col, y, p.c.glyphs().vertical, k)
		}
	}
}

// mark is a length to be marked in a column.
type mark struct {
	col    int
	v      float64
	r      rune
	figure string
	kind   Kind
}

// marks draws lengths. Those outside the field come last, as an arrow with the
// figure at the edge, in the first of a few lines that has room for it.
func (p plot) marks(ms []mark) {
	for _, m := range ms {
		if p.off(m.v) == 0 {
			p.c.put(min(max(m.col, p.x0), p.x1-1), int(p.y(m.v)), m.r, m.kind)
		}
	}
	for _, m := range ms {
		if off := p.off(m.v); off != 0 {
			p.arrow(m, off)
		}
	}
}

func (p plot) arrow(m mark, off int) {
	g := p.c.glyphs()
	head, edge, step := g.up, p.y0, 1
	if off < 0 {
		head, edge, step = g.down, p.y1-1, -1
	}
	text := string(head) + m.figure
	at := max(min(max(m.col, p.x0), p.x1-p.c.width(text)), p.x0)
	for i, y := 0, edge; i < 4 && y >= p.y0 && y < p.y1; i, y = i+1, y+step {
		if p.c.free(at, y, p.c.width(text)) {
			p.c.write(at, y, text, Danger)
			return
		}
	}
	p.c.put(at, edge, head, Danger)
}

// usual is the range within which most of the lengths lie: four times the median
// distance from the middle, at least twice floor. What is farther off gets an arrow.
func usual(middle, floor float64, vs []float64) (lo, hi float64) {
	far := make([]float64, 0, len(vs))
	for _, v := range vs {
		far = append(far, math.Abs(v-middle))
	}
	slices.Sort(far)
	reach := 2 * floor
	if len(far) > 0 {
		reach = max(reach, 4*far[len(far)/2])
	}
	lo, hi = middle-floor, middle+floor
	for _, v := range vs {
		if math.Abs(v-middle) <= reach {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	return lo, hi
}
