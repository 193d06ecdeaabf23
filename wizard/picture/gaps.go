package picture

import (
	"fmt"
	"math"

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
