package picture

import (
	"math"

	"example.com/sawdatum/model"
)

// blade is a level of the blade, or of the place where one will sit.
func blade(c *canvas, x axis, y int, lo, hi float64, measured bool) {
	if measured {
		c.bar(y, x.at(lo), x.at(hi), Plate)
		return
	}
	c.fill(y, x.at(lo), x.at(hi), '.', Faint)
}

// behind is the slot with the knife in it, between the offcut and the part.
func (a ArborSection) behind(c *canvas, x axis, p parts, y int, mid bool) {
	g := c.glyphs()
	lo, hi := float64(x.x0), float64(x.x1)
	if x.dir < 0 {
		lo, hi = hi, lo
	}
	if p.hasBlade {
		c.fill(y, lo, x.at(p.kerfLo), g.offcut, Stock)
		c.fill(y, x.at(p.kerfHi), hi, g.stock, Stock)
		switch {
		case p.wide > 0:
			c.fill(y, x.at(p.kerfHi), x.at(nm(a.Datum)), '+', Danger)
		case p.wide < 0:
			c.fill(y, x.at(nm(a.Datum)), x.at(p.kerfHi), '-', Danger)
		}
	}
	if p.hasKnife {
		a.knife(c, x, p, y)
	}
	if !mid {
		return
	}
	name := func(from, to float64, words string, k Kind) {
		if f, t := c.column(min(from, to)), c.column(max(from, to)); t-f >= c.width(words)+2 {
			c.writeMid(f, t, y, " "+words+" ", k)
		}
	}
	if p.hasBlade {
		name(lo, min(max(x.at(min(p.kerfLo, orElse(p.hasKnife, p.knifeLo, p.kerfLo))), 0), float64(c.w)), "offcut", Stock)
		name(x.at(max(p.kerfHi, orElse(a.HasDatum, nm(a.Datum), p.kerfHi), orElse(p.hasKnife, p.knifeHi, p.kerfHi))), hi, "part", Stock)
	}
	if p.hasKnife && x.off(p.knifeLo) == 0 && x.off(p.knifeHi) == 0 {
		from, to := max(p.knifeLo, orElse(p.hasBlade, p.kerfLo, p.knifeLo)), min(p.knifeHi, orElse(p.hasBlade, p.kerfHi, p.knifeHi))
		name(x.at(from), x.at(to), "knife", Knife)
	}
}

func orElse(cond bool, yes, no float64) float64 {
	if cond {
		return yes
	}
	return no
}

// knife is drawn over the stock; where both would be, there is an X.
func (a ArborSection) knife(c *canvas, x axis, p parts, y int) {
	if off := x.off((p.knifeLo + p.knifeHi) / 2); off != 0 {
		mark := string(c.glyphs().left) + " knife " + a.show(a.KnifeFace)
		at := x.x0
		if off > 0 {
			mark = "knife " + a.show(a.KnifeFace) + " " + string(c.glyphs().right)
			at = c.w - c.width(mark)
		}
		c.write(at, y, mark, Knife)
		return
	}
	c.bar(y, x.at(p.knifeLo), x.at(p.knifeHi), Knife)
	cross := func(from, to float64) {
		f, t := min(x.at(from), x.at(to)), max(x.at(from), x.at(to))
		if t-f < 1 {
			f = math.Floor(f)
			t = f + 1
		}
		c.fill(y, f, t, 'X', Danger)
	}
	if p.outside > 0 {
		cross(p.kerfHi, p.knifeHi)
	}
	if p.outside < 0 {
		cross(min(p.knifeLo, p.kerfLo+nm(p.outside)), p.kerfLo)
	}
}

// hub is the arbor: the flange, the rings as their own numbers, the plate, the nut.
func (a ArborSection) hub(c *canvas, x axis, p parts, y int, mid bool) {
	g := c.glyphs()
	out := float64(x.x0)
	if (a.Flange == model.Near) == (x.dir > 0) {
		out = float64(x.x1)
	}
	face, toward := x.at(0), 1.0
	if out > face {
		toward = -1
	}
	reach := max(6, math.Round(math.Abs(out-face)*2/3))
	flangeEnd := min(max(face-toward*reach, float64(x.x0)), float64(x.x1))
	c.fill(y, flangeEnd, face, g.flange, Flange)
	far := p.plateHi
	if a.Flange == model.Near {
		far = p.plateLo
	}
	nut := x.at(far)
	blade(c, x, y, p.plateLo, p.plateHi, p.hasBlade)
	c.fill(y, face, x.at(p.stack), ' ', Ring)
	from, dir := 0.0, 1.0
	if a.Flange == model.Near {
		dir = -1
	}
	for i, ring := range a.Rings {
		c.fill(y, x.at(dir*from), x.at(dir*(from+nm(ring))), ringMark(i), Ring)
		from += nm(ring)
	}
	nutEnd := min(max(nut+toward*6, float64(x.x0)), float64(x.x1))
	c.fill(y, math.Round(nut), nutEnd, g.flange, Flange)
	if !mid {
		return
	}
	named := []struct {
		from, to float64
		words    string
	}{{flangeEnd, face, "flange"}, {nut, nutEnd, "nut"}}
	if !p.hasBlade {
		c.writeMid(c.column(min(x.at(p.plateLo), x.at(p.plateHi))), c.column(max(x.at(p.plateLo), x.at(p.plateHi))), y, " blade ", Faint)
	}
	for _, n := range named {
		f, t := c.column(min(n.from, n.to)), c.column(max(n.from, n.to))
		if t-f >= len(n.words)+2 {
			c.writeMid(f, t, y, " "+n.words+" ", Flange)
		}
	}
}

// paintEmpty draws the fixed flange, and the arbor with nothing on it.
func (a ArborSection) paintEmpty(c *canvas) {
	g := c.glyphs()
	left := (a.Flange == model.Near) == (a.FenceSide == model.SideLeft) // the flange
	if a.Flange != "" {
		a.header(c, axis{x0: 0, x1: c.w})
	}
	rows, thick, long := c.h-2, max(9, c.w/10), c.w/2
	face := (c.w - thick - long) / 2
	from, end := face, face+thick
	if !left {
		from, end = face+long, face
	}
	for y := range rows {
		c.fill(1+y, float64(from), float64(from+thick), g.flange, Flange)
	}
	for y := 1 + (rows-1)/3; y <= 1+(rows-1)-(rows-1)/3; y++ {
		c.fill(y, float64(end), float64(end+long), g.offcut, Flange)
	}
	mid := 1 + (rows-1)/2
	c.writeMid(from, from+thick, mid, " flange ", Flange)
	c.writeMid(end, end+long, mid, " arbor ", Flange)
	c.writeNote(c.h-1, note{Plain, []string{"bare"}})
}

// ringMark is what a ring is drawn with: its number, counted from the flange.
func ringMark(i int) rune {
	const marks = "123456789abcdefghijklmnopqrstuvwxyz"
	if i < len(marks) {
		return rune(marks[i])
	}
	return '*'
}
