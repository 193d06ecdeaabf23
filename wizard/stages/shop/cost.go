package shop

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
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
	out, by := cost{DatumStrips + BladeStrips, 1, 0}, StandIn(c)
	if by != c.State.On.Blade {
		out.swaps++
	}
	if by != "" && knifeNamedBy(c, by) != knifeNamedBy(c, c.Profile.Reference) {
		out.swaps++ // a blade that is in, for the check of the knife
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
	if by := StandIn(c); by != "" {
		stays = fmt.Sprintf("stays: the %s carries it: %s.", c.Name(by), staysCost(c))
	}
	return []string{stays, fmt.Sprintf("moves: gauge board, knife, scale: %s.", movesCost(c))}
}

// ringLess is the moment as it would be without so many rings of a sort.
func ringLess(c context, id string, n int) context {
	return c.WithHead(func(p *model.Profile) {
		p.Rings = slices.Clone(p.Rings)
		for i := range p.Rings {
			if p.Rings[i].ID == id {
				p.Rings[i].Count -= n
			}
		}
	})
}

// missing are the blades that may not be used any more without so many rings of a sort, and those
// of them that other rings of the kit could bring in.
func missing(c context, id string, n int) (hit, others []string) {
	after := ringLess(c, id, n)
	for _, b := range c.Plan.Blades {
		row, _ := after.Plan.Row(b.ID)
		if !b.Usable() || row.Usable() {
			continue
		}
		hit = append(hit, b.ID)
		if row.Verdict != model.Cannot {
			others = append(others, b.ID)
		}
	}
	return hit, others
}

// withoutRing says what it does to the rack that so many rings of a sort are gone, and both
// ways out, before anything is cut.
func withoutRing(c context, id string, n int) []reason {
	ring, _ := c.Profile.RingByID(id)
	hit, others := missing(c, id, n)
	if len(hit) == 0 {
		return []reason{{Code: "ring-missed", Weight: model.Explains, Text: "no blade that may be used needs it: no strip, no swap"}}
	}
	text := fmt.Sprintf("the %s stays in its box until a ring of %s is bought: no strip, no swap; ", strings.Join(named(c, hit), ", the "), ring.Label())
	if len(others) == 0 {
		text += "no other rings of the kit bring it in"
	} else {
		after := ringLess(c, id, n)
		var with []string
		for _, blade := range others {
			row, _ := after.Plan.Row(blade)
			with = append(with, fmt.Sprintf("the %s with %s", c.Name(blade), c.Rings(row.Stack)))
		}
		text += fmt.Sprintf("or other rings, %s: %s; next you say which", strings.Join(with, ", "), comparingCost(c, len(others)))
	}
	return []reason{{Code: "ring-missed", Weight: model.Warns, Text: text}}
}

// knifeLess is the moment as it would be without a knife.
func knifeLess(c context, knife string) context {
	return c.With(record{Kind: model.KnifeGone, Knife: knife, Text: "lost"})
}

// runningWith are the blades that run with a knife, and fit it.
func runningWith(c context, knife string) (ids []string) {
	for _, b := range c.Profile.Rack() {
		if row, _ := c.Plan.Row(b.ID); b.Knife == knife && row.Knife == model.KnifeFits {
			ids = append(ids, b.ID)
		}
	}
	return ids
}

// withoutKnife says how many blades stay in their boxes without a knife, and what they wait for.
func withoutKnife(c context, knife string) []reason {
	hit := runningWith(c, knife)
	if len(hit) == 0 {
		return []reason{{Code: "knife-missed", Weight: model.Explains, Text: "no blade runs with it: no strip, no swap"}}
	}
	return []reason{{Code: "knife-missed", Weight: model.Warns, Text: "NOT READY without it: " + few(c, hit)}}
}

// withoutKnifeOrders say what goes with a knife, and the ways back with their cost.
func withoutKnifeOrders(c context) []string {
	hit := runningWith(c, c.Blade)
	if len(hit) == 0 {
		return []string{"No blade runs with it: nothing else changes.", "It stays in the file, and may be taken back."}
	}
	out := []string{fmt.Sprintf("%s below must not run without it.", some(len(hit), "blade"))}
	if slices.Contains(hit, c.Profile.Reference) {
		by := "nothing is compared or proved until then"
		if id := StandIn(knifeLess(c, c.Blade)); id != "" {
			by = fmt.Sprintf("the %s carries the datum until then", c.Name(id))
		}
		out = append(out, fmt.Sprintf("The reference is among them: %s.", by))
	}
	if blades, other := otherKnife(c, c.Blade); len(blades) > 0 {
		return append(out,
			fmt.Sprintf("now: the knife of %s behind %s: %s.", c.Profile.KnifeName(other.ID), few(c, blades), takingUp(c, blades, c.State.Knives[other.ID].Set == nil)),
			"later: found, or one as thick: the knife check; no strip.")
	}
	return append(out,
		"Found, or another as thick: the knife check; no strip, no swap.",
		"Another thickness: gauge board and knife; no blade is compared again.")
}

// otherKnife is another knife of this saw that fits blades which run with a knife, and those blades; of
// several the one that fits most.
func otherKnife(c context, gone string) (blades []string, other model.Knife) {
	for _, k := range c.Knives() {
		var fits []string
		for _, id := range runningWith(c, gone) {
			if k.ID != gone && fitsBlade(c, k.Thickness.Length, id) {
				fits = append(fits, id)
			}
		}
		if len(fits) > len(blades) {
			blades, other = fits, k
		}
	}
	return blades, other
}

// movedBlades lists the blades that stand otherwise after something than before, those that
// fall out first.
func movedBlades(was, is context) procedure.Picture {
	t := picture.Table{What: "blade", Note: "the other blades stay as they are", Columns: []picture.Column{{Head: "blade"}, {Head: "now"}, {Head: "then"}, {Head: "rings then"}}}
	for _, b := range is.Plan.Blades {
		old, _ := was.Plan.Row(b.ID)
		fits := old.Knife == model.KnifeFits || b.Knife == model.KnifeFits
		if old.State == b.State && (old.Knife == b.Knife || !fits) && slices.Equal(old.Stack, b.Stack) {
			continue
		}
		rings := is.Rings(b.Stack)
		if b.Verdict == model.Cannot || b.Knife != model.KnifeFits {
			rings = "-"
		}
		t.Rows = append(t.Rows, picture.TableRow{Cells: []string{is.Name(b.ID), stateWord(old), stateWord(b), rings}, Fails: old.Usable() && !b.Usable(), Whole: b.Usable()})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

// stateWord is how a blade stands, as screens and papers say it.
func stateWord(b model.BladeRow) string {
	return strings.ToUpper(strings.ReplaceAll(string(b.State), "-", " "))
}

// withKnifeCost says what another knife behind a blade takes, and what it takes to leave it.
func withKnifeCost(c context, blade string) string {
	return fmt.Sprintf("behind the %s: %s; or later: it stays not ready", c.Name(blade), takingUp(c, []string{blade}, true))
}

// brought are the blades that a ring more in the kit lets be used again, and those that it could
// bring in for the first time.
func brought(c, after context) (again, first []string) {
	for _, b := range after.Plan.Blades {
		was, _ := c.Plan.Row(b.ID)
		_, before := bringsIn(was)
		switch _, can := bringsIn(b); {
		case b.Usable() && !was.Usable():
			again = append(again, b.ID)
		case can && !before:
			first = append(first, b.ID)
		}
	}
	return again, first
}

// withRing says which blades a ring more in the kit could bring in, and what that takes.
func withRing(c context, a answers) []reason {
	after, ok := ringMore(c, a)
	if !ok {
		return nil
	}
	again, first := brought(c, after)
	say := func(code, format string, a ...any) []reason {
		return []reason{{Code: code, Weight: model.Explains, Text: fmt.Sprintf(format, a...)}}
	}
	var out []reason
	if len(again) > 0 {
		out = say("ring-again", "the %s may be used again with it: no strip, no swap", strings.Join(named(c, again), ", the "))
	}
	if len(first) > 0 {
		var with []string
		for _, id := range first {
			row, _ := after.Plan.Row(id)
			rings, _ := bringsIn(row)
			with = append(with, fmt.Sprintf("the %s with %s", c.Name(id), after.Rings(rings)))
		}
		out = append(out, say("ring-brings", "it could bring in %s: %s; or later: no strip, no swap", strings.Join(with, ", "), comparingCost(c, len(first)))...)
	}
	if out == nil {
		return say("ring-moves-none", "no blade waits for it: what was proved stays, no strip, no swap")
	}
	return out
}

// bringsIn are the rings that bring a blade in, or have, as far as anybody knows; false where none
// do, or it has no knife.
func bringsIn(b model.BladeRow) (rings []string, can bool) {
	if b.Verdict != model.Out {
		return b.Stack, b.Knife == model.KnifeFits && b.Verdict != model.Cannot
	}
	for _, w := range b.Ways {
		if w.Kind == model.WayStack {
			return w.Stack, b.Knife == model.KnifeFits
		}
	}
	return nil, false
}

// ringMore is the moment as it would be with the ring that is typed.
func ringMore(c context, a answers) (context, bool) {
	r, err := oneRing(c, a["add"])
	outer, known := form.Parse(c, a["outer"])
	if err != nil || !known {
		return c, false
	}
	r.Outer = outer.Of(c.Unit())
	if m, ok := form.Parse(c, a["measured"]); ok {
		r.Measured = m.Of(c.Unit())
	}
	return c.WithHead(func(p *model.Profile) { p.Rings = ringsWith(c, r) }), true
}

// ringMoves are the blades that a ring more moves; where there are none, the ring on the arbor.
func ringMoves(c context, a answers) procedure.Picture {
	if after, ok := ringMore(c, a); ok {
		if moved := movedBlades(c, after); moved != nil {
			return moved
		}
	}
	return ringPicture(c, a)
}
