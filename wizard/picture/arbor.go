package picture

import (
	"math"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
)

// ArborSection is the blade on its arbor as seen from the front of the saw. Lengths
// are across the blade, from the flange face, positive toward the fence.
type ArborSection struct {
	Figures
	Blade     string
	Flange    model.Flange
	FenceSide model.Side
	Plate     model.Length // zero: not read yet
	Kerf      model.Length // zero: not read yet
	Runout    model.Length // total indicator reading; it widens the kerf
	Rings     []model.Length
	Knife     model.Length // thickness; zero: no knife
	KnifeFace model.Length // where its fence-side face stands
	Gap       model.Length // how far behind that it may stand: the largest feeler gap
	Datum     model.Length
	HasDatum  bool
	Tolerance model.Length // smaller differences are not called one
	Astray    bool         // the rings are not those that go on
	Empty     bool         // nothing is on the arbor: no blade, no ring, no nut
}

// parts are the places of an arbor section, in nanometres.
type parts struct {
	stack                float64 // the end of the rings
	plateLo, plateHi     float64
	kerfLo, kerfHi       float64 // kerfHi is the cut face
	knifeLo, knifeHi     float64
	hasBlade, hasKnife   bool
	outside              model.Length // how far the knife stands out of its kerf, + = toward the fence
	wide                 float64      // how much too wide the part comes out
	knifeTooThick, loose bool
}

// standIn is the blade whose outline shows where a blade will sit, before one is
// measured: a usual full kerf blade.
var standIn = struct{ plate, kerf model.Length }{2_200_000, 3_200_000}

func (a ArborSection) parts() parts {
	dir := 1.0
	if a.Flange == model.Near {
		dir = -1
	}
	var p parts
	p.stack = dir * sum(a.Rings)
	p.hasBlade = a.Plate > 0 && a.Kerf > 0
	if !p.hasBlade {
		a.Plate, a.Kerf, a.Runout = standIn.plate, standIn.kerf, 0
	}
	plate := p.stack + dir*nm(a.Plate)
	p.plateLo, p.plateHi = min(p.stack, plate), max(p.stack, plate)
	mid, half := (p.plateLo+p.plateHi)/2, (nm(a.Kerf)+nm(a.Runout))/2
	p.kerfLo, p.kerfHi = mid-half, mid+half
	p.hasKnife = a.Knife > 0
	p.knifeLo, p.knifeHi = nm(a.KnifeFace)-nm(a.Knife), nm(a.KnifeFace)
	if a.HasDatum && p.hasBlade {
		p.wide = nm(a.Datum) - p.kerfHi
	}
	if p.hasKnife && p.hasBlade {
		p.outside = solver.OutOfKerf(length(p.knifeHi-p.kerfHi), a.Gap, 0, a.Kerf-a.Knife)
		p.knifeTooThick = a.Knife >= a.Kerf
		p.loose = a.Knife <= a.Plate
	}
	return p
}

// Draw shows from top to bottom the stock behind the blade with the knife in the
// slot, the teeth, the plate, and the arbor with flange and rings.
func (a ArborSection) Draw(w, h int, look Look) string {
	if a.Empty {
		return draw(w, h, look, a.paintEmpty)
	}
	return draw(w, h, look, func(c *canvas) { a.paint(c, a.parts()) })
}

func (a ArborSection) paint(c *canvas, p parts) {
	gutter := 7
	if c.w >= 54 {
		gutter = 15
		for _, b := range a.bands(4) {
			gutter = max(gutter, min(c.width(b.long)+1, c.w/4))
		}
	}
	x := a.axis(c, p, gutter)
	notes := a.notes(p)
	rows := c.h - 3
	room := min(len(notes), 1+max(0, rows-3)/3)
	rows -= room - 1
	a.header(c, x)
	y := 1
	for _, band := range a.bands(rows) {
		mid := y + (band.rows-1)/2
		c.write(0, mid, c.fit(gutter-1, band.long, strings.TrimSuffix(band.long, " "+a.Unit.Label()), band.short), Plain)
		for i := range band.rows {
			band.paint(c, x, p, y+i, i == (band.rows-1)/2)
		}
		y += band.rows
	}
	a.datumLine(c, x, 1, y)
	for _, n := range notes[:room] {
		c.writeNote(y, n)
		y++
	}
	step, signs := scaleText(x.step, a.Unit), ""
	if room < len(notes) {
		signs = a.signs()
	}
	c.write(0, c.h-1, c.fit(c.w, "1 column = "+step+" across; heights not to scale"+signs, "1 column = "+step+" across"+signs, "1 column = "+step+" across", "1 column = "+step), Faint)
}

// signs tells what the figures on the arbor are, where no line says how thick each is.
func (a ArborSection) signs() string {
	var marks []string
	for i := range a.Rings {
		marks = append(marks, string(ringMark(i)))
	}
	switch len(marks) {
	case 0:
		return ""
	case 1:
		return "; 1 = ring"
	}
	return "; " + strings.Join(marks, ", ") + " = rings"
}

// axis fits what belongs to the blade; a datum or a knife far from it is marked at
// the edge instead.
func (a ArborSection) axis(c *canvas, p parts, gutter int) axis {
	lo, hi := span(0, p.stack, p.plateLo, p.plateHi, p.kerfLo, p.kerfHi)
	room := max(hi-lo, nm(model.Millimetre)/2)
	near := func(x float64) bool { return x > lo-room && x < hi+room }
	anchor, fitLo, fitHi := 0.0, lo, hi
	if a.HasDatum && near(nm(a.Datum)) {
		anchor = nm(a.Datum)
		fitLo, fitHi = span(fitLo, fitHi, anchor)
	}
	if p.hasKnife && near(p.knifeLo) && near(p.knifeHi) {
		fitLo, fitHi = span(fitLo, fitHi, p.knifeLo, p.knifeHi)
	}
	if fitHi == fitLo {
		fitHi += room
	}
	return newAxis(fitLo, fitHi, anchor, gutter, c.w, max(4, (c.w-gutter)/8), a.dir(), a.Unit)
}

func (a ArborSection) dir() float64 {
	if a.FenceSide == model.SideLeft {
		return -1
	}
	return 1
}

func (a ArborSection) header(c *canvas, x axis) {
	g := c.glyphs()
	fence, at := "fence "+string(g.right), c.w-7
	if a.dir() < 0 {
		fence, at = string(g.left)+" fence", x.x0
	}
	c.write(at, 0, fence, Faint)
	if !a.HasDatum {
		return
	}
	label, col := "datum", int(x.at(nm(a.Datum)))
	switch x.off(nm(a.Datum)) {
	case -1:
		label = string(g.left) + " datum " + a.show(a.Datum)
		col = x.x0 + 9
	case 1:
		label = "datum " + a.show(a.Datum) + " " + string(g.right)
		col = c.w - 9 - c.width(label)/2
	}
	from := col - c.width(label)/2
	if a.dir() > 0 {
		from = min(from, at-1-c.width(label))
	} else {
		from = max(from, at+8)
	}
	c.write(min(max(from, 0), c.w-c.width(label)), 0, label, Datum)
}

// band is one level of the section, some lines high.
type band struct {
	long, short string
	rows        int
	paint       func(c *canvas, x axis, p parts, y int, mid bool)
}

func (a ArborSection) bands(rows int) []band {
	teeth, plate := "teeth", "plate"
	if a.Kerf > 0 {
		teeth = "teeth " + a.show(a.Kerf)
	}
	if a.Plate > 0 {
		plate = "plate " + a.show(a.Plate)
	}
	bands := []band{
		{"behind blade", "behind", 1, a.behind},
		{teeth, "teeth", 1, func(c *canvas, x axis, p parts, y int, _ bool) {
			if p.wide > 0 {
				c.fill(y, x.at(p.kerfHi), x.at(nm(a.Datum)), '+', Danger)
			}
			blade(c, x, y, p.kerfLo, p.kerfHi, p.hasBlade)
		}},
		{plate, "plate", 0, func(c *canvas, x axis, p parts, y int, _ bool) {
			blade(c, x, y, p.plateLo, p.plateHi, p.hasBlade)
		}},
		{"on the arbor", "arbor", 1, a.hub},
	}
	for i, order := 3, []int{2, 0, 3, 1, 2, 0, 3}; i < rows; i++ {
		bands[order[(i-3)%len(order)]].rows++
	}
	if bands[2].rows == 0 {
		bands = append(bands[:2:2], bands[3])
	}
	return bands
}

func (a ArborSection) datumLine(c *canvas, x axis, y0, y1 int) {
	if !a.HasDatum || x.off(nm(a.Datum)) != 0 {
		return
	}
	line, col := c.glyphs().vertical, int(math.Round(x.at(nm(a.Datum))))
	if c.look.Charset == Blocks {
		line = '▏'
	}
	if x.dir < 0 {
		col--
		if c.look.Charset == Blocks {
			line = '▕'
		}
	}
	for y := y0; y < y1; y++ {
		if c.cells[y*c.w+min(max(col, 0), c.w-1)].kind == Flange {
			continue
		}
		if r := c.at(col, y); r == ' ' || r == c.glyphs().stock || r == c.glyphs().offcut {
			c.put(col, y, line, Datum)
		}
	}
}
