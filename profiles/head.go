package profiles

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
	bind("knife_margin", length, func(p *model.Profile) *model.Measure { return &p.KnifeMargin }).orNone(),
	bind("gap", word(model.GapEN, model.GapUS), func(p *model.Profile) *model.GapRule { return &p.Gap }).orNone(),
	bind("idle_minutes", number, func(p *model.Profile) *int { return &p.IdleMinutes }).orNone(),
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
	bind("spare_thread", length, func(s *model.Saw) *model.Measure { return &s.SpareThread }),
	bind("thread_pitch", length, func(s *model.Saw) *model.Measure { return &s.ThreadPitch }),
	bind("throat_length", length, func(s *model.Saw) *model.Measure { return &s.ThroatLength }),
}

var knifeFields = []field[model.Knife]{
	bind("id", idText, func(k *model.Knife) *string { return &k.ID }),
	bind("thickness", length, func(k *model.Knife) *model.Measure { return &k.Thickness }),
}

// An instrument stands in the file as {resolution: 0.01 mm}.
type instrument struct{ resolution model.Measure }

var resolutionFields = []field[instrument]{
	bind("resolution", length, func(i *instrument) *model.Measure { return &i.resolution }),
}

var resolution = codec[model.Measure]{
	read: func(r *reader, n *yaml.Node, at *place) (model.Measure, bool) {
		i, ok := structOf(resolutionFields).read(r, n, at)
		return i.resolution, ok
	},
	write:  func(m model.Measure) *yaml.Node { return short(structOf(resolutionFields)).write(instrument{m}) },
	same:   length.same,
	schema: objectSchema(resolutionFields),
}

var instrumentFields = []field[model.Instruments]{
	bind("caliper", resolution, func(i *model.Instruments) *model.Measure { return &i.Caliper }),
	bind("micrometer", resolution, func(i *model.Instruments) *model.Measure { return &i.Micrometer }),
}

var bladeFields = []field[model.Blade]{
	bind("id", idText, func(b *model.Blade) *string { return &b.ID }),
	bind("label", text, func(b *model.Blade) *string { return &b.Label }).orNone(),
	bind("diameter", length, func(b *model.Blade) *model.Measure { return &b.Diameter }),
	bind("teeth", number, func(b *model.Blade) *int { return &b.Teeth }),
	bind("bore", length, func(b *model.Blade) *model.Measure { return &b.Bore }),
	bind("plate", lengths, func(b *model.Blade) *[]model.Measure { return &b.Plate }),
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
	bind("half_width", length, func(r *model.Ring) *model.Measure { return &r.HalfWidth }).orNone(),
}
