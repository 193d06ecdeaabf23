package shop

import (
	"fmt"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
)

var thicknessRow = row{
	Name: "thickness", Stage: 4, Title: func(c context) string { return "Plate and kerf: " + c.Name(c.Blade) },
	Done: func(c context) bool { return thicknessRead(c) },
	Act: procedure.Measure{
		Part: theBlade, Says: thicknessOrders,
		Accept: func(t *taking, b interlock.Bench) {
			t.Does(interlock.Measured(b))
			wasAway(t)
			putThickness(t)
		},
	},
	Why: form.Lines("A tooth has a point on each side: close the micrometer gently.", form.SharpStill),
	Help: []string{
		"Plate: where the flange beds. Beside the teeth too, where it is thicker or thinner there: the knife stands in that kerf.",
		"Kerf: over flat teeth, or across neighbours where they alternate, so that both sides count.",
		"Three readings; five where they scatter by more than a step of the micrometer.",
		"Runout at the rim only if you have read it; it widens the kerf by as much.",
	},
	Fields: func(c context) []field { return thicknessFields(c, c.State.Blades[c.Blade]) },
	Head:   putThickness,
	Reads:  rereadings(model.Remeasured),
	Follows: func(c context, a answers) []reason {
		after, ok := withThickness(c, a)
		if !ok {
			return nil
		}
		return thicknessWords(after)
	},
	Picture: func(c context, a answers) procedure.Picture {
		if after, ok := withThickness(c, a); ok {
			return knifeWindow(after, c.Blade)
		}
		return knifeWindow(c, c.Blade)
	},
	Simulated: thicknessSimulated,
}

var thicknessSimulated = map[string]procedure.Simulated{
	"plate": func(c context, s procedure.Saw, _ answers) string {
		return practice.Micrometer(c, practice.At(c, s, "plate", c.Blade).Plate(c.Blade, wellRead))
	},
	"kerf": func(c context, s procedure.Saw, _ answers) string {
		return practice.Micrometer(c, practice.At(c, s, "kerf", c.Blade).Kerf(c.Blade, wellRead))
	},
}

// Readings of plate or kerf: so many at the least, and so many where they scatter.
const (
	fewest   = 3
	wellRead = 5
)

func thicknessRead(c context) bool {
	b := c.State.Blades[c.Blade]
	return len(b.Plate) > 0 && len(b.Kerf) > 0
}

func thicknessOrders(c context, _ interlock.Bench) []string {
	return append(micrometerOrders(c), "Type all readings of a field, separated by spaces.")
}

// micrometerOrders have a blade measured; where the records have it on the arbor it comes off first.
func micrometerOrders(c context) []string {
	if c.State.On.Blade == c.Blade {
		return []string{"Take it off first; it goes on anew, checks and all.", "Micrometer: plate at three places, then kerf of three teeth."}
	}
	return []string{"Measure the plate by micrometer at three places where the flange beds.", "Then the kerf, over the tips of three teeth."}
}

// thicknessFields ask for what the micrometer reads of a blade; read is what stands there.
func thicknessFields(c context, read model.BladeState) []field {
	return append(plateAndKerf(c, read),
		form.Optional(form.Lengths(c, "tooth_plate", "Plate beside the teeth, where it differs", "one or more, or empty", read.ToothPlate, 1, 50, leastPlate/2, mostPlate)).Against(checkToothPlate),
		form.Optional(form.Length(c, "runout", "Runout at the rim, if you have read it", c.Pick("0.05", "0.002"), read.Runout, 0, 2*mm)))
}

func plateAndKerf(c context, read model.BladeState) []field {
	was := c.State.Blades[c.Blade]
	return []field{
		evenly(c, form.Lengths(c, "plate", "Plate readings", threeLike(c, was.Plate, c.Pick("2.201 2.201 2.200", "0.0866 0.0867 0.0866")), read.Plate, fewest, 50, leastPlate/2, mostPlate)).Against(func(t *taking) { checkSpread(t, "plate") }),
		evenly(c, form.Lengths(c, "kerf", "Kerf readings", threeLike(c, was.Kerf, c.Pick("3.204 3.204 3.205", "0.1261 0.1261 0.1262")), read.Kerf, fewest, 50, leastPlate/2, mostKerf)).Against(checkKerf),
	}
}

// threeLike is the hint of readings: what was read of this blade before, where it was, else such as others read.
func threeLike(c context, before []model.Measure, others string) string {
	if len(before) > 0 {
		return "three or more; before: " + c.Result(Read(before))
	}
	return "three or more, such as " + others
}

// evenly is a field of readings that wants five of them where they scatter by more than a step
// of the micrometer. It says so before the field is left.
func evenly(c context, f field) field {
	step := c.Profile.Instruments.Micrometer.Length
	return f.With(func(text string) error {
		ls, ok := form.TypedLengths(f, text)
		if !ok || step == 0 || len(ls) >= wellRead {
			return nil
		}
		if spread := slices.Max(ls) - slices.Min(ls); spread > step {
			return fmt.Errorf("they scatter by %s, more than a step of the micrometer: read %d places", spread.Show(c.Unit(), step), wellRead)
		}
		return nil
	})
}

// A plate or a kerf is at most so thick (common practice).
const (
	mostPlate = 10 * mm
	mostKerf  = 15 * mm
)

// checkKerf holds the kerf against the plate.
func checkKerf(t *taking) {
	plate, kerf := t.Lengths("plate"), t.Lengths("kerf")
	thick, thin := slices.MaxFunc(plate, shorter), slices.MinFunc(kerf, shorter)
	if thin.Length <= thick.Length {
		t.Fault("kerf", "a kerf of %s is no wider than the plate of %s: teeth stand out on both sides; were the two swapped?", thin, thick)
		return
	}
	checkSpread(t, "kerf")
	if clear := Read(kerf) - Read(plate); clear > mostClearance {
		t.Question("kerf", "the teeth stand out by %s together", t.Show(clear))
	}
}

// checkToothPlate holds the plate beside the teeth against the kerf.
func checkToothPlate(t *taking) {
	plate := t.Lengths("tooth_plate")
	if len(plate) == 0 {
		return
	}
	thick, thin := slices.MaxFunc(plate, shorter), slices.MinFunc(t.Lengths("kerf"), shorter)
	if thin.Length <= thick.Length {
		t.Fault("tooth_plate", "a plate of %s is no thinner than the kerf of %s: read it beside the teeth, not over them", thick, thin)
	}
}

// checkSpread asks again where readings of one blade lie far apart.
func checkSpread(t *taking, key string) {
	read := t.Lengths(key)
	spread := slices.MaxFunc(read, shorter).Length - slices.MinFunc(read, shorter).Length
	if spread > farApart {
		t.Question(key, "they lie %s apart: no blade is so uneven", spread.Show(t.Unit(), t.Profile.Instruments.Micrometer.Length))
	}
}

const (
	farApart      = mm / 5 // readings of one blade lie nearer together (common practice)
	mostClearance = 3 * mm // kerf over plate (common practice)
)

func shorter(a, b model.Measure) int { return int(a.Length - b.Length) }

// putThickness takes what the micrometer reads: into the head the first time, and read
// again, as a record. What was read before stays.
func putThickness(t *taking) {
	if thicknessRead(t.Context) {
		r := record{Kind: model.Remeasured, Blade: t.Blade}
		putReread(t, &r)
		t.Record(r)
		return
	}
	editBlade(t, t.Blade, func(b *model.Blade) {
		b.Plate, b.Kerf, b.ToothPlate, b.Runout = t.Lengths("plate"), t.Lengths("kerf"), t.Lengths("tooth_plate"), t.Length("runout")
	})
}

func putReread(t *taking, r *record) {
	r.Plate, r.Kerf = t.Lengths("plate"), t.Lengths("kerf")
	if r.Kind == model.Remeasured {
		r.ToothPlate, r.Runout = t.Lengths("tooth_plate"), t.Length("runout")
	}
}

// rereadings are the readings of a record of plate and kerf.
func rereadings(kind model.Kind) *procedure.Reads {
	return &procedure.Reads{
		Kind: kind, Keys: []string{"plate", "kerf", "tooth_plate", "runout"},
		Typed: func(c context, r record) map[string]string {
			return map[string]string{"plate": form.TypedAll(c, r.Plate), "kerf": form.TypedAll(c, r.Kerf), "tooth_plate": form.TypedAll(c, r.ToothPlate), "runout": form.TypedOne(c, r.Runout)}
		},
		Put: putReread,
	}
}

// withThickness is the moment with what is typed of a blade so far; false while plate and
// kerf are not both there.
func withThickness(c context, a answers) (context, bool) {
	plate, err := model.ParseReadings(a["plate"], c.Unit())
	kerf, err2 := model.ParseReadings(a["kerf"], c.Unit())
	tooth, _ := model.ParseReadings(a["tooth_plate"], c.Unit())
	if err != nil || err2 != nil || slices.MinFunc(kerf, shorter).Length <= slices.MaxFunc(slices.Concat(plate, tooth), shorter).Length {
		return c, false
	}
	runout, _ := model.ParseLength(a["runout"], c.Unit())
	if thicknessRead(c) {
		return c.With(record{Kind: model.Remeasured, Blade: c.Blade, Plate: plate, Kerf: kerf, ToothPlate: tooth, Runout: runout}), true
	}
	return c.WithHead(func(p *model.Profile) {
		p.Blades = slices.Clone(p.Blades)
		for i := range p.Blades {
			if b := &p.Blades[i]; b.ID == c.Blade {
				b.Plate, b.Kerf, b.ToothPlate, b.Runout = plate, kerf, tooth, runout
			}
		}
	}), true
}

// thicknessWords say what plate and kerf mean: whether the knife fits, and where the blade
// cuts without rings.
func thicknessWords(c context) []reason {
	t := BladeRead(c, c.Blade)
	out := knifeWords(c, c.Blade)
	switch {
	case c.Profile.Saw.Flange == "":
	case c.Plan.Reference == c.Blade:
		out = append(out, reason{Code: "reference-so-far", Weight: model.Explains, Text: fmt.Sprintf("without rings it cuts at %s from the flange: the reference so far", c.Result(t.CutFace(c.Profile.Saw.Flange, 0)))})
	default:
		row, ok := c.Plan.Row(c.Blade)
		switch {
		case !ok || row.Basis != model.Predicted:
		case row.Want < 0:
			out = append(out, reason{Code: "wants-less", Weight: model.Warns, Text: fmt.Sprintf("without rings it cuts %s, and rings take nothing back: it should be the reference, or a standing stack of %s goes behind that", c.Side(row.Offset), c.Result(-row.Want))})
		default:
			out = append(out, reason{Code: "wants", Weight: model.Explains, Text: fmt.Sprintf("without rings it cuts %s; it wants %s behind it", c.Side(row.Offset), c.Result(row.Want))})
		}
	}
	return out
}

// knifeWords say whether a blade may run with the knife that it names.
func knifeWords(c context, blade string) []reason {
	if row, _ := c.Plan.Row(blade); row.Knife == model.KnifeMissing {
		return slices.DeleteFunc(slices.Clone(row.Reasons), func(r reason) bool { return r.Code != "knife-gone" })
	}
	k, named := c.Knife(blade)
	if !named {
		return nil
	}
	out := windowWords(c, blade, k.Thickness.Length)
	for i, r := range out {
		if other, fits := otherThatFits(c, blade); fits && r.Weight == model.Danger {
			out[i].Text += "; the " + c.Size(other.Thickness.Length) + " " + c.Unit().Label() + " knife of this saw is one"
		}
	}
	return out
}

// otherThatFits is the first of the other knives of the shop with which a blade may run.
func otherThatFits(c context, blade string) (model.Knife, bool) {
	for _, k := range c.Knives() {
		told := windowWords(c, blade, k.Thickness.Length)
		if len(told) > 0 && !slices.ContainsFunc(told, func(r reason) bool { return r.Weight == model.Danger }) {
			return k, true
		}
	}
	return model.Knife{}, false
}

// windowWords say how a knife of a thickness fits a blade.
func windowWords(c context, blade string, knife model.Length) []reason {
	t := BladeRead(c, blade)
	if t.Plate == 0 || t.Kerf == 0 {
		return nil
	}
	plate := max(t.Plate, Read(c.State.Blades[blade].ToothPlate))
	_, _, reasons := solver.KnifeWindow(plate, t.Kerf, knife, c.Profile.Margin(), metrology.WordsOf(c.Profile))
	return reasons
}

// knifeFaults are those of blades that must not run with the knife they name, by name.
func knifeFaults(c context, blades ...string) (out []reason) {
	for _, id := range blades {
		for _, r := range knifeWords(c, id) {
			if r.Weight == model.Danger {
				r.Text = c.Name(id) + ": " + r.Text
				out = append(out, r)
			}
		}
	}
	return out
}
