package solver

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/stacking"
)

// chooseReference takes the profile's reference blade, or the one that the
// geometry takes, and explains.
func (j *judging) chooseReference() {
	p := j.profile
	if !j.flangeKnown() {
		j.setReference(p.Reference)
		return
	}
	var rack, barred []stacking.Thickness
	for _, f := range j.findings {
		switch {
		case f.barred:
			barred = append(barred, f.thickness)
		case f.known:
			rack = append(rack, f.thickness)
		}
	}
	if len(rack) == 0 {
		rack, barred = barred, nil
	}
	best, found := stacking.Reference(p.Saw.Flange, rack)
	j.farthest = best.ID
	if worst, any := stacking.Reference(p.Saw.Flange, barred); any && stacking.Reach(p.Saw.Flange, worst) > stacking.Reach(p.Saw.Flange, best) {
		j.say("reference-barred", model.Warns, "the %s cuts beyond the %s and would be the reference, but it has no knife that fits it, and a blade that must not run cannot define the datum: get its knife before the first strip, or leave it off; coming later it moves the datum, and every blade is cut again", worst.Name, best.Name)
	}
	id := p.Reference
	if id == "" && found {
		id = best.ID
	}
	j.setReference(id)
	if j.reference == nil || !found || !j.reference.known {
		return
	}
	chosen := j.reference.thickness
	gap := (stacking.Reach(p.Saw.Flange, best) - stacking.Reach(p.Saw.Flange, chosen)) / 2
	if gap > 0 {
		j.say("reference-by-hand", model.Explains, "the figures would take the %s as the reference: rings move every blade away from it; with the %s as the reference it needs a standing stack of at least %s", best.Name, chosen.Name, j.words.Figure(gap))
		return
	}
	extreme := "farthest toward the fence, and rings move the others that way"
	if p.Saw.Flange == model.Near {
		extreme = "farthest from the fence, and rings move the others that way"
	}
	j.say("reference", model.Explains, "the %s is the reference: without rings its cut face lies %s from the flange face, %s", chosen.Name, j.words.Figure(chosen.CutFace(p.Saw.Flange, 0)), extreme)
	j.plan.Reasons = append(j.plan.Reasons, stacking.RuleOfThumb(p.Saw.Flange, p.Saw.Tilt, chosen, rack, j.words.Figure)...)
}

func (j *judging) setReference(id string) {
	j.plan.Reference = id
	for i := range j.findings {
		if j.findings[i].blade.ID == id {
			j.reference = &j.findings[i]
		}
	}
	switch {
	case j.reference != nil:
	case id != "":
		j.say("reference-missing", model.Warns, "the reference blade %s is not on the rack: choose another", id)
	case len(j.findings) > 0:
		j.say("reference-missing", model.Warns, "no reference blade can be chosen before the plate and kerf of a blade are read")
	}
}

func (j *judging) flangeKnown() bool {
	return j.profile.Saw.Flange == model.Far || j.profile.Saw.Flange == model.Near
}

// unreadRunout says where runout that nobody read would choose another reference.
func (j *judging) unreadRunout() {
	if j.reference == nil || !j.flangeKnown() || j.profile.Reference != "" {
		return
	}
	half := stacking.UnreadRunout(j.profile)
	chosen := j.reference.thickness
	for _, f := range j.findings {
		if !f.known || f.barred || f.blade.ID == chosen.ID || f.blade.Runout.Unit != model.NoUnit && j.reference.blade.Runout.Unit != model.NoUnit {
			continue
		}
		if gap := (stacking.Reach(j.profile.Saw.Flange, chosen) - stacking.Reach(j.profile.Saw.Flange, f.thickness)) / 2; gap < half {
			near := "lies only " + j.words.Figure(gap) + " behind"
			if j.words.Figure(gap) == j.words.Figure(0) {
				near = "cuts at the same place as"
			}
			j.say("reference-runout", model.Warns, "the %s %s the %s, and runout that was not read may move a cut face by %s: read both at the rim before you rely on the choice", f.blade.Name(), near, chosen.Name, j.words.Figure(half))
		}
	}
}
