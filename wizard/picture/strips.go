package picture

import (
	"fmt"
	"math"
	"strings"

	"example.com/sawdatum/model"
)

// Strips are the strips of a comparison side by side against the fence: the mean of the
// reference strips, and each strip of the blade with its step from it.
type Strips struct {
	Figures
	FenceSide model.Side
	Tolerance model.Length
	Guard     model.Length // what is not known of a step; a strip is good where it is in with that
	Datum     model.Length // mean width of the reference strips; zero: none yet
	Of        int          // how many they are
	Rows      []StripRow
	Own       bool // the strips are the reference strips themselves: Datum is their mean
}

// StripRow is one strip. Step is its width less that of the reference strips, + = wider.
type StripRow struct {
	Name string
	Mean model.Length // zero: the caliper was zeroed on the reference strips
	Step model.Length
	Read bool // else it is not cut, or not taken yet
}

// Draw lays the strips on the fence, where it stands on this saw: a strip too wide sticks
// out on the other side of the datum, one too narrow leaves a gap.
func (s Strips) Draw(w, h int, look Look) string { return draw(w, h, look, s.paint) }

func (s Strips) paint(c *canvas) {
	g := c.glyphs()
	name, figures := 13, 26
	if c.w < 70 {
		name, figures = 10, 16
	}
	lo, hi := name+1, c.w-figures
	right, dir := s.FenceSide != model.SideLeft, -1.0
	if !right {
		dir = 1
	}
	x := newAxis(-s.reach(), s.reach(), 0, lo, hi, 1, dir, s.Unit)
	at := func(l model.Length) float64 { return min(max(x.at(nm(l)), float64(lo)), float64(hi)) }
	datum := at(0)
	if right { // the datum's word ends at its line: the fence has what is left
		c.writeRight(hi-1, 0, c.fit(hi-int(datum)-3, "fence "+string(g.right), string(g.right)), Faint)
	} else {
		c.write(lo, 0, c.fit(int(datum)-lo-7, string(g.left)+" fence", string(g.left)), Faint)
	}
	c.writeRight(int(datum)+1, 0, "datum "+string(g.down), Datum)
	c.write(hi+1, 0, c.fit(figures-1, "mean       step", "step"), Faint)
	rows := c.h - 2
	each := max(1, rows/(len(s.Rows)+1))
	for y := 1; y <= rows; y++ {
		c.line(at(0), y, g.dashed, Datum)
		if s.Tolerance > 0 {
			c.line(at(s.Tolerance), y, g.dashed, Faint)
			c.line(at(-s.Tolerance), y, g.dashed, Faint)
		}
	}
	edge := func(y int, from float64, k Kind, solid bool) {
		a, b := from, float64(hi)
		if !right {
			a, b = float64(lo), from
		}
		if solid {
			c.bar(y, a, b, k)
			return
		}
		c.fill(y, a, b, g.stock, k)
	}
	thick := max(1, each-1)
	if !s.Own || s.Of > 1 { // one alone is its own mean
		for y := 1; y < 1+thick && s.Of > 0; y++ {
			edge(y, at(0), Stock, false)
		}
		first := []string{"reference", "ref"}
		if s.Own {
			first = []string{"their mean", "mean"}
		}
		c.write(0, 1, c.fit(name, first...), Plain)
		if s.Of > 0 {
			c.write(hi+1, 1, c.fit(figures-1, fmt.Sprintf("%s  of %d", s.bare(s.Datum), s.Of), "of "+fmt.Sprint(s.Of)), Plain)
		}
	}
	for i, r := range s.Rows {
		y := 1 + (i+1)*each
		if y > rows {
			break
		}
		c.write(0, y, c.fit(name, r.Name, strings.TrimSuffix(r.Name, " strip")), Plain)
		if !r.Read {
			c.write(hi+1, y, c.fit(figures-1, "not read yet", "-"), Faint)
			continue
		}
		for k := y; k < min(y+thick, rows+1); k++ {
			edge(k, at(r.Step), s.kind(r.Step), !s.Own)
			if r.Step < 0 { // a gap from the datum to the strip
				c.fill(k, at(0), at(r.Step), g.horizontal, Faint)
			}
		}
		c.write(hi+1, y, c.fit(figures-1, s.figures(r), s.side(r.Step)), Plain)
	}
	scale := "1 column = " + scaleText(x.step, s.Unit)
	if s.Tolerance > 0 {
		scale += "   " + string(g.dashed) + " tolerance " + s.show(s.Tolerance)
	}
	c.write(0, c.h-1, c.fit(c.w, scale, "1 column = "+scaleText(x.step, s.Unit)), Faint)
}

// reach is how far from the datum is shown: half as far again as the tolerance, or up to
// the farthest strip.
func (s Strips) reach() float64 {
	reach := max(nm(s.Tolerance)*1.5, nm(model.Millimetre)/20)
	for _, r := range s.Rows {
		if r.Read {
			reach = max(reach, math.Min(math.Abs(nm(r.Step))*1.2, 5*nm(model.Millimetre)))
		}
	}
	return reach
}

func (s Strips) kind(step model.Length) Kind {
	if !s.Own && s.Tolerance > 0 && step.Abs()+s.Guard <= s.Tolerance {
		return Good
	}
	return Stock
}

func (s Strips) side(step model.Length) string {
	switch {
	case !s.shown(step):
		return "no step"
	case step > 0:
		return unitless(s.size(step)) + " wide"
	}
	return unitless(s.size(step)) + " narrow"
}

func (s Strips) figures(r StripRow) string {
	switch {
	case r.Mean == 0:
		return s.side(r.Step)
	case s.Own && s.Of == 1:
		return s.bare(r.Mean)
	}
	return s.bare(r.Mean) + "  " + s.side(r.Step)
}

// Sentence says of each strip how wide it came out.
func (s Strips) Sentence() string {
	if s.Of == 0 {
		return "No reference strip is read yet."
	}
	they := "the reference strips"
	out := []string{fmt.Sprintf("The %d reference strips are %s wide.", s.Of, s.show(s.Datum))}
	switch {
	case s.Of == 1:
		they = "the reference strip"
		out[0] = fmt.Sprintf("The one reference strip is %s wide.", s.show(s.Datum))
	case s.Own:
		they = "their mean"
	}
	for _, r := range s.Rows {
		said := "is not read yet"
		switch {
		case r.Read && s.Own && s.Of == 1: // it is the one
			continue
		case !r.Read:
		case !s.shown(r.Step):
			said = "is as wide as " + they
		case r.Step > 0:
			said = "is " + s.size(r.Step) + " wider than " + they
		default:
			said = "is " + s.size(r.Step) + " narrower than " + they
		}
		out = append(out, model.Sentence(r.Name+" "+said))
	}
	return strings.Join(out, " ")
}
