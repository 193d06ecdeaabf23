package picture

import (
	"fmt"
	"strings"

	"example.com/sawdatum/model"
)

// note is one line under a picture, in several lengths.
type note struct {
	kind Kind
	ways []string
}

// writeNote writes a note into one line, in the longest of its ways that fits.
func (c *canvas) writeNote(y int, n note) { c.write(0, y, c.fit(c.w, n.ways...), n.kind) }

// notes are what the section means, the most pressing first.
func (a ArborSection) notes(p parts) []note {
	if !p.hasBlade {
		return []note{a.flangeNote(), a.ringNote(), {Faint, []string{"no blade is drawn: the dots show where one sits", "no blade drawn"}}}
	}
	var danger, plain []note
	if a.Kerf <= a.Plate {
		danger = append(danger, note{Danger, []string{"! the kerf, " + a.show(a.Kerf) + ", is not wider than the plate, " + a.show(a.Plate) + ": check the readings", "! kerf not wider than the plate"}})
	}
	knife := a.knifeNote(p)
	if knife.kind == Danger {
		danger = append(danger, knife)
	} else {
		plain = append(plain, knife)
	}
	if a.HasDatum {
		plain = append([]note{a.cutNote(p)}, plain...)
	}
	return append(append(danger, plain...), a.ringNote())
}

func (a ArborSection) flangeNote() note {
	if a.Flange == model.Near {
		return note{Plain, []string{
			"near flange: on the fence side of the blade; rings move the cut away from the fence",
			"near: flange on the fence side of the blade", "near: flange at the fence side"}}
	}
	return note{Plain, []string{
		"far flange: on the side of the blade away from the fence; rings move the cut toward the fence",
		"far: flange on the side away from the fence", "far: flange away from fence"}}
}

func (a ArborSection) cutNote(p parts) note {
	d := length(p.wide)
	by := a.size(d)
	switch {
	case a.Astray:
		return note{Danger, []string{"! these are not the rings that go on here", "! not the rings that go on"}}
	case a.shown(d) && d >= -a.Tolerance && d <= a.Tolerance:
		way := "wide"
		if d < 0 {
			way = "narrow"
		}
		return note{Good, []string{"part " + by + " " + way + ", inside the tolerance of " + a.show(a.Tolerance), "part " + by + " " + way + ", in tolerance"}}
	case !a.shown(d):
		return note{Good, []string{"cut face at the datum"}}
	case d > 0:
		return note{Danger, []string{
			"+ part " + by + " too wide: the cut face is short of the datum, away from the fence",
			"+ part " + by + " too wide: cut face short of the datum", "+ part " + by + " too wide"}}
	}
	return note{Danger, []string{
		"- part " + by + " too narrow: the cut face is past the datum, toward the fence",
		"- part " + by + " too narrow: cut face past the datum", "- part " + by + " too narrow"}}
}

func (a ArborSection) knifeNote(p parts) note {
	t, k := a.called(a.Knife), a.show(a.Kerf)
	into := p.outside.Abs()
	side := "part"
	if p.outside < 0 {
		side = "offcut"
	}
	switch {
	case !p.hasKnife:
		return note{Plain, []string{"no knife is set for this blade", "no knife"}}
	case p.knifeTooThick:
		return note{Danger, []string{
			"X the knife, " + t + ", is not thinner than the kerf, " + k + ": the stock wedges on it",
			"X knife " + t + ", kerf " + k + ": wedges", "X knife too thick: wedges"}}
	case p.loose:
		return note{Danger, []string{
			"! the knife, " + t + ", is not thicker than the plate, " + a.show(a.Plate) + ": the kerf can close on the blade",
			"! knife " + t + " is no thicker than the plate", "! knife too thin"}}
	case into > 0:
		return note{Danger, []string{
			"X the knife stands " + a.show(into) + " into the " + side + ": the stock presses on it and binds",
			"X knife " + a.show(into) + " into the " + side + ": binds", "X knife into the " + side}}
	}
	return note{Good, []string{
		"the knife, " + t + ", stands inside the kerf with " + a.show(a.Kerf-a.Knife) + " of play",
		"knife inside the kerf, play " + a.show(a.Kerf-a.Knife), "knife inside the kerf"}}
}

func (a ArborSection) ringNote() note {
	if len(a.Rings) == 0 {
		return note{Plain, []string{"no rings between flange and blade", "no rings"}}
	}
	total := a.show(model.Sum(a.Rings))
	var named []string
	for i, r := range a.Rings {
		named = append(named, fmt.Sprintf("%c: %s", ringMark(i), a.bare(r)))
	}
	return note{Ring, []string{
		"rings from the flange " + strings.Join(named, "  ") + "  = " + total,
		"rings " + join(a.Rings, a.Figures, "+") + " = " + total,
		fmt.Sprintf("%d rings = %s", len(a.Rings), total)}}
}

// Sentence says what the section shows.
func (a ArborSection) Sentence() string {
	if a.Empty {
		return "The arbor when it is bare."
	}
	p := a.parts()
	name := a.Blade
	if name == "" {
		name = "the blade"
	}
	side := "on the side of the blade away from the fence"
	if a.Flange == model.Near {
		side = "on the fence side of the blade"
	}
	if !p.hasBlade {
		toward := "toward the fence"
		if a.Flange == model.Near {
			toward = "away from the fence"
		}
		return fmt.Sprintf("The flange is %s, so rings move the cut %s; no blade is drawn.", side, toward)
	}
	rings := "without rings"
	if len(a.Rings) > 0 {
		rings = "behind one ring of " + a.show(a.Rings[0])
	}
	if len(a.Rings) > 1 {
		rings = "behind rings of " + join(a.Rings, a.Figures, ", ") + ", together " + a.show(model.Sum(a.Rings))
	}
	s := fmt.Sprintf("The flange is %s; %s sits on it %s, plate %s, kerf %s.", side, name, rings, a.show(a.Plate), a.show(a.Kerf))
	if a.HasDatum {
		s += " " + model.Sentence(strings.TrimLeft(a.cutNote(p).ways[0], "+- "))
	}
	if p.hasKnife {
		s += " " + model.Sentence(strings.TrimLeft(a.knifeNote(p).ways[0], "X! "))
	}
	return s
}
