package shop

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
)

var knifeBoughtRow = row{
	Name: "knife-bought", Stage: 4, Title: form.Said("A riving knife was bought"), When: hasBlades,
	Act: procedure.Measure{
		Part: form.Said("riving knife"),
		Says: form.Lined[interlock.Bench]("Micrometer on the knife, away from its edges.", "Name the blade that it was bought for, if there is one. It is squared to a gauge board before it stands behind a blade."),
		Accept: func(t *taking, b interlock.Bench) {
			t.Does(interlock.Measured(b))
			buyKnife(t, t.Choice("blade"))
		},
	},
	Fields: func(c context) []field {
		blade := OneBlade(c, "blade", "Bought for (may stay empty)", RackBlades(c))
		blade.Hint = "a blade, or its number; empty: none yet"
		return []field{knifeBought(c), form.Optional(blade)}
	},
	Follows: func(c context, a answers) []reason {
		m, ok := form.Parse(c, a["thickness"])
		if !ok {
			return nil
		}
		var fits []string
		for _, id := range RackBlades(c) {
			if fitsBlade(c, m, id) {
				fits = append(fits, c.Name(id))
			}
		}
		if len(fits) == 0 {
			return []reason{{Code: "knife-fits-none", Weight: model.Warns, Text: "it fits no blade of the rack"}}
		}
		return []reason{{Code: "knife-fits", Weight: model.Explains, Text: "it fits: " + strings.Join(fits, ", ")}}
	},
}

// KnifeWantedRow asks for the knife of the one blade that this run is about, where none fits
// it: it is taken up from there.
var KnifeWantedRow = row{
	Name: "knife-wanted", Stage: 4, Title: func(c context) string { return "No knife for the " + c.Name(c.Options.Blade) },
	When: func(c context) bool {
		return BladeRead(c, c.Options.Blade).Kerf > 0 && form.KnifeFit(c, c.Options.Blade) != model.KnifeFits
	},
	Done: func(c context) bool { return c.Fact(noKnifeYet) != "" },
	Act: procedure.Measure{
		Part: form.Said("riving knife"),
		Says: func(c context, _ interlock.Bench) []string {
			return []string{
				"It must not run with the knife that it names. One was bought: micrometer on it, away from its edges; type what it measures.",
				fmt.Sprintf("Then gauge board, knife, and: %s.", comparingCost(c, 1)),
				"None yet: type nothing; the blade stays in its box.",
			}
		},
		Accept: func(t *taking, b interlock.Bench) {
			t.Does(interlock.Measured(b))
			if !t.Typed("thickness") {
				t.Keep(noKnifeYet, "none")
				return
			}
			buyKnife(t, t.Options.Blade)
		},
	},
	Why:    form.Lines("The knife keeps the kerf open, and stock from being thrown."),
	Fields: func(c context) []field { return []field{form.Optional(knifeBought(c))} },
	Follows: func(c context, a answers) []reason {
		if m, ok := form.Parse(c, a["thickness"]); ok {
			return windowWords(c, c.Options.Blade, m)
		}
		return knifeWords(c, c.Options.Blade)
	},
	Picture: func(c context, _ answers) procedure.Picture { return knifeWindow(c, c.Options.Blade) },
}

var noKnifeYet = procedure.Fact{Name: "no knife yet", Lasts: true}

func knifeBought(c context) field {
	return form.Measuring(form.Length(c, "thickness", "Thickness of the knife", c.Pick("2.2", "0.087"), model.Measure{}, leastKnife, mostKnife))
}

// fitsBlade reports whether a knife may stand behind a blade: thicker than its plate by the
// margin, thinner than its kerf.
func fitsBlade(c context, knife model.Length, blade string) bool {
	r := BladeRead(c, blade)
	return r.Kerf > 0 && knife < r.Kerf && knife >= r.Plate+c.Profile.Margin()
}

// buyKnife puts the knife that is typed into the head, and behind the blade that it is for. One
// of that thickness may be there already.
func buyKnife(t *taking, blade string) {
	m := t.Length("thickness")
	if blade != "" && !fitsBlade(t.Context, m.Length, blade) {
		t.Fault("thickness", "a knife of %s does not fit the %s", m, t.Name(blade))
		return
	}
	id := ""
	if i := knifeOf(t.Profile.Knives, m); i >= 0 {
		id = t.Profile.Knives[i].ID
		if blade == "" {
			t.Fault("thickness", "the saw has a knife of %s: a knife is called by its thickness", m)
			return
		}
	} else {
		id = knifeID(m, t.Profile.Knives)
		t.Head(func(p *model.Profile) {
			p.Knives = append(slices.Clone(p.Knives), model.Knife{ID: id, Thickness: m})
		})
	}
	if blade != "" {
		editBlade(t, blade, func(b *model.Blade) { b.Knife = id })
	}
}
