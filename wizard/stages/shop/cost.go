package shop

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
)

// Strips that are wanted: of the reference under one lock, of each blade, and of the fence
// scale, one at another width and one at the working width.
const (
	DatumStrips = 3
	BladeStrips = 2
	ScaleStrips = 2
)

// cost is what it takes to bring blades in again: strips that are ripped at the least, how
// often a blade goes on for them, and how many blades are compared again.
type cost struct{ strips, swaps, blades int }

func (k cost) String() string {
	return fmt.Sprintf("%s, %s, %s again", some(k.strips, "strip"), some(k.swaps, "swap"), some(k.blades, "blade"))
}

func some(n int, what string) string {
	switch n {
	case 0:
		return "no " + what
	case 1:
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// comparingCost is that of comparing so many blades under a new lock: the reference's strips
// and theirs, and where there are two or more the closing strip, with the reference on again.
func comparingCost(c context, blades int) cost {
	out := cost{DatumStrips + BladeStrips*blades, blades, blades}
	if c.State.On.Blade != c.Profile.Reference {
		out.swaps++
	}
	if blades > 1 {
		out.strips, out.swaps = out.strips+1, out.swaps+1
	}
	return out
}

// staysCost is that of a sharpened reference whose datum a stand-in carries, and movesCost that
// of the datum that moves to it; the gauge board comes besides.
func staysCost(c context) cost {
	out := cost{DatumStrips + BladeStrips, 1, 0}
	if !slices.Contains(StandIns(c), c.State.On.Blade) {
		out.swaps++
	}
	return out
}

func movesCost(c context) cost {
	n := 0
	for _, b := range c.Plan.Blades {
		if b.ID != c.Profile.Reference && b.Knife == model.KnifeFits {
			n++
		}
	}
	out := comparingCost(c, n)
	out.strips += ScaleStrips
	return out
}

// referenceWays are the two ways out of a sharpened reference, with what each costs.
func referenceWays(c context) []string {
	stays := "The datum stays: not now, no other blade is ready to carry it."
	if ids := StandIns(c); len(ids) > 0 {
		by := ids[0]
		if slices.Contains(ids, c.State.On.Blade) {
			by = c.State.On.Blade
		}
		stays = fmt.Sprintf("stays: the %s carries it: %s.", c.Name(by), staysCost(c))
	}
	return []string{stays, fmt.Sprintf("moves: gauge board, knife, scale: %s.", movesCost(c))}
}

// withoutRing says what it does to the rack that so many rings of a sort are gone, and both
// ways out, before anything is cut.
func withoutRing(c context, id string, n int) []reason {
	ring, _ := c.Profile.RingByID(id)
	after := c.WithHead(func(p *model.Profile) {
		p.Rings = slices.Clone(p.Rings)
		for i := range p.Rings {
			if p.Rings[i].ID == id {
				p.Rings[i].Count -= n
			}
		}
	})
	var hit, other []string
	for _, b := range c.Plan.Blades {
		row, _ := after.Plan.Row(b.ID)
		if !b.Usable() || row.Usable() {
			continue
		}
		hit = append(hit, "the "+c.Name(b.ID))
		if row.Verdict != model.Cannot {
			other = append(other, fmt.Sprintf("the %s with %s", c.Name(b.ID), c.Rings(row.Stack)))
		}
	}
	if len(hit) == 0 {
		return []reason{{Code: "ring-missed", Weight: model.Explains, Text: "no blade that may be used needs it: no strip, no swap"}}
	}
	text := fmt.Sprintf("%s stays in its box until a ring of %s is bought: no strip, no swap; ", strings.Join(hit, ", "), ring.Label())
	if len(other) == 0 {
		text += "no other rings of the kit bring it in"
	} else {
		text += fmt.Sprintf("or other rings now, %s: %s", strings.Join(other, ", "), comparingCost(c, len(other)))
	}
	return []reason{{Code: "ring-missed", Weight: model.Warns, Text: text}}
}
