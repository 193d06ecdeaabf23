package procedure

import (
	"fmt"
	"slices"
	"strings"

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
		Hint: model.Between(lo, hi, u) + ", such as " + example}
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
		number: 1, title: titled("Arbor and flange"), needs: measuring("saw"), picture: ArborSection,
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
		number: 1, title: titled("Thread and throat"), needs: measuring("saw"),
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
		number: 1, title: titled("Riving knives"), needs: measuring("knives"), picture: KnifeWindow,
		do:   words("Measure the thickness of each riving knife that fits this saw.", "Type them all, separated by spaces."),
		why:  words("A knife must be thicker than the blade's plate and thinner than its kerf (EN 1870-1: plate + {0.2 mm|0.008 in} or more)."),
		help: []string{"A knife as thick as the kerf wedges the stock; one too thin lets the kerf close on the plate."},
		fields: func(c context) []Field {
			var have []model.Measure
			for _, k := range c.profile.Knives {
				have = append(have, k.Thickness)
			}
			return []Field{{Key: "thickness", Label: "Knife thickness", Hint: "one or more, such as " + c.example("2.5 mm", "0.098 in"), Kind: FieldLengths, Unit: c.unit(), AtLeast: 1, AtMost: 9, Min: mm / 2, Max: 8 * mm, Value: typedAll(have)}}
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
				used := slices.ContainsFunc(t.profile.Blades, func(b model.Blade) bool { return b.Knife == old.ID }) ||
					slices.ContainsFunc(t.profile.Records, func(r model.Record) bool { return r.Knife == old.ID })
				if used && !slices.ContainsFunc(knives, func(k model.Knife) bool { return k.ID == old.ID }) {
					t.fault("thickness", "a blade or a record names the knife of %s: leave it in", old.Thickness)
				}
			}
			t.head(func(p *model.Profile) { p.Knives = knives })
		},
	},
	"instruments": {
		number: 1, title: titled("Instruments and tolerance"),
		do:   words("Say what the caliper and the micrometer can read,", "how far a blade's cut face may lie from the datum face, and the fence setting for comparisons."),
		why:  words("A reading is worth no more than the instrument's last digit; the tolerance decides what counts as in."),
		help: []string{"A tolerance of {0.05 mm|0.002 in} is common practice for cabinet parts. With a {0.01 mm|0.0005 in} caliper do not ask for less than {0.03 mm|0.0015 in}."},
		fields: func(c context) []Field {
			p := c.profile
			return []Field{
				c.lengthField("caliper", "Caliper reads to", c.example("0.01", "0.0005"), p.Instruments.Caliper, 1000, mm),
				c.lengthField("micrometer", "Micrometer reads to", c.example("0.001", "0.0001"), p.Instruments.Micrometer, 100, mm/10),
				c.lengthField("tolerance", "Tolerance, plus or minus", c.example("0.05", "0.002"), p.Tolerance, mm/200, mm),
				c.lengthField("working_width", "Fence setting to compare at", c.example("120", "5"), p.WorkingWidth, model.LeastWorkingWidth, 1000*mm).ruled(func(l model.Length) []model.Reason { return model.WorkingWidth(l, c.show) }),
			}
		},
		accept: func(t *taking) {
			t.head(func(p *model.Profile) {
				p.Instruments.Caliper, p.Instruments.Micrometer = t.length("caliper"), t.length("micrometer")
				p.Tolerance, p.WorkingWidth = t.length("tolerance"), t.length("working_width")
			})
		},
	},
}

func knifeID(m model.Measure) string {
	return "k" + strings.TrimSuffix(fmt.Sprintf("%d", (m.Length+mm/200)/(mm/100)), "0")
}
