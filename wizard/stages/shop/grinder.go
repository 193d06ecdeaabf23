package shop

import (
	"fmt"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
)

// sharpenedRow asks which blade is back from sharpening; grinderRow has it measured.
var sharpenedRow = row{
	Name: "sharpened", Stage: 10, Title: form.Said("A blade is back from sharpening"), Also: "ground grinder",
	When: func(c context) bool { return signed(c) && WholeRack(c) },
	Act: procedure.Paper{
		Says:   form.Lines("Say which blade it is. Then it is measured on the bench."),
		Accept: func(t *taking) { t.Begin(&GrinderRow, t.Choice("blade")) },
	},
	Why:    form.Lines("The kerf has become narrower: what was proved with the old teeth no longer counts."),
	Fields: func(c context) []field { return []field{OneBlade(c, "blade", "Which blade", RackBlades(c))} },
}

// GrinderRow measures a blade that came back from sharpening.
var GrinderRow = row{
	Name: "grinder", Stage: 10, When: never,
	Title: func(c context) string { return "Back from sharpening: " + c.Name(c.Blade) },
	Act: procedure.Measure{
		Part: theBlade,
		Says: func(c context, _ interlock.Bench) []string {
			out := micrometerOrders(c)
			if c.Blade == c.Profile.Reference {
				return append(out, referenceWays(c)...)
			}
			return append(out, thenOrder(c))
		},
		Accept: func(t *taking, b interlock.Bench) {
			t.Does(interlock.Measured(b))
			wasAway(t)
			r := record{Kind: model.Sharpened, Blade: t.Blade}
			putReread(t, &r)
			if t.Blade == t.Profile.Reference {
				r.Datum = model.DatumGoes(t.Choice("datum"))
				if r.Datum == model.DatumStays && len(StandIns(t.Context)) == 0 {
					t.Fault("datum", "no other blade is ready, so none can carry the datum: type moves")
				}
			}
			t.Record(r)
			if t.Typed("then") {
				putThen(t, "sharpened", t.Blade)
			}
			if r.Datum == model.DatumMoves {
				t.Say("datum-moved", model.Warns, "The datum has moved to the new teeth: every blade goes back to check.")
			}
			blade := t.Blade
			t.After(func(c context) []reason { return knifeFaults(c, blade) })
		},
	},
	Why:  form.Lines(form.SharpStill),
	Help: []string{"A {250 mm|10 in} blade loses {0.01 to 0.05 mm|0.0004 to 0.002 in} of kerf per sharpening (from memory), about 15 sharpenings a life (trade press).", "A sharpened reference cuts wide by half of what its kerf lost, on both flanges."},
	Fields: func(c context) []field {
		out := plateAndKerf(c, model.BladeState{})
		was := Read(c.State.Blades[c.Blade].Kerf)
		out[1] = out[1].Against(func(t *taking) {
			if checkKerf(t); !t.Faulty() {
				checkGround(t, was)
			}
		})
		if c.Blade != c.Profile.Reference {
			return append(out, thenField(thenNow))
		}
		goes := model.DatumStays
		if len(StandIns(c)) == 0 {
			goes = model.DatumMoves
		}
		return append(out, form.Choice("datum", "The datum", string(goes), string(model.DatumStays), string(model.DatumMoves)))
	},
	Reads: rereadings(model.Sharpened),
	Follows: func(c context, a answers) []reason {
		after, ok := withThickness(c, a)
		if !ok {
			return nil
		}
		lost := BladeRead(c, c.Blade).Kerf - BladeRead(after, c.Blade).Kerf
		if lost <= 0 {
			return knifeWords(after, c.Blade)
		}
		return append([]reason{{Code: "kerf-lost", Weight: model.Explains, Text: fmt.Sprintf("the kerf lost %s: parts come out %s wider than before", c.Result(lost), c.Result(lost/2))}}, knifeWords(after, c.Blade)...)
	},
	Picture: func(c context, a answers) procedure.Picture {
		after, _ := withThickness(c, a)
		return knifeWindow(after, c.Blade)
	},
	Simulated: map[string]procedure.Simulated{
		"plate": func(c context, s procedure.Saw, _ answers) string {
			here := practice.At(c, s, "plate", c.Blade, practice.Times(c, model.Sharpened))
			here.Grind(c, c.Blade)
			return practice.Micrometer(c, here.Plate(c.Blade, wellRead))
		},
		"kerf": func(c context, s procedure.Saw, _ answers) string {
			here := practice.At(c, s, "kerf", c.Blade, practice.Times(c, model.Sharpened))
			here.Grind(c, c.Blade)
			return practice.Micrometer(c, here.Kerf(c.Blade, wellRead))
		},
	},
}

// mostGround is more than a grinder takes off a kerf at once (a sharpening takes 0.01 to
// 0.05 mm, from memory).
const mostGround = mm / 5

// checkGround asks again where a sharpened blade did not lose what a grinder takes.
func checkGround(t *taking, was model.Length) {
	lost := was - Read(t.Lengths("kerf"))
	switch {
	case lost < 0:
		t.Question("kerf", "the kerf is %s wider than before: a sharpened blade has lost some of it", t.Result(-lost))
	case lost > mostGround:
		t.Question("kerf", "the kerf lost %s: a sharpening takes %s", t.Result(lost), t.Pick("a few hundredths of a millimetre", "a thousandth or two"))
	}
}

// StandIns are the blades that can carry the datum in place of the reference.
func StandIns(c context) (ids []string) {
	for _, b := range c.Plan.Blades {
		if b.StandIn {
			ids = append(ids, b.ID)
		}
	}
	return ids
}

// StandIn is the one of them that carries it: one that runs with the knife of the reference first, since another
// knife comes out for that, and has to be checked; then the one that is on the saw. Empty: none can.
func StandIn(c context) (best string) {
	most := -1
	for _, id := range StandIns(c) {
		good := 0
		if knifeNamedBy(c, id) == knifeNamedBy(c, c.Profile.Reference) {
			good = 2
		}
		if id == c.State.On.Blade {
			good++
		}
		if good > most {
			best, most = id, good
		}
	}
	return best
}

// away are the blades that left the rack.
func away(c context) (ids []string) {
	for _, b := range c.Profile.Blades {
		if b.Retired {
			ids = append(ids, b.ID)
		}
	}
	return ids
}

// wasAway forgets that the blade is on the arbor, where this run has it there: it comes back from
// somewhere, or was measured on the bench.
func wasAway(t *taking) {
	if on, _ := t.Lock.On(); on.Blade == t.Blade {
		t.Does(interlock.OtherOn())
	}
}

// backRow asks which blade is back on the rack; returnedRow has it measured.
var backRow = row{
	Name: "back", Stage: 4, Title: form.Said("A blade is back on the rack"),
	When: func(c context) bool { return signed(c) && WholeRack(c) && len(away(c)) > 0 },
	Act: procedure.Paper{
		Says:   form.Lines("Say which blade it is. Then it is measured on the bench."),
		Accept: func(t *taking) { t.Begin(&returnedRow, t.Choice("blade")) },
	},
	Why:    form.Lines("Nobody knows what became of its teeth while it was away: it is compared like a new one."),
	Fields: func(c context) []field { return []field{OneBlade(c, "blade", "Which blade", away(c))} },
}

var returnedRow = row{
	Name: "returned", Stage: 4, When: never,
	Title: func(c context) string { return "Back on the rack: " + c.Name(c.Blade) },
	Act: procedure.Measure{
		Part: theBlade,
		Says: func(c context, _ interlock.Bench) []string { return append(micrometerOrders(c), thenOrder(c)) },
		Accept: func(t *taking, b interlock.Bench) {
			t.Does(interlock.Measured(b))
			wasAway(t)
			r := record{Kind: model.Remeasured, Blade: t.Blade, Back: true}
			putReread(t, &r)
			editBlade(t, t.Blade, func(b *model.Blade) { b.Retired = false })
			t.Record(r)
			putThen(t, "back on the rack", t.Blade)
			blade := t.Blade
			t.After(func(c context) []reason { return knifeFaults(c, blade) })
		},
	},
	Why:  form.Lines(form.SharpStill),
	Help: []string{"Nothing that was measured before it left counts.", "What was read before stays in the records, and its box still tells the rings that it had."},
	Fields: func(c context) []field {
		return append(thicknessFields(c, model.BladeState{}), thenField(thenNow))
	},
	Follows: func(c context, a answers) []reason {
		after, ok := withThickness(c, a)
		if !ok {
			return nil
		}
		return knifeWords(after, c.Blade)
	},
	Simulated: thicknessSimulated,
}
