package wizard

import (
	"testing"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/solver/simsaw"
)

// atTheSaw answers the fields of a place as somebody would who does what it says and
// reads what the instruments show.
func atTheSaw(t *testing.T, p procedure.Procedure, saw *practiceSaw) map[string]string {
	t.Helper()
	v, answers := p.View(), map[string]string{}
	fixed := map[string]string{"by": "KB", "how": "unplugged", "fence": "untouched", "more": "done", "decide": "read", "found": "nothing"}
	for _, f := range v.Fields {
		text := f.Value
		switch {
		case f.Kind == procedure.FieldWord:
			text = f.Word
		case v.Place.Step == "cut" && f.Key == "how":
			text = "widths"
		case f.Key == "teeth":
			id := v.Place.Blade
			if v.Place.Step == "power" {
				id = p.State().Mounted.Blade
			} else if v.Place.Step == "knife" {
				id = p.Profile().Reference
			}
			b, _ := p.Profile().BladeByID(id)
			text = itoa(b.Teeth)
		case f.Key == "rings":
			text = ""
			for _, id := range v.Rings {
				text += id + " "
			}
			if text == "" {
				text = "none"
			}
		case f.Key == "knife" && v.Gate:
			b, _ := p.Profile().BladeByID(p.Profile().Reference)
			k, _ := p.Profile().KnifeByID(b.Knife)
			text = k.Thickness.String()
		case f.Key == "where":
			text = f.Options[0]
		case f.Key == "way":
			text = f.Options[len(f.Options)-1]
		case f.Key == "width":
			text = p.Profile().WorkingWidth.String()
		case f.Measuring && (!f.Optional || v.Place.Step == "more"):
			text, _ = saw.read(p, v, f, answers)
		case text == "":
			text = fixed[f.Key]
		}
		answers[f.Key] = text
	}
	return answers
}

// oneKnife has every blade run with the knife that fits the most of them, as a shop
// does that does not want to square a knife at every swap.
func oneKnife(p *model.Profile) {
	best, most := "", -1
	for _, k := range p.Knives {
		fits := 0
		for _, b := range p.Blades {
			if t := k.Thickness.Length; t >= b.Plate[0].Length+model.Millimetre*22/100 && t < b.Kerf[0].Length-model.Millimetre/10 {
				fits++
			}
		}
		if fits > most {
			best, most = k.ID, fits
		}
	}
	for i := range p.Blades {
		p.Blades[i].Knife = best
		k, _ := p.KnifeByID(best)
		if play := p.Blades[i].Kerf[0].Length - k.Thickness.Length; play > 0 && play < model.Millimetre/20 {
			p.Blades[i].Retired = true // no knife is squared as closely as it would want
		}
	}
}

// TestClosedLoop sets up invented saws from the first place to the last, through
// the state machine and with nothing but what the instruments of the simulated saw
// show. Then it looks at the true cut faces: a blade that is called ready must cut
// within the tolerance of the datum. The saws know no formula of the solver.
func TestClosedLoop(t *testing.T) {
	ready, fitting := 0, 0
	for seed := uint64(1); seed <= 50; seed++ {
		flange := []model.Flange{model.Far, model.Near}[seed%2]
		profile, saw := simsaw.Random(seed, flange)
		oneKnife(&profile)
		practice := &practiceSaw{saw: saw, pieces: map[string]model.Length{}, halves: map[string]model.Length{}}
		p := procedure.New(profile, solver.Plan, procedure.Options{Seed: seed})
		at := time.Date(2026, 3, 2, 7, 0, 0, 0, time.UTC)
		for answers := 0; !p.Finished(); answers++ {
			if answers > 500 {
				t.Fatalf("seed %d: no end in sight at %s", seed, p.Place())
			}
			place, typed := p.Place(), atTheSaw(t, p, practice)
			at = at.Add(40 * time.Second)
			next, err := p.Apply(procedure.Event{Kind: procedure.Answer, Place: place, At: at, Answers: typed})
			if err != nil && refusalAsks(err) {
				next, err = next.Apply(procedure.Event{Kind: procedure.Answer, Place: place, At: at, Answers: typed})
			}
			if err != nil {
				t.Fatalf("seed %d: %v (typed %v)", seed, err, typed)
			}
			practice.follow(p, next, place, typed)
			p = next
		}
		plan := p.Plan()
		datum := practice.saw.CutFace(plan.Reference, plan.Standing)
		for _, row := range plan.Blades {
			if row.ID == plan.Reference || row.Knife != model.KnifeFits {
				if row.Knife != model.KnifeFits && row.Ready {
					t.Errorf("seed %d: %s is called ready and its knife does not fit", seed, row.ID)
				}
				continue
			}
			fitting++
			if !row.Ready {
				continue
			}
			ready++
			if off := practice.saw.CutFace(row.ID, row.Stack) - datum; off.Abs() > profile.Tolerance.Length {
				t.Errorf("seed %d, %s flange: %s is called ready and truly cuts %s from the datum, tolerance %s", seed, flange, row.ID, off.Of(model.MM), profile.Tolerance)
			}
		}
	}
	t.Logf("%d of %d blades that their knife fits became ready", ready, fitting)
	if ready*10 < fitting*9 {
		t.Errorf("only %d of %d blades became ready", ready, fitting)
	}
}

func refusalAsks(err error) bool {
	for _, f := range refusal(err).Faults {
		if !f.Question {
			return false
		}
	}
	return len(refusal(err).Faults) > 0
}
