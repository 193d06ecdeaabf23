package procedure_test

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// broken names the rule that does not hold in a state; empty: all hold. R6 is
// asserted at every event.
func (w world) broken(p procedure.Procedure, s *saw, here procedure.Place) (rule, what string) {
	if !slices.Contains(sorted, here.Step) {
		return "R1", "nobody has said whether hands are in or the blade turns at " + here.Step
	}
	for _, check := range []func(world, procedure.Procedure, *saw, procedure.Place) (string, string){handsOnlyDead, turnsOnlyChecked, sameFence, readyIsTrue, knownIsTrue} {
		if rule, what = check(w, p, s, here); rule != "" {
			return rule, what
		}
	}
	return "", ""
}

// handsOnlyDead is R1, and R4 where an interruption took the isolation away.
func handsOnlyDead(_ world, p procedure.Procedure, s *saw, here procedure.Place) (string, string) {
	if here.Step == "isolate" && (!s.still || s.slow) {
		return "R1", "the isolator is to be opened, and nobody has seen the blade stand"
	}
	claimed, _, _ := p.Power()
	if !slices.Contains(handsIn, here.Step) && !slices.Contains(measured, here.Step) && claimed != procedure.Isolated {
		return "", ""
	}
	if slices.Contains(measured, here.Step) && s.lies {
		return "", ""
	}
	what := fmt.Sprintf("at %s the saw counts as isolated", here)
	switch {
	case !s.live && s.proved:
		return "", ""
	case s.lapsed == "live":
		return "R1", what + ", and it was made live since"
	case s.lapsed == "never" || s.lapsed == "":
		return "R1", what + ", and it never was"
	}
	return "R4", what + ", and that ended with: " + s.lapsed
}

// turnsOnlyChecked is R2.
func turnsOnlyChecked(w world, p procedure.Procedure, s *saw, here procedure.Place) (string, string) {
	if !slices.Contains(turning, here.Step) {
		return "", ""
	}
	blade, rings := p.Profile().Reference, p.Profile().Standing
	if here.Step == "cut" {
		blade, rings = here.Blade, p.View().Rings
	}
	switch {
	case !s.live:
		return "R2", fmt.Sprintf("%s with the power off", here)
	case s.lapsed != "live":
		return "R4", fmt.Sprintf("%s without the power-up checklist since: %s", here, s.lapsed)
	case !s.checked:
		return "R2", fmt.Sprintf("%s, and nut, mark, throat plate, table or people were not confirmed since hands were in", here)
	case s.blade != blade:
		return "R2", fmt.Sprintf("%s with the %s on the arbor", here, s.blade)
	case s.rings != strings.Join(rings, " "):
		return "R2", fmt.Sprintf("%s with the rings %q behind the blade, and %q believed", here, s.rings, rings)
	case !w.fits(s, s.blade, s.knife):
		return "R2", fmt.Sprintf("%s: the %s turns with knife %q, which does not fit it", here, s.blade, s.knife)
	case s.loose:
		return "R2", fmt.Sprintf("%s, and nobody has seen how much thread the nut has", here)
	case here.Step == "cut" && s.squared != s.datum(p.Profile()):
		return "R2", fmt.Sprintf("%s, and the knife does not stand behind the datum", here)
	}
	if here.Step == "cut" {
		// its face is the datum face or up to a gap behind it, its thickness lies behind that
		_, kerf := w.blank(blade, s.worn.count(blade))
		wide := w.expected(s, p, blade)
		if wide > model.Millimetre/10 || s.gap+thickness[s.knife] > kerf+wide {
			return "R2", fmt.Sprintf("%s: the part comes out %s wide, and the knife stands out of its kerf", here, wide.Of(model.MM))
		}
	}
	return "", ""
}

// expected is how much wider the coming part will be than the reference's: as its last cut
// tells, with other rings by their height; by plate and kerf where none counts.
func (w world) expected(s *saw, p procedure.Procedure, blade string) model.Length {
	cut, ok := p.State().Blades[blade].Last()
	if !ok {
		return w.wide(s, p.Profile(), blade, s.rings)
	}
	raised := height(s.rings) - height(strings.Join(cut.Rings, " "))
	if !w.near {
		raised = -raised
	}
	return mean(cut) - model.Sum(model.Lengths(cut.Reference))/model.Length(len(cut.Reference)) + raised
}

// sameFence is R3.
func sameFence(_ world, p procedure.Procedure, s *saw, here procedure.Place) (string, string) {
	profile := p.Profile()
	if p.FenceKnown() && !s.asked {
		return "R3", "the fence counts as untouched, and nobody has said so since the interruption"
	}
	if here.Step == "fence" && p.State().Lock == "" {
		return "R3", "it is asked whether the fence was left alone, and no lock is in force"
	}
	if here.Step == "reference" && fenceOf(p, s) != s.fence {
		return "R3", fmt.Sprintf("%s, and the fence does not stand where the lock in force was made", here)
	}
	if here.Step == "cut" {
		if fenceOf(p, s) != s.fence {
			return "R3", fmt.Sprintf("%s, and the fence does not stand where the lock in force was made", here)
		}
		if !referenced(p, s, s.fence) {
			return "R3", fmt.Sprintf("%s, and the present datum was not cut where the fence stands", here)
		}
	}
	if h := s.halves.of(here.Blade); here.Step == "cut" && !asks(p.View(), "piece") && !(h.cut && h.fence == s.fence) {
		marked := false
		for i, f := range s.made {
			marked = marked || f.kind == model.ReferenceCut && f.genuine && !f.voided && f.fence == s.fence && profile.Records[i].Piece == here.Blade
		}
		if !marked {
			return "R3", fmt.Sprintf("%s on its piece, and the reference cut none for it where the fence stands", here)
		}
	}
	for id, b := range p.State().Blades {
		for _, c := range b.Cuts {
			i := index(profile.Records, c.Record)
			f := s.made[i]
			if !f.genuine || f.voided || f.base >= 0 && s.made[f.base].voided {
				return "R3", fmt.Sprintf("a cut of the %s counts that was not made", id)
			}
			if f.blade != id {
				return "R3", fmt.Sprintf("a cut of the %s counts that the %s made", id, f.blade)
			}
			for _, m := range c.Reference {
				if (m.Length - fenceWidth(f.fence)).Abs() > 8*hundredth {
					return "R3", fmt.Sprintf("a cut of the %s is compared with a reference of another place of the fence", id)
				}
			}
			if !referenced(p, s, f.fence) {
				return "R3", fmt.Sprintf("a cut of the %s counts without a reference cut where the fence stood", id)
			}
			if f.width != mean(c) {
				return "R3", fmt.Sprintf("readings of different cuts of the %s are put together", id)
			}
		}
	}
	for id := range p.State().ReferencePieces(p.State().Lock) {
		if !referenced(p, s, fenceOf(p, s)) {
			return "R3", fmt.Sprintf("the reference half for the %s counts, and was not cut under this lock by this reference", id)
		}
	}
	return "", ""
}

// mean of a cut's readings, as a width.
func mean(c model.Cut) model.Length {
	if len(c.Differences) > 0 {
		return model.Sum(model.Lengths(c.Differences))/model.Length(len(c.Differences)) + model.Sum(model.Lengths(c.Reference))/model.Length(len(c.Reference))
	}
	return model.Sum(model.Lengths(c.Readings)) / model.Length(len(c.Readings))
}

// referenced reports whether the reference of the present datum was really cut with
// the fence at this place.
func referenced(p procedure.Procedure, s *saw, fence int) bool {
	datum := s.datum(p.Profile())
	for _, f := range s.made {
		if f.base >= 0 && s.made[f.base].voided {
			continue // more readings of a cut that does not count
		}
		if f.kind == model.ReferenceCut && f.genuine && !f.voided && f.fence == fence && f.datum == datum {
			return true
		}
	}
	return false
}

// readyIsTrue is R5.
func readyIsTrue(w world, p procedure.Procedure, s *saw, _ procedure.Place) (string, string) {
	profile, datum := p.Profile(), s.datum(p.Profile())
	for _, row := range p.Plan().Blades {
		if !row.Ready {
			continue
		}
		blade, _ := profile.BladeByID(row.ID)
		lie := func(why string) (string, string) {
			return "R5", fmt.Sprintf("the %s is called ready, and %s", row.ID, why)
		}
		switch {
		case blade.Retired:
			return lie("is off the rack")
		case !w.fits(s, row.ID, blade.Knife):
			return lie("its knife does not fit it")
		case s.squared != datum:
			return lie("the knife does not stand at the datum")
		case s.knife != blade.Knife:
			return lie("another knife is set")
		}
		stack := strings.Join(row.Stack, " ")
		if s.dirty {
			return lie("nobody has said that the flange is clean")
		}
		if box := *s.boxes.of(row.ID); box != "" && box != told(row.Stack, blade.Knife) {
			return lie("its box tells other rings or another knife: " + box)
		}
		if row.ID == profile.Reference {
			if stack != strings.Join(profile.Standing, " ") {
				return lie("its stack is not the standing stack")
			}
			if !slices.ContainsFunc(s.made, func(f fact) bool {
				return f.kind == model.ReferenceCut && f.genuine && !f.voided && f.datum == datum
			}) {
				return lie("the present datum was never cut")
			}
			continue
		}
		proved := slices.ContainsFunc(s.made, func(f fact) bool {
			return f.kind == model.BladeCut && f.genuine && !f.voided && f.blade == row.ID && f.rings == stack && f.datum == datum &&
				f.setting == s.setting && f.worn == s.worn.count(row.ID) && referenced(p, s, f.fence)
		})
		if !proved {
			return lie("no cut of its proves that, with these rings, this knife setting and this datum")
		}
		on := *s
		on.blade, on.rings = row.ID, stack
		if off := w.width(&on, profile) - s.set(); off.Abs() > profile.Tolerance.Length {
			return lie(fmt.Sprintf("truly cuts %s from the datum", off.Of(model.MM)))
		}
	}
	return "", ""
}
