package procedure

import (
	"fmt"
	"slices"

	"example.com/sawdatum/model"
)

// Task is work that may begin at any time, whatever comes next.
type Task struct {
	Place Place
	Label string
}

// Tasks lists the other work that may begin now. None of it needs hands at the
// arbor or a turning blade: what it changes sends the sequencer back to the steps
// that do.
func (p Procedure) Tasks() []Task {
	if p.options.Mode == IsolateOnly {
		return nil
	}
	var out []Task
	add := func(ok bool, step, label string) {
		if ok {
			out = append(out, Task{Place{Step: step}, label})
		}
	}
	known, rack := p.run.who != "", len(p.profile.Rack()) > 0
	whole := p.profile.Reference != ""
	add(known && p.state.Lock != "", "fence-moved", "The fence may have moved")
	add(known && p.state.Mounted != nil, "other-blade", "Another blade or stack is on the arbor")
	add(known && whole, "sharpened", "A blade is back from sharpening")
	add(rack, "blade", "Add a blade to the rack")
	add(rack, "retire", "Take a blade off the rack")
	add(known && whole && len(p.away()) > 0, "returned", "A blade is back on the rack")
	add(whole, "rings", "A ring was bought, lost or measured")
	add(whole, "knives", "A riving knife was bought")
	add(whole && len(p.profile.Knives) > 1, "change-knife", "Set another knife")
	add(whole, "blade-knife", "A blade runs with another knife")
	add(whole, "datum", "Another reference or standing stack")
	add(whole, "instruments", "Instruments, tolerance, working width")
	add(known && len(p.profile.Records) > 0, "void", "A record is wrong: void it")
	add(known, "note", "Write a note")
	return out
}

// away lists the blades that left the rack.
func (p Procedure) away() (ids []string) {
	for _, b := range p.profile.Blades {
		if b.Retired {
			ids = append(ids, b.ID)
		}
	}
	return ids
}

var otherSteps = map[string]step{
	"who": {
		number: 3, once: true, title: titled("Who is at the saw?"),
		do:  words("Type your initials. They stand beside everything that is recorded from here on."),
		why: words("The other shift wants to know whom to ask."),
		fields: func(context) []Field {
			return []Field{{Key: "by", Label: "Your initials", Hint: "one to four letters, such as KB", Kind: FieldInitials}}
		},
		accept: func(t *taking) { t.run.who = t.text("by") },
	},
	"reason": {
		number: 10, once: true, title: func(c context) string { return "Why is the " + c.name(c.blade) + " run again?" },
		do:  words("It is back from sharpening, or the plate and kerf on file are not those of this blade: type sharpened.", "A check cut failed, or it is to be proved again: type check."),
		why: words("Sharpening takes kerf off, and the first stack is worked out from plate and kerf."),
		fields: func(context) []Field {
			return []Field{{Key: "why", Label: "This blade is here for", Hint: "sharpened or check", Kind: FieldChoice, Options: []string{"sharpened", "check"}}}
		},
		accept: func(t *taking) { t.run.reason, t.run.sharp = true, t.choice("why") == "sharpened" },
	},
	"sharpened": {
		number: 10, needs: measuring("blade"), picture: KnifeWindow, title: func(c context) string {
			if c.blade == "" {
				return "A blade is back from sharpening"
			}
			return "Back from sharpening: the " + c.name(c.blade)
		},
		do:   words("On the bench, with the micrometer: read the plate at three places, then over the tips of three teeth.", "Type all readings, separated by spaces."),
		why:  words("The kerf has become narrower; what was proved with the old teeth no longer counts.", sharpStill),
		help: []string{"A {250 mm|10 in} blade loses {0.01 to 0.05 mm|0.0005 to 0.002 in} of kerf per sharpening (from memory). A sharpened reference blade moves the datum: every blade goes back to check."},
		fields: func(c context) []Field {
			plate, kerf := table["thickness"].fields(c)[0], table["thickness"].fields(c)[1]
			plate.Value, kerf.Value = "", ""
			if c.blade != "" {
				return []Field{plate, kerf}
			}
			return []Field{c.bladeField("blade", "Which blade", ""), plate, kerf}
		},
		accept: func(t *taking) {
			blade := t.blade
			if blade == "" {
				blade = t.choice("blade")
				t.offArbor("blade", blade)
			}
			plate, kerf := t.lengths("plate"), t.lengths("kerf")
			t.checkKerf(plate, kerf)
			t.record(model.Record{Kind: model.Sharpened, Blade: blade, Plate: plate, Kerf: kerf})
			t.run.sharp = false
			if blade == t.profile.Reference {
				t.say("datum-moved", model.Warns, "The reference blade was sharpened: the datum has moved, and every blade goes back to check.")
			}
			t.after = func(p Procedure) []model.Reason { return p.knifeWarnings(blade) }
		},
	},
	"fence-moved": {
		number: 9, title: titled("The fence may have moved"),
		do:  words("If the fence was moved, unlocked or bumped, its lock is void.", "Type moved. Go back if it was not."),
		why: words("No reading is lost: they stay as history, and the reference blade cuts anew."),
		fields: func(context) []Field {
			return []Field{wordField("moved", "The fence may have moved", "moved")}
		},
		accept: func(t *taking) { t.fenceMoved() },
	},
	"other-blade": {
		number: 5, title: titled("Another blade or stack is on the arbor"),
		do: func(c context) []string {
			on := c.state.Mounted
			if on == nil {
				return []string{"By the records nothing is on the arbor."}
			}
			return []string{fmt.Sprintf("By the records it is the %s with %s.", c.name(on.Blade), c.rings(on.Rings)), "If it is not, or nobody knows, type other: it is then mounted anew, with the saw isolated."}
		},
		why: words("Between two shifts blades are swapped from the cards, and no record tells of it."),
		fields: func(context) []Field {
			return []Field{wordField("other", "It is another, or nobody knows", "other")}
		},
		accept: func(t *taking) {
			if on := t.state.Mounted; on != nil {
				t.run.again = Place{"mount", on.Blade}
			}
			t.run.seen = false
			if t.run.power == Live {
				t.run.power = Unknown
			}
		},
	},
	"retire": {
		number: 2, title: titled("Take a blade off the rack"),
		do:  words("Its records stay. It gets no rings and no line on the cards any more.", "It may come back under its name: its life then begins anew, and nothing measured before counts."),
		why: words("The reference blade cannot go: choose another reference first."),
		fields: func(c context) []Field {
			return []Field{c.bladeField("blade", "Which blade", ""), wordField("gone", "It leaves the rack", "gone")}
		},
		accept: func(t *taking) {
			t.blade = t.choice("blade")
			if !holds("retire-blade", t.blade != t.profile.Reference) {
				t.fault("blade", "the %s is the reference: choose another reference first", t.context().name(t.blade))
			}
			t.editBlade(func(b *model.Blade) { b.Retired = true })
		},
	},
	"returned": {
		number: 2, needs: measuring("blade"), picture: KnifeWindow, title: func(c context) string {
			if c.blade == "" {
				return "A blade is back on the rack"
			}
			return "Back on the rack: the " + c.name(c.blade)
		},
		do:   words("Its life begins anew: nothing that was measured before it left counts.", "On the bench, with the micrometer: read the plate at three places, then over the tips of three teeth.", "Type all readings, separated by spaces. Runout at the rim only if you have read it."),
		why:  words("Nobody knows what became of its teeth while it was away; it is compared like a new one.", sharpStill),
		help: []string{"What was read before stays in the records, and its box still tells the rings that it had."},
		fields: func(c context) []Field {
			fields := slices.Clone(table["thickness"].fields(c)[:3])
			for i := range fields {
				fields[i].Value = ""
			}
			if c.blade != "" {
				return fields
			}
			return append([]Field{c.bladeChoice("blade", "Which blade", c.away())}, fields...)
		},
		accept: func(t *taking) {
			if t.blade == "" {
				t.blade = t.choice("blade")
				t.offArbor("blade", t.blade)
			}
			plate, kerf := t.lengths("plate"), t.lengths("kerf")
			t.checkKerf(plate, kerf)
			t.editBlade(func(b *model.Blade) { b.Retired = false })
			t.record(model.Record{Kind: model.Returned, Blade: t.blade, Plate: plate, Kerf: kerf, Runout: t.lengthOrNone("runout")})
			t.run.reason = true
			b, _ := t.profile.BladeByID(t.blade)
			t.sayTwins(b)
			blade := t.blade
			t.after = func(p Procedure) []model.Reason { return p.knifeWarnings(blade) }
		},
	},
	"change-knife": {
		number: 7, title: titled("Set another knife"),
		do:  words("Choose the knife that is to stand behind the blades that name it.", "A gauge board is ripped and the knife squared to it; every blade then goes back to check."),
		why: words("Only blades that name the knife that is set can be ready."),
		fields: func(c context) []Field {
			return []Field{c.knifeChoice("Which knife", "")}
		},
		accept: func(t *taking) {
			t.run.knife = t.choice("knife")
			k, _ := t.profile.KnifeByID(t.run.knife)
			if holds("change-knife-fits", t.fits(t.profile.Reference, t.run.knife)) {
				return
			}
			runs := func(id string) bool { b, _ := t.profile.BladeByID(id); return b.Knife == k.ID }
			switch {
			case t.state.Scaled == nil:
				t.fault("knife", "the reference blade must not run with a knife of %s: first set the saw up with its own, as far as the fence scale", k.Thickness)
			case !slices.ContainsFunc(t.toCompare(), runs):
				t.fault("knife", "the reference blade must not run with a knife of %s, and no other blade that it fits names it: choose another knife", k.Thickness)
			}
		},
	},
	"blade-knife": {
		number: 2, picture: KnifeWindow, title: titled("A blade runs with another knife"),
		do:  words("Say which knife stands behind which blade from now on."),
		why: words("The knife must be thicker than the plate and thinner than the kerf; the program checks it."),
		fields: func(c context) []Field {
			return []Field{c.bladeField("blade", "Which blade", ""), c.knifeChoice("Runs with knife", "")}
		},
		accept: func(t *taking) {
			t.blade = t.choice("blade")
			t.editBlade(func(b *model.Blade) { b.Knife = t.choice("knife") })
			blade := t.blade
			t.after = func(p Procedure) []model.Reason { return p.knifeWarnings(blade) }
		},
	},
	"void": {
		number: 10, title: titled("Void a record"),
		do:  words("The records list numbers them. Type the number of the wrong one, and why.", "It stays in the file; it no longer counts."),
		why: words("A correction is a new record, the old one stays."),
		fields: func(c context) []Field {
			n := len(c.profile.Records)
			return []Field{
				{Key: "number", Label: "Record number", Hint: fmt.Sprintf("1 to %d", n), Kind: FieldCount, AtLeast: 1, AtMost: max(n, 1)},
				{Key: "why", Label: "Why", Hint: "such as: read the wrong piece", Kind: FieldText},
			}
		},
		accept: func(t *taking) {
			r := t.profile.Records[t.count("number")-1]
			if r.Kind == model.Void {
				t.fault("number", "a void cannot be voided: take the reading again instead")
				return
			}
			t.record(model.Record{Kind: model.Void, Of: r.Ref(), Why: t.text("why")})
		},
	},
	"note": {
		number: 11, title: titled("Write a note"),
		do: words("One line for the other shift. It goes into the records."),
		fields: func(c context) []Field {
			return []Field{{Key: "text", Label: "Note", Hint: "such as: caliper dropped, checked against the " + c.example("50 mm", "2 in") + " block", Kind: FieldText}}
		},
		accept: func(t *taking) { t.record(model.Record{Kind: model.Note, Text: t.text("text")}) },
	},
}
