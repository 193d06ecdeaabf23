package procedure

import (
	"regexp"
	"strings"
	"testing"

	"example.com/sawdatum/model"
)

// shopIn is an invented saw whose lengths are all in one unit.
func shopIn(u model.Unit, width model.Length) model.Profile {
	m := func(mm, in model.Length) model.Measure {
		if u == model.IN {
			return model.Measure{Length: in, Unit: u}
		}
		return model.Measure{Length: mm, Unit: u}
	}
	mil, inch := model.Thou, model.Inch
	blade := func(id string, teeth int) model.Blade {
		plate, kerf := m(2200_000, 87*mil), m(3200_000, 126*mil)
		return model.Blade{ID: id, Label: id, Diameter: m(250*mm, 10*inch), Teeth: teeth, Bore: m(30*mm, inch), Knife: "k", Plate: []model.Measure{plate, plate, plate}, Kerf: []model.Measure{kerf, kerf, kerf}}
	}
	p := model.Profile{Version: 1, Name: "bay", Units: u, Tolerance: m(mm/20, 2*mil), WorkingWidth: model.Measure{Length: width, Unit: u}, Reference: "general", Standing: []string{},
		Saw: model.Saw{Label: "Bay", Tilt: model.TiltLeft, FenceSide: model.SideRight, Flange: model.Far, FlangeDiameter: m(80*mm, 3*inch), FlangeRelief: m(50*mm, 2*inch),
			ArborDiameter: m(30*mm, inch), SpareThread: m(9*mm, inch/2), ThreadPitch: m(2*mm, inch/16), ThroatLength: m(360*mm, 14*inch)},
		Knives:      []model.Knife{{ID: "k", Thickness: m(2500_000, 107*mil)}, {ID: "k2", Thickness: m(2200_000, 98*mil)}},
		Instruments: model.Instruments{Caliper: m(10_000, mil/2), Micrometer: m(1000, mil/10)},
		Blades:      []model.Blade{blade("general", 48), blade("rip", 24)},
		Rings:       []model.Ring{{ID: "r", Thickness: m(100_000, 4*mil), Count: 2, Outer: m(78*mm, 3*inch)}},
	}
	return p
}

var (
	example    = regexp.MustCompile(`such as (.+)$`)
	millimetre = regexp.MustCompile(`\d ?mm\b`)
	inches     = regexp.MustCompile(`\d ?(in|thou)\b`)
)

// TestTextsOfBothShops: at every place of the table an example lies within its own range, a
// shop in inches reads no millimetres and one in millimetres no inches.
func TestTextsOfBothShops(t *testing.T) {
	examples := 0
	for _, p := range []model.Profile{shopIn(model.MM, 120*mm), shopIn(model.MM, 100*mm), shopIn(model.MM, 300*mm), shopIn(model.IN, 5*model.Inch), shopIn(model.IN, 4*model.Inch), shopIn(model.IN, 12*model.Inch)} {
		judge := func(model.Profile) model.Plan {
			return model.Plan{Reference: "general", Standing: []string{}, Blades: []model.BladePlan{{ID: "general", Knife: model.KnifeFits, Stack: []string{}}, {ID: "rip", Knife: model.KnifeFits, Stack: []string{"r"}}}}
		}
		other := millimetre
		if p.Units == model.MM {
			other = inches
		}
		for key, row := range table {
			run := New(p, judge, Options{})
			c := context{run, "rip"}
			var texts []string
			for _, part := range []func(context) []string{row.do, row.why} {
				if part != nil {
					texts = append(texts, c.read(part(c))...)
				}
			}
			texts = append(texts, c.read(row.help)...)
			for _, f := range row.fields(c) {
				texts = append(texts, f.Hint, f.Label)
				m := example.FindStringSubmatch(f.Hint)
				if m == nil || f.check != nil || f.Kind == FieldWord {
					continue
				}
				examples++
				if err := f.Check(strings.TrimSuffix(m[1], ": what was read before stays on record")); err != nil {
					t.Errorf("%s, %s, working width %s: the example %q is refused: %v", key, f.Label, p.WorkingWidth, m[1], err)
				}
				lo, rest, ranged := strings.Cut(strings.Split(f.Hint, ", such as")[0], " to ")
				if from, err := model.ParseLength(lo, f.Unit); ranged && err == nil {
					to, err := model.ParseLength(rest, f.Unit)
					like, err2 := model.ParseLength(m[1], f.Unit)
					if err != nil || err2 != nil || like.Length < from.Length || like.Length > to.Length || f.Check(lo) != nil || f.Check(rest) != nil {
						t.Errorf("%s, %s: the example or a limit of %q lies outside", key, f.Label, f.Hint)
					}
				}
			}
			for _, text := range texts {
				if strings.Contains(text, "|") || other.MatchString(text) {
					t.Errorf("%s, in %s: %q", key, p.Units.Label(), text)
				}
			}
		}
	}
	if examples < 100 {
		t.Errorf("only %d examples were tried", examples)
	}
}
