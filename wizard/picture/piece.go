package picture

import (
	"fmt"
	"math"
	"strings"

	"example.com/sawdatum/model"
)

// ComparisonPiece is a piece of which one half was cut by the reference blade and the
// other by the blade under test, seen from above. Its edge along the fence is at the
// left, the cut edge with the step at the right.
type ComparisonPiece struct {
	Figures
	Reference    string       // the blade of the one half
	Blade        string       // the blade of the other
	Width        model.Length // mean of the reference half; zero: not read, or the caliper was zeroed on it
	Offset       model.Length // blade's half less reference half, + = wider
	HasReference bool
	HasOffset    bool
	Expanded     model.Length // U of the offset
	Tolerance    model.Length
}

// Draw stretches the step sideways; it grows to the right where the blade cuts wide.
func (p ComparisonPiece) Draw(w, h int, look Look) string {
	return draw(w, h, look, p.paint)
}

func (p ComparisonPiece) paint(c *canvas) {
	g := c.glyphs()
	x := p.axis(c)
	edge := x.at(0)
	c.write(0, 0, c.fit(int(edge)-11, "fence edge of the piece", "fence edge", "fence"), Faint)
	c.writeRight(int(edge), 0, "cut edge "+string(g.down), Faint)
	rows := c.h - 3
	upper := (rows + 1) / 2
	for y := 1; y <= rows; y++ {
		switch {
		case y <= upper && p.HasReference:
			p.body(c, y, edge)
		case y > upper && p.HasOffset:
			end := p.end(c, x)
			p.body(c, y, end)
			c.fill(y, math.Ceil(end), edge, '-', p.kind())
			if math.Floor(end) >= edge {
				c.bar(y, edge, end, p.kind())
			}
			if off := p.off(x); off != 0 {
				p.arrow(c, y, off)
			}
		default:
			c.fill(y, 0, edge, g.offcut, Faint)
		}
	}
	p.band(c, x, 1, rows)
	c.write(5, 1+(upper-1)/2, c.fit(int(edge)-7, " "+p.refText(false)+" ", " "+p.refText(true)+" ", " reference "), Stock)
	c.write(5, 1+upper+(rows-upper-1)/2, c.fit(int(min(edge, p.end(c, x)))-7, " "+p.bladeText(false)+" ", " "+strings.Replace(p.bladeText(false), " half", "", 1)+" ", " "+p.bladeText(true)+" ", " blade "), Stock)
	v := p.verdict()
	c.write(0, c.h-2, c.fit(c.w, v.ways...), v.kind)
	step := scaleText(x.step, p.Unit)
	c.write(0, c.h-1, c.fit(c.w, "1 column = "+step+" at the step; the rest of the piece is not to scale", "1 column = "+step+" at the step", "1 column = "+step), Faint)
}

// body is the stock of one half up to its cut edge, broken near the fence edge since
// only the step is to scale.
func (p ComparisonPiece) body(c *canvas, y int, end float64) {
	c.fill(y, 0, math.Floor(end), c.glyphs().stock, Stock)
	c.bar(y, math.Floor(end), end, Stock)
	c.write(1, y, "/ /", Faint)
}

// axis shows a step of up to ten tolerances and grows with a larger one, up to 5 mm.
func (p ComparisonPiece) axis(c *canvas) axis {
	reach := max(nm(p.Tolerance)*4, nm(model.Millimetre)/5)
	for _, wider := range []float64{0.5, 1, 2, 3, 5} {
		if p.HasOffset && math.Abs(nm(p.Offset)) > reach*0.95 {
			reach = max(reach, wider*nm(model.Millimetre))
		}
	}
	return newAxis(-reach, reach, 0, c.w/3, c.w, 1, 1, p.Unit)
}

func (p ComparisonPiece) off(x axis) int {
	if !p.HasOffset {
		return 0
	}
	return x.off(nm(p.Offset))
}

func (p ComparisonPiece) end(c *canvas, x axis) float64 {
	if !p.HasOffset {
		return x.at(0)
	}
	return min(max(x.at(nm(p.Offset)), float64(x.x0)), float64(c.w))
}

func (p ComparisonPiece) arrow(c *canvas, y, off int) {
	text, g := p.signed(p.Offset), c.glyphs()
	if off > 0 {
		c.writeRight(c.w, y, " "+text+" "+string(g.right), Danger)
		return
	}
	c.write(c.w/3, y, string(g.left)+" "+text+" ", Danger)
}

// band marks the tolerance about the reference edge, where it does not hide the step.
func (p ComparisonPiece) band(c *canvas, x axis, y0, rows int) {
	g := c.glyphs()
	for y := y0; y < y0+rows; y++ {
		for _, t := range []float64{-nm(p.Tolerance), nm(p.Tolerance)} {
			if col := int(math.Floor(x.at(t))); p.Tolerance > 0 && (c.at(col, y) == ' ' || c.at(col, y) == g.stock) {
				c.put(col, y, g.dashed, Datum)
			}
		}
	}
}

func (p ComparisonPiece) kind() Kind {
	if p.Tolerance > 0 && p.Offset >= -p.Tolerance && p.Offset <= p.Tolerance {
		return Good
	}
	return Danger
}

func (p ComparisonPiece) refText(short bool) string {
	name := p.Reference
	if name == "" || short {
		name = "reference"
	}
	switch {
	case !p.HasReference:
		return name + " half: not read yet"
	case p.Width == 0:
		return name + " half: caliper zeroed"
	}
	return name + " half " + p.show(p.Width)
}

func (p ComparisonPiece) bladeText(short bool) string {
	name := p.Blade
	if name == "" || short {
		name = "blade"
	}
	switch {
	case !p.HasOffset:
		return name + " half: not read yet"
	case p.Width == 0:
		return name + " half " + p.signed(p.Offset)
	}
	return name + " half " + p.show(length(nm(p.Width)+nm(p.Offset)))
}

func (p ComparisonPiece) verdict() note {
	u := ""
	if p.Expanded > 0 {
		u = " ±" + p.bare(p.Expanded)
	}
	by := p.size(p.Offset)
	switch {
	case !p.HasOffset:
		return note{Plain, []string{"the step shows as the readings are typed", "no readings yet"}}
	case !p.shown(p.Offset):
		return note{p.kind(), []string{"no step" + u + ": both halves have one width", "no step" + u}}
	case p.Offset > 0:
		return note{p.kind(), []string{
			"step " + by + u + " wider: the cut face is away from the fence by so much", "step " + by + u + " wider", "wider " + by}}
	}
	return note{p.kind(), []string{
		"step " + by + u + " narrower: the cut face is toward the fence by so much", "step " + by + u + " narrower", "narrower " + by}}
}

// Sentence says how large the step is and to which side.
func (p ComparisonPiece) Sentence() string {
	name := p.Blade
	if name == "" {
		name = "the blade"
	}
	if !p.HasOffset {
		return fmt.Sprintf("The half that %s cuts is not read yet.", name)
	}
	u := ""
	if p.Expanded > 0 {
		u = ", give or take " + p.show(p.Expanded)
	}
	size := p.size(p.Offset)
	switch {
	case !p.shown(p.Offset):
		return fmt.Sprintf("Both halves of the piece have the same width%s.", u)
	case p.Offset > 0:
		return fmt.Sprintf("The half cut by %s is %s wider than the reference half%s; its cut face is that much farther from the fence.", name, size, u)
	}
	return fmt.Sprintf("The half cut by %s is %s narrower than the reference half%s; its cut face is that much nearer to the fence.", name, size, u)
}
