// Package bay has what the tests of both faces begin with: an invented saw, a run on it, and
// stand-ins for what a run needs of the world.
package bay

import (
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
)

// MM are readings in mm.
func MM(texts ...string) []model.Measure {
	out := make([]model.Measure, len(texts))
	for i, s := range texts {
		m, err := model.ParseLength(s, model.MM)
		if err != nil {
			panic(err)
		}
		out[i] = m
	}
	return out
}

// Two is an invented far-flange saw: a reference, two blades that rings bring in, and
// a thin one that its knife does not fit.
func Two() model.Profile {
	one := func(s string) model.Measure { return MM(s)[0] }
	blade := func(id, label string, teeth int, plate, kerf string) model.Blade {
		return model.Blade{ID: id, Label: label, Diameter: one("250"), Teeth: teeth, Bore: one("30"), Knife: "k25", Plate: MM(plate, plate, plate), Kerf: MM(kerf, kerf, kerf)}
	}
	ring := func(id, thickness string, count int) model.Ring {
		return model.Ring{ID: id, Thickness: one(thickness), Measured: one(thickness), Count: count, Outer: one("78")}
	}
	return model.Profile{
		Version: 1, Name: "bay-two", Units: model.MM, Tolerance: one("0.1"), WorkingWidth: one("120"), Rules: model.RulesEN,
		Saw: model.Saw{Label: "Bay 2 saw", Tilt: model.TiltLeft, FenceSide: model.SideRight, Flange: model.Far, FlangeDiameter: one("80"), FlangeRelief: one("50"),
			ArborDiameter: one("30"), ThreadPitch: one("2"), ThroatLength: one("360"),
			PlainPart: one("12"), ThreadEnd: one("40"), LooseFlange: one("8"), Nut: one("12"), SpindleSpeed: 4000, MotorTilt: model.No, ContactBrake: model.No, Scoring: model.No},
		Knives:      []model.Knife{{ID: "k25", Thickness: one("2.5")}},
		Instruments: model.Instruments{Caliper: one("0.01"), CaliperRange: one("150"), Micrometer: one("0.001")},
		Blades: []model.Blade{
			blade("general-48", "48-tooth general", 48, "2.2", "3.2"), blade("rip-24", "24-tooth rip", 24, "2.2", "3.0"),
			blade("crosscut-80", "80-tooth fine crosscut", 80, "2.2", "2.8"), blade("thin-40", "40-tooth thin kerf", 40, "1.6", "2.4")},
		Rings:     []model.Ring{ring("r10", "0.10", 3), ring("r20", "0.20", 2), ring("r30", "0.30", 1), ring("r50", "0.50", 1)},
		Reference: "general-48", Standing: []string{},
	}
}

// New is a saw of which nothing is known yet.
func New() model.Profile { return model.Profile{Version: 1, Name: "bay-new"} }

// Run is what a run in the tests is made of.
type Run struct {
	Profile  model.Profile
	Practice bool
	Mode     procedure.Options
	Shelf    wizard.Shelf
	Save     func(model.Profile) error
	Join     func(model.Profile) model.Profile // what the file holds after a save
	Copy     func(string, model.Profile) error
	Export   func(procedure.Export, string, model.Profile) (string, error)
	Chars    picture.Charset
}

// Options are those of the run: its clock goes on by a minute with each look at it.
func (f Run) Options() wizard.Options {
	at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
	o := wizard.Options{
		Practice: f.Practice, Seed: 7, Run: f.Mode, Shelf: f.Shelf, Copy: f.Copy,
		Store: wizard.Store{Path: "bay-two.yaml", Profile: f.Profile},
		Clock: func() time.Time { at = at.Add(time.Minute); return at },
	}
	o.Run.Exports = []string{"yaml", "card", "labels", "html", "csv", "json"}
	o.Run.Shows = []string{"card", "labels"}
	o.Store.Export = f.Export
	if f.Save != nil {
		o.Store.Save = func(p model.Profile) (model.Profile, error) {
			if f.Join != nil {
				return f.Join(p), f.Save(p)
			}
			return p, f.Save(p)
		}
	}
	if f.Shelf.List != nil {
		o.Store = wizard.Store{}
	}
	return o
}
