package shop

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/solver/gauging"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
)

var flangeRow = measuredInPlace(typedAgain(row{
	Name: "flange", Stage: 2, Title: form.Said("Arbor and flange"),
	Why: form.Lines("The side of this flange decides which way rings move the cut."),
	Help: []string{
		"The relief is the hollow in the middle of the flange; rings must reach over it. A flat flange: type 0.",
		"A flange is at least a quarter of the blade's diameter, and bears on at least {2 mm|0.08 in} of its rim (EN 1870-1).",
	},
	Fields: func(c context) []field {
		s := c.Profile.Saw
		side := s.Flange
		if side == "" {
			side = model.UsualFlange(s.Tilt, s.FenceSide)
		}
		return []field{
			form.Choice("flange", "The fixed flange is", string(side), string(model.Far), string(model.Near)),
			form.Length(c, "flange_diameter", "Flange, diameter", c.Pick("80", "3"), s.FlangeDiameter, 10*mm, 300*mm),
			form.Length(c, "flange_relief", "Relief, diameter (0: flat)", c.Pick("50", "2"), s.FlangeRelief, 0, 300*mm).Against(checkRelief),
			form.Length(c, "arbor_diameter", "Arbor, diameter", c.Pick("30", "5/8 in"), s.ArborDiameter, 5*mm, 100*mm).Against(checkArbor),
			form.Length(c, "loose_flange", "Loose flange, thickness", c.Pick("8", "5/16 in"), s.LooseFlange, mm, 50*mm),
			form.Length(c, "nut", "Nut, thickness", c.Pick("12", "1/2 in"), s.Nut, 3*mm, 50*mm),
		}
	},
	Head: func(t *taking) {
		t.Head(func(p *model.Profile) {
			s := &p.Saw
			s.Flange, s.FlangeDiameter, s.FlangeRelief = model.Flange(t.Choice("flange")), t.Length("flange_diameter"), t.Length("flange_relief")
			s.ArborDiameter, s.LooseFlange, s.Nut = t.Length("arbor_diameter"), t.Length("loose_flange"), t.Length("nut")
		})
	},
	Follows: func(c context, a answers) []reason {
		usual := model.UsualFlange(c.Profile.Saw.Tilt, c.Profile.Saw.FenceSide)
		switch side := flangeTyped(c, a); {
		case side == "":
			return nil
		case side == usual:
			return []reason{{Code: "flange-usual", Weight: model.Explains, Text: fmt.Sprintf("%s, as usual here: rings move the cut %s", side, side.RingsMove())}}
		default:
			return []reason{{Code: "flange-unusual", Weight: model.Warns, Text: fmt.Sprintf("the usual flange here is %s: look again. What you see counts; with a %s flange rings move the cut %s", usual, side, side.RingsMove())}}
		}
	},
	Picture: func(c context, a answers) procedure.Picture {
		s := Section(c, "", nil)
		s.Flange = flangeTyped(c, a)
		return s
	},
}, func(c context) bool {
	s := c.Profile.Saw
	return s.Flange != "" && Known(s.FlangeDiameter, s.FlangeRelief, s.ArborDiameter, s.LooseFlange, s.Nut)
}), func(c context) []string {
	return []string{
		"Look from the front on which side of the blade the fixed flange sits.",
		"far: on the side away from the fence. near: on the fence side.",
		"Measure flange, its relief (hollow) and arbor; how thick loose flange, nut.",
	}
})

// checkRelief holds the relief against the flange.
func checkRelief(t *taking) {
	d, relief := t.Length("flange_diameter"), t.Length("flange_relief")
	if relief.Length >= d.Length {
		t.Fault("flange_relief", "the relief of %s is as large as the flange of %s: type the inner diameter of its bearing rim", relief, d)
		return
	}
	for _, r := range solver.CheckFlange(d.Length, relief.Length, 0, metrology.WordsOf(t.Profile)) {
		t.Question("flange_relief", "%s", r.Text)
	}
}

// checkArbor holds the arbor against the flange, and against what is bored for it.
func checkArbor(t *taking) {
	d, arbor := t.Length("flange_diameter"), t.Length("arbor_diameter")
	if arbor.Length >= d.Length {
		t.Fault("arbor_diameter", "the arbor of %s is as thick as the flange of %s: type the diameter that the bore fits", arbor, d)
	}
	for _, r := range t.Profile.Rings {
		if Known(r.Bore) && r.Bore.Length < arbor.Length {
			t.Fault("arbor_diameter", "the ring of %s is bored %s and does not go over an arbor of %s: measure both", r.Label(), r.Bore, arbor)
			return
		}
	}
	for _, b := range t.Profile.Rack() {
		if Known(b.Bore) && b.Bore.Length < arbor.Length {
			t.Fault("arbor_diameter", "the %s is bored %s and does not go over an arbor of %s: measure both", b.Name(), b.Bore, arbor)
			return
		}
	}
}

func flangeTyped(c context, a answers) model.Flange {
	side, err := form.Choice("", "", "", string(model.Far), string(model.Near)).Choice(a["flange"])
	if err != nil {
		return c.Profile.Saw.Flange
	}
	return model.Flange(side)
}

var threadRow = measuredInPlace(typedAgain(row{
	Name: "thread", Stage: 2, Title: form.Said("Thread of the arbor"),
	Why: form.Lines("One pitch at least must show past the nut."),
	Help: []string{
		"The plain part carries the blade: rings and half the plate must find room on it, or the blade sits on the thread.",
		"A whole pitch past the nut: Naval Ships' Technical Manual, chapter 075.",
	},
	Fields: func(c context) []field {
		s := c.Profile.Saw
		return []field{
			form.Length(c, "plain_part", "Flange face to the first thread", c.Pick("12", "1/2 in"), s.PlainPart, mm, 100*mm),
			form.Length(c, "thread_end", "Flange face to the thread's end", c.Pick("40", "1 5/8 in"), s.ThreadEnd, 5*mm, 150*mm).Against(checkThread),
			pitchField(c, s.ThreadPitch),
		}
	},
	Head: func(t *taking) {
		plain, end := t.Length("plain_part"), t.Length("thread_end")
		pitch, _ := ParsePitch(t.Context, t.Text("thread_pitch"))
		if room := threadRoom(t.Profile.Saw, end.Length, pitch.Length); room < leastPlate {
			t.Fault("thread_end", "loose flange, nut and one pitch leave %s for plate and rings: no blade is held by that; measure again", t.Show(room))
			return
		}
		t.Head(func(p *model.Profile) { p.Saw.PlainPart, p.Saw.ThreadEnd, p.Saw.ThreadPitch = plain, end, pitch })
	},
	Figure: func(c context, a answers) procedure.Figure {
		end, ok := form.Parse(c, a["thread_end"])
		pitch, err := ParsePitch(c, a["thread_pitch"])
		f := procedure.Figure{Caption: "for plate and rings, " + c.Unit().Label()}
		if ok && err == nil && pitchField(c, model.Measure{}).Check(a["thread_pitch"]) == nil {
			f.Text = c.Show(threadRoom(c.Profile.Saw, end, pitch.Length))
		}
		return f
	},
	Picture: func(c context, _ answers) procedure.Picture { return Section(c, "", nil) },
}, func(c context) bool {
	s := c.Profile.Saw
	return Known(s.PlainPart, s.ThreadEnd, s.ThreadPitch)
}), form.Lines("Measure by depth gauge from the flange face: to the first thread, then to the thread's end.", "Pitch: measure over ten threads, type a tenth."))

// checkThread holds the end of the thread against where it begins, and against loose flange and
// nut, which have to find room before it.
func checkThread(t *taking) {
	plain, end := t.Length("plain_part"), t.Length("thread_end")
	switch room := threadRoom(t.Profile.Saw, end.Length, 0); {
	case plain.Length >= end.Length:
		t.Fault("thread_end", "the thread would end at %s, before it begins at %s: measure both from the flange face", end, plain)
	case room < leastPlate && Known(t.Profile.Saw.LooseFlange, t.Profile.Saw.Nut):
		t.Fault("thread_end", "a loose flange of %s and a nut of %s leave %s of %s for plate and rings: no blade is held by that; measure again", t.Profile.Saw.LooseFlange, t.Profile.Saw.Nut, t.Show(room), end)
	}
}

// pitchField asks for the pitch of the thread: a length, or threads an inch.
func pitchField(c context, value model.Measure) field {
	f := form.Length(c, "thread_pitch", "Pitch of the thread", c.Pick("2", "1/16; or 16 tpi"), value, mm/2, 5*mm)
	within := f
	f.Kind = procedure.FieldText
	return f.With(func(text string) error {
		pitch, err := ParsePitch(c, text)
		if err != nil {
			return err
		}
		err = within.Check(pitch.String())
		if n, whole := strconv.Atoi(strings.TrimSpace(text)); err != nil && whole == nil && c.Unit() == model.IN {
			return fmt.Errorf("%w; %d threads an inch: type %d tpi", err, n, n)
		}
		return err
	})
}

// ParsePitch is a pitch as it is typed: a length, or threads an inch, such as 16 tpi.
func ParsePitch(c context, text string) (model.Measure, error) {
	threads, is := strings.CutSuffix(strings.ToLower(strings.TrimSpace(text)), "tpi")
	if !is {
		return model.ParseLength(text, c.Unit())
	}
	n, err := strconv.Atoi(strings.TrimSpace(threads))
	if err != nil || n < 1 || n > 100 {
		return model.Measure{}, fmt.Errorf("%q are no threads an inch: type a whole number, such as 16 tpi", model.Clip(text))
	}
	pitch := (model.Inch + model.Length(n)/2) / model.Length(n)
	if model.Inch%model.Length(n) == 0 && pitch%(model.Inch/64) == 0 {
		return pitch.Of(model.Fraction), nil
	}
	return pitch.Near(model.IN), nil
}

// leastPlate is thinner than any blade that a table saw carries (common practice).
const leastPlate = mm

// threadRoom is what the arbor leaves for plate and rings: the nut fully on the thread, one
// pitch showing.
func threadRoom(s model.Saw, end, pitch model.Length) model.Length {
	return end - s.LooseFlange.Length - s.Nut.Length - pitch
}

var arborRow = row{
	Name: "arbor", Stage: 3, Title: form.Said("Clean the arbor"),
	Done:  func(c context) bool { return c.State.Cleaned != nil },
	Needs: func(context) interlock.Need { return interlock.Need{Bare: true} },
	Act: procedure.HandsIn{
		Says: form.Lined[interlock.Hands](
			"Wipe flange, loose flange and arbor. Feel for burrs; stone them off.",
			"Mark the arbor's end: every blade goes on with its mark there.",
			"With a dial: read round the flange, arbor turned by hand."),
		Accept: func(t *taking, h interlock.Hands) {
			r := record{Kind: model.Arbor}
			putFlangeDial(t, &r)
			t.Does(interlock.Handled(h))
			t.Record(r)
		},
	},
	Help: []string{"Dust of {0.02 mm|0.001 in} under a ring is a cut {0.02 mm|0.001 in} off.", "Dial readings are worth having: equally spaced from the arbor's mark on, four or more. At most {0.08 mm|0.003 in} altogether (woodworking magazine)."},
	Fields: func(c context) []field {
		return []field{
			form.Word("clean", "Flanges clean, no burrs, arbor marked", "clean"),
			form.Optional(form.Lengths(c, "dial", "Dial round it (may stay empty)", "four or more, equally spaced", nil, 4, 72, -5*mm, 5*mm)),
		}
	},
	Reads: &procedure.Reads{
		Kind: model.Arbor, Keys: []string{"dial"},
		Typed: func(c context, r model.Record) map[string]string {
			if len(r.Dial) == 0 {
				return nil
			}
			return map[string]string{"dial": form.TypedAll(c, r.Dial)}
		},
		Put: putFlangeDial,
	},
	Follows: func(c context, a answers) []reason {
		h, err := gauging.FirstHarmonic(form.Readings(c, a["dial"]))
		if err != nil {
			return nil
		}
		return gauging.FlangeWords(h, c.Profile.Saw.FlangeDiameter.Length, largest(c), MicrometerWords(c))
	},
	Picture: func(c context, a answers) procedure.Picture { return DialPicture(c, a, "flange") },
	Simulated: map[string]procedure.Simulated{"dial": func(c context, s procedure.Saw, _ answers) string {
		return practice.Micrometer(c, practice.At(c, s, "flange", practice.Times(c, model.Arbor)).FlangeDial(8))
	}},
	Redo: func(t *taking) {
		t.Record(record{Kind: model.Void, Of: t.State.Cleaned.Ref(), Why: model.Again})
	},
}

func putFlangeDial(t *taking, r *record) {
	r.Dial = t.Lengths("dial")
	h, err := gauging.FirstHarmonic(model.Lengths(r.Dial))
	if err != nil {
		return
	}
	for _, told := range gauging.FlangeWords(h, t.Profile.Saw.FlangeDiameter.Length, largest(t.Context), MicrometerWords(t.Context)) {
		if told.Weight > model.Explains {
			t.Question("dial", "%s", told.Text)
		}
	}
}

// largest is the diameter of the largest blade of the rack; 0 where none is known.
func largest(c context) (most model.Length) {
	for _, b := range c.Profile.Rack() {
		most = max(most, b.Diameter.Length)
	}
	return most
}
