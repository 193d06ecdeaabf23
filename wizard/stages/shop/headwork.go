package shop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
)

// HeadWork is the work that may begin at any time and changes what is on the rack, in the
// kit or in the records. The rows that it goes on with are among it.
func HeadWork() []row {
	return []row{
		sharpenedRow, backRow, bladeNewRow, rereadRow, retireRow,
		ringBoughtRow, ringLostRow, ringMeasuredRow, ringMendRow, knifeBoughtRow, knifeGoneRow, knifeBackRow, bladeKnifeRow,
		datumAnewRow, unitsRow, renameRow, voidRow, noteRow,
		GrinderRow, returnedRow, knifeGoesRow, ringGoesRow, thenRow, // begin only so, and have no line
	}
}

// The moments at which other work may begin: in every run that does more than isolate; with a
// reference, which a whole rack has; where initials are known to sign a record; with a blade on
// the rack; never, for what only other rows begin.
func anyTime(c context) bool   { return c.Options.Mode != procedure.IsolateOnly }
func WholeRack(c context) bool { return anyTime(c) && c.Profile.Reference != "" }
func signed(c context) bool    { return anyTime(c) && c.Who != "" }
func hasBlades(c context) bool { return anyTime(c) && len(c.Profile.Rack()) > 0 }
func never(context) bool       { return false }

var bladeNewRow = row{
	Name: "blade-new", Stage: 4, Title: form.Said("A new blade"), Also: "bought add", When: WholeRack,
	Act: procedure.Paper{
		Says: func(c context) []string {
			return []string{"Type what it is called. Then it is described and measured like the others.", fmt.Sprintf("Then now: compared, %s; the others stay as they are.", comparingCost(c, 1)), "Or later: it stays not ready."}
		},
		Accept: func(t *taking) { putThen(t, "new", addBlade(t, "label")) },
	},
	Fields: func(c context) []field {
		return []field{field{Key: "label", Label: "What it is called", Hint: "such as 48-tooth general", Kind: procedure.FieldText}.With(func(text string) error { return newName(c, text, "") }), thenField(thenNow)}
	},
}

// rereadRow leads to what was read of a blade on the bench.
var rereadRow = row{
	Name: "reread", Stage: 4, Title: form.Said("A blade is read again on the bench"),
	When: func(c context) bool { return signed(c) && hasBlades(c) },
	Act: procedure.Paper{
		Says: form.Lines("Say which blade, and what of it: its markings (name, teeth, diameter, bore, speed, knife), or plate and kerf.", "What was read before stays in the records."),
		Accept: func(t *taking) {
			next := &thicknessRow
			if t.Choice("what") == "markings" {
				next = &bladeRow
			}
			t.Begin(next, t.Choice("blade"))
		},
	},
	Fields: func(c context) []field {
		return []field{OneBlade(c, "blade", "Which blade", RackBlades(c)), form.Choice("what", "What of it", "", "markings", "thickness")}
	},
}

var retireRow = row{
	Name: "retire", Stage: 4, Title: form.Said("Take a blade off the rack"), Also: "retired remove lost worn out",
	When: func(c context) bool { return signed(c) && hasBlades(c) },
	Act: procedure.Paper{
		Says: func(c context) []string {
			return []string{"Its records stay. It gets no rings and no line on the cards any more: no strip, no swap.", fmt.Sprintf("It may come back under its name, compared like a new one: %s.", comparingCost(c, 1))}
		},
		Accept: func(t *taking) {
			id := t.Choice("blade")
			if !bladeInFile(t.Profile, id) {
				t.Head(func(p *model.Profile) {
					p.Blades = slices.DeleteFunc(slices.Clone(p.Blades), func(b model.Blade) bool { return b.ID == id })
				})
				return
			}
			editBlade(t, id, func(b *model.Blade) { b.Retired = true })
			t.Record(record{Kind: model.Note, Blade: id, Text: "taken off the rack"})
		},
	},
	Why: form.Lines("The reference blade cannot go: choose another reference first."),
	Fields: func(c context) []field {
		blade := OneBlade(c, "blade", "Which blade", RackBlades(c)).Against(func(t *taking) {
			switch id := t.Choice("blade"); id {
			case t.Profile.Reference:
				t.Fault("blade", "the %s is the reference: choose another reference first", t.Name(id))
			case t.Options.Blade:
				t.Fault("blade", "this run is about the %s: end it first", t.Name(id))
			}
		})
		return []field{blade, form.Word("gone", "It leaves the rack", "gone")}
	},
}

var bladeKnifeRow = row{
	Name: "blade-knife", Stage: 4, Title: form.Said("A blade runs with another knife"), When: hasBlades,
	Act: procedure.Paper{
		Says: form.Lines("Say which knife stands behind which blade from now on."),
		Accept: func(t *taking) {
			blade := t.Choice("blade")
			editBlade(t, blade, func(b *model.Blade) { b.Knife = t.Choice("knife") })
			for _, r := range knifeFaults(t.Context, blade) {
				t.Fault("knife", "%s", r.Text)
			}
			if after := t.WithHead(func(*model.Profile) {}); !in(after, blade) || knifeUnset(after, blade) {
				takeUp(t, blade)
			}
		},
	},
	Why: form.Lines("Thicker than the plate, thinner than the kerf: else it does not stand behind this blade."),
	Fields: func(c context) []field {
		return []field{OneBlade(c, "blade", "Which blade", RackBlades(c)), oneKnife(c, "Runs with the knife of", "")}
	},
	Follows: func(c context, a answers) []reason {
		after, blade := withKnife(c, a)
		return knifeWords(after, blade)
	},
	Picture: func(c context, a answers) procedure.Picture {
		after, blade := withKnife(c, a)
		return knifeWindow(after, blade)
	},
}

// withKnife is the moment with the knife that is typed behind the blade that is typed.
func withKnife(c context, a answers) (context, string) {
	blade, _ := OneBlade(c, "", "", RackBlades(c)).Choice(a["blade"])
	knife, err := oneKnife(c, "", "").Choice(a["knife"])
	if blade == "" || err != nil {
		return c, blade
	}
	return c.WithHead(func(p *model.Profile) {
		p.Blades = slices.Clone(p.Blades)
		for i := range p.Blades {
			if p.Blades[i].ID == blade {
				p.Blades[i].Knife = knife
			}
		}
	}), blade
}

var datumAnewRow = row{
	Name: "datum-anew", Stage: 4, Title: form.Said("Another reference or standing stack"), When: WholeRack,
	Act:  procedure.Paper{Says: datumOrders, Accept: putDatum},
	Why:  form.Lines("The datum moves with it: gauge board, knife, scale and every blade are done anew."),
	Help: datumHelp, Fields: datumFields, Follows: DatumWords,
	Picture: func(c context, a answers) procedure.Picture { return RackPicture(withDatum(c, a), "") },
}

var unitsRow = row{
	Name: "units", Stage: 2, Title: form.Said("Millimetres or inches"), Also: "change units mm inch metric", When: anyTime,
	Act: procedure.Paper{
		Says: form.Lines("Say how lengths are shown, and read when they are typed without a unit.", "What was typed keeps the unit that it was typed in."),
		Accept: func(t *taking) {
			t.Head(func(p *model.Profile) { p.Units = UnitsNamed[t.Choice("units")] })
		},
	},
	Fields: func(c context) []field { return []field{UnitsField(c)} },
}

var renameRow = row{
	Name: "rename", Stage: 2, Title: form.Said("Rename the saw"), Also: "another name", When: anyTime,
	Act: procedure.Paper{
		Says:   form.Lines("Type what the saw is called. Its file keeps its name."),
		Accept: func(t *taking) { t.Head(func(p *model.Profile) { p.Saw.Label = t.Text("label") }) },
	},
	Fields: func(c context) []field {
		return []field{{Key: "label", Label: "Name of the saw", Hint: "such as Bay 2 saw", Kind: procedure.FieldText, Value: c.Profile.Saw.Label}}
	},
}

// undone is what nobody knows any more at the saw once a record of a kind is void.
var undone = map[model.Kind]func() interlock.Event{
	model.Isolation:  interlock.TakenBack,
	model.TakenOff:   interlock.OtherOn,
	model.Mount:      interlock.OtherOn,
	model.Line:       interlock.OtherOn,
	model.KnifeSet:   interlock.OtherOn,
	model.KnifeGone:  interlock.OtherOn,
	model.KnifeBack:  interlock.OtherOn,
	model.FenceLock:  interlock.FenceMoved,
	model.FenceMoved: interlock.FenceMoved,
}

// checkVoidable refuses a record that counts no longer, or never did.
func checkVoidable(t *taking) {
	r := t.All()[t.Count("number")-1]
	switch {
	case r.Kind == model.Void:
		t.Fault("number", "a void cannot be voided: take the reading again instead")
	case slices.ContainsFunc(t.All(), func(v record) bool { return v.Kind == model.Void && v.Of == r.Ref() }):
		t.Fault("number", "record %d was voided before: it counts no longer", t.Count("number"))
	}
}

var voidRow = row{
	Name: "void", Stage: 10, Title: form.Said("A record is wrong: void it"),
	When: func(c context) bool { return signed(c) && len(c.All()) > 0 },
	Act: procedure.Paper{
		Says: form.Lines("The list of records numbers them. Type the number of the wrong one, and why.", "It stays in the file, and no longer counts. A slip of the pen is corrected instead: go back to it."),
		Accept: func(t *taking) {
			r := t.All()[t.Count("number")-1]
			if strings.EqualFold(t.Text("why"), model.Again) {
				t.Fault("why", "%q does not say what is wrong with it: such as, read the wrong strip", t.Text("why"))
			}
			t.Record(record{Kind: model.Void, Of: r.Ref(), Why: t.Text("why")})
			if event := undone[r.Kind]; event != nil {
				t.Does(event())
			}
		},
	},
	Fields: func(c context) []field {
		n := len(c.All())
		return []field{
			field{Key: "number", Label: "Record number", Hint: "1 to " + strconv.Itoa(n), Kind: procedure.FieldCount, AtLeast: 1, AtMost: max(n, 1)}.Against(checkVoidable),
			{Key: "why", Label: "Why", Hint: "such as: read the wrong strip", Kind: procedure.FieldText},
		}
	},
	Follows: func(c context, a answers) []reason {
		n, err := strconv.Atoi(strings.TrimSpace(a["number"]))
		if err != nil || n < 1 || n > len(c.All()) {
			return nil
		}
		r := c.All()[n-1]
		text := fmt.Sprintf("record %d: %s, %s, %s", n, r.Kind, r.At.Format("2 Jan 15:04"), r.By)
		if r.Blade != "" {
			text += ", " + c.Name(r.Blade)
		}
		return []reason{{Code: "record", Weight: model.Explains, Text: text}}
	},
}

var noteRow = row{
	Name: "note", Stage: 11, Title: form.Said("Write a note"), When: signed,
	Act: procedure.Paper{
		Says:   form.Lines("One line for the other shift. It goes into the records."),
		Accept: func(t *taking) { t.Record(record{Kind: model.Note, Text: t.Text("text")}) },
	},
	Fields: form.Fields(field{Key: "text", Label: "Note", Hint: "such as: caliper dropped, checked against its block", Kind: procedure.FieldText}),
}

// bladeInFile reports whether anything in the file calls a blade by its id but the rack.
func bladeInFile(p model.Profile, id string) bool {
	return p.Reference == id || slices.ContainsFunc(p.Records, func(r record) bool { return r.Blade == id })
}
