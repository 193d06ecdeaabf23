package picture

import (
	"fmt"
	"math"
	"slices"

	"example.com/sawdatum/model"
)

// Rack is all blades against the datum face.
type Rack struct {
	Figures
	FenceSide model.Side
	Tolerance model.Length
	Blades    []RackBlade
	Current   string // the blade at work; its row is marked and always shown
}

// RackBlade is a blade's row. Before and After are cut face less datum face, + =
// toward the fence, without rings and with them.
type RackBlade struct {
	ID, Label string
	Reference bool
	Before    model.Length
	After     model.Length
	Expanded  model.Length  // U of After
	Known     bool          // nothing is drawn for a blade that is not measured yet
	Verdict   model.Verdict // empty: it must not run
	Rings     string        // the rings in order, for the row's end; may be empty
	State     model.Readiness
}

// farthest is the distance from the datum, in tolerances, up to which a cut face is
// drawn; the scale is for what lies near.
const farthest = 6

// Draw gives one line a blade: where it cuts without rings (open mark), where with
// them (full mark), and a whisker of U about it.
func (r Rack) Draw(w, h int, look Look) string {
	return draw(w, h, look, r.paint)
}

func (r Rack) paint(c *canvas) {
	rows := c.h - 2
	legend := rows > 6 || rows > len(r.Blades) && len(r.Blades) > 0
	if legend {
		rows--
	}
	shown, left := r.visible(rows)
	names, rings, ends := r.columns(c)
	x := r.axis(shown, names+rings, c.w-ends)
	r.head(c, x)
	pitch := 1
	if len(shown) > 0 {
		pitch = max(1, min(6, (rows-boolInt(left > 0))/len(shown)))
	}
	used := min(rows, pitch*len(shown))
	r.rules(c, x, 1, 1+used)
	for i, b := range shown {
		r.row(c, x, 1+i*pitch, pitch, names, b)
		if rings > 0 && b.Known {
			c.write(names, 1+i*pitch, c.fit(rings-1, b.Rings, "rings"), Ring) // none: nothing stands there
		}
	}
	if left > 0 {
		c.write(0, 1+used, c.fit(c.w, fmt.Sprintf("and %d more that have no room here; not in: %d of %d", left, r.notIn(), len(r.Blades)), fmt.Sprintf("and %d more", left)), Faint)
	}
	if len(r.Blades) == 0 {
		c.write(0, 1, "no blades yet", Plain)
	}
	g := c.glyphs()
	if legend {
		on := string(r.onMark(c))
		c.write(0, c.h-2, c.fit(c.w,
			string(g.open)+" cut face without rings   "+on+" with its rings   "+string(g.from)+string(g.horizontal)+string(g.to)+" what is uncertain   "+string(g.dashed)+" tolerance",
			string(g.open)+" without rings  "+on+" with rings  "+string(g.from)+string(g.horizontal)+string(g.to)+" give or take  "+string(g.dashed)+" tolerance",
			string(g.open)+" without rings  "+on+" with rings  "+string(g.dashed)+" tolerance",
			string(g.open)+" before  "+on+" after"), Faint)
	}
	step := scaleText(x.step, r.Unit)
	c.write(0, c.h-1, c.fit(c.w, "1 column = "+step+"; tolerance "+r.show(r.Tolerance), "1 column = "+step), Faint)
}

func (r Rack) onMark(c *canvas) rune {
	if c.look.Charset == Blocks {
		return c.glyphs().full
	}
	return c.glyphs().dot
}

// columns are the widths of the names, of the rings where a row has one line, and of the
// figures at the row's end.
func (r Rack) columns(c *canvas) (names, rings, ends int) {
	switch {
	case c.w >= 90:
		return min(max(r.longest(c)+2, 12), c.w/3), 0, 30
	case c.w >= 70:
		for _, b := range r.Blades {
			rings = max(rings, c.width(b.Rings)+1)
		}
		return min(max(r.longest(c)+2, 12), 25), min(rings, 12), 21
	case c.w >= 56:
		return min(max(r.longest(c)+2, 10), c.w*3/8), 0, 19
	case c.w >= 44:
		return 12, 0, 16
	}
	return 10, 0, 9
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (r Rack) longest(c *canvas) int {
	n := 0
	for _, b := range r.Blades {
		n = max(n, c.width(b.name()))
	}
	return n
}

func (b RackBlade) name() string {
	if b.Label != "" {
		return b.Label
	}
	return b.ID
}

// visible are the rows that have room, what fails first and the current blade among them, and
// how many have none.
func (r Rack) visible(rows int) (shown []RackBlade, left int) {
	all := slices.Clone(r.Blades)
	rank := func(b RackBlade) int {
		switch {
		case r.kind(b) == Danger || !b.Known:
			return 0
		case b.State != model.StateReady || b.Reference:
			return 1
		}
		return 2
	}
	slices.SortStableFunc(all, func(a, b RackBlade) int { return rank(a) - rank(b) })
	if len(all) <= rows {
		return all, 0
	}
	shown = append(shown, all[:max(rows-1, 0)]...)
	for _, b := range all[len(shown):] {
		if b.ID == r.Current && len(shown) > 0 {
			shown[len(shown)-1] = b
		}
	}
	return shown, len(all) - len(shown)
}

// axis covers the blades that are shown.
func (r Rack) axis(shown []RackBlade, x0, x1 int) axis {
	reach := max(2*nm(r.Tolerance), nm(model.Millimetre)/20)
	lo, hi := -reach, reach
	for _, b := range shown {
		for _, v := range []float64{nm(b.Before), nm(b.After) - nm(b.Expanded), nm(b.After) + nm(b.Expanded)} {
			if b.Known && math.Abs(v) <= farthest*reach/2 {
				lo, hi = min(lo, v), max(hi, v)
			}
		}
	}
	dir := 1.0
	if r.FenceSide == model.SideLeft {
		dir = -1
	}
	return newAxis(lo, hi, 0, x0, x1, 1, dir, r.Unit)
}

func (r Rack) head(c *canvas, x axis) {
	g := c.glyphs()
	mid := int(x.at(0))
	c.write(mid-2, 0, "datum", Datum)
	if x.dir > 0 {
		c.write(max(mid+4, min(x.x1-7, c.w-7)), 0, "fence "+string(g.right), Faint)
	} else {
		c.write(min(mid-10, x.x0), 0, string(g.left)+" fence", Faint)
	}
}

// rules draws the datum and the tolerance down the rows.
func (r Rack) rules(c *canvas, x axis, y0, y1 int) {
	g := c.glyphs()
	for y := y0; y < y1; y++ {
		if r.Tolerance > 0 {
			c.line(x.at(-nm(r.Tolerance)), y, g.dashed, Datum)
			c.line(x.at(nm(r.Tolerance)), y, g.dashed, Datum)
		}
		c.line(x.at(0), y, g.vertical, Datum)
	}
}

// row is a blade's line. With two lines the cut face without rings stands above; a
// third names the rings, and more make the mark taller.
func (r Rack) row(c *canvas, x axis, y, lines, names int, b RackBlade) {
	g := c.glyphs()
	mark := " "
	if b.ID == r.Current && r.Current != "" {
		mark = ">"
	}
	c.write(0, y, mark+c.fit(names-2, b.name()), Plain)
	end := x.x1 + 1
	room := c.w - end
	if !b.Known {
		c.write(end, y, c.fit(room, "not measured", "not read"), Faint)
		return
	}
	if b.Verdict == "" {
		c.write(x.x0+1, y, c.fit(x.x1-x.x0-1, "no knife fits it", "no knife", ""), Danger)
		c.write(end, y, r.verdict(c, room, b), Danger)
		return
	}
	after, thick := y, max(1, lines-3)
	if lines > 1 {
		after++
		c.write(end, y, c.fit(room, "without rings "+r.aside(b.Before), "no rings "+r.aside(b.Before), ""), Faint)
	}
	if lines > 2 {
		c.write(end, y+2, c.fit(room, b.proof(true), b.proof(false), b.Rings), Ring)
	}
	r.place(c, x, y, b.Before, Faint, func(col float64) { c.put(c.floor(col), y, g.open, Faint) })
	r.place(c, x, after, b.After, r.kind(b), func(col float64) {
		for i := range thick {
			c.mark(col, after+i, r.kind(b))
		}
	})
	r.whisker(c, x, after+(thick-1)/2, b)
	c.write(end, after, r.verdict(c, room, b), r.kind(b))
}

// place draws a mark, or at the edge an arrow with the figure.
func (r Rack) place(c *canvas, x axis, y int, l model.Length, k Kind, mark func(col float64)) {
	g := c.glyphs()
	bare := unitless(r.size(l))
	switch x.off(nm(l)) {
	case 0:
		mark(x.at(nm(l)))
	case -1:
		c.write(x.x0, y, string(g.left)+bare, k)
	case 1:
		c.writeRight(x.x1, y, bare+string(g.right), k)
	}
}

// whisker reaches as far as the cut face is uncertain, from the mark on: what is hardly an eighth of the
// mark in a cell would be a gap.
func (r Rack) whisker(c *canvas, x axis, y int, b RackBlade) {
	if b.Expanded <= 0 {
		return
	}
	g := c.glyphs()
	lo, hi := x.at(nm(b.After)-nm(b.Expanded)), x.at(nm(b.After)+nm(b.Expanded))
	lo, hi = min(lo, hi), max(lo, hi)
	put := func(col int, glyph rune) {
		at := c.at(col, y)
		if mark := at != ' ' && c.cells[y*c.w+col].kind == r.kind(b); !mark || at == '▏' || at == '▕' {
			c.put(col, y, glyph, r.kind(b))
		}
	}
	first, last := max(lo, float64(x.x0)), min(hi, float64(x.x1)-1)
	ends := first == lo && last == hi && int(hi) > int(lo)
	for i := int(first); i <= int(last); i++ {
		switch {
		case ends && i == int(lo):
			put(i, g.from)
		case ends && i == int(hi):
			put(i, g.to)
		default:
			put(i, g.horizontal)
		}
	}
}

func (r Rack) kind(b RackBlade) Kind {
	switch {
	case b.Verdict != model.In && !b.Reference:
		return Danger
	case b.State != model.StateReady:
		return Plain
	}
	return Good
}
