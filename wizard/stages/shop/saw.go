package shop

import (
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
)

// SawRows are what is known of the machine, and the cleaning of its arbor.
func SawRows() []row { return []row{sawRow, manualRow, flangeRow, threadRow, instrumentsRow, arborRow} }

// yesNo asks for one of two answers.
func yesNo(key, label string, value model.YesNo) field {
	return form.Choice(key, label, string(value), string(model.Yes), string(model.No))
}

// Known reports whether all of these were typed.
func Known(ms ...model.Measure) bool {
	return !slices.ContainsFunc(ms, func(m model.Measure) bool { return m.Unit == model.NoUnit })
}

// typedAgain is a row whose values stand in the head: done while they are known, unless it
// was begun again.
func typedAgain(r row, there func(context) bool) row {
	again := procedure.Fact{Name: "again " + r.Name}
	r.Done = func(c context) bool { return there(c) && c.Fact(again) == "" }
	r.Redo = func(t *taking) { t.Keep(again, "yes") }
	head := r.Head
	r.Head = func(t *taking) { head(t); t.Keep(again, "") }
	return r
}

// onPaper is what is typed into the head where nobody measures.
func onPaper(r row, says func(context) []string) row {
	r.Act = procedure.Paper{Says: says, Accept: r.Head}
	return r
}

// measuredInPlace is what is measured at the saw, isolated, or typed as the manual has it.
func measuredInPlace(r row, says func(context) []string) row {
	head, keys := r.Head, r.Fields
	r.Fields = func(c context) []field {
		if c.FromPaper() {
			return keys(c)
		}
		return append(keys(c), form.Choice("source", "These were", "measured", "measured", paper))
	}
	r.Needs = func(c context) interlock.Need { // it lies behind a blade
		return interlock.Need{Bare: !c.FromPaper() && c.Lock.Power() == interlock.Isolated}
	}
	r.Act = procedure.Measure{
		FromPaper: true, Part: form.Said(""),
		Says: func(c context, _ interlock.Bench) []string {
			if c.FromPaper() {
				return []string{"Type these as the saw's manual, or an earlier profile of it, has them."}
			}
			return says(c)
		},
		Accept: func(t *taking, b interlock.Bench) {
			head(t)
			var names []string
			for _, f := range keys(t.Context) {
				names = append(names, f.Key)
			}
			typed := t.FromPaper() || t.Choice("source") == paper
			t.Head(func(p *model.Profile) { p.Saw.FromPaper = fromPaper(p.Saw.FromPaper, names, typed) })
			if !t.FromPaper() {
				t.Does(interlock.Measured(b))
			}
		},
	}
	return r
}

// paper is what is typed of values that the manual, or an earlier profile, has.
const paper = "paper"

// fromPaper lists the keys of the saw whose values are from paper, once some keys were typed:
// those before, with these where they were typed from paper, else without them.
func fromPaper(before, keys []string, typed bool) []string {
	out := slices.DeleteFunc(slices.Clone(before), func(k string) bool { return slices.Contains(keys, k) })
	if typed {
		out = append(out, keys...)
	}
	return out
}

var sawRow = onPaper(typedAgain(row{
	Name: "saw", Stage: 2, Title: form.Said("The saw"),
	Why: form.Lines("Tilt and fence side tell on which side of the blade the flange usually sits."),
	Help: []string{
		"A left tilt leans the top of the blade to your left. The fence side is the side of the blade on which the rip fence is used.",
		"The rules are the published ones that this shop goes by. en: EN 1870-1 and the HSE. us: 29 CFR 1910 and Cal. Code Regs. title 8. The law and your safety officer come first.",
	},
	Fields: func(c context) []field {
		p := c.Profile
		first := []field{{Key: "label", Label: "Name of the saw", Hint: "such as Bay 2 saw", Kind: procedure.FieldText, Value: p.Saw.Label}}
		if p.Units == model.NoUnit { // else the first page asked
			first = append(first, UnitsField(c))
		}
		rules := form.Choice("rules", "Rules of this shop", string(p.Rules), string(model.RulesEN), string(model.RulesUS))
		rules.Hint = "en: Europe; us: United States"
		return append(first, rules, tiltField(c), fenceField(c))
	},
	Picture: func(c context, a answers) procedure.Picture {
		f := picture.Front{Tilt: c.Profile.Saw.Tilt, FenceSide: c.Profile.Saw.FenceSide}
		if tilt, err := tiltField(c).Choice(a["tilt"]); err == nil {
			f.Tilt = model.Tilt(tilt)
		}
		if side, err := fenceField(c).Choice(a["fence_side"]); err == nil {
			f.FenceSide = model.Side(side)
		}
		return f
	},
	Head: func(t *taking) {
		rules, before := model.Rules(t.Choice("rules")), t.Profile.Rules
		t.Head(func(p *model.Profile) {
			p.Saw.Label, p.Saw.Tilt, p.Saw.FenceSide = t.Text("label"), model.Tilt(t.Choice("tilt")), model.Side(t.Choice("fence_side"))
			if p.Rules = rules; t.Typed("units") {
				p.Units = UnitsNamed[t.Choice("units")]
			}
		})
		if before != "" && rules != before {
			t.Does(interlock.TakenBack()) // the gap from knife to tips was held to the other rules
			t.Say("rules-changed", model.Warns, "Other rules hold now: the gap from knife to tooth tips is measured again before the blade turns.")
		}
	},
}, func(c context) bool {
	s := c.Profile.Saw
	return c.Profile.Units != model.NoUnit && c.Profile.Rules != "" && s.Tilt != "" && s.FenceSide != ""
}), form.Lines("Stand before the saw as you work at it.", "Say what it is called, and which way its blade tilts."))

// tiltField asks which way the blade tilts, and fenceField on which side of it the fence is.
func tiltField(c context) field {
	return form.Choice("tilt", "Blade tilts", string(c.Profile.Saw.Tilt), string(model.TiltLeft), string(model.TiltRight))
}

func fenceField(c context) field {
	return form.Choice("fence_side", "Fence is, seen from the front", string(c.Profile.Saw.FenceSide), string(model.SideLeft), string(model.SideRight))
}

// UnitsNamed are the units that a shop may be told to show, by what is typed.
var UnitsNamed = map[string]model.Unit{"mm": model.MM, "in": model.IN}

// UnitsField asks for the unit of the shop.
func UnitsField(c context) field {
	f := form.Choice("units", "Units", c.Unit().Label(), "mm", "in")
	f.Called = []string{"millimetres", "inches"}
	f.Hint = "mm or in: how lengths are shown and typed"
	return f
}

var manualRow = onPaper(typedAgain(row{
	Name: "manual", Stage: 2, Title: form.Said("What the saw's manual says"),
	Why: form.Lines("Where the manual forbids rings, this saw is not set up with them: stop here."),
	Help: []string{
		"A brake that fires when it is touched sits close to the blade: rings move the blade, and the manual says how far from the brake it may stand.",
		"A scoring unit cuts a line of its own: it is off for every strip.",
		"The spindle speed is held against the greatest speed marked on each blade (EN 1870-1, 6.3). Not known: leave it empty.",
	},
	Fields: func(c context) []field {
		s := c.Profile.Saw
		speed := form.Optional(field{Key: "spindle_speed", Label: "Spindle speed, rpm (may stay empty)", Hint: "500 to 20000, such as 4000", Kind: procedure.FieldCount, AtLeast: 500, AtMost: model.MaxSpeed, Value: count(s.SpindleSpeed)})
		return []field{
			form.Word("spacers", "Rings behind a blade: the manual does not forbid them", "allowed"),
			yesNo("contact_brake", "A brake that fires when the blade is touched", s.ContactBrake),
			yesNo("scoring", "A scoring unit", s.Scoring),
			yesNo("motor_tilt", "Tilt and height driven by a motor", s.MotorTilt),
			speed,
			form.Length(c, "throat_length", "Throat opening, length", c.Pick("360", "14"), s.ThroatLength, 50*mm, 1000*mm),
		}
	},
	Head: func(t *taking) {
		t.Head(func(p *model.Profile) {
			s := &p.Saw
			s.ContactBrake, s.Scoring, s.MotorTilt = model.YesNo(t.Choice("contact_brake")), model.YesNo(t.Choice("scoring")), model.YesNo(t.Choice("motor_tilt"))
			s.SpindleSpeed, s.ThroatLength = t.Count("spindle_speed"), t.Length("throat_length")
		})
		if t.Profile.Saw.ContactBrake == model.Yes {
			t.Say("contact-brake", model.Warns, "See in the manual how near to its brake a blade may stand, and look at it each time rings go on.")
		}
		if t.Profile.Saw.Scoring == model.Yes {
			t.Say("scoring", model.Warns, "The scoring unit stays off for every strip.")
		}
	},
}, func(c context) bool {
	s := c.Profile.Saw
	return s.ContactBrake != "" && s.Scoring != "" && s.MotorTilt != "" && Known(s.ThroatLength)
}), form.Lines("Have the manual at hand. Look up what it says of spacers, or rings, between flange and blade."))

var instrumentsRow = onPaper(typedAgain(row{
	Name: "instruments", Stage: 2, Title: form.Said("Instruments and tolerance"),
	Why: form.Lines("A reading is worth no more than the instrument's last digit."),
	Help: []string{
		"Strips are ripped at the working width and measured with the caliper: at least {100 mm|4 in}, so that nut, wrench and throat plate come out beside the locked fence, and {5 mm|0.2 in} less than the caliper opens (common practice).",
		"Under {150 mm|6 in} a push stick is a must (IEC 62841-3-1).",
		"What a shop holds is {0.1 mm|0.004 in}; a caliper of {0.01 mm|0.0005 in} settles no less than about {0.03 mm|0.0015 in}.",
	},
	Fields: func(c context) []field {
		p := c.Profile
		tolerance, width := p.Tolerance, p.WorkingWidth
		if !Known(tolerance) {
			tolerance, _ = model.ParseLength(c.Pick("0.1 mm", "0.004 in"), model.NoUnit)
		}
		if !Known(width) {
			width, _ = model.ParseLength(c.Pick("140 mm", "5 1/2 in"), model.NoUnit)
		}
		return []field{
			form.Length(c, "caliper", "Caliper reads to", c.Pick("0.01", "0.0005"), p.Instruments.Caliper, 1000, mm),
			form.Length(c, "range", "Caliper opens to", c.Pick("150", "6"), p.Instruments.CaliperRange, 20*mm, 2000*mm),
			form.Length(c, "micrometer", "Micrometer reads to", c.Pick("0.001", "0.0001"), p.Instruments.Micrometer, 100, mm/10),
			form.Length(c, "tolerance", "Tolerance, plus or minus", c.Pick("0.1", "0.004"), tolerance, mm/200, mm).Against(func(t *taking) {
				if caliper, typed := t.Length("caliper"), t.Length("tolerance"); typed.Length < 3*caliper.Length {
					t.Question("tolerance", "a caliper of %s can hardly settle a tolerance of %s", caliper, typed)
				}
			}),
			form.Ruled(form.Length(c, "working_width", "Fence setting for strips", c.Pick("140", "5 1/2"), width, mm, 1000*mm), form.Each(func(w model.Length) []reason { return model.WorkingWidth(w, ruled(c)) })),
		}
	},
	Head: func(t *taking) {
		caliper, opens, tolerance, width := t.Length("caliper"), t.Length("range"), t.Length("tolerance"), t.Length("working_width")
		form.Asked(t, "working_width", append(model.CaliperReaches(width.Length, opens.Length, ruled(t.Context)), model.WorkingWidth(width.Length, ruled(t.Context))...))
		t.Head(func(p *model.Profile) {
			p.Instruments = model.Instruments{Caliper: caliper, CaliperRange: opens, Micrometer: t.Length("micrometer")}
			p.Tolerance, p.WorkingWidth = tolerance, width
		})
	},
	Follows: func(c context, a answers) []reason {
		w, ok := form.Parse(c, a["working_width"])
		if !ok {
			return nil
		}
		return model.WorkingWidth(w, ruled(c))
	},
}, func(c context) bool {
	p := c.Profile
	return Known(p.Instruments.Caliper, p.Instruments.CaliperRange, p.Instruments.Micrometer, p.Tolerance, p.WorkingWidth)
}), form.Lines("Read off caliper and micrometer what their last digit is.", "Say how far a cut may lie from the datum, and how wide strips are."))

// ruled says lengths as a rule shows them, in an inch shop in fractions.
func ruled(c context) model.Tell {
	return func(l model.Length) string { return l.Size(c.Unit(), 0) }
}
