package procedure

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"example.com/sawdatum/model"
)

// head is a shallow copy of the profile that may be written to.
func (t *taking) head(write func(p *model.Profile)) {
	write(&t.profile)
	t.changed = true
}

func typed(m model.Measure) string {
	if m.Unit == model.NoUnit {
		return ""
	}
	return m.String()
}

func typedAll(ms []model.Measure) string {
	var out []string
	for _, m := range ms {
		s := m.String()
		if m.Unit == model.Fraction {
			s = strings.Replace(s, " ", "-", strings.Count(s, " ")-1)
		}
		out = append(out, strings.ReplaceAll(s, " ", ""))
	}
	return strings.Join(out, " ")
}

func (c context) lengthField(key, label, example string, value model.Measure, lo, hi model.Length) Field {
	u := c.unit()
	return Field{Key: key, Label: label, Kind: FieldLength, Unit: u, Min: lo, Max: hi, Value: typed(value),
		Hint: fmt.Sprintf("%s to %s, such as %s", rounded(lo, u), rounded(hi, u), example)}
}

// rounded is a limit for people to read; limits are round figures in millimetres.
func rounded(l model.Length, u model.Unit) string {
	if u == model.IN {
		return l.Show(u, 0)
	}
	return l.Of(u).String()
}

// example picks the example in the shop's unit.
func (c context) example(mm, in string) string {
	if c.unit() == model.IN {
		return in
	}
	return mm
}

const mm = model.Millimetre

var headSteps = map[string]step{
	"saw": {
		number: 1, title: titled("The saw"),
		do:   words("Stand before the saw as you work at it.", "Say what it is called and which way its blade tilts."),
		why:  words("Tilt and fence side tell on which side of the blade the flange usually sits."),
		help: []string{"A lefthand tilt leans the top of the blade to your left. Fence side is the side of the blade on which the rip fence is used."},
		fields: func(c context) []Field {
			units := "mm"
			if c.profile.Units == model.IN {
				units = "in"
			}
			return []Field{
				{Key: "label", Label: "Name of the saw", Hint: "such as Bay 2 saw", Kind: FieldText, Value: c.profile.Saw.Label},
				{Key: "units", Label: "Units", Hint: "mm or in: how lengths are shown, and read when typed bare", Kind: FieldChoice, Options: []string{"mm", "in"}, Value: units},
				{Key: "tilt", Label: "Blade tilts", Hint: "left or right", Kind: FieldChoice, Options: []string{"left", "right"}, Value: string(c.profile.Saw.Tilt)},
				{Key: "fence_side", Label: "Fence is", Hint: "left or right of the blade", Kind: FieldChoice, Options: []string{"left", "right"}, Value: string(c.profile.Saw.FenceSide)},
			}
		},
		accept: func(t *taking) {
			t.head(func(p *model.Profile) {
				p.Saw.Label, p.Saw.Tilt, p.Saw.FenceSide = t.text("label"), model.Tilt(t.choice("tilt")), model.Side(t.choice("fence_side"))
				p.Units = map[string]model.Unit{"mm": model.MM, "in": model.IN}[t.choice("units")]
			})
		},
	},
	"flange": {
		number: 1, title: titled("Arbor and flange"), picture: ArborSection,
		do: func(c context) []string {
			return []string{
				"Look at the arbor from the front: which side of the blade is the fixed flange on?",
				fmt.Sprintf("Usual for a saw that tilts %s with the fence %s: %s. Some saws differ: look.", c.profile.Saw.Tilt, c.profile.Saw.FenceSide, model.UsualFlange(c.profile.Saw.Tilt, c.profile.Saw.FenceSide)),
				"far: on the side away from the fence. near: on the fence side.",
			}
		},
		why:  words("From the front you can see it with the saw off. Keep hands out: nothing is isolated yet."),
		help: []string{"Rings go between this flange and the blade, so the side decides which way they move the cut.", "The relief is the hollow in the middle of the flange; rings must reach over it. Take the figures from the manual, or measure when the saw is isolated."},
		fields: func(c context) []Field {
			s := c.profile.Saw
			return []Field{
				{Key: "flange", Label: "Flange is", Hint: "far or near", Kind: FieldChoice, Options: []string{"far", "near"}, Value: string(s.Flange)},
				c.lengthField("flange_diameter", "Flange diameter", c.example("80", "3"), s.FlangeDiameter, 10*mm, 300*mm),
				c.lengthField("flange_relief", "Relief, diameter (0: flat)", c.example("50", "2"), s.FlangeRelief, 0, 300*mm),
				c.lengthField("arbor_diameter", "Arbor diameter", c.example("30", "5/8 in"), s.ArborDiameter, 5*mm, 100*mm),
			}
		},
		accept: func(t *taking) {
			d, relief, arbor := t.length("flange_diameter"), t.length("flange_relief"), t.length("arbor_diameter")
			if relief.Length >= d.Length {
				t.fault("flange_relief", "the relief of %s is as large as the flange of %s: type the inner diameter of its bearing rim", relief, d)
			}
			if arbor.Length >= d.Length {
				t.fault("arbor_diameter", "the arbor of %s is as thick as the flange of %s: type the diameter that the bore fits", arbor, d)
			}
			t.head(func(p *model.Profile) {
				p.Saw.Flange = model.Flange(t.choice("flange"))
				p.Saw.FlangeDiameter, p.Saw.FlangeRelief, p.Saw.ArborDiameter = d, relief, arbor
			})
			if usual := model.UsualFlange(t.profile.Saw.Tilt, t.profile.Saw.FenceSide); usual != t.profile.Saw.Flange {
				t.say("flange-unusual", model.Warns, "You saw a %s flange; the usual one here would be %s. What you saw counts.", t.profile.Saw.Flange, usual)
			}
		},
	},
	"thread": {
		number: 1, title: titled("Thread and throat"),
		do:   words("Take from the manual, or measure when the saw is isolated:", "the thread that shows past the nut with the reference blade on and no rings; its pitch; the length of the throat opening."),
		why:  words("A stack may be no higher than the thread allows: at least one pitch must show past the nut."),
		help: []string{"You will measure the thread again at the arbor, when the saw is isolated."},
		fields: func(c context) []Field {
			s := c.profile.Saw
			return []Field{
				c.lengthField("spare_thread", "Thread past the nut", c.example("9", "3/8 in"), s.SpareThread, mm/2, 60*mm),
				c.lengthField("thread_pitch", "Thread pitch", c.example("2", "1/16 in"), s.ThreadPitch, mm/2, 5*mm),
				c.lengthField("throat_length", "Throat opening, length", c.example("360", "14"), s.ThroatLength, 50*mm, 1000*mm),
			}
		},
		accept: func(t *taking) {
			t.head(func(p *model.Profile) {
				p.Saw.SpareThread, p.Saw.ThreadPitch, p.Saw.ThroatLength = t.length("spare_thread"), t.length("thread_pitch"), t.length("throat_length")
			})
		},
	},
	"knives": {
		number: 1, title: titled("Riving knives"), picture: KnifeWindow,
		do:   words("Measure the thickness of each riving knife that fits this saw.", "Type them all, separated by spaces."),
		why:  words("A knife must be thicker than the blade's plate and thinner than its kerf (EN 1870-1: plate + 0.2 mm or more)."),
		help: []string{"A knife as thick as the kerf wedges the stock; one too thin lets the kerf close on the plate."},
		fields: func(c context) []Field {
			var have []model.Measure
			for _, k := range c.profile.Knives {
				have = append(have, k.Thickness)
			}
			return []Field{{Key: "thickness", Label: "Knife thickness", Hint: "one or more, such as " + c.example("2.5", "0.098"), Kind: FieldLengths, Unit: c.unit(), AtLeast: 1, AtMost: 9, Min: mm / 2, Max: 8 * mm, Value: typedAll(have)}}
		},
		accept: func(t *taking) {
			var knives []model.Knife
			for _, m := range t.lengths("thickness") {
				id := knifeID(m)
				if slices.ContainsFunc(knives, func(k model.Knife) bool { return k.ID == id }) {
					t.fault("thickness", "two knives of %s: type each thickness once", m)
				}
				knives = append(knives, model.Knife{ID: id, Thickness: m})
			}
			for i, k := range knives {
				for _, old := range t.profile.Knives {
					if old.Thickness.Length == k.Thickness.Length {
						knives[i] = old
					}
				}
			}
			for _, old := range t.profile.Knives {
				used := slices.ContainsFunc(t.profile.Blades, func(b model.Blade) bool { return b.Knife == old.ID })
				if used && !slices.ContainsFunc(knives, func(k model.Knife) bool { return k.ID == old.ID }) {
					t.fault("thickness", "a blade names the knife of %s: leave it in", old.Thickness)
				}
			}
			t.head(func(p *model.Profile) { p.Knives = knives })
		},
	},
	"instruments": {
		number: 1, title: titled("Instruments and tolerance"),
		do:   words("Say what the caliper and the micrometer can read,", "how far a blade's cut face may lie from the datum face, and the fence setting for comparisons."),
		why:  words("A reading is worth no more than the instrument's last digit; the tolerance decides what counts as in."),
		help: []string{"A tolerance of 0.05 mm (0.002 in) is common practice for cabinet parts. With a 0.01 mm caliper do not ask for less than 0.03 mm."},
		fields: func(c context) []Field {
			p := c.profile
			return []Field{
				c.lengthField("caliper", "Caliper reads to", c.example("0.01", "0.0005"), p.Instruments.Caliper, 1000, mm),
				c.lengthField("micrometer", "Micrometer reads to", c.example("0.001", "0.0001"), p.Instruments.Micrometer, 100, mm/10),
				c.lengthField("tolerance", "Tolerance, plus or minus", c.example("0.05", "0.002"), p.Tolerance, mm/200, mm),
				c.lengthField("working_width", "Fence setting to compare at", c.example("120", "5"), p.WorkingWidth, 20*mm, 1000*mm),
			}
		},
		accept: func(t *taking) {
			t.head(func(p *model.Profile) {
				p.Instruments.Caliper, p.Instruments.Micrometer = t.length("caliper"), t.length("micrometer")
				p.Tolerance, p.WorkingWidth = t.length("tolerance"), t.length("working_width")
			})
		},
	},
	"blade": {
		number: 2, title: func(c context) string {
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
			var knives []string
			for _, k := range c.profile.Knives {
				knives = append(knives, k.ID)
			}
			if len(knives) == 1 {
				knife = knives[0]
			}
			return []Field{
				{Key: "label", Label: "What it is called", Hint: "such as 48-tooth general", Kind: FieldText, Value: b.Label},
				{Key: "teeth", Label: "Teeth", Hint: "a whole number, 2 to 200", Kind: FieldCount, AtLeast: 2, AtMost: 200, Value: teeth},
				c.lengthField("diameter", "Diameter", c.example("250", "10"), b.Diameter, 50*mm, 700*mm),
				c.lengthField("bore", "Bore", c.example("30", "5/8 in"), b.Bore, 5*mm, 100*mm),
				{Key: "knife", Label: "Knife behind it", Hint: either(knives), Kind: FieldChoice, Options: knives, Value: knife},
			}
		},
		accept: acceptBlade,
	},
	"thickness": {
		number: 2, picture: KnifeWindow, title: func(c context) string { return "Plate and kerf: " + c.name(c.blade) },
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
			b, _ := c.profile.BladeByID(c.blade)
			runout := c.lengthField("runout", "Runout at the rim (may stay empty)", c.example("0.05", "0.002"), b.Runout, 0, 2*mm)
			runout.Optional = true
			return []Field{
				{Key: "plate", Label: "Plate readings", Hint: "three or more, such as " + c.example("2.201 2.203 2.200", "0.0866 0.0867 0.0866"), Kind: FieldLengths, Unit: c.unit(), AtLeast: 3, AtMost: 50, Min: mm / 2, Max: 10 * mm, Measuring: true, Value: typedAll(b.Plate)},
				{Key: "kerf", Label: "Kerf readings", Hint: "three or more, such as " + c.example("3.204 3.201 3.206", "0.126 0.1261 0.1262"), Kind: FieldLengths, Unit: c.unit(), AtLeast: 3, AtMost: 50, Min: mm / 2, Max: 15 * mm, Measuring: true, Value: typedAll(b.Kerf)},
				runout,
			}
		},
		accept: func(t *taking) {
			plate, kerf := t.lengths("plate"), t.lengths("kerf")
			t.checkKerf(plate, kerf)
			t.editBlade(func(b *model.Blade) {
				b.Plate, b.Kerf, b.Runout = plate, kerf, model.Measure{}
				if t.text("runout") != "" {
					b.Runout = t.length("runout")
				}
			})
			blade := t.blade
			t.after = func(p Procedure) []model.Reason { return p.knifeReasons(blade) }
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
		number: 2, title: titled("Shim rings"), picture: ArborSection,
		do:   words("Lay out every shim ring that fits this arbor.", "Type each thickness, with x2 behind it for two of a sort. Then what they really measure, in the same order, if you have read it."),
		why:  words("A ring known only by its printed thickness may be 0.02 mm off; a measured one is worth more."),
		help: []string{"Rings must reach over the relief of the flange, or they tilt the blade. They go on thinnest against the flange, thickest next to the blade."},
		fields: func(c context) []Field {
			var kit, measured []string
			var outer model.Measure
			for _, r := range c.profile.Rings {
				s := strings.ReplaceAll(r.Thickness.String(), " ", "")
				if r.Count > 1 {
					s += "x" + strconv.Itoa(r.Count)
				}
				kit, outer = append(kit, s), r.Outer
				measured = append(measured, strings.ReplaceAll(r.Height().Of(r.Thickness.Unit).String(), " ", ""))
			}
			if !slices.ContainsFunc(c.profile.Rings, func(r model.Ring) bool { return r.Measured.Unit != model.NoUnit }) {
				measured = nil
			}
			return []Field{
				{Key: "kit", Label: "Rings", Hint: "such as " + c.example("0.10x2 0.25 0.50", "0.004x2 0.010 0.020"), Kind: FieldKit, Unit: c.unit(), Value: strings.Join(kit, " ")},
				{Key: "measured", Label: "Measured (may stay empty)", Hint: "one a sort, in the same order", Kind: FieldLengths, Unit: c.unit(), Optional: true, Min: mm / 100, Max: 11 * mm, Value: strings.Join(measured, " ")},
				c.lengthField("outer", "Outer diameter of the rings", c.example("78", "3"), outer, 10*mm, 300*mm),
			}
		},
		accept: acceptRings,
	},
	"datum": {
		number: 2, title: titled("Reference blade and standing stack"), picture: RackPicture,
		do: func(c context) []string {
			chosen := c.chosen()
			lines := []string{
				fmt.Sprintf("By the readings the reference blade is the %s, with %s behind it.", c.name(chosen.Reference), c.rings(chosen.Standing)),
				"Every other blade is brought to the line that this one cuts.",
			}
			for _, r := range chosen.Reasons {
				if len(lines) < 5 {
					lines = append(lines, sentence(r.Text))
				}
			}
			return lines
		},
		why:  words("The standing stack stays behind the reference, so that every other blade needs more than nothing."),
		help: []string{"far flange: the reference is the blade with the largest (plate + kerf) / 2. near flange: the one with the smallest (kerf - plate) / 2. Choose another only if you know why."},
		fields: func(c context) []Field {
			chosen := c.chosen()
			reference, standing := chosen.Reference, chosen.Standing
			if c.profile.Reference != "" {
				reference = c.profile.Reference
			}
			if c.profile.Standing != nil {
				standing = c.profile.Standing
			}
			var ids []string
			for _, b := range c.profile.Rack() {
				ids = append(ids, b.ID)
			}
			return []Field{
				{Key: "reference", Label: "Reference blade", Hint: "one of the rack, by name or number", Kind: FieldChoice, Options: ids, Value: reference},
				{Key: "standing", Label: "Standing stack, flange first", Hint: "rings of the kit, or none", Kind: FieldRings, Value: c.ringsTyped(standing), check: func(text string) error {
					_, err := parseRings(c.profile, text)
					return err
				}},
			}
		},
		accept: func(t *taking) {
			reference, standing := t.choice("reference"), t.ringList("standing")
			t.head(func(p *model.Profile) { p.Reference, p.Standing = reference, standing })
			t.after = func(p Procedure) []model.Reason {
				var out []model.Reason
				for _, b := range p.plan.Blades {
					out = append(out, p.knifeReasons(b.ID)...)
				}
				return append(out, p.plan.Reasons...)
			}
		},
	},
}

// chosen is the plan with reference and standing stack left to the numbers.
func (c context) chosen() model.Plan {
	p := c.profile
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
	if id == "" {
		id = bladeID(label, t.profile)
	}
	for _, b := range t.profile.Blades {
		if b.ID != id && strings.EqualFold(b.Label, label) {
			t.fault("label", "another blade is called %s: give this one a name of its own", b.Label)
		}
	}
	if bore := t.length("bore"); bore.Length < t.profile.Saw.ArborDiameter.Length {
		t.fault("bore", "a bore of %s does not go over the arbor of %s: measure again", bore, t.profile.Saw.ArborDiameter)
	}
	t.editBlade(func(b *model.Blade) {
		b.ID, b.Label, b.Teeth, b.Knife = id, label, t.count("teeth"), t.choice("knife")
		b.Diameter, b.Bore = t.length("diameter"), t.length("bore")
	})
	t.run.adding = false
}

func bladeID(label string, p model.Profile) string {
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
		if _, taken := p.BladeByID(id); !taken {
			return id
		}
		id = base + "-" + strconv.Itoa(n)
	}
}

func knifeID(m model.Measure) string {
	return "k" + strings.TrimSuffix(fmt.Sprintf("%d", (m.Length+mm/200)/(mm/100)), "0")
}

func acceptRings(t *taking) {
	rings, _ := ParseKit(t.text("kit"), t.field("kit").Unit)
	measured, outer := t.lengths("measured"), t.length("outer")
	if len(measured) > 0 && len(measured) != len(rings) {
		t.fault("measured", "%d measured for %d sorts of ring: type one a sort, or none at all", len(measured), len(rings))
		return
	}
	pieces := 0
	for i := range rings {
		rings[i].Outer = outer
		pieces += rings[i].Count
		if len(measured) > 0 {
			rings[i].Measured = measured[i]
			if off := (measured[i].Length - rings[i].Thickness.Length).Abs(); off > rings[i].Thickness.Length/2 {
				t.question("measured", "%s measured for a ring of %s", measured[i], rings[i].Thickness)
			}
		}
		for _, old := range t.profile.Rings {
			if old.Thickness.Length == rings[i].Thickness.Length {
				rings[i].ID, rings[i].HalfWidth = old.ID, old.HalfWidth
			}
		}
	}
	if pieces > model.MaxRingKit {
		t.fault("kit", "%d rings are more than a stack is searched among: at most %d", pieces, model.MaxRingKit)
	}
	t.head(func(p *model.Profile) { p.Rings = rings })
}
