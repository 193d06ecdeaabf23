package picture

import (
	"math"
	"strings"

	"example.com/sawdatum/model"
)

// Alignment is one tooth of the blade, seen from above, at the front of the opening and
// turned to its rear: how far it stands from the mitre slot and from the fence.
type Alignment struct {
	Figures
	FenceSide model.Side
	Slot      Ends
	Fence     Ends
}

// Ends are the readings of one tooth at the front and at the rear, as far as they were
// taken; or 0 at the front, where a dial was zeroed there, and what it shows at the rear.
type Ends struct {
	Front, Rear         model.Length
	FrontRead, RearRead bool
}

// rise is how much farther away the tooth lies at the rear; false while that is not known.
func (e Ends) rise() (model.Length, bool) { return e.Rear - e.Front, e.FrontRead && e.RearRead }

// rearText is the reading at the rear, with its sign where a dial shows it.
func (a Alignment) rearText(e Ends) string {
	if e.Front == 0 {
		return unitless(a.signed(e.Rear))
	}
	return a.bare(e.Rear)
}

// leastLean is the length of a column where blade and fence hardly lean, so that a
// reading's last digit does not look like a fault.
const leastLean = model.Millimetre / 50

// Draw shows the slot upright, the rear at the top, and how blade and fence lean against
// it; sideways stretched.
func (a Alignment) Draw(w, h int, look Look) string {
	return draw(w, h, look, a.paint)
}

func (a Alignment) paint(c *canvas) {
	g := c.glyphs()
	const gutter = 7
	notes := a.notes()[:1] // how the blade lies is said once its way is typed
	rows := c.h - 2 - len(notes)
	lean, known := a.Slot.rise()
	opens, both := a.Fence.rise()
	if !known {
		lean = 0
	}
	if !both {
		opens = 0
	}
	room := float64(c.w - gutter)
	slot, blade, fence := gutter+room*0.06, gutter+room*0.4, gutter+room*0.82
	most := max(math.Abs(nm(lean)), math.Abs(nm(lean)+nm(opens)), nm(leastLean)*room*0.13)
	step := niceStep(most, int(room*0.13), a.Unit)
	at := func(x float64) float64 {
		if a.FenceSide == model.SideLeft {
			return gutter + float64(c.w) - x
		}
		return x
	}
	name := func(x float64, y int, text string, k Kind) { c.write(int(at(x))-c.width(text)/2, y, text, k) }
	name(slot, 0, "slot", Faint)
	name(blade, 0, "blade", Faint)
	name(fence, 0, "fence", Faint)
	for i := range rows {
		part := 1 - float64(i)/float64(max(rows-1, 1)) // of the way to the rear
		c.put(c.floor(at(slot)), 1+i, g.vertical, Flange)
		a.stand(c, at(blade+part*nm(lean)/step), 1+i, known, Plate)
		kind := Stock
		if both && a.closes() {
			kind = Danger
		}
		leans := 0.0 // upright until it is known
		if known && both {
			leans = part * (nm(lean) + nm(opens)) / step
		}
		a.stand(c, at(fence+leans), 1+i, known && both, kind)
	}
	c.write(0, 1, "rear", Plain)
	c.write(0, rows, "front", Plain)
	for _, e := range []struct {
		x float64
		Ends
	}{{(slot + blade) / 2, a.Slot}, {(blade + fence) / 2, a.Fence}} {
		if e.RearRead {
			name(e.x, 1, a.rearText(e.Ends), Plain)
		}
		if e.FrontRead {
			name(e.x, rows, a.bare(e.Front), Plain)
		}
	}
	for i, n := range notes {
		c.writeNote(c.h-1-len(notes)+i, n)
	}
	text := scaleText(step, a.Unit)
	c.write(0, c.h-1, c.fit(c.w, "1 column = "+text+" of lean", "1 column = "+text), Faint)
}

// stand is one line of something that leans; dashed while its rear is not read.
func (a Alignment) stand(c *canvas, x float64, y int, known bool, k Kind) {
	if !known {
		c.put(c.floor(x), y, c.glyphs().dashed, Faint)
		return
	}
	c.mark(x, y, k)
}

func (a Alignment) closes() bool {
	opens, ok := a.Fence.rise()
	return ok && opens < 0 && a.shown(opens)
}

func (a Alignment) notes() []note {
	return []note{a.fenceNote(), a.bladeNote()}
}

func (a Alignment) fenceNote() note {
	opens, ok := a.Fence.rise()
	by := a.size(opens)
	switch {
	case !ok:
		return note{Faint, []string{"fence: not read yet"}}
	case !a.shown(opens):
		return note{Good, []string{"fence and blade are parallel", "fence parallel"}}
	case opens < 0:
		return note{Danger, []string{"! the fence closes toward the rear by " + by + ": it throws the stock back", "! fence closes by " + by}}
	}
	return note{Plain, []string{"the fence opens toward the rear by " + by, "fence opens by " + by}}
}

func (a Alignment) bladeNote() note {
	lean, ok := a.Slot.rise()
	by := a.size(lean)
	switch {
	case !ok:
		return note{Faint, []string{"the blade shows when both its readings are typed", "blade: not read yet"}}
	case !a.shown(lean):
		return note{Good, []string{"blade and mitre slot are parallel", "blade parallel"}}
	case lean < 0:
		return note{Plain, []string{"the rear of the blade lies " + by + " nearer to the slot than its front", "blade rear " + by + " nearer to the slot"}}
	}
	return note{Plain, []string{"the rear of the blade lies " + by + " farther from the slot than its front", "blade rear " + by + " off the slot"}}
}

// Sentence says how blade and fence lean.
func (a Alignment) Sentence() string {
	var out []string
	for _, n := range a.notes() {
		out = append(out, model.Sentence(strings.TrimLeft(n.ways[0], "! ")))
	}
	return strings.Join(out, " ")
}

// Front is the saw as seen from where one works: the table, and the blade as it is tilted with the
// fence beside it, or upright with a square at its plate and a block to its top tooth.
type Front struct {
	Figures
	Tilt      model.Tilt // the blade leans so; empty: it stands upright
	FenceSide model.Side // empty: not told yet
	Held      bool       // a square and a block are held against the blade
	Block     model.Length
}

// Draw shows the fence at its side, and nothing to scale.
func (f Front) Draw(w, h int, look Look) string { return draw(w, h, look, f.paint) }

func (f Front) paint(c *canvas) {
	g := c.glyphs()
	table, mid := c.h-2, c.w/2
	tall := table - 1
	side := 1 // of the fence
	if f.FenceSide == model.SideLeft {
		side = -1
	}
	thick := max(2, tall/6)
	lean := map[model.Tilt]float64{model.TiltLeft: -1, model.TiltRight: 1}[f.Tilt] * min(2, float64(c.w)/4/float64(tall))
	upright := func(x, rows int, r rune, wide int, k Kind) {
		for y := table - rows; y < table; y++ {
			for i := range wide {
				c.put(x+i, y, r, k)
			}
		}
	}
	for i := range tall {
		from := float64(mid) + lean*float64(i)
		c.fill(table-1-i, from, from+float64(thick), g.full, Plate)
	}
	named := func(x, y int, text string) { c.write(x-c.width(text)/2, y, text, Faint) }
	if !f.Held {
		named(mid+int(lean*float64(tall))+1, table-tall-1, "blade")
	}
	for x := range c.w {
		c.put(x, table, g.horizontal, Flange)
	}
	if f.FenceSide != "" && !f.Held {
		x := mid + side*c.w*2/5
		upright(x, max(1, tall*2/3), g.stock, 3, Stock)
		named(x+1, table-max(1, tall*2/3)-1, "fence")
	}
	if f.Held {
		foot, edge := mid-side*max(8, c.w/8), mid-1
		if side < 0 {
			edge = mid + thick
		}
		upright(edge, tall, g.vertical, 1, Datum)
		for x := min(foot, edge); x <= max(foot, edge); x++ {
			if x != edge {
				c.put(x, table-1, g.low, Datum)
			}
		}
		named(foot, table-tall-1, "square")
		long := max(8, c.w/8)
		block := mid + thick + 4
		if side < 0 {
			block = mid - 4 - long
		}
		upright(block, tall, g.stock, long, Knife)
		text := "block"
		if f.Block > 0 {
			text += " " + f.Block.Tape(f.Unit)
		}
		named(block+long/2, table-tall-1, text)
	}
	c.write(0, c.h-1, c.fit(c.w, "seen from the front; not to scale", "not to scale"), Faint)
}

// Sentence says how the blade stands, and what it is held against.
func (f Front) Sentence() string {
	if f.Held {
		block := "a block"
		if f.Block > 0 {
			block += " of " + f.Block.Tape(f.Unit)
		}
		return "The blade stands upright, a square lies along its plate, and " + block + " is level with its top tooth."
	}
	stands := "The blade stands upright"
	if f.Tilt != "" {
		stands = "Seen from the front the top of the blade leans to the " + string(f.Tilt)
	}
	if f.FenceSide != "" {
		stands += ", the fence to its " + string(f.FenceSide)
	}
	return stands + "."
}
