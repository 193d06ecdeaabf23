// Package shop has the steps that say what the shop has: saw, arbor, rack, rings, knives, reference;
// and the other work that changes them.
package shop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
)

// RackBlocks are the knives, every blade as it lies on the bench, the rings, and what the
// numbers make of them before anything is cut.
func RackBlocks() []procedure.Block {
	return []procedure.Block{
		{Rows: []row{knivesRow}},
		{Each: RackBlades, Rows: []row{bladeRow, thicknessRow}},
		{Rows: []row{rackRow, ringsRow, datumRow}},
		{Each: RackBlades, Rows: []row{unfitRow}},
	}
}

// RackBlades are the ids of the blades of the rack.
func RackBlades(c context) (ids []string) {
	for _, b := range c.Profile.Rack() {
		ids = append(ids, b.ID)
	}
	return ids
}

// count is a number that a field shows; empty for 0.
func count(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// OneBlade asks for one of these blades.
func OneBlade(c context, key, label string, ids []string) field {
	f := field{Key: key, Label: label, Kind: procedure.FieldChoice, Options: ids, Numbered: true, Hint: "a name, a word of it, or its number"}
	for _, id := range ids {
		f.Called = append(f.Called, c.Name(id))
	}
	return f
}

// oneKnife asks for one of the saw's knives, by its thickness.
func oneKnife(c context, label, value string) field {
	f := field{Key: "knife", Label: label, Kind: procedure.FieldChoice, Unit: c.Unit()}
	for _, k := range c.Knives() {
		f.Options, f.Called = append(f.Options, k.ID), append(f.Called, k.Label())
		if k.ID == value {
			f.Value = k.Label()
		}
	}
	f.Hint = strings.Join(f.Called, ", ")
	return f
}

var knivesRow = row{
	Name: "knives", Stage: 4, Title: form.Said("Riving knives"),
	Done: func(c context) bool { return len(c.Profile.Knives) > 0 },
	Act: procedure.Measure{
		Part: func(c context) string {
			if knives := c.Knives(); len(knives) == 1 {
				return knives[0].ID
			}
			return "riving knife"
		},
		Says: form.Lined[interlock.Bench]("Measure every riving knife by micrometer, away from its edges.", "Type each thickness once, separated by spaces."),
		Accept: func(t *taking, b interlock.Bench) {
			t.Does(interlock.Measured(b))
			putKnives(t)
		},
	},
	Why:  form.Lines("A knife is thicker than the plate of its blade, and thinner than the kerf."),
	Help: []string{"Too thick a knife wedges the stock; too thin a one lets the kerf close on the plate: at least {0.2 mm|0.008 in} over the plate (EN 1870-1, fig. 6)."},
	Fields: func(c context) []field {
		f := form.Lengths(c, "thickness", "Thickness of each knife", "one or more, such as "+c.Pick("2.5", "0.098"), nil, 1, 9, leastKnife, mostKnife)
		f.Value = form.Sizes(c, c.Knives())
		return []field{f}
	},
	Head: putKnives,
}

// A knife is as thick as this at the least and at the most (common practice).
const (
	leastKnife = mm / 2
	mostKnife  = 8 * mm
)

// putKnives takes the knives of the saw. One that is named somewhere stays, and so does one
// that is gone.
func putKnives(t *taking) {
	var knives []model.Knife
	for _, m := range t.Lengths("thickness") {
		if knifeOf(knives, m) >= 0 {
			t.Fault("thickness", "two knives of %s: type each thickness once", m)
			return
		}
		if i := knifeOf(t.Profile.Knives, m); i >= 0 {
			k := t.Profile.Knives[i]
			if t.State.Gone[k.ID] != nil {
				t.Fault("thickness", "the knife of %s is gone by the records: say under other work that it is there again", m)
			}
			knives = append(knives, k)
			continue
		}
		knives = append(knives, model.Knife{ID: knifeID(m, append(t.Profile.Knives, knives...)), Thickness: m})
	}
	for _, old := range t.Profile.Knives {
		if t.State.Gone[old.ID] != nil {
			knives = append(knives, old)
		} else if knifeOf(knives, old.Thickness) < 0 && knifeNamed(t.Profile, old.ID) {
			t.Fault("thickness", "a blade or a record names the knife of %s: leave it in", old.Thickness)
			return
		}
	}
	t.Head(func(p *model.Profile) { p.Knives = knives })
}

func knifeOf(knives []model.Knife, m model.Measure) int {
	return slices.IndexFunc(knives, func(k model.Knife) bool { return k.Thickness.Length == m.Length })
}

func knifeNamed(p model.Profile, id string) bool {
	return slices.ContainsFunc(p.Blades, func(b model.Blade) bool { return b.Knife == id }) ||
		slices.ContainsFunc(p.Records, func(r model.Record) bool { return r.Knife == id || r.Left == id })
}

// knifeID names a knife after its thickness: k25 is 2.5 mm, k248 is 2.48 mm, k3-32 is 3/32 in.
func knifeID(m model.Measure, others []model.Knife) string {
	id := "k" + strings.TrimSuffix(strconv.FormatInt(int64((m.Length+mm/200)/(mm/100)), 10), "0")
	if size := m.Length.Size(model.IN, 0); m.Unit == model.Fraction && strings.Contains(size, "/") {
		id = "k" + strings.NewReplacer(" in", "", "/", "-", " ", "-").Replace(size)
	}
	return unused(id, func(id string) bool {
		return slices.ContainsFunc(others, func(k model.Knife) bool { return k.ID == id })
	})
}

// unused is an id that is not taken yet: this one, else with a number behind it.
func unused(id string, taken func(string) bool) string {
	for base, n := id, 2; taken(id); n++ {
		id = base + "-" + strconv.Itoa(n)
	}
	return id
}

// newName refuses a name that another blade has, and a bare number, which is a place in a
// list; own is the blade that is named.
func newName(c context, text, own string) error {
	if !strings.ContainsFunc(text, unicode.IsLetter) {
		return fmt.Errorf("%s is a number of the list and no name: type a word with it, such as %s-tooth general", strings.TrimSpace(text), strings.TrimSpace(text))
	}
	switch b, ok := c.Profile.Namesake(strings.TrimSpace(text), own); {
	case ok && b.Retired:
		return fmt.Errorf("a blade that has left the rack is called %s: give this one a name of its own, or, if it is that blade, say under other work that it is back", b.Name())
	case ok:
		return fmt.Errorf("another blade is called %s: give this one a name of its own", b.Name())
	}
	return nil
}

// addBlade puts a blade on the rack of which nothing is known but its name.
func addBlade(t *taking, key string) string {
	label := t.Text(key)
	id := unused(idOf(label), func(id string) bool { _, taken := t.Profile.Namesake(id, ""); return taken })
	t.Head(func(p *model.Profile) {
		p.Blades = append(slices.Clone(p.Blades), model.Blade{ID: id, Label: label})
	})
	return id
}

// idOf is a short name after a label: letters and digits, with dashes between.
func idOf(label string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(label) {
		switch {
		case r < 128 && (unicode.IsLetter(r) || unicode.IsDigit(r)):
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	id := strings.Trim(b.String()[:min(b.Len(), 40)], "-")
	if id == "" {
		return "blade"
	}
	return id
}

// editBlade writes to one blade of the rack.
func editBlade(t *taking, id string, write func(*model.Blade)) {
	t.Head(func(p *model.Profile) {
		p.Blades = slices.Clone(p.Blades)
		for i := range p.Blades {
			if p.Blades[i].ID == id {
				write(&p.Blades[i])
			}
		}
	})
}

// theBlade names what a row measures: its blade, which has to lie on the bench.
func theBlade(c context) string { return c.Blade }

var bladeRow = row{
	Name: "blade", Stage: 4, Title: func(c context) string { return "Blade: " + c.Name(c.Blade) },
	Done: func(c context) bool {
		b, _ := c.Profile.BladeByID(c.Blade)
		return b.Teeth > 0 && Known(b.Diameter, b.Bore)
	},
	Act: procedure.Measure{
		Part: theBlade,
		Says: func(c context, _ interlock.Bench) []string {
			return []string{
				fmt.Sprintf("Take the %s to the bench. Clean resin off.", c.Name(c.Blade)),
				"Look for a crack or a missing tip: such a blade never goes on; mark it.",
				"Count the teeth. Read the rest off the blade, or measure.",
			}
		},
		Accept: func(t *taking, b interlock.Bench) {
			t.Does(interlock.Measured(b))
			putBlade(t)
		},
	},
	Why:  form.Lines(form.SharpStill),
	Help: []string{"The greatest speed marked on a blade is at least that of the spindle (EN 1870-1, 6.3).", "A blade is at least 60 % of the largest of its machine (HSE WIS16).", "The knife is the one that stands behind this blade; the program checks that it fits. One that is not in the list is added under other work, as a knife that was bought.", "A blade that is refused here, and was read right, is no blade of this saw: take it off the rack, under other work."},
	Fields: func(c context) []field {
		b, _ := c.Profile.BladeByID(c.Blade)
		before := bladeBefore(c)
		if before.Bore.Unit == model.NoUnit {
			before.Bore = c.Profile.Saw.ArborDiameter
		}
		knives := c.Knives()
		if len(knives) == 1 {
			before.Knife = knives[0].ID
		}
		offered := func(own, last model.Measure) model.Measure {
			if Known(own) {
				return own
			}
			return last
		}
		knife := b.Knife
		if knife == "" {
			knife = before.Knife
		}
		fs := []field{
			{Key: "teeth", Label: "Teeth, counted", Hint: "2 to 200", Kind: procedure.FieldCount, AtLeast: 2, AtMost: 200, Value: count(teethOf(b))},
			form.Length(c, "diameter", "Diameter", c.Pick("250", "10"), offered(b.Diameter, before.Diameter), 50*mm, 700*mm).Against(checkDiameter),
			form.Length(c, "bore", "Bore", c.Pick("30", "5/8 in"), offered(b.Bore, before.Bore), 5*mm, 100*mm).Against(checkBore),
			form.Optional(field{Key: "marked_speed", Label: "Greatest speed marked on it, rpm", Hint: "such as 7000; empty: none is marked", Kind: procedure.FieldCount, AtLeast: 500, AtMost: model.MaxSpeed, Value: count(b.MarkedSpeed)}).Against(checkMarked),
		}
		if len(knives) > 1 { // else it is the one there is
			fs = append(fs, oneKnife(c, "Knife behind it", knife))
		}
		if b.Teeth == 0 { // its name was typed just now
			return fs
		}
		return append(fs, field{Key: "label", Label: "What it is called", Hint: "such as 48-tooth general", Kind: procedure.FieldText, Value: b.Name()}.With(func(text string) error {
			if strings.TrimSpace(text) == b.Name() {
				return nil
			}
			return newName(c, text, c.Blade)
		}))
	},
	Picture: func(c context, a answers) procedure.Picture { return rackTable(markingsTyped(c, a), c.Blade) },
	Head:    putBlade,
	Follows: func(c context, a answers) []reason {
		b, _ := c.Profile.BladeByID(c.Blade)
		b.Teeth, _ = strconv.Atoi(strings.TrimSpace(a["teeth"]))
		if twins := form.Twins(c, b); b.Teeth > 0 && len(twins) > 0 {
			return []reason{{Code: "as-many-teeth", Weight: model.Warns, Text: fmt.Sprintf("as many teeth as: %s. Write its name on each of them now: the gates ask for it", strings.Join(twins, ", "))}}
		}
		return nil
	},
}

// teethOf is how many teeth a blade has: as they were counted, else as its name begins.
func teethOf(b model.Blade) int {
	if b.Teeth > 0 {
		return b.Teeth
	}
	digits := strings.TrimLeft(b.Label, "0123456789")
	n, _ := strconv.Atoi(strings.TrimSuffix(b.Label, digits))
	if n < 2 || n > 200 {
		return 0
	}
	return n
}

// bladeBefore is the blade that was described last before this one: what it has is offered
// for the next.
func bladeBefore(c context) (last model.Blade) {
	for _, b := range c.Profile.Rack() {
		if b.ID == c.Blade {
			break
		}
		last = b
	}
	return last
}

// checkDiameter holds a blade against the flange and the largest of the rack, checkBore
// against the arbor, checkMarked against the spindle.
func checkDiameter(t *taking) {
	w, diameter := metrology.WordsOf(t.Profile), t.Length("diameter").Length
	form.Asked(t, "diameter", solver.CheckFlange(t.Profile.Saw.FlangeDiameter.Length, 0, diameter, w))
	form.Asked(t, "diameter", solver.CheckSmallest(diameter, max(diameter, largest(t.Context)), w))
}

func checkBore(t *taking) {
	diameter, bore := t.Length("diameter"), t.Length("bore")
	form.Asked(t, "bore", solver.CheckBore(bore.Length, t.Profile.Saw.ArborDiameter.Length, metrology.WordsOf(t.Profile)))
	if bore.Length >= diameter.Length {
		t.Fault("bore", "a bore of %s is as large as the blade of %s: were the two swapped?", bore, diameter)
	}
}

func checkMarked(t *taking) {
	form.Asked(t, "marked_speed", solver.CheckSpeed(t.Count("marked_speed"), t.Profile.Saw.SpindleSpeed))
}

func putBlade(t *taking) {
	editBlade(t, t.Blade, func(b *model.Blade) {
		if t.Typed("label") {
			b.Label = t.Text("label")
		}
		b.Teeth, b.Diameter, b.Bore = t.Count("teeth"), t.Length("diameter"), t.Length("bore")
		if b.MarkedSpeed = t.Count("marked_speed"); t.Typed("knife") {
			b.Knife = t.Choice("knife")
		} else if knives := t.Knives(); len(knives) == 1 && b.Knife == "" {
			b.Knife = knives[0].ID
		}
	})
}
