package picture

import (
	"fmt"
	"math"

	"example.com/sawdatum/model"
)

// Board is the gauge board as it lies against the fence, seen from above, the end that went
// in first at the top. Zero: not read yet.
type Board struct {
	Figures
	FenceSide model.Side
	Long      model.Length // along the cut
	Lead      model.Length // width at the end that went in first
	Tail      model.Length // width at the other
}

// tapers is by how much the board is wider at its trailing end; false while one end is not
// read.
func (b Board) tapers() (model.Length, bool) { return b.Tail - b.Lead, b.Lead > 0 && b.Tail > 0 }

// Draw shows the cut edge against a line along the fence from its leading end; sideways
// stretched.
func (b Board) Draw(w, h int, look Look) string { return draw(w, h, look, b.paint) }

func (b Board) paint(c *canvas) {
	g := c.glyphs()
	names, figures := 15, 9
	lo, hi := names+1, c.w-figures
	dir := -1.0
	if b.FenceSide == model.SideLeft {
		dir = 1
	}
	rise, both := b.tapers()
	if !both {
		rise = 0
	}
	reach := max(math.Min(math.Abs(nm(rise))*1.4, 5*nm(model.Millimetre)), nm(model.Millimetre)/4)
	x := newAxis(-reach, reach, 0, lo, hi, 1, dir, b.Unit)
	at := func(l float64) float64 { return min(max(x.at(l), float64(lo)), float64(hi)) }
	fence, edge := float64(hi), int(at(0))
	if dir < 0 {
		c.writeRight(hi, 0, c.fit(hi-edge-2, "fence "+string(g.right), string(g.right)), Faint)
	} else {
		fence = float64(lo)
		c.write(lo, 0, c.fit(edge-lo-10, string(g.left)+" fence", string(g.left)), Faint)
	}
	c.writeRight(edge+1, 0, c.fit(edge+1-lo, "cut edge "+string(g.down), string(g.down)), Datum)
	c.write(hi+1, 0, c.fit(figures-1, "width"), Faint)
	rows := c.h - 2
	for i := range rows {
		c.line(at(0), 1+i, g.dashed, Datum)
		if both {
			c.bar(1+i, at(nm(rise)*float64(i)/float64(max(rows-1, 1))), fence, Plate)
		} else {
			c.fill(1+i, at(0), fence, g.stock, Stock)
		}
	}
	for _, end := range []struct {
		y    int
		word string
		wide model.Length
	}{{1, "leading end", b.Lead}, {rows, "trailing end", b.Tail}} {
		c.write(0, end.y, end.word, Plain)
		if text, kind := b.bare(end.wide), Plain; end.wide > 0 {
			c.write(hi+1, end.y, c.fit(figures-1, text), kind)
		} else {
			c.write(hi+1, end.y, "-", Faint)
		}
	}
	if b.Long > 0 && rows > 2 {
		c.write(0, 1+rows/2, c.fit(names, b.Long.Tape(b.Unit)+" long"), Faint)
	}
	scale := "1 column = " + scaleText(x.step, b.Unit)
	c.write(0, c.h-1, c.fit(c.w, scale+" of width   "+string(g.dashed)+" as wide", scale), Faint)
}

// Sentence says how long and wide the board is, and how it tapers.
func (b Board) Sentence() string {
	rise, both := b.tapers()
	long := "The gauge board is not measured yet."
	if b.Long > 0 {
		long = fmt.Sprintf("The gauge board is %s long.", b.Long.Tape(b.Unit))
	}
	switch {
	case b.Lead <= 0:
		return long
	case !both:
		return fmt.Sprintf("%s Its leading end is %s wide; the trailing end is not read yet.", long, b.show(b.Lead))
	case !b.shown(rise):
		return fmt.Sprintf("%s Both ends are %s wide.", long, b.show(b.Lead))
	}
	side := "wider"
	if rise < 0 {
		side = "narrower"
	}
	return fmt.Sprintf("%s Its leading end is %s wide, and the trailing end %s, which is %s %s.", long, b.show(b.Lead), b.show(b.Tail), b.size(rise), side)
}
