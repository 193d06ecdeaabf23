package procedure

import (
	"slices"

	"example.com/sawdatum/model"
)

const rowKey = "ring " // before the id: the key of a ring's row

// kitFields are a row for each ring of the kit, and what is new in it.
func (c context) kitFields() []Field {
	var rows []Field
	for _, r := range c.profile.Rings {
		rows = append(rows, Field{Key: rowKey + r.ID, Label: "Ring " + r.Label(), Hint: "thickness, measured, outer, how many left; - for not known", Kind: FieldRing, Unit: c.unit(), Value: r.Row()})
	}
	known := len(rows) > 0
	kit := Field{Key: "kit", Label: "Rings", Hint: "such as " + c.example("0.10x2 0.25 0.50", "0.004x2 0.010 0.020"), Kind: FieldKit, Unit: c.unit(), Optional: known}
	measured := Field{Key: "measured", Label: "Measured (may stay empty)", Hint: "one a sort, in the same order", Kind: FieldLengths, Unit: c.unit(), Optional: true, Min: mm / 100, Max: 11 * mm}
	outer := c.lengthField("outer", "Outer diameter of the rings", c.example("78", "3"), model.Measure{}, 10*mm, 300*mm)
	if known {
		kit.Label, measured.Label, outer.Label = "New rings (may stay empty)", "They measure (may stay empty)", "Their outer diameter"
		outer.Optional = true
	}
	return append(rows, kit, measured, outer)
}

func acceptRings(t *taking) {
	rings := t.rows()
	bought, _ := model.ParseKit(t.text("kit"), t.field("kit").Unit)
	measured, outer := t.lengths("measured"), t.lengthOrNone("outer")
	if len(measured) > 0 && len(measured) != len(bought) {
		t.fault("measured", "%d measured for %d sorts of ring: type one a sort, or none at all", len(measured), len(bought))
		return
	}
	if len(bought) > 0 && outer.Unit == model.NoUnit {
		t.fault("outer", "nothing typed: a ring has to reach over the relief of the flange; type its outer diameter")
	}
	for i, r := range bought {
		r.Outer = outer
		if len(measured) > 0 {
			r.Measured = measured[i]
			t.questionRing("measured", r)
		}
		if slices.ContainsFunc(rings, func(old model.Ring) bool { return old.Thickness.Length == r.Thickness.Length }) {
			t.fault("kit", "%s has a row above: type there how many there are", r.Thickness)
		}
		rings = append(rings, r)
	}
	pieces := 0
	for i := range rings {
		pieces += rings[i].Count
	}
	if pieces > model.MaxRingKit {
		t.fault("kit", "%d rings are more than a stack is searched among: at most %d", pieces, model.MaxRingKit)
	}
	if !slices.Equal(rings, t.profile.Rings) {
		t.head(func(p *model.Profile) { p.Rings = rings })
	}
}

// rows are the rings of the kit as their rows now tell. What is left as it stood stays as
// it is on file. A ring of which none is left goes, unless records name it: it then stays
// on the list. One behind the reference cannot go.
func (t *taking) rows() (rings []model.Ring) {
	for _, old := range t.profile.Rings {
		key, r := rowKey+old.ID, old
		has := func(ids []string) bool { return slices.Contains(ids, old.ID) }
		named := has(t.profile.Standing) || slices.ContainsFunc(t.profile.Records, func(r model.Record) bool { return has(r.Rings) })
		if text := t.text(key); text != old.Row() {
			r, _ = model.ParseRing(text, t.field(key).Unit)
			r.ID, r.HalfWidth = old.ID, old.HalfWidth
			t.questionRing(key, r)
		}
		switch {
		case r.Thickness.Length != old.Thickness.Length && named:
			t.fault(key, "records name the ring of %s: leave its thickness, and type the other ring as a new one", old.Thickness)
		case r.Thickness.Length != old.Thickness.Length && slices.ContainsFunc(t.profile.Rings, func(other model.Ring) bool { return other.Thickness.Length == r.Thickness.Length }):
			t.fault(key, "%s has a row of its own: type there how many there are", r.Thickness)
		case r.Thickness.Length != old.Thickness.Length:
			r.ID = t.freeRing(model.RingID(r.Thickness))
		case r.Count == 0 && has(t.profile.Standing):
			t.fault(key, "the ring of %s stands behind the reference blade: leave it in", old.Thickness)
		}
		if r.Count > 0 || named {
			rings = append(rings, r)
		}
	}
	return rings
}

// freeRing is an id that no ring has yet.
func (t *taking) freeRing(id string) string {
	for {
		if _, taken := t.profile.RingByID(id); !taken {
			return id
		}
		id += "b"
	}
}

// questionRing asks again where a ring measures far from its thickness.
func (t *taking) questionRing(field string, r model.Ring) {
	if off := (r.Height() - r.Thickness.Length).Abs(); off > min(r.Thickness.Length/2, mm/10) {
		t.question(field, "%s measured for a ring of %s", r.Measured, r.Thickness)
	}
}
