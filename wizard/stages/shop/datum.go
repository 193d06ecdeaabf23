package shop

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
)

var datumRow = row{
	Name: "datum", Stage: 4, Title: form.Said("Reference blade and standing stack"),
	Done:    func(c context) bool { return c.Profile.Reference != "" && c.Profile.Standing != nil },
	Act:     procedure.Paper{Says: datumOrders, Accept: putDatum},
	Help:    datumHelp,
	Fields:  datumFields,
	Head:    putDatum,
	Follows: DatumWords,
	Picture: func(c context, a answers) procedure.Picture { return RackPicture(withDatum(c, a), "") },
}

var datumHelp = []string{
	"Every other blade is brought to the line that the reference cuts; rings move it one way only.",
	"Far flange: the reference is the blade with the largest (plate + kerf) / 2. Near flange: the one with the smallest (kerf - plate) / 2. Another only if you know why.",
	"The standing stack stays behind the reference, so that every other blade needs more than nothing.",
	"With a near flange about {0.1 mm|0.004 in} of it is a reserve: a sharpened reference cuts wider, and one ring less brings it back.",
}

// OfferedDatum is the reference and the standing stack that the numbers name. With a near
// flange, where none is needed, a ring of about 0.1 mm is offered as reserve for
// sharpening, if every blade can still be brought in with it.
func OfferedDatum(c context) context {
	c = c.WithHead(func(p *model.Profile) { p.Reference, p.Standing = "", nil })
	if id := ofEquals(c); id != c.Plan.Reference {
		if with := c.WithHead(func(p *model.Profile) { p.Reference = id }); solver.Lost(with.Plan) <= solver.Lost(c.Plan) {
			c = with
		}
	}
	if c.Profile.Saw.Flange != model.Near || len(c.Plan.Standing) > 0 {
		return c
	}
	best, found := model.Ring{}, false
	for _, r := range c.Profile.Rings {
		off, ok := (r.Height() - reserve).Abs(), r.Count > 0 && r.Height() >= reserve/2 && r.Height() <= 2*reserve
		if ok && (!found || off < (best.Height()-reserve).Abs()) {
			best, found = r, true
		}
	}
	reference := c.Plan.Reference
	if !found || reference == "" {
		return c
	}
	with := c.WithHead(func(p *model.Profile) { p.Reference, p.Standing = reference, []string{best.ID} })
	if solver.Lost(with.Plan) > solver.Lost(c.Plan) {
		return c
	}
	return with
}

// equals are the blades that cut as the reference does, within what is known: nearer to it than
// the micrometer tells apart.
func equals(c context) (ids []string) {
	for _, b := range c.Plan.Blades {
		if b.ID != c.Plan.Reference && b.Knife == model.KnifeFits && b.Basis == model.Predicted && b.Offset.Abs() <= c.Profile.Instruments.Micrometer.Length {
			ids = append(ids, b.ID)
		}
	}
	return ids
}

// ofEquals is, of the blades that cut as the reference does within what is known, the one that
// runs with the knife of most blades, then the one that is on the saw: its knife is set already.
func ofEquals(c context) string {
	best, most := c.Plan.Reference, -1
	for _, id := range append([]string{c.Plan.Reference}, equals(c)...) {
		blade, _ := c.Profile.BladeByID(id)
		use := 0
		for _, b := range c.Profile.Rack() {
			if b.Knife == blade.Knife {
				use += 2
			}
		}
		if c.State.On.Blade == id {
			use++
		}
		if use > most {
			best, most = id, use
		}
	}
	return best
}

// equalWords name the blades that would do as well.
func equalWords(c context) []reason {
	var names []string
	for _, id := range equals(c) {
		names = append(names, c.Name(id))
	}
	if len(names) == 0 {
		return nil
	}
	return []reason{{Code: "reference-equal", Weight: model.Explains, Text: "equal within what is known, and would do as well: " + strings.Join(names, ", ") + "; the one whose knife most blades run with comes first"}}
}

// reserve is what a near flange keeps behind the reference for sharpening (job.md).
const reserve = mm / 10

func datumOrders(c context) []string {
	if !solver.AnyKnifeFits(c.Plan) {
		return []string{"No blade here has a knife that fits it: none can be the reference.", "Say under other work which knife runs with each, or that one was bought."}
	}
	offer := OfferedDatum(c)
	offered := offer.Plan
	out := []string{fmt.Sprintf("Take the %s, %s behind it, as the reference.", c.Name(offered.Reference), c.Rings(offered.Standing))}
	switch others := equals(offer); len(others) {
	case 0:
	case 1:
		out = append(out, fmt.Sprintf("Equal within what is known, and would do as well: the %s.", c.Name(others[0])))
	default:
		out = append(out, fmt.Sprintf("Equal within what is known, and would do as well: the %s, %d more.", c.Name(others[0]), len(others)-1))
	}
	return out
}

func datumFields(c context) []field {
	offered := OfferedDatum(c).Plan
	reference, standing := c.Profile.Reference, c.Profile.Standing
	if reference == "" {
		reference = offered.Reference
	}
	if standing == nil {
		standing = offered.Standing
	}
	blade := OneBlade(c, "reference", "Reference blade", RackBlades(c))
	if reference != "" {
		blade.Value = c.Name(reference)
	}
	blade = blade.Against(func(t *taking) { // the stack is not typed yet
		reference := t.Choice("reference")
		after := t.WithHead(func(p *model.Profile) { p.Reference, p.Standing = reference, standing })
		ofReference, _ := solver.CheckDatum(after.Profile, after.Plan, len(after.Plan.Blades))
		form.Asked(t, "reference", ofReference)
	})
	return []field{blade, field{Key: "standing", Label: "Standing stack, flange first", Hint: "rings of the kit, or none", Kind: procedure.FieldRings, Value: c.RingsTyped(standing)}.With(func(text string) error {
		_, err := c.Profile.ParseStack(text)
		return err
	})}
}

func putDatum(t *taking) {
	reference, now := t.Choice("reference"), t.Profile.Reference
	standing, _ := t.Profile.ParseStack(t.Text("standing"))
	after := t.WithHead(func(p *model.Profile) { p.Reference, p.Standing = reference, standing })
	ofReference, ofStack := solver.CheckDatum(after.Profile, after.Plan, solver.Lost(OfferedDatum(t.Context).Plan))
	form.Asked(t, "reference", ofReference)
	form.Asked(t, "standing", ofStack)
	moved := now != "" && (now != reference || !slices.Equal(t.Profile.Standing, standing)) && len(t.State.Strips) > 0
	t.Head(func(p *model.Profile) { p.Reference, p.Standing = reference, standing })
	if moved {
		t.Say("datum-moved", model.Warns, "The datum has moved: every blade goes back to check.")
	}
	t.After(rackAdvice) // a blade without a knife is told of at its own place, which comes next
}

// withDatum is the moment with what is typed as reference and standing stack.
func withDatum(c context, a answers) context {
	fs := datumFields(c)
	reference, err := fs[0].Choice(a["reference"])
	if err != nil {
		reference = c.Profile.Reference
	}
	standing, err := c.Profile.ParseStack(a["standing"])
	if err != nil {
		standing = c.Profile.Standing
	}
	return c.WithHead(func(p *model.Profile) { p.Reference, p.Standing = reference, standing })
}

// DatumWords say what the numbers make of the reference and the stack that are typed.
func DatumWords(c context, a answers) []reason {
	after := withDatum(c, a)
	n := len(after.Profile.Rack())
	text := fmt.Sprintf("every one of the %d blades can be brought to its line", n)
	weight := model.Explains
	if short := solver.Lost(after.Plan); short > 0 {
		text, weight = fmt.Sprintf("%d of the %d blades cannot be brought to its line with this kit", short, n), model.Warns
	}
	out := append([]reason{{Code: "datum", Weight: weight, Text: text}}, equalWords(after)...)
	return append(out, after.Plan.Reasons...)
}

// rackAdvice is what a knife or a ring that the shop does not own yet would change.
func rackAdvice(c context) []reason {
	out := solver.KnivesToCome(c.Profile)
	if solver.Lost(c.Plan) == 0 {
		return out
	}
	if advice, err := solver.AdviseRack(c.Profile); err == nil {
		out = append(out, advice.Reasons...)
	}
	return out
}

// referenceWithoutKnife says what becomes of the datum while the knife of the reference is gone.
func referenceWithoutKnife(c context) []string {
	out := []string{"The reference has no knife. Found, or one as thick is there: type there."}
	if id := StandIn(c); id != "" {
		return append(out, fmt.Sprintf("Else type aside: the %s carries the datum.", c.Name(id)))
	}
	out = append(out, "Else nothing is compared: no ready blade stands in.")
	if cost := movesCost(c); cost.blades > 0 {
		out = append(out, fmt.Sprintf("Another reference moves the datum: %s.", cost))
	}
	return out
}

func knifeNamedBy(c context, blade string) string {
	b, _ := c.Profile.BladeByID(blade)
	return b.Knife
}

// unfitRow puts a blade aside that has no knife, before anything is cut.
var unfitRow = row{
	Name: "unfit", Stage: 4, Title: func(c context) string { return "No knife for the " + c.Name(c.Blade) },
	When: func(c context) bool { return form.KnifeFit(c, c.Blade) != model.KnifeFits },
	Done: func(c context) bool { return c.State.Blades[c.Blade].Left != nil },
	Act: procedure.Paper{
		Says: func(c context) []string {
			out := []string{
				"Put this blade aside.",
				"You have another that fits: say so under other work, F3.",
			}
			if _, named := c.Knife(c.Blade); !named {
				out[0] = "Put this blade aside: it has no knife."
			}
			if form.KnifeFit(c, c.Blade) == model.KnifeMissing {
				out[0] = "Put this blade aside: its knife is gone."
				if c.Blade == c.Profile.Reference {
					return append(referenceWithoutKnife(c), out[1])
				}
			}
			return out
		},
		Accept: func(t *taking) {
			switch {
			case t.Blade == t.Profile.Reference && t.Choice("aside") == "there":
				t.Record(record{Kind: model.KnifeBack, Knife: knifeNamedBy(t.Context, t.Blade)})
				return
			case t.Blade == t.Profile.Reference && form.KnifeFit(t.Context, t.Blade) != model.KnifeMissing:
				t.Fault("aside", "it is the reference: choose another reference first, under other work")
			}
			t.Record(record{Kind: model.Note, About: model.AboutLeft, Blade: t.Blade, Text: "no knife fits it"})
		},
	},
	Help: []string{"The knife keeps the kerf open, and stock from being thrown.", "Thicker than the plate by at least {0.2 mm|0.008 in}, thinner than the kerf (EN 1870-1, fig. 6); several knives may be needed for several blades (HSE, circular rip saws)."},
	Fields: func(c context) []field {
		if c.Blade == c.Profile.Reference && form.KnifeFit(c, c.Blade) == model.KnifeMissing {
			ways := []string{"there", "aside"}
			if len(StandIns(c)) == 0 {
				ways = ways[:1]
			}
			return []field{form.Choice("aside", "Its knife", "", ways...)}
		}
		return []field{form.Word("aside", "It is put aside", "aside")}
	},
	Follows: func(c context, _ answers) []reason { return knifeFaults(c, c.Blade) },
	Picture: func(c context, _ answers) procedure.Picture { return knifeWindow(c, c.Blade) },
}
