package text

import (
	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

// versionKey is the first key of every profile, recordsKey the last.
const (
	versionKey = "sawdatum"
	recordsKey = "records"
)

// headFields are the keys of a profile between its version and its records, in the
// order in which they are written.
var headFields = []field[model.Profile]{
	bind("name", patterned(text, model.NameForm, "the profile's name, as on the command line"), func(p *model.Profile) *string { return &p.Name }),
	bind("units", units, func(p *model.Profile) *model.Unit { return &p.Units }),
	bind("tolerance", length, func(p *model.Profile) *model.Measure { return &p.Tolerance }),
	bind("working_width", length, func(p *model.Profile) *model.Measure { return &p.WorkingWidth }),
	bind("prove_every", days, func(p *model.Profile) *int { return &p.ProveEvery }).orNone(),
	bind("rules", word(model.RulesEN, model.RulesUS), func(p *model.Profile) *model.Rules { return &p.Rules }),
	bind("knife_margin", length, func(p *model.Profile) *model.Measure { return &p.KnifeMargin }).orNone(),
	bind("idle_minutes", minutes, func(p *model.Profile) *int { return &p.IdleMinutes }).orNone(),
	bind("half_runout", length, func(p *model.Profile) *model.Measure { return &p.HalfRunout }).orNone(),
	bind("ring_half_width", length, func(p *model.Profile) *model.Measure { return &p.RingHalfWidth }).orNone(),
	bind("saw", structOf(sawFields), func(p *model.Profile) *model.Saw { return &p.Saw }),
	bind("knives", atLeast(1, listOf(short(structOf(knifeFields)), 0)), func(p *model.Profile) *[]model.Knife { return &p.Knives }),
	bind("instruments", structOf(instrumentFields), func(p *model.Profile) *model.Instruments { return &p.Instruments }),
	bind("blades", atLeast(2, listOf(structOf(bladeFields), 0)), func(p *model.Profile) *[]model.Blade { return &p.Blades }),
	bind("rings", listOf(short(structOf(ringFields)), 0), func(p *model.Profile) *[]model.Ring { return &p.Rings }).orNone(),
	bind("reference", idText, func(p *model.Profile) *string { return &p.Reference }),
	bind("standing", chosen(listOf(idText, yaml.FlowStyle)), func(p *model.Profile) *[]string { return &p.Standing }),
}

// atLeast tells the schema how many values a whole profile has; one that is still
// being filled in may have fewer.
func atLeast[V any](n int, c codec[[]V]) codec[[]V] {
	c.schema = schema{"type": "array", "items": c.schema["items"], "minItems": n}
	return c
}

var idText = patterned(text, model.IDForm, "an id: letters, digits, dots, dashes")

var sawFields = []field[model.Saw]{
	bind("label", text, func(s *model.Saw) *string { return &s.Label }).orNone(),
	bind("tilt", word(model.TiltLeft, model.TiltRight), func(s *model.Saw) *model.Tilt { return &s.Tilt }),
	bind("fence_side", word(model.SideLeft, model.SideRight), func(s *model.Saw) *model.Side { return &s.FenceSide }),
	bind("flange", word(model.Far, model.Near), func(s *model.Saw) *model.Flange { return &s.Flange }),
	bind("flange_diameter", length, func(s *model.Saw) *model.Measure { return &s.FlangeDiameter }),
	bind("flange_relief", length, func(s *model.Saw) *model.Measure { return &s.FlangeRelief }),
	bind("arbor_diameter", length, func(s *model.Saw) *model.Measure { return &s.ArborDiameter }),
	bind("plain_part", length, func(s *model.Saw) *model.Measure { return &s.PlainPart }),
	bind("thread_end", length, func(s *model.Saw) *model.Measure { return &s.ThreadEnd }),
	bind("loose_flange", length, func(s *model.Saw) *model.Measure { return &s.LooseFlange }),
	bind("nut", length, func(s *model.Saw) *model.Measure { return &s.Nut }),
	bind("thread_pitch", length, func(s *model.Saw) *model.Measure { return &s.ThreadPitch }),
	bind("throat_length", length, func(s *model.Saw) *model.Measure { return &s.ThroatLength }),
	bind("spindle_speed", speed, func(s *model.Saw) *int { return &s.SpindleSpeed }).orNone(),
	bind("motor_tilt", yesNo, func(s *model.Saw) *model.YesNo { return &s.MotorTilt }).orNone(),
	bind("contact_brake", yesNo, func(s *model.Saw) *model.YesNo { return &s.ContactBrake }).orNone(),
	bind("scoring", yesNo, func(s *model.Saw) *model.YesNo { return &s.Scoring }).orNone(),
	bind("from_paper", some(1, listOf(text, yaml.FlowStyle)), func(s *model.Saw) *[]string { return &s.FromPaper }).orNone(),
}

var knifeFields = []field[model.Knife]{
	bind("id", idText, func(k *model.Knife) *string { return &k.ID }),
	bind("thickness", length, func(k *model.Knife) *model.Measure { return &k.Thickness }),
}

// An instrument stands in the file as {resolution: 0.01 mm}.
var instrumentFields = []field[model.Instruments]{
	within("caliper", []field[model.Instruments]{
		bind("resolution", length, func(i *model.Instruments) *model.Measure { return &i.Caliper }),
		bind("range", length, func(i *model.Instruments) *model.Measure { return &i.CaliperRange }).orNone(),
	}),
	within("micrometer", []field[model.Instruments]{
		bind("resolution", length, func(i *model.Instruments) *model.Measure { return &i.Micrometer }),
	}),
}

// within is a key on one line that holds fields of t itself.
func within[T any](key string, fields []field[T]) field[T] {
	return field[T]{
		key:    key,
		read:   func(r *reader, n *yaml.Node, at *place, t *T) { readFields(r, n, at, fields, t) },
		write:  func(t *T) *yaml.Node { return short(structOf(fields)).write(*t) },
		same:   func(a, b *T) bool { return sameFields(fields, a, b) },
		schema: objectSchema(fields),
	}
}

var bladeFields = []field[model.Blade]{
	bind("id", idText, func(b *model.Blade) *string { return &b.ID }),
	bind("label", text, func(b *model.Blade) *string { return &b.Label }).orNone(),
	bind("diameter", length, func(b *model.Blade) *model.Measure { return &b.Diameter }),
	bind("teeth", number, func(b *model.Blade) *int { return &b.Teeth }),
	bind("bore", length, func(b *model.Blade) *model.Measure { return &b.Bore }),
	bind("marked_speed", speed, func(b *model.Blade) *int { return &b.MarkedSpeed }).orNone(),
	bind("plate", lengths, func(b *model.Blade) *[]model.Measure { return &b.Plate }),
	bind("tooth_plate", lengths, func(b *model.Blade) *[]model.Measure { return &b.ToothPlate }).orNone(),
	bind("kerf", lengths, func(b *model.Blade) *[]model.Measure { return &b.Kerf }),
	bind("runout", length, func(b *model.Blade) *model.Measure { return &b.Runout }).orNone(),
	bind("knife", idText, func(b *model.Blade) *string { return &b.Knife }).orNone(),
	bind("retired", truth, func(b *model.Blade) *bool { return &b.Retired }).orNone(),
}

var ringFields = []field[model.Ring]{
	bind("id", idText, func(r *model.Ring) *string { return &r.ID }),
	bind("thickness", length, func(r *model.Ring) *model.Measure { return &r.Thickness }),
	bind("measured", length, func(r *model.Ring) *model.Measure { return &r.Measured }).orNone(),
	bind("count", counted, func(r *model.Ring) *int { return &r.Count }),
	bind("outer", length, func(r *model.Ring) *model.Measure { return &r.Outer }).orNone(),
	bind("bore", length, func(r *model.Ring) *model.Measure { return &r.Bore }).orNone(),
	bind("half_width", length, func(r *model.Ring) *model.Measure { return &r.HalfWidth }).orNone(),
}
