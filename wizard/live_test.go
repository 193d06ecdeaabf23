package wizard

import (
	"slices"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
)

// TestNothingFollowsFromWhatIsWrong: figures that cannot be have no consequences, and what
// was done is not asked for again.
func TestNothingFollowsFromWhatIsWrong(t *testing.T) {
	field := func(keys ...string) (out []procedure.Field) {
		for _, key := range keys {
			out = append(out, procedure.Field{Key: key, Unit: model.MM})
		}
		return out
	}
	p := procedure.New(shop(), solver.Plan, procedure.Options{})
	for _, c := range []struct {
		step, blade string
		answers     map[string]string
		code        string
		follows     bool
	}{
		{"flange", "", map[string]string{"flange_diameter": "80", "flange_relief": "78"}, "flange-land", true},
		{"flange", "", map[string]string{"flange_diameter": "80", "flange_relief": "8000"}, "flange-land", false},
		{"flange", "", map[string]string{"flange_diameter": "80", "flange_relief": "80"}, "flange-land", false},
		{"thickness", p.Profile().Reference, map[string]string{"plate": "2.2 2.2 2.2", "kerf": "2.3 2.3 2.3"}, "knife-too-thick", true},
		{"thickness", p.Profile().Reference, map[string]string{"plate": "3.2 3.2 3.2", "kerf": "2.2 2.2 2.2"}, "knife-too-thick", false},
		{"sharpened", "", map[string]string{"blade": "1", "plate": "2.2 2.2 2.2", "kerf": "3.1 3.1 3.1"}, "knife-fits", true},
		{"sharpened", "", map[string]string{"blade": "1"}, "knife-fits", false},
		{"sharpened", "", map[string]string{"blade": "1", "plate": "2.2 2.2 2.2"}, "knife-fits", false},
		{"sharpened", "", map[string]string{"blade": "nobody", "plate": "2.2 2.2 2.2", "kerf": "3.1 3.1 3.1"}, "knife-fits", false},
		{"scale", "", map[string]string{"pairs": "60=60.15 120=120.14"}, "cursor", true},
		{"scale", "", map[string]string{"pairs": "60=60.15 120=120.14", "cursor": "0.14"}, "cursor", false},
	} {
		view := procedure.View{Place: procedure.Place{Step: c.step, Blade: c.blade}, Blade: c.blade,
			Fields: append(field("flange_diameter", "flange_relief", "plate", "kerf", "pairs", "cursor"), procedure.Field{Key: "blade", Options: []string{p.Profile().Reference}})}
		reasons := scene{p, view, c.answers}.live()
		has := slices.ContainsFunc(reasons, func(r model.Reason) bool { return r.Code == c.code })
		if has != c.follows || !c.follows && c.step != "scale" && len(reasons) > 0 {
			t.Errorf("%s with %v: %v", c.step, c.answers, reasons)
		}
	}
}

// TestWhyNotReady: what stands beside a blade that is not ready begins with the gravest,
// and does not praise its knife.
func TestWhyNotReady(t *testing.T) {
	var got []string
	for _, r := range whyNot([]model.Reason{{Code: "knife-fits"}, {Code: "predicted"}, {Code: "thread", Weight: model.Danger}, {Code: "uncut"}, {Code: "knife-other", Weight: model.Warns}}) {
		got = append(got, r.Code)
	}
	if want := []string{"thread", "knife-other", "predicted", "uncut"}; !slices.Equal(got, want) {
		t.Errorf("told in the order %v, not %v", got, want)
	}
}

// TestTallyOfOneThing: several knives or rings have no mean.
func TestTallyOfOneThing(t *testing.T) {
	readings := procedure.Field{Kind: procedure.FieldLengths, Unit: model.MM, Measuring: true}
	if got := tally(readings, "2.5 2.0"); got != "2 readings, mean 2.25 mm, spread 0.5 mm" {
		t.Error(got)
	}
	readings.Measuring = false
	if got := tally(readings, "2.5 2.0"); got != "" {
		t.Errorf("two knives: %s", got)
	}
}
