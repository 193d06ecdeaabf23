package procedure_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// shop is a small far-flange saw: a reference, a blade that needs 0.20 mm behind
// it, and a thin one that its knife does not fit.
func shop() model.Profile {
	mm := func(s string) model.Measure {
		m, err := model.ParseLength(s, model.MM)
		if err != nil {
			panic(err)
		}
		return m
	}
	blade := func(id string, teeth int, plate, kerf string) model.Blade {
		return model.Blade{ID: id, Label: id, Diameter: mm("250"), Teeth: teeth, Bore: mm("30"), Knife: "k25",
			Plate: []model.Measure{mm(plate), mm(plate), mm(plate)}, Kerf: []model.Measure{mm(kerf), mm(kerf), mm(kerf)}}
	}
	return model.Profile{
		Version: 1, Name: "test", Units: model.MM, Tolerance: mm("0.05"), WorkingWidth: mm("120"),
		Saw: model.Saw{Label: "Test saw", Tilt: model.TiltLeft, FenceSide: model.SideRight, Flange: model.Far, FlangeDiameter: mm("80"), FlangeRelief: mm("50"),
			ArborDiameter: mm("30"), SpareThread: mm("9"), ThreadPitch: mm("2"), ThroatLength: mm("360")},
		Knives:      []model.Knife{{ID: "k25", Thickness: mm("2.5")}},
		Instruments: model.Instruments{Caliper: mm("0.01"), Micrometer: mm("0.001")},
		Blades:      []model.Blade{blade("general", 48, "2.2", "3.2"), blade("rip", 24, "2.0", "3.0"), blade("thin", 60, "1.6", "2.4")},
		Rings:       []model.Ring{{ID: "r10", Thickness: mm("0.10"), Count: 2, Outer: mm("78")}, {ID: "r25", Thickness: mm("0.25"), Count: 1, Outer: mm("78")}},
		Reference:   "general", Standing: []string{},
	}
}

// simpleJudge knows the shop's stacks by heart and judges a cut by its mean.
func simpleJudge(p model.Profile) model.Plan {
	s := model.Fold(p)
	plan := model.Plan{Reference: p.Reference, Standing: p.Standing}
	for _, b := range p.Rack() {
		row := model.BladePlan{ID: b.ID, Knife: model.KnifeFits, Verdict: model.In, Stack: []string{}}
		if b.ID == "rip" {
			row.Stack = []string{"r10", "r10"}
		}
		if b.ID == "thin" {
			row.Knife = model.KnifeTooThick
			row.Reasons = []model.Reason{{Code: "knife-too-thick", Weight: model.Danger, Text: "the knife of 2.5 mm is thicker than the kerf of 2.4 mm"}}
		}
		if c, ok := s.Blades[b.ID].Last(); ok {
			row.Basis = model.Measured
			var sum model.Length
			if len(c.Readings) > 0 {
				sum = model.Sum(model.Lengths(c.Readings))/model.Length(len(c.Readings)) - model.Sum(model.Lengths(c.Reference))/model.Length(len(c.Reference))
			} else {
				sum = model.Sum(model.Lengths(c.Differences)) / model.Length(len(c.Differences))
			}
			row.Offset = sum
			switch {
			case sum.Abs() > p.Tolerance.Length:
				row.Verdict = model.Out
				row.Stack = []string{"r25"}
			default:
				row.Stack = c.Rings
				row.Ready = c.Aligned
			}
		}
		plan.Blades = append(plan.Blades, row)
	}
	return plan
}

// plausible answers a field as an honest user at a good saw would.
func plausible(p procedure.Procedure, v procedure.View, f procedure.Field) string {
	answers := map[string]string{
		"by": "KB", "run_down": "6", "how": "unplugged", "spare_thread": "9", "clean": "clean", "span": "200",
		"slot_front": "95.00", "slot_rear": "95.02", "fence_front": "120.00", "fence_rear": "120.03",
		"length": "900", "lead": "120.02", "tail": "120.03", "gaps": "0 0.05 0 0.05", "tip_gap": "5",
		"pairs": "60=60.12 120=120.11", "final": "120.01", "readings": "120.00 120.01 120.00", "fence": "untouched",
		"knife": "2.5", "width": "120", "more": "done", "decide": "read", "why": "check", "found": "sawdust under the ring",
	}
	if (v.Place.Step == "cut" || v.Place.Step == "reread") && f.Key == "how" {
		return "widths"
	}
	switch {
	case f.Key == "where":
		return f.Options[0]
	case f.Key == "way":
		return f.Options[len(f.Options)-1]
	case f.Key == "teeth":
		id := v.Place.Blade
		if m := p.State().Mounted; v.Place.Step == "power" && m != nil {
			id = m.Blade
		}
		if v.Place.Step == "knife" {
			id = p.Profile().Reference
		}
		b, _ := p.Profile().BladeByID(id)
		return fmt.Sprint(b.Teeth)
	case f.Key == "knife" && v.Gate:
		return strings.TrimPrefix(f.Hint, "such as ")
	case f.Key == "rings":
		if len(v.Rings) == 0 {
			return "none"
		}
		return strings.Join(v.Rings, " ")
	case f.Kind == procedure.FieldWord:
		return f.Word
	case f.Optional:
		return ""
	case f.Value != "":
		return f.Value
	}
	return answers[f.Key]
}

func step(t *testing.T, p procedure.Procedure, at time.Time) procedure.Procedure {
	t.Helper()
	v := p.View()
	answers := map[string]string{}
	for _, f := range v.Fields {
		answers[f.Key] = plausible(p, v, f)
	}
	next, err := p.Apply(procedure.Event{Kind: procedure.Answer, At: at, Place: v.Place, Answers: answers})
	if err != nil {
		t.Fatalf("%s: %v (answers %v)", v.Place, err, answers)
	}
	return next
}

func TestWholeSetup(t *testing.T) {
	p := procedure.New(shop(), simpleJudge, procedure.Options{Seed: 1})
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	var way []string
	for range 100 {
		if p.Finished() {
			break
		}
		way = append(way, p.Place().String())
		p = step(t, p, at)
		at = at.Add(time.Minute)
	}
	want := strings.Split("who|unfit thin|stop|isolate|arbor|mount general|rim|align|power|boards|stop|isolate|knife|power|scale|reference rip|stop|isolate|mount rip|power|cut rip|written rip|close", "|")
	if !slices.Equal(way, want) {
		t.Errorf("the way was\n%s\nwant\n%s", strings.Join(way, "|"), strings.Join(want, "|"))
	}
	row, _ := p.Plan().Blade("rip")
	if !row.Ready {
		t.Error("the rip is not ready at the end")
	}
	if row, _ := p.Plan().Blade("thin"); row.Ready {
		t.Error("the thin blade is called ready")
	}
}
