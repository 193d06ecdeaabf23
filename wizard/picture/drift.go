package picture

import (
	"fmt"

	"example.com/sawdatum/model"
)

// Drift is a blade's proofs over time: residuals, oldest first, with the limits of
// the individuals chart.
type Drift struct {
	Figures
	Blade        string
	Points       []DriftPoint
	HasLimits    bool
	Mean         model.Length
	Lower, Upper model.Length
	Tolerance    model.Length
}

// DriftPoint is one proof: cut face less datum face, + = toward the fence.
type DriftPoint struct {
	Day    string // as it is shown, such as 03-14
	Value  model.Length
	Beyond bool // outside the limits
}

// Draw goes through time from left to right.
func (d Drift) Draw(w, h int, look Look) string {
	return draw(w, h, look, d.paint)
}

func (d Drift) paint(c *canvas) {
	g := c.glyphs()
	n := d.note()
	c.writeNote(0, n)
	if len(d.Points) == 0 {
		c.write(0, 2, c.fit(c.w, "every proof cut of the blade adds a point here", "no proofs yet"), Plain)
		return
	}
	gutter := 8
	if c.w >= 50 {
		gutter = 17
	}
	shown, earlier := d.latest(c.w - gutter - 2)
	var vs []float64
	for _, p := range shown {
		vs = append(vs, nm(p.Value))
	}
	floor := max(nm(d.Tolerance), nm(model.Millimetre)/100)
	middle := 0.0
	if d.HasLimits {
		middle = nm(d.Mean)
		floor = max(floor, nm(d.Upper)-middle, middle-nm(d.Lower))
	}
	lo, hi := usual(middle, floor, vs)
	lo, hi = min(lo, 0), max(hi, 0)
	p := newPlot(c, gutter, c.w, 1, c.h-2, lo, hi, 0, d.Unit)
	d.rules(p)
	pitch := max(1, min(8, (p.x1-p.x0-2)/len(shown)))
	var ms []mark
	for i, q := range shown {
		col := p.x0 + 1 + i*pitch
		m := mark{col, nm(q.Value), g.dot, d.signed(q.Value), Plain}
		if q.Beyond {
			m.r, m.kind = '!', Danger
		}
		ms = append(ms, m)
	}
	p.marks(ms)
	d.days(c, p, pitch, shown, earlier)
	c.write(0, c.h-1, c.fit(c.w, "1 line = "+scaleText(p.step, d.Unit)+"; + toward the fence; ! beyond the limits", "1 line = "+scaleText(p.step, d.Unit)+"; ! beyond limits", "1 line = "+scaleText(p.step, d.Unit)), Faint)
}

// latest are the newest points that have a column each.
func (d Drift) latest(n int) (shown []DriftPoint, earlier int) {
	earlier = max(len(d.Points)-max(n, 1), 0)
	return d.Points[earlier:], earlier
}

func (d Drift) rules(p plot) {
	named := func(word string, l model.Length) string {
		return p.c.fit(p.x0-1, word+" "+d.signed(l), d.signed(l), word, unitless(d.signed(l)))
	}
	if d.HasLimits {
		p.rule(nm(d.Upper), 2, named("limit", d.Upper), Danger)
		p.rule(nm(d.Lower), 2, named("limit", d.Lower), Danger)
		p.rule(nm(d.Mean), 1, named("mean", d.Mean), Faint)
	}
	p.rule(0, 4, p.c.fit(p.x0-1, "datum 0", "0"), Datum)
	if d.Tolerance > 0 {
		p.rule(nm(d.Tolerance), 6, named("tolerance", d.Tolerance), Datum)
		p.rule(-nm(d.Tolerance), 6, named("tolerance", -d.Tolerance), Datum)
	}
}

func (d Drift) days(c *canvas, p plot, pitch int, shown []DriftPoint, earlier int) {
	y, end := c.h-2, 0
	if earlier > 0 {
		end = c.write(0, y, c.fit(p.x0+2, fmt.Sprintf("%c %d earlier", c.glyphs().left, earlier), fmt.Sprintf("%c%d", c.glyphs().left, earlier)), Faint) + 1
	}
	for i, q := range shown {
		at := max(p.x0+1+i*pitch-c.width(q.Day)/2, 0)
		if at >= end && at+c.width(q.Day) <= c.w {
			end = c.write(at, y, q.Day, Faint) + 2
		}
	}
}

func (d Drift) beyond() int {
	n := 0
	for _, p := range d.Points {
		n += boolInt(p.Beyond)
	}
	return n
}

func (d Drift) note() note {
	name := d.Blade
	if name == "" {
		name = "this blade"
	}
	if len(d.Points) == 0 {
		return note{Plain, []string{"no proofs of " + name + " yet", "no proofs yet"}}
	}
	last := d.side(d.Points[len(d.Points)-1].Value)
	if n := d.beyond(); n > 0 {
		return note{Danger, []string{fmt.Sprintf("! %d of %d proofs of %s beyond the limits; last %s", n, len(d.Points), name, last), fmt.Sprintf("! %d of %d beyond; last %s", n, len(d.Points), last), fmt.Sprintf("! %d beyond the limits", n)}}
	}
	word := "proofs"
	if len(d.Points) == 1 {
		word = "proof"
	}
	return note{Plain, []string{fmt.Sprintf("%d %s of %s; last %s", len(d.Points), word, name, last), fmt.Sprintf("%d %s; last %s", len(d.Points), word, last), "last " + last}}
}

// Sentence tells how many proofs there are, the limits, and what lies beyond them.
func (d Drift) Sentence() string {
	name := d.Blade
	if name == "" {
		name = "this blade"
	}
	if len(d.Points) == 0 {
		return "There are no proof cuts of " + name + " yet."
	}
	s := fmt.Sprintf("Proof cuts of %s so far: %d; the last cut %s.", name, len(d.Points), d.side(d.Points[len(d.Points)-1].Value))
	if !d.HasLimits {
		return s
	}
	if n := d.beyond(); n > 0 {
		return s + fmt.Sprintf(" Beyond the limits of %s and %s: %d.", d.side(d.Lower), d.side(d.Upper), n)
	}
	return s + fmt.Sprintf(" All lie within the limits of %s and %s.", d.side(d.Lower), d.side(d.Upper))
}
