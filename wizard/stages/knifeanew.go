package stages

import (
	"cmp"
	"fmt"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/shop"
)

// squareFor is the blade to whose cut a knife is to be squared, where that is not the
// reference.
func squareFor(knife string) procedure.Fact {
	return procedure.Fact{Name: "squared to another " + knife, Lasts: true}
}

// squaredTo is the blade to whose cut a knife is squared.
func squaredTo(c context, knife string) string {
	return cmp.Or(c.Fact(squareFor(knife)), c.Profile.Reference)
}

// setAnew drops what is known of where the knife of a blade stands: a gauge board ripped by
// that blade comes next, and the knife is squared to it.
func setAnew(t *taking, blade string) {
	b, _ := t.Profile.BladeByID(blade)
	if blade == t.Profile.Reference {
		blade = ""
	}
	t.Keep(squareFor(b.Knife), blade)
	if set := t.State.Knives[b.Knife].Set; set != nil {
		t.Record(record{Kind: model.Void, Of: set.Ref(), Why: model.Again})
	}
	t.Does(interlock.KnifeAnew())
}

// squarable are the blades to whose cut a knife can be squared: strips tell where they cut,
// and a knife fits them.
func squarable(c context) (ids []string) {
	for _, row := range c.Plan.Blades {
		if row.Basis == model.Measured && row.Knife == model.KnifeFits {
			ids = append(ids, row.ID)
		}
	}
	return ids
}

// knifeAnewRow squares a knife to the cut of another blade than the reference.
var knifeAnewRow = row{
	Name: "knife-anew", Stage: 7, Title: form.Said("Square a knife to the cut of another blade"),
	When: func(c context) bool {
		return c.Who != "" && c.Options.Mode <= procedure.OneBlade && c.Profile.Reference != "" && len(squarable(c)) > 0
	},
	Act: procedure.Paper{
		Says:   form.Lines("Its knife is squared to a gauge board that this blade rips.", "What every other blade with that knife cuts is reckoned from there.", "Below stands which of them fall outside then, and must not run."),
		Accept: func(t *taking) { setAnew(t, t.Choice("blade")) },
	},
	Why: form.Lines("A cut that leaves the knife outside its kerf is never ripped: other rings, another knife, or this."),
	Fields: func(c context) []field {
		return []field{shop.OneBlade(c, "blade", "Which blade", squarable(c)), form.Word("anew", "Its knife is set anew", "anew")}
	},
	Follows: func(c context, a answers) (out []reason) {
		blade, err := shop.OneBlade(c, "", "", squarable(c)).Choice(a["blade"])
		if err != nil {
			return nil
		}
		b, _ := c.Profile.BladeByID(blade)
		gap := model.MostFeelerGap.Of(c.Unit())
		after := c.With(record{Kind: model.KnifeSet, Knife: b.Knife, Lock: c.State.Lock, Blade: blade, Rings: stackOf(c, blade), Gaps: []model.Measure{gap, gap, gap, gap}})
		for _, row := range after.Plan.Blades {
			if other, _ := c.Profile.BladeByID(row.ID); other.Knife == b.Knife && row.Knife == model.KnifeFits && !row.Inside {
				out = append(out, reason{Code: "falls-outside", Weight: model.Warns, Text: fmt.Sprintf("the %s falls outside: it must not run with this knife then", c.Name(row.ID))})
			}
		}
		if out == nil {
			out = []reason{{Code: "none-outside", Weight: model.Explains, Text: "no blade falls outside then"}}
		}
		return out
	},
}

// astray reports whether the knife of a blade was felt, and stands outside its kerf by that.
func astray(c context, blade string) bool {
	b, _ := c.Profile.BladeByID(blade)
	row, _ := c.Plan.Row(blade)
	k := c.State.Knives[b.Knife]
	return k.Set != nil && !k.Unknown && row.Knife == model.KnifeFits && !row.Inside
}

// carrierBlock sees to the knife behind the blade that carries the datum, where the strips
// that are due are its own.
func carrierBlock(due func(context) bool) procedure.Block {
	return procedure.Block{Rows: []row{knifeSeenRow, knifeOutRow}, Each: func(c context) []string {
		if due(c) {
			return []string{carrier(c)}
		}
		return nil
	}}
}

// carrierRips reports whether the scale, the reference strips or a further one are due.
func carrierRips(c context) bool {
	further := slices.ContainsFunc(comparing(c), func(blade string) bool { return stand(c, blade).wants(c) == model.Datum })
	return further || slices.ContainsFunc([]row{pairsRow, scaleRow, referenceRow}, func(r row) bool {
		return (r.When == nil || r.When(c)) && !r.Done(c)
	})
}

// knifeOutRow comes where the knife was felt to stand outside the kerf of the blade that
// carries the datum: nothing is ripped before it is set anew.
var knifeOutRow = row{
	Name: "knife-out", Stage: 7, Title: func(c context) string { return "The knife stands outside the kerf of the " + c.Name(c.Blade) },
	When: func(c context) bool { return astray(c, c.Blade) },
	Act: procedure.Paper{
		Says:   form.Lines("No strip is ripped so.", "The knife is set anew: gauge board first, then the knife.", "Type anew."),
		Accept: func(t *taking) { setAnew(t, t.Blade) },
	},
	Why:     form.Lines("The knife keeps the kerf open, and stock from being thrown."),
	Fields:  form.Fields(form.Word("anew", "The knife is set anew", "anew")),
	Follows: func(c context, _ answers) []reason { row, _ := c.Plan.Row(c.Blade); return row.Reasons },
}
