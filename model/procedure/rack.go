package procedure

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.com/sawdatum/model"
)

var rackSteps = map[string]step{
	"blade": {
		number: 2, needs: measuring("blade"), title: func(c context) string {
			if c.blade == "" {
				return "One more blade on the bench"
			}
			return "Blade: " + c.name(c.blade)
		},
		do:   words("Take one blade to the bench. Hold it by gloves or a rag.", "Read its markings, or measure."),
		why:  words("A blade is as sharp lying still. Its teeth are counted again at the saw, so that no wrong one is mounted."),
		help: []string{"Check too that the greatest speed marked on the blade is at least that of the spindle (EN 1870-1, 6.3).", "The knife is the one that stands behind this blade; the program checks that it fits."},
		fields: func(c context) []Field {
			b, _ := c.profile.BladeByID(c.blade)
			teeth, knife := "", b.Knife
			if b.Teeth > 0 {
				teeth = strconv.Itoa(b.Teeth)
			}
			if len(c.profile.Knives) == 1 {
				knife = c.profile.Knives[0].ID
			}
			return []Field{
				{Key: "label", Label: "What it is called", Hint: "such as 48-tooth general", Kind: FieldText, Value: b.Label},
				{Key: "teeth", Label: "Teeth", Hint: "2 to 200", Kind: FieldCount, AtLeast: 2, AtMost: 200, Value: teeth},
				c.lengthField("diameter", "Diameter", c.example("250", "10"), b.Diameter, 50*mm, 700*mm),
				c.lengthField("bore", "Bore", c.example("30", "5/8 in"), b.Bore, 5*mm, 100*mm),
				c.knifeChoice("Knife behind it", knife),
			}
		},
		accept: acceptBlade,
	},
	"thickness": {
		number: 2, needs: measuring("blade"), picture: KnifeWindow, title: func(c context) string { return "Plate and kerf: " + c.name(c.blade) },
		do: func(c context) []string {
			return []string{
				fmt.Sprintf("With the micrometer, on the %s:", c.name(c.blade)),
				"read the plate at three places inside the teeth, then over the tips of three teeth.",
				"Type all readings, separated by spaces. Runout at the rim only if you have read it.",
			}
		},
		why:  words("Plate and kerf decide which blade is the reference, which rings come first, and whether the knife fits."),
		help: []string{"The kerf is the width of the teeth. On alternating teeth measure across neighbours so that both sides count."},
		fields: func(c context) []Field {
			b := c.state.Blades[c.blade]
			runout := c.lengthField("runout", "Runout at the rim (may stay empty)", c.example("0.05", "0.002"), b.Runout, 0, 2*mm)
			runout.Optional = true
			fields := []Field{
				{Key: "plate", Label: "Plate readings", Hint: "three or more, such as " + c.example("2.201 2.203 2.200 mm", "0.0866 0.0867 0.0866 in"), Kind: FieldLengths, Unit: c.unit(), AtLeast: 3, AtMost: 50, Min: mm / 2, Max: 10 * mm, Measuring: true, Value: typedAll(b.Plate)},
				{Key: "kerf", Label: "Kerf readings", Hint: "three or more, such as " + c.example("3.204 3.201 3.206 mm", "0.1260 0.1261 0.1262 in"), Kind: FieldLengths, Unit: c.unit(), AtLeast: 3, AtMost: 50, Min: mm / 2, Max: 15 * mm, Measuring: true, Value: typedAll(b.Kerf)},
				runout,
			}
			if len(b.Plate) > 0 && c.run.who == "" {
				fields = append(fields, Field{Key: "by", Label: "Your initials", Hint: "such as KB: what was read before stays on record", Kind: FieldInitials})
			}
			return fields
		},
		accept: func(t *taking) {
			plate, kerf := t.lengths("plate"), t.lengths("kerf")
			t.checkKerf(plate, kerf)
			runout := t.lengthOrNone("runout")
			if read := t.state.Blades[t.blade]; len(read.Plate) == 0 || model.Dropped("reread-is-a-new-record") {
				t.editBlade(func(b *model.Blade) { b.Plate, b.Kerf, b.Runout = plate, kerf, runout })
			} else {
				t.run.who = cmp.Or(t.run.who, t.text("by"))
				if !slices.Equal(plate, read.Plate) || !slices.Equal(kerf, read.Kerf) || runout != read.Runout {
					t.record(model.Record{Kind: model.Thickness, Blade: t.blade, Plate: plate, Kerf: kerf, Runout: runout})
				}
			}
			blade := t.blade
			t.after = func(p Procedure) []model.Reason { return p.knifeWarnings(blade) }
		},
	},
	"rack": {
		number: 2, title: titled("Is the rack whole?"), picture: RackPicture,
		do: func(c context) []string {
			var names []string
			for _, b := range c.profile.Rack() {
				names = append(names, c.name(b.ID))
			}
			return []string{"On the rack so far: " + strings.Join(names, ", ") + ".", "Type another to add a blade, or done when every blade of this saw is there."}
		},
		why: words("At least two blades are needed: one is the reference, the others are brought to its line."),
		fields: func(context) []Field {
			return []Field{{Key: "more", Label: "The rack", Hint: "another or done", Kind: FieldChoice, Options: []string{"another", "done"}}}
		},
		accept: func(t *taking) {
			if t.choice("more") == "another" {
				t.run.adding = true
				return
			}
			if len(t.profile.Rack()) < 2 {
				t.fault("more", "one blade has nothing to be compared with: type another")
			}
			t.run.rack = true
		},
	},
	"rings": {
		number: 2, title: titled("Shim rings"), needs: measuring("rings"), picture: ArborSection,
		do: func(c context) []string {
			if len(c.profile.Rings) > 0 {
				return []string{"A row for each ring: mend what has changed in it. Lost: how many are left, 0 for none.", "New rings: type each thickness, with x2 behind it for two of a sort. Then what they really measure, in the same order, if you have read it."}
			}
			return []string{"Lay out every shim ring that fits this arbor.", "Type each thickness, with x2 behind it for two of a sort. Then what they really measure, in the same order, if you have read it."}
		},
		why:    words("A ring known only by its printed thickness may be {0.02 mm|0.001 in} off; a measured one is worth more."),
		help:   []string{"Rings must reach over the relief of the flange, or they tilt the blade. They go on thinnest against the flange, thickest next to the blade."},
		fields: context.kitFields,
		accept: acceptRings,
	},
	"datum": {
		number: 2, title: titled("Reference blade and standing stack"), picture: RackPicture,
		do: func(c context) []string {
			chosen := c.chosen()
			lines := []string{
				fmt.Sprintf("Take the reference blade that the readings name, the %s, with %s behind it; another only if you know why.", c.name(chosen.Reference), c.rings(chosen.Standing)),
				"Every other blade is brought to the line that this one cuts.",
			}
			for _, r := range chosen.Reasons {
				if len(lines) < 5 {
					lines = append(lines, model.Sentence(r.Text))
				}
			}
			return lines
		},
		why: func(c context) []string {
			if len(c.chosen().Standing) == 0 && len(c.profile.Standing) == 0 {
				return []string{"Rings move a blade one way only: with another reference some blade may need less than none."}
			}
			return []string{"The standing stack stays behind the reference, so that every other blade needs more than nothing."}
		},
		help: []string{"Far flange: the reference is the blade with the largest (plate + kerf) / 2. Near flange: the one with the smallest (kerf - plate) / 2. Choose another only if you know why."},
		fields: func(c context) []Field {
			chosen := c.chosen()
			reference, standing := chosen.Reference, chosen.Standing
			if c.profile.Reference != "" {
				reference = c.profile.Reference
			}
			if c.profile.Standing != nil {
				standing = c.profile.Standing
			}
			return []Field{
				c.bladeField("reference", "Reference blade", reference),
				{Key: "standing", Label: "Standing stack, flange first", Hint: "rings of the kit, or none", Kind: FieldRings, Value: c.ringsTyped(standing), check: func(text string) error {
					_, err := c.profile.ParseStack(text)
					return err
				}},
			}
		},
		accept: func(t *taking) {
			reference, standing := t.choice("reference"), t.ringList("standing")
			named, _ := t.profile.BladeByID(reference)
			if !t.fits(reference, named.Knife) {
				t.fault("reference", "the %s has no knife that it may run with, so it cannot define the datum: give it one that fits, or choose another", t.context().name(reference))
				return
			}
			t.askCannot(reference, standing)
			t.head(func(p *model.Profile) { p.Reference, p.Standing = reference, standing })
			t.after = func(p Procedure) []model.Reason {
				var out []model.Reason
				for _, b := range p.plan.Blades {
					out = append(out, p.knifeWarnings(b.ID)...)
				}
				return append(out, p.plan.Reasons...)
			}
		},
	},
}

// askCannot asks again where more blades could be brought in than with this datum.
func (t *taking) askCannot(reference string, standing []string) {
	c, named := t.context(), t.profile
	named.Reference, named.Standing = reference, standing
	cannot, best := c.cannot(t.judge(named)), c.chosen()
	if len(cannot) > len(c.cannot(best)) {
		t.question("reference", "with the %s and %s behind it the kit cannot bring in: %s; with the %s and %s it cannot: %s",
			c.name(reference), c.rings(standing), strings.Join(cannot, ", "), c.name(best.Reference), c.rings(best.Standing), cmp.Or(strings.Join(c.cannot(best), ", "), "none"))
	}
}

// cannot names the blades that may run and that the kit does not bring in.
func (c context) cannot(p model.Plan) (names []string) {
	for _, b := range p.Blades {
		if b.Verdict == model.Cannot && b.Knife == model.KnifeFits {
			names = append(names, c.name(b.ID))
		}
	}
	return names
}

// chosen is the plan with reference and standing stack left to the numbers.
func (c context) chosen() model.Plan {
	p := c.profile
	if p.Reference == "" && p.Standing == nil {
		return c.plan
	}
	p.Reference, p.Standing = "", nil
	return c.judge(p)
}

// knifeReasons are the reasons of a blade that speak of its knife.
func (p Procedure) knifeReasons(id string) []model.Reason {
	row, ok := p.plan.Blade(id)
	if !ok || row.Knife == model.KnifeFits {
		return nil
	}
	var out []model.Reason
	for _, r := range row.Reasons {
		if strings.HasPrefix(r.Code, "knife-too") || r.Code == "knife-none" {
			out = append(out, r)
		}
	}
	return out
}

// knifeWarnings say of which blade they speak.
func (p Procedure) knifeWarnings(id string) []model.Reason {
	out := p.knifeReasons(id)
	for i := range out {
		out[i].Text = p.profile.BladeName(id) + ": " + out[i].Text
	}
	return out
}

func (t *taking) checkKerf(plate, kerf []model.Measure) {
	if len(plate) > 0 && len(kerf) > 0 && slices.Min(model.Lengths(kerf)) <= slices.Max(model.Lengths(plate)) {
		t.fault("kerf", "a kerf of %s is no wider than the plate of %s: teeth must stand out; were the two swapped?", slices.MinFunc(kerf, shorter), slices.MaxFunc(plate, shorter))
	}
}

func shorter(a, b model.Measure) int { return int(a.Length - b.Length) }

// editBlade writes to one blade of the rack, or adds it.
func (t *taking) editBlade(write func(b *model.Blade)) {
	blades := slices.Clone(t.profile.Blades)
	i := slices.IndexFunc(blades, func(b model.Blade) bool { return b.ID == t.blade })
	if i < 0 {
		blades = append(blades, model.Blade{})
		i = len(blades) - 1
	}
	write(&blades[i])
	t.head(func(p *model.Profile) { p.Blades = blades })
}

func acceptBlade(t *taking) {
	label := t.text("label")
	id := t.blade
	if id == "" || !strings.EqualFold(t.context().name(id), label) && !t.named(id) {
		id = bladeID(label, t.blade, t.profile)
	}
	switch b, ok := t.profile.Namesake(label, t.blade); {
	case ok && b.Retired:
		t.fault("label", "a blade that has left the rack is called %s: give this one a name of its own, or, if it is that blade, say under other work that it is back", b.Name())
	case ok:
		t.fault("label", "another blade is called %s: give this one a name of its own", b.Name())
	}
	if bore := t.length("bore"); bore.Length < t.profile.Saw.ArborDiameter.Length {
		t.fault("bore", "a bore of %s does not go over the arbor of %s: measure again", bore, t.profile.Saw.ArborDiameter)
	}
	t.editBlade(func(b *model.Blade) {
		b.ID, b.Label, b.Teeth, b.Knife = id, label, t.count("teeth"), t.choice("knife")
		b.Diameter, b.Bore = t.length("diameter"), t.length("bore")
	})
	b, _ := t.profile.BladeByID(id)
	t.sayTwins(b)
	t.run.laid(t.blade, id)
	t.run.adding = false
}

// sayTwins says which blades of the rack have as many teeth.
func (t *taking) sayTwins(b model.Blade) {
	if twins := t.context().twins(b); len(twins) > 0 {
		t.say("as-many-teeth", model.Warns, "As many teeth as: %s. Write its name on each of them now, %s on this one: the gates ask for it.", strings.Join(twins, ", "), b.Name())
	}
}

// named reports whether the file calls a blade by its id in more places than on the
// rack: then a new label does not change it.
func (t *taking) named(blade string) bool {
	return t.profile.Reference == blade || t.options.Blade == blade ||
		slices.ContainsFunc(t.profile.Records, func(r model.Record) bool { return r.Blade == blade || r.Piece == blade })
}

// bladeID is a new id after a label; own is the one that it replaces.
func bladeID(label, own string, p model.Profile) string {
	var b strings.Builder
	for _, r := range strings.ToLower(label) {
		switch {
		case r < 128 && (unicode.IsLetter(r) || unicode.IsDigit(r)):
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	id := strings.Trim(b.String(), "-")
	if id == "" {
		id = "blade"
	}
	if len(id) > 40 {
		id = id[:40]
	}
	for base, n := id, 2; ; n++ {
		if _, taken := p.Namesake(id, own); !taken {
			return id
		}
		id = base + "-" + strconv.Itoa(n)
	}
}
