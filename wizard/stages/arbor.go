package stages

import (
	"fmt"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver/gauging"
	"example.com/sawdatum/wizard/procedure"
)

var arborRow = row{
	Name: "arbor", Stage: 3, Title: said("Clean the arbor"),
	Done:  func(c context) bool { return c.State.Cleaned != nil },
	Needs: func(context) interlock.Need { return interlock.Need{Bare: true} },
	Act: procedure.HandsIn{
		Says: lined[interlock.Hands](
			"Wipe flange, loose flange and arbor. Feel for burrs; stone them off.",
			"Mark the arbor where you can see it: every blade's mark stands there.",
			"A dial at hand: read round the flange, turning the arbor by hand."),
		Accept: func(t *taking, h interlock.Hands) {
			r := record{Kind: model.Arbor}
			putFlangeDial(t, &r)
			t.Does(interlock.Handled(h))
			t.Record(r)
		},
	},
	Why: func(c context) []string {
		return []string{fmt.Sprintf("Dust of %[1]s under a ring is a cut %[1]s off.", c.Pick("0.02 mm", "0.001 in"))}
	},
	Help: []string{"Dial readings are worth having: equally spaced from the arbor's mark on, four or more. At most {0.08 mm|0.003 in} altogether (woodworking magazine)."},
	Fields: func(c context) []field {
		return []field{
			word("clean", "Both flanges clean and free of burrs, arbor marked", "clean"),
			optional(lengths(c, "dial", "Dial round the flange (may stay empty)", "four or more, equally spaced", nil, 4, 72, -5*mm, 5*mm)),
		}
	},
	Reads: &procedure.Reads{
		Kind: model.Arbor, Keys: []string{"dial"},
		Typed: func(_ context, r model.Record) map[string]string {
			if len(r.Dial) == 0 {
				return nil
			}
			return map[string]string{"dial": typedAll(r.Dial)}
		},
		Put: putFlangeDial,
	},
	Follows: func(c context, a answers) []reason {
		h, err := gauging.FirstHarmonic(readings(c, a["dial"]))
		if err != nil {
			return nil
		}
		return gauging.FlangeWords(h, c.Profile.Saw.FlangeDiameter.Length, largest(c), micrometerWords(c))
	},
	Picture:   func(c context, a answers) procedure.Picture { return dialPicture(c, a, "flange") },
	Simulated: map[string]procedure.Simulated{"dial": func(c context, s procedure.Saw, _ answers) string { return micrometer(c, at(c, s).FlangeDial(8)) }},
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
	for _, told := range gauging.FlangeWords(h, t.Profile.Saw.FlangeDiameter.Length, largest(t.Context), micrometerWords(t.Context)) {
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
