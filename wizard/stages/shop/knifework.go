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
		Says: func(c context, _ interlock.Bench) []string {
			return []string{
				"Micrometer on the knife, away from its edges. Name the blade that it was bought for, if there is one.",
				fmt.Sprintf("Behind a blade: gauge board and knife; where that was never in: %s besides.", comparingCost(c, 1)),
				"For none yet: no strip, no swap.",
			}
		},
		Accept: func(t *taking, b interlock.Bench) {
			t.Does(interlock.Measured(b))
			buyKnife(t, t.Choice("blade"))
			if t.Typed("blade") {
				takeUp(t, t.Choice("blade"))
			}
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
		blade, _ := OneBlade(c, "", "", RackBlades(c)).Choice(a["blade"])
		if i := knifeOf(c.Profile.Knives, m.Of(c.Unit())); i >= 0 && c.State.Gone[c.Profile.Knives[i].ID] != nil {
			return []reason{{Code: "knife-replaces", Weight: model.Explains, Text: "as thick as the one that is gone, and takes its place: the knife check, no strip"}}
		}
		if blade != "" && fitsBlade(c, m, blade) {
			return []reason{{Code: "knife-fits", Weight: model.Explains, Text: withKnifeCost(c, blade)}}
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
			if form.KnifeFit(c, c.Options.Blade) == model.KnifeMissing {
				return []string{
					"Its knife is gone. Another of its thickness is there, or it was found: micrometer on it; type what it measures.",
					"Then the knife check with a blade on that is in. Of another thickness: gauge board and knife.",
					"None yet: type nothing; the blade stays in its box.",
				}
			}
			which := "It must not run with the knife that it names. Another is there"
			if _, named := c.Knife(c.Options.Blade); !named {
				which = "It names no knife yet. One for it is there"
			}
			return []string{
				which + ": micrometer on it, away from its edges; type what it measures.",
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
		switch gone := t.State.Gone[id]; {
		case gone != nil: // this one stands in for it
			t.Record(record{Kind: model.KnifeBack, Knife: id})
		case blade == "":
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

// goneKnives are the ids of the knives that are lost, broken or given away.
func goneKnives(c context) (ids []string) {
	for _, k := range c.Profile.Knives {
		if c.State.Gone[k.ID] != nil {
			ids = append(ids, k.ID)
		}
	}
	return ids
}

// ownKnives are the ids of the knives that the shop has.
func ownKnives(c context) (ids []string) {
	for _, k := range c.Knives() {
		ids = append(ids, k.ID)
	}
	return ids
}

// ofKnives asks for one of some knives by its thickness.
func ofKnives(c context, ids []string) field {
	f := field{Key: "knife", Label: "Which knife", Kind: procedure.FieldChoice, Unit: c.Unit(), Options: ids}
	for _, id := range ids {
		f.Called = append(f.Called, c.Profile.KnifeName(id))
	}
	f.Hint = strings.Join(f.Called, ", ")
	return f
}

// knifeGoneRow asks which knife is gone; knifeGoesRow says what goes with it.
var knifeGoneRow = row{
	Name: "knife-lost", Stage: 4, Title: form.Said("A riving knife was lost, broken or given away"),
	When: func(c context) bool { return signed(c) && hasBlades(c) && len(c.Knives()) > 0 },
	Act: procedure.Paper{
		Says:   form.Lines("Say which. Then you are told what goes with it, before anything is put on record."),
		Accept: func(t *taking) { t.Begin(&knifeGoesRow, t.Choice("knife")) },
	},
	Why:    form.Lines("A blade without its knife must not run."),
	Fields: func(c context) []field { return []field{ofKnives(c, ownKnives(c))} },
	Follows: func(c context, a answers) []reason {
		id, err := ofKnives(c, ownKnives(c)).Choice(a["knife"])
		if err != nil {
			return nil
		}
		return withoutKnife(c, id)
	},
}

// knifeGoesRow puts on record that a knife is gone. The blade of its moment is the knife.
var knifeGoesRow = row{
	Name: "knife-goes", Stage: 4, When: never,
	Title: func(c context) string { return "The knife of " + c.Profile.KnifeName(c.Blade) + " is gone" },
	Act: procedure.Paper{
		Says: withoutKnifeOrders,
		Accept: func(t *taking) {
			if knifeIn(t.Context) {
				t.Does(interlock.OtherOn())
			}
			t.Record(record{Kind: model.KnifeGone, Knife: t.Blade, Text: t.Choice("became")})
			if t.Choice("then") == thenNow {
				blades, other := otherKnife(t.Context, t.Blade)
				for _, id := range blades {
					editBlade(t, id, func(b *model.Blade) { b.Knife = other.ID })
				}
				putThen(t, "", blades...)
			}
		},
	},
	Fields: func(c context) []field {
		out := []field{form.Choice("became", "What became of it", "", "lost", "broken", "given away").Against(func(t *taking) {
			if knifeIn(t.Context) {
				t.Question("became", "by the records the knife of %s is in the saw", t.Profile.KnifeName(t.Blade))
			}
		})}
		if blades, _ := otherKnife(c, c.Blade); len(blades) > 0 {
			out = append(out, thenField(""))
		}
		return out
	},
	Picture: func(c context, _ answers) procedure.Picture { return movedBlades(c, knifeLess(c, c.Blade)) },
	Follows: func(c context, _ answers) []reason { return withoutKnife(c, c.Blade) },
}

// knifeIn reports whether the knife of the moment is in the saw, by this run or by the records.
func knifeIn(c context) bool {
	on, _ := c.Lock.On()
	return on.Knife == c.Blade || c.State.On.Knife == c.Blade
}

// knifeBackRow takes a knife back. Nobody knows where it stands to the datum.
var knifeBackRow = row{
	Name: "knife-back", Stage: 4, Title: form.Said("A riving knife that was gone is there again"),
	When: func(c context) bool { return signed(c) && len(goneKnives(c)) > 0 },
	Act: procedure.Paper{
		Says:   form.Lines("Found, mended, or another of the same thickness: say which.", "Where it stands is known once it is checked with a blade on that is in: no strip."),
		Accept: func(t *taking) { t.Record(record{Kind: model.KnifeBack, Knife: t.Choice("knife")}) },
	},
	Why:    form.Lines("Nobody has seen it in line since: no blade turns before that."),
	Fields: func(c context) []field { return []field{ofKnives(c, goneKnives(c))} },
	Picture: func(c context, a answers) procedure.Picture {
		id, err := ofKnives(c, goneKnives(c)).Choice(a["knife"])
		if err != nil {
			return nil
		}
		return movedBlades(c, c.With(record{Kind: model.KnifeBack, Knife: id}))
	},
}
