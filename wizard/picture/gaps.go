package picture

import (
	"fmt"
	"math"
	"strings"

	"example.com/sawdatum/model"
)

// KnifeGaps is the riving knife as it is seen from the fence, held to the gauge board, with
// what a feeler finds at its four corners.
type KnifeGaps struct {
	Figures
	FenceSide model.Side
	Limit     model.Length
	Gaps      []model.Length // front low, front high, rear low, rear high; fewer: not felt yet
}

var cornerNames = [...]string{"front low", "front high", "rear low", "rear high"}

// Draw sets a bar beside each corner of the knife, as long as the gap there, against the
// limit. The front lies at the left where the fence stands right of the blade.
func (k KnifeGaps) Draw(w, h int, look Look) string { return draw(w, h, look, k.paint) }

func (k KnifeGaps) paint(c *canvas) {
	g := c.glyphs()
	words := 18
	if c.w < 60 {
		words = 5
	}
	from, to := float64(c.w)*0.4, float64(c.w)*0.6
	x := newAxis(0, k.reach(), 0, 0, int(from)-words-1, 0, 1, k.Unit)
	top, bottom := 1, c.h-2
	c.writeMid(0, c.w, 0, "the knife, seen from the fence", Faint)
	for y := top; y <= bottom; y++ {
		c.fill(y, from+1, to-1, g.stock, Knife)
	}
	front, rear := "front", "rear"
	if k.FenceSide == model.SideLeft {
		front, rear = rear, front
	}
	if bottom-top > 2 {
		c.write(1, (top+bottom)/2, front, Faint)
		c.writeRight(c.w-1, (top+bottom)/2, rear, Faint)
	}
	for i, name := range cornerNames {
		y := []int{bottom, top}[i%2]
		left := i < 2 == (k.FenceSide != model.SideLeft)
		length := func(l model.Length) float64 { return nm(l) / x.step }
		at := func(l model.Length) float64 {
			if left {
				return from - length(l)
			}
			return to + length(l)
		}
		if c.w < 60 {
			name = name[len(name)-4:]
		}
		text, kind := name, Faint
		if i < len(k.Gaps) {
			text, kind = name+"  "+k.bare(k.Gaps[i]), Plain
			c.bar(y, at(0), at(k.Gaps[i]), k.kind(k.Gaps[i]))
		}
		limit := at(k.Limit)
		if left {
			limit -= 1
		}
		c.line(limit, y, g.dashed, Datum)
		if left {
			c.write(1, y, c.fit(int(from)-2, text), kind)
		} else {
			c.writeRight(c.w-1, y, c.fit(c.w-int(to)-2, text), kind)
		}
	}
	scale := "1 column = " + scaleText(x.step, k.Unit)
	c.write(0, c.h-1, c.fit(c.w, scale+" of gap   "+string(g.dashed)+" limit "+k.show(k.Limit), scale), Faint)
}

// reach is the widest gap that is shown: somewhat more than the limit, or than the widest.
func (k KnifeGaps) reach() float64 {
	reach := nm(k.Limit)
	for _, g := range k.Gaps {
		reach = max(reach, math.Min(nm(g), 5*nm(model.Millimetre)))
	}
	return max(reach*1.3, nm(model.Millimetre)/50)
}

func (k KnifeGaps) kind(gap model.Length) Kind {
	if gap > k.Limit {
		return Danger
	}
	return Good
}

// Sentence says the gaps corner by corner.
func (k KnifeGaps) Sentence() string {
	if len(k.Gaps) == 0 {
		return "No gap between the knife and the gauge board is felt yet."
	}
	text := "Between the knife and the gauge board: "
	for i, g := range k.Gaps[:min(len(k.Gaps), len(cornerNames))] {
		if i > 0 {
			text += ", "
		}
		text += cornerNames[i] + " " + k.show(g)
		if g > k.Limit {
			text += ", too wide"
		}
	}
	return fmt.Sprintf("%s; the limit is %s.", text, k.show(k.Limit))
}

// KnifeBehind is the riving knife behind the teeth of a blade that is on, seen from the fence:
// how far it stands from their tips. Where a straightedge lies on the tips of the fence side,
// it also tells where the face of the knife stands to that.
type KnifeBehind struct {
	Figures
	FenceSide   model.Side
	Gap         model.Length // to the tips; negative: the blade reaches into it
	Read        bool
	Least, Most model.Length   // what the gap may be; no Most: it is not asked for
	Held        bool           // a straightedge is held to the tips
	Faces       []model.Length // low, high: + behind the straightedge; fewer: not felt yet
	Limit       model.Length   // of a face, to either side
	Play        model.Length   // of the knife in its kerf, which is the limit then: from the straightedge so far behind it; 0: Limit
}

// Draw sets teeth and knife as far apart as the gap is typed, against what it may be; beside
// it the face of the knife against the straightedge.
func (k KnifeBehind) Draw(w, h int, look Look) string { return draw(w, h, look, k.paint) }

func (k KnifeBehind) paint(c *canvas) {
	x1 := c.w
	if k.Most <= 0 {
		k.straightedge(c, 0)
		return
	}
	if k.Held && c.w >= 60 {
		x1 = c.w * 6 / 10
		k.straightedge(c, x1+2)
	}
	from, to := x1/5, x1-x1/8
	reach := max(nm(k.Most)*1.2, math.Min(nm(k.Gap)*1.1, 5*nm(k.Most)), nm(model.Millimetre))
	x := newAxis(0, reach, 0, from, to, 0, 1, k.Unit)
	x.column = float64(from)
	turned := func(a, b float64) (float64, float64) { // the front lies left where the fence is right
		if k.FenceSide == model.SideLeft {
			return float64(x1) - b, float64(x1) - a
		}
		return a, b
	}
	bottom := c.h - 2
	middle := (1 + bottom) / 2
	for y := 1; y <= bottom; y++ {
		tips := float64(from)
		if y%2 == 0 { // between two teeth
			tips -= 2
		}
		a, b := turned(1, tips)
		c.bar(y, a, b, Plate)
		if k.Read {
			a, b = turned(x.at(nm(k.Gap)), float64(x1-1))
			c.fill(y, a, b, c.glyphs().stock, Knife)
		}
		for _, limit := range []model.Length{k.Least, k.Most} {
			if a, _ := turned(x.at(nm(limit)), x.at(nm(limit))); y != middle && limit > 0 && (!k.Read || limit < k.Gap) {
				c.line(a, y, c.glyphs().dashed, Datum)
			}
		}
	}
	text, kind := k.figure()
	behind := x.at(nm(k.Gap))
	if !k.Read {
		behind = float64(to)
	}
	for _, word := range []struct {
		text     string
		from, to float64
		y        int
		kind     Kind
	}{{"teeth", 0, float64(from), 0, Faint}, {"seen from the fence", float64(from), float64(to), 0, Faint}, {"knife", float64(to), float64(x1), 0, Faint},
		{text, float64(from), max(behind, float64(from+c.width(text)+2)), middle, kind}} {
		a, b := turned(word.from, word.to)
		c.writeMid(int(a), int(b), word.y, word.text, word.kind)
	}
	scale := "1 column = " + scaleText(x.step, k.Unit)
	c.write(0, c.h-1, c.fit(x1, scale+"   "+string(c.glyphs().dashed)+" it may be "+k.may(), scale), Faint)
}

// figure is the gap as it is typed.
func (k KnifeBehind) figure() (string, Kind) {
	switch {
	case !k.Read:
		return "not read yet", Faint
	case k.Gap < k.Least || k.Gap > k.Most || k.Gap <= 0:
		return k.called(k.Gap), Danger
	}
	return k.called(k.Gap), Good
}

// may is what the gap may be, in words.
func (k KnifeBehind) may() string {
	if k.Least <= 0 {
		return "up to " + k.called(k.Most)
	}
	return unitless(k.called(k.Least)) + " to " + k.called(k.Most)
}

// straightedge draws, right of column x0, the face of the knife against a straightedge on the
// tips, as it is seen from the front.
func (k KnifeBehind) straightedge(c *canvas, x0 int) {
	g := c.glyphs()
	lo, hi := k.bounds()
	front, behind := nm(-lo), nm(hi)
	for _, f := range k.Faces {
		front, behind = max(front, math.Min(nm(-f), 5*nm(model.Millimetre))), max(behind, math.Min(nm(f), 5*nm(model.Millimetre)))
	}
	behind = max(behind*1.3, front*0.3, nm(model.Millimetre)/50)
	front = max(front*1.3, behind*0.3)
	dir := -1.0 // behind the tips is away from the fence
	if k.FenceSide == model.SideLeft {
		dir = 1
	}
	const words = 13
	x := newAxis(-front, behind, 0, x0+words, c.w, 1, dir, k.Unit)
	at := func(l float64) float64 { return min(max(x.at(l), float64(x.x0)), float64(x.x1)) }
	title := c.fit(c.w-x0-9, "straightedge, seen from the front", "straightedge")
	if dir < 0 {
		c.write(x0, 0, title, Faint)
		c.writeRight(c.w, 0, c.fit(c.w-x0-c.width(title)-1, "fence "+string(g.right), string(g.right)), Faint)
	} else {
		c.write(x0, 0, c.fit(c.w-x0-c.width(title)-1, string(g.left)+" fence", string(g.left)), Faint)
		c.writeRight(c.w, 0, title, Faint)
	}
	bottom := c.h - 2
	for y := 1; y <= bottom; y++ {
		part := float64(bottom-y) / float64(max(bottom-1, 1)) // of the way up
		for _, limit := range []model.Length{lo, hi} {
			c.line(at(nm(limit)), y, g.dashed, Faint)
		}
		if len(k.Faces) == 2 {
			c.bar(y, at(nm(k.Faces[0])*(1-part)+nm(k.Faces[1])*part), at(2*behind), Knife)
		}
		c.line(at(0), y, g.dashed, Datum)
	}
	for i, name := range []string{"low", "high"} {
		y, kind := []int{bottom, 1}[i], Faint
		if i < len(k.Faces) {
			if name, kind = name+"  "+k.bare(k.Faces[i]), Plain; k.Faces[i] < lo || k.Faces[i] > hi {
				kind = Danger
			}
		}
		c.write(x0, y, c.fit(words-1, name), kind)
	}
	scale := "1 column = " + scaleText(x.step, k.Unit)
	c.write(x0, c.h-1, c.fit(c.w-x0, scale+"   "+string(g.dashed)+" "+k.limit(), scale), Faint)
}

// bounds are from where to where the face may stand: + behind the straightedge.
func (k KnifeBehind) bounds() (lo, hi model.Length) {
	if k.Play > 0 {
		return 0, k.Play
	}
	return -k.Limit, k.Limit
}

func (k KnifeBehind) limit() string {
	if k.Play > 0 {
		return "the kerf leaves it " + k.show(k.Play)
	}
	return "limit " + k.show(k.Limit)
}

// Sentence says how far the knife is from the tips, and where its face stands.
func (k KnifeBehind) Sentence() string {
	text := " How far the knife is from the tooth tips is not read yet; it may be " + k.may() + "."
	switch {
	case k.Most <= 0:
		text = ""
	case k.Read:
		text = fmt.Sprintf(" The knife is %s from the tooth tips; it may be %s.", k.called(k.Gap), k.may())
	}
	if !k.Held && k.Most > 0 {
		return strings.TrimPrefix(text, " ")
	}
	if len(k.Faces) < 2 {
		return "Where the face of the knife stands to the straightedge is not felt yet." + text
	}
	side := func(f model.Length) string {
		switch {
		case !k.shown(f):
			return "at the straightedge"
		case f < 0:
			return k.size(f) + " in front of the straightedge"
		}
		return k.size(f) + " behind the straightedge"
	}
	return fmt.Sprintf("Low, the face of the knife stands %s; high, %s; %s.%s", side(k.Faces[0]), side(k.Faces[1]), strings.Replace(k.limit(), "limit", "the limit is", 1), text)
}
