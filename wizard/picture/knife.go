package picture

import (
	"fmt"
	"math"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// KnifeWindow shows for every blade the thicknesses that a knife may have, and the
// knife that the blade names. The window is plate + margin <= knife < kerf.
type KnifeWindow struct {
	Figures
	Margin model.Length
	Blades []KnifeBlade
}

// KnifeBlade is a blade's row.
type KnifeBlade struct {
	ID, Label   string
	Plate, Kerf model.Length // zero: not read yet
	Knife       model.Length // zero: names none
	Fit         model.KnifeFit
}

func (b KnifeBlade) name() string {
	if b.Label != "" {
		return b.Label
	}
	return b.ID
}

func (b KnifeBlade) known() bool { return b.Plate > 0 && b.Kerf > 0 }

// Draw gives one bar a blade, from plate and margin to kerf, and the knife as a mark
// in it or beside it.
func (k KnifeWindow) Draw(w, h int, look Look) string {
	return draw(w, h, look, k.paint)
}

func (k KnifeWindow) paint(c *canvas) {
	names, ends := 10, 10
	switch {
	case c.w >= 70:
		names, ends = min(max(k.longest(c)+2, 12), c.w/3), 26
	case c.w >= 50:
		names, ends = min(max(k.longest(c)+2, 10), c.w*3/8), 15
	}
	x := k.axis(c, names, c.w-ends)
	k.ruler(c, x)
	rows := c.h - 2
	legend := rows > 6 || rows > len(k.Blades) && len(k.Blades) > 0
	if legend {
		rows--
	}
	n := len(k.Blades)
	left := 0
	if n > rows {
		n = rows - 1
		left = len(k.Blades) - n
	}
	pitch := 1
	if n > 0 {
		pitch = max(1, min(9, (rows-boolInt(left > 0))/n))
	}
	for i, b := range k.Blades[:n] {
		k.row(c, x, 1+i*pitch, pitch, names, b)
	}
	if left > 0 {
		c.write(0, 1+n*pitch, c.fit(c.w, fmt.Sprintf("and %d more blades that have no room here", left), fmt.Sprintf("and %d more blades", left)), Faint)
	}
	if len(k.Blades) == 0 {
		c.write(0, 1, "no blades yet", Plain)
	}
	g := c.glyphs()
	if legend {
		c.write(0, c.h-2, c.fit(c.w,
			string(g.full)+" what a knife may measure: plate + "+k.show(k.Margin)+" up to less than the kerf   K the knife",
			string(g.full)+" plate + "+k.show(k.Margin)+" to kerf   K the knife",
			string(g.full)+" may be   K knife"), Faint)
	}
	c.write(0, c.h-1, c.fit(c.w, "1 column = "+scaleText(x.step, k.Unit)+" of thickness", "1 column = "+scaleText(x.step, k.Unit)), Faint)
}

func (k KnifeWindow) longest(c *canvas) int {
	n := 0
	for _, b := range k.Blades {
		n = max(n, c.width(b.name()))
	}
	return n
}

// axis covers plates, kerfs and knives. A knife far from every blade is left to an
// arrow.
func (k KnifeWindow) axis(c *canvas, x0, x1 int) axis {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, b := range k.Blades {
		if b.known() {
			lo, hi = min(lo, nm(b.Plate)), max(hi, nm(b.Kerf))
		}
	}
	if lo > hi {
		lo, hi = nm(model.Millimetre), 4*nm(model.Millimetre)
	}
	reach := max(hi-lo, nm(model.Millimetre)/2)
	fitLo, fitHi := lo, hi
	for _, b := range k.Blades {
		if t := nm(b.Knife); b.Knife > 0 && t > lo-reach && t < hi+reach {
			fitLo, fitHi = min(fitLo, t), max(fitHi, t)
		}
	}
	return newAxis(fitLo, max(fitHi, fitLo+reach/4), fitLo, x0, x1, 1, 1, k.Unit)
}

// ruler writes a few thicknesses above the bars.
func (k KnifeWindow) ruler(c *canvas, x axis) {
	step := niceStep(10*x.step, 1, k.Unit)
	end := 0
	for l := math.Ceil((x.anchor-(x.column-float64(x.x0))*x.step)/step) * step; x.at(l) <= float64(x.x1); l += step {
		text := k.show(length(l))
		from := int(x.at(l)) - c.width(text)/2
		if from < end || from+c.width(text) > c.w {
			continue
		}
		c.write(from, 0, text, Faint)
		end = from + c.width(text) + 2
	}
}

// row is a blade's bar, its knife under it where there are two lines or more.
func (k KnifeWindow) row(c *canvas, x axis, y, lines, names int, b KnifeBlade) {
	c.write(0, y, " "+c.fit(names-2, b.name()), Plain)
	end := x.x1 + 1
	room := c.w - end
	if !b.known() {
		c.write(end, y, c.fit(room, "not measured", "not read"), Faint)
		return
	}
	lo, hi := nm(b.Plate)+nm(k.Margin), nm(b.Kerf)
	knifeAt, thick := y, 1
	if lines > 1 {
		thick = max(1, (lines-1)/2)
		knifeAt += thick
	}
	if lo < hi {
		for i := range thick {
			c.bar(y+i, x.at(lo), x.at(hi), Plate)
		}
	} else {
		c.write(c.floor(x.at(hi)), y, c.fit(x.x1-c.floor(x.at(hi)), "no knife fits", "none"), Danger)
	}
	v := k.verdict(b)
	c.write(end, y, c.fit(room, v.ways...), v.kind)
	if b.Knife <= 0 {
		return
	}
	g := c.glyphs()
	switch x.off(nm(b.Knife)) {
	case -1:
		c.write(x.x0, knifeAt, string(g.left)+"K "+b.Knife.Size(k.Unit, k.Resolution), v.kind)
	case 1:
		c.writeRight(x.x1, knifeAt, "K "+b.Knife.Size(k.Unit, k.Resolution)+string(g.right), v.kind)
	default:
		col := min(c.floor(x.at(nm(b.Knife))), x.x1-1)
		c.put(col, knifeAt, 'K', Knife)
		if text := b.Knife.Size(k.Unit, k.Resolution); lines > 1 && col+2+c.width(text) <= x.x1 {
			c.write(col+2, knifeAt, text, Knife)
		}
	}
}

// least is the thinnest knife that a blade takes, rounded up: nobody buys one too thin by it.
func (k KnifeWindow) least(b KnifeBlade) string {
	return k.show(metrology.Words{Unit: k.Unit, Resolution: k.Resolution}.Up(length(nm(b.Plate) + nm(k.Margin))))
}

func (k KnifeWindow) verdict(b KnifeBlade) note {
	switch b.Fit {
	case model.KnifeFits:
		play := k.show(length(nm(b.Kerf) - nm(b.Knife)))
		return note{Good, []string{"FITS, play " + play, "FITS"}}
	case model.KnifeTooThick:
		return note{Danger, []string{"TOO THICK: kerf " + k.show(b.Kerf), "TOO THICK"}}
	case model.KnifeTooThin:
		return note{Danger, []string{"TOO THIN: want " + k.least(b), "TOO THIN"}}
	}
	if b.Fit == model.KnifeMissing {
		return note{Danger, []string{"KNIFE GONE", "GONE"}}
	}
	return note{Danger, []string{"NO KNIFE"}}
}

// Sentence says for every blade whether its knife fits.
func (k KnifeWindow) Sentence() string {
	if len(k.Blades) == 0 {
		return "There are no blades in the rack yet."
	}
	var parts []string
	for _, b := range k.Blades {
		window := fmt.Sprintf("takes a knife from %s to less than %s", k.least(b), k.show(b.Kerf))
		switch {
		case !b.known():
			parts = append(parts, b.name()+" is not measured yet")
		case b.Fit == model.KnifeFits:
			parts = append(parts, fmt.Sprintf("%s %s, and its knife of %s fits", b.name(), window, b.Knife.Size(k.Unit, k.Resolution)))
		case b.Fit == model.KnifeTooThick:
			parts = append(parts, fmt.Sprintf("%s %s, and its knife of %s is too thick", b.name(), window, b.Knife.Size(k.Unit, k.Resolution)))
		case b.Fit == model.KnifeTooThin:
			parts = append(parts, fmt.Sprintf("%s %s, and its knife of %s is too thin", b.name(), window, b.Knife.Size(k.Unit, k.Resolution)))
		case b.Fit == model.KnifeMissing:
			parts = append(parts, fmt.Sprintf("%s %s, and its knife of %s is gone", b.name(), window, b.Knife.Size(k.Unit, k.Resolution)))
		default:
			parts = append(parts, fmt.Sprintf("%s %s, and names none", b.name(), window))
		}
	}
	return model.Sentence(strings.Join(parts, "; "))
}
