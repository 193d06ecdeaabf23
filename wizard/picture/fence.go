package picture

import (
	"fmt"
	"math"

	"example.com/sawdatum/model"
)

// FenceScale is what the fence scale said against what the caliper read. The line
// is read - set = Shift + Slope*set.
type FenceScale struct {
	Figures
	Points    []ScalePoint
	Fitted    bool
	Shift     model.Length // error at a setting of zero
	Slope     float64      // error for each length of setting, a pure number
	Working   model.Length // the width at which the cursor shall be right
	Other     model.Length // a width to begin with; the scale reaches to it before the first reading
	Tolerance model.Length
}

// ScalePoint is one rip: the setting and the width read.
type ScalePoint struct{ Set, Read model.Length }

func (f FenceScale) fit(set float64) float64 {
	v := nm(f.Shift) + f.Slope*set
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return v
}

// cursor is how far the cursor is to be moved, + = toward the higher numbers.
func (f FenceScale) cursor() model.Length { return length(f.fit(nm(f.Working))) }

// Draw plots the error over the setting, with the line through it and an arrow at
// the working width from the line to zero.
func (f FenceScale) Draw(w, h int, look Look) string {
	return draw(w, h, look, f.paint)
}

// lowField is the height up to which nothing is gained by a field that is not as high above the
// scale as below it.
const lowField = 7

func (f FenceScale) paint(c *canvas) {
	n := f.note()
	c.writeNote(0, n)
	gutter := min(12, c.w/4)
	lo, hi := f.settings()
	x := newAxis(lo, hi, lo, gutter, c.w, 2, 1, f.Unit)
	var errs []float64
	for _, p := range f.Points {
		errs = append(errs, nm(p.Read)-nm(p.Set))
	}
	if f.Fitted {
		errs = append(errs, f.fit(nm(f.Working)))
	}
	vlo, vhi := usual(0, max(nm(f.Tolerance), nm(model.Millimetre)/20), errs)
	if c.h <= lowField { // the scale keeps its line, whichever way the first reading lies
		vhi = max(-vlo, vhi)
		vlo = -vhi
	}
	p := newPlot(c, gutter, c.w, 1, c.h-2, vlo, vhi, 0, f.Unit)
	p.rule(0, 1, c.fit(gutter-1, "scale right", "0"), Faint)
	var ms []mark
	if f.Fitted {
		p.curve(func(col float64) float64 { return f.fit(x.anchor + (col-x.column)*x.step) }, Plate)
		ms = f.shift(p, x)
	}
	f.ends(p, gutter)
	for _, q := range f.Points {
		e := length(nm(q.Read) - nm(q.Set))
		ms = append(ms, mark{c.floor(x.at(nm(q.Set))), nm(e), c.glyphs().dot, f.signed(e), Plain})
	}
	p.marks(ms)
	f.ruler(c, x, c.h-2)
	c.write(0, c.h-1, c.fit(c.w, "1 line = "+scaleText(p.step, f.Unit)+" of error, 1 column = "+scaleText(x.step, f.Unit), "1 line "+scaleText(p.step, f.Unit)+", 1 column "+scaleText(x.step, f.Unit), "1 line = "+scaleText(p.step, f.Unit)), Faint)
}

// settings are the ends of what is drawn sideways; before the first reading from the
// width to begin with.
func (f FenceScale) settings() (lo, hi float64) {
	var xs []float64
	for _, p := range f.Points {
		xs = append(xs, nm(p.Set))
	}
	if f.Working > 0 {
		xs = append(xs, nm(f.Working))
	}
	if len(f.Points) == 0 {
		xs = append(xs, nm(f.Other))
	}
	lo, hi = span(xs...)
	if hi == lo {
		hi = lo + nm(model.Millimetre)
	}
	return lo, hi
}

// ends writes the errors of the highest and the lowest line beside the plot.
func (f FenceScale) ends(p plot, gutter int) {
	for _, y := range []int{p.y0, p.y1 - 1} {
		v := f.signed(length(p.anchor + (p.line-(float64(y)+0.5))*p.step))
		if p.c.at(p.x0-2, y) == ' ' {
			p.c.writeRight(gutter-1, y, p.c.fit(gutter-1, v, unitless(v)), Faint)
		}
	}
}

// shift is the arrow at the working width: by so much the cursor is off.
func (f FenceScale) shift(p plot, x axis) []mark {
	e := f.fit(nm(f.Working))
	col := p.c.floor(x.at(nm(f.Working)))
	if col < p.x0 || f.Working <= 0 {
		return nil
	}
	from, to := min(p.y(e), p.y(0)), max(p.y(e), p.y(0))
	for y := max(int(from), p.y0); y <= min(int(to), p.y1-1); y++ {
		p.c.put(col, y, p.c.glyphs().vertical, Datum)
	}
	return []mark{{col, e, 'W', f.signed(length(e)), Datum}}
}

func (f FenceScale) ruler(c *canvas, x axis, y int) {
	end := 0
	put := func(l model.Length, word string, k Kind) {
		text := word + f.setting(l)
		from := min(max(c.floor(x.at(nm(l)))-c.width(text)/2, end), c.w-c.width(text))
		if from >= end {
			c.write(from, y, text, k)
			end = from + c.width(text) + 1
		}
	}
	lo, hi := f.settings()
	marks := []model.Length{length(lo), length(hi)}
	for i, l := range marks {
		if i == 1 && f.Working > marks[0] && f.Working < marks[1] {
			put(f.Working, "W ", Datum)
		}
		word := ""
		if l == f.Working {
			word = "W "
		}
		put(l, word, Faint)
	}
}

func (f FenceScale) note() note {
	if !f.Fitted {
		return note{Plain, []string{"caliper less scale"}}
	}
	c, w := f.cursor(), f.called(f.Working)
	by := f.size(c)
	switch {
	case !f.shown(c):
		return note{Good, []string{"the cursor is right at the working width " + w, "cursor right at " + w}}
	case c > 0:
		return note{Datum, []string{"cursor " + by + " to higher numbers", "cursor +" + by}}
	}
	return note{Datum, []string{"cursor " + by + " to lower numbers", "cursor -" + by}}
}

// Sentence says how far the scale is off and what cures it.
func (f FenceScale) Sentence() string {
	if len(f.Points) == 0 {
		return "No settings and readings of the fence scale yet."
	}
	if !f.Fitted {
		return "One setting of the fence scale is read; two make a line."
	}
	lo, hi := f.settings()
	first, last := length(f.fit(lo)), length(f.fit(hi))
	s := fmt.Sprintf("The caliper reads %s against the scale at %s and %s at %s.", f.signed(first), f.called(length(lo)), f.signed(last), f.called(length(hi)))
	c := f.cursor()
	switch {
	case !f.shown(c):
		return s + " The cursor is right at the working width of " + f.called(f.Working) + "."
	case c > 0:
		return s + " Move the cursor " + f.size(c) + " toward the higher numbers to be right at " + f.called(f.Working) + "."
	}
	return s + " Move the cursor " + f.size(c) + " toward the lower numbers to be right at " + f.called(f.Working) + "."
}
