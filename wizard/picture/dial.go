package picture

import (
	"fmt"
	"math"

	"example.com/sawdatum/model"
)

// Dial is a turn of dial readings, equally spaced, the first at the mark, and the
// wave fitted to them. Angles are degrees from the mark in the order of the readings.
type Dial struct {
	Figures
	What      string // "flange", "rim of the 24-tooth rip"
	Readings  []model.Length
	Fitted    bool
	Mean      model.Length
	Amplitude model.Length // half of the wave's total reading
	HighDeg   float64      // where the wave is highest
	BestDeg   float64      // where the blade's mark is to stand for the least wobble
	HasBest   bool
}

func (d Dial) wave(deg float64) float64 {
	return nm(d.Mean) + nm(d.Amplitude)*math.Cos((deg-turn(d.HighDeg))*math.Pi/180)
}

// turn brings an angle to 0..360; what is no angle becomes 0.
func turn(deg float64) float64 {
	deg = math.Mod(deg, 360)
	if math.IsNaN(deg) {
		return 0
	}
	if deg < 0 {
		deg += 360
	}
	return deg
}

// Draw unrolls the turn from left to right; where there is room a clock face stands
// beside it.
func (d Dial) Draw(w, h int, look Look) string {
	return draw(w, h, look, d.paint)
}

func (d Dial) paint(c *canvas) {
	n := d.note()
	c.writeNote(0, n)
	gutter, right := min(11, c.w/4), c.w
	if radius := min((c.h-4)/2, c.w/8); c.w >= 70 && radius >= 4 {
		right = c.w - 4*radius - 6
		d.face(c, c.w-2*radius-3, 1+radius, radius)
	}
	var vs []float64
	for _, r := range d.Readings {
		vs = append(vs, nm(r))
	}
	middle := nm(d.Mean)
	if !d.Fitted {
		lo, hi := span(vs...)
		middle = (lo + hi) / 2
	}
	lo, hi := usual(middle, max(nm(d.Amplitude), nm(model.Millimetre)/100), vs)
	p := newPlot(c, gutter, right, 1, c.h-2, lo, hi, middle, d.Unit)
	p.rule(middle, 2, d.show(length(middle)), Faint)
	perDeg := float64(p.x1-p.x0-1) / 360
	if d.Fitted {
		p.curve(func(col float64) float64 { return d.wave((col - 0.5 - float64(p.x0)) / perDeg) }, Plate)
	}
	for _, y := range []int{p.y0, p.y1 - 1} {
		if c.at(gutter-2, y) == ' ' {
			v := d.show(length(p.anchor + (p.line-(float64(y)+0.5))*p.step))
			c.writeRight(gutter-1, y, c.fit(gutter-1, v, unitless(v)), Faint)
		}
	}
	var ms []mark
	for i, r := range d.Readings {
		deg := 360 * float64(i) / float64(len(d.Readings))
		ms = append(ms, mark{p.x0 + int(math.Round(deg*perDeg)), nm(r), c.glyphs().dot, d.show(r), Plain})
	}
	p.marks(ms)
	d.degrees(c, p, perDeg)
	c.write(0, c.h-1, c.fit(c.w, "1 line = "+scaleText(p.step, d.Unit)+"; one turn, from the mark", "1 line = "+scaleText(p.step, d.Unit)+"; one turn across", "1 line = "+scaleText(p.step, d.Unit)), Faint)
}

// degrees is the line of angles under the turn, with H at the high spot and B at the
// best clocking.
func (d Dial) degrees(c *canvas, p plot, perDeg float64) {
	y := c.h - 2
	c.write(0, y, c.fit(p.x0-1, "degrees", "deg"), Faint)
	if d.Fitted {
		c.put(p.x0+int(turn(d.HighDeg)*perDeg), y, 'H', Datum)
	}
	if d.HasBest {
		c.put(p.x0+int(turn(d.BestDeg)*perDeg), y, 'B', Good)
	}
	for deg := 0; deg <= 360; deg += 90 {
		text := fmt.Sprint(deg)
		x := min(p.x0+int(float64(deg)*perDeg), p.x1-len(text))
		free := true // of the letters
		for i := range text {
			free = free && c.at(x+i, y) == ' '
		}
		if free {
			c.write(x, y, text, Faint)
		}
	}
}

// face is the turn as a clock face, the mark at the top, the readings by number.
func (d Dial) face(c *canvas, cx, cy, radius int) {
	place := func(deg, r float64) (x, y int) {
		a := deg * math.Pi / 180
		return cx + int(math.Round(2*r*math.Sin(a))), cy - int(math.Round(r*math.Cos(a)))
	}
	rim := float64(radius)
	for deg := 0.0; deg < 360; deg += 3 {
		x, y := place(deg, rim)
		c.put(x, y, '.', Faint)
	}
	c.put(cx, cy, c.glyphs().cross, Faint)
	for i := range d.Readings {
		x, y := place(360*float64(i)/float64(len(d.Readings)), rim-1)
		c.write(x, y, fmt.Sprint(i+1), Plain)
	}
	c.writeMid(cx-4, cx+5, cy-radius, " mark ", Datum)
	if d.HasBest {
		x, y := place(turn(d.BestDeg), rim)
		c.put(x, y, 'B', Good)
	}
	if d.Fitted {
		x, y := place(turn(d.HighDeg), rim)
		c.put(x, y, 'H', Datum)
	}
}

func (d Dial) note() note {
	if !d.Fitted {
		return note{Plain, []string{d.count(), "dial readings"}}
	}
	total := d.show(length(2 * nm(d.Amplitude)))
	at := fmt.Sprintf("%.0f", math.Floor(turn(d.HighDeg)+0.5))
	ways := []string{"the wave: " + total + " from low to high, H high spot at " + at + " degrees from the mark", "wave " + total + ", H high at " + at + " deg", "wave " + total}
	if d.HasBest {
		ways = append([]string{ways[0] + fmt.Sprintf(", B best clocking at %.0f", math.Floor(turn(d.BestDeg)+0.5)), fmt.Sprintf("wave %s, H high at %s, B best at %.0f deg", total, at, math.Floor(turn(d.BestDeg)+0.5))}, ways[1:]...)
	}
	return note{Plain, ways}
}

// count is how many readings there are, in words.
func (d Dial) count() string {
	switch n := len(d.Readings); n {
	case 0:
		return "no dial readings"
	case 1:
		return "one dial reading"
	default:
		return fmt.Sprintf("%d dial readings", n)
	}
}

// Sentence tells the wobble, the high spot and the best clocking.
func (d Dial) Sentence() string {
	what := d.What
	if what == "" {
		what = "turn"
	}
	if len(d.Readings) == 0 {
		return "No dial readings yet."
	}
	if !d.Fitted {
		return "Typed: " + d.count() + " of one turn."
	}
	s := fmt.Sprintf("The wave through the readings of the %s is %s from low to high; its high spot is %.0f degrees from the mark.", what, d.show(length(2*nm(d.Amplitude))), math.Floor(turn(d.HighDeg)+0.5))
	if d.HasBest {
		s += fmt.Sprintf(" It runs truest with the mark turned to %.0f degrees.", math.Floor(turn(d.BestDeg)+0.5))
	}
	return s
}
