package solver

import (
	"fmt"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/solver/stacking"
)

// chooseStanding takes the profile's standing stack, or the one that serves the
// rack best, and explains. Cuts that count were made with the present one, so
// beside them nothing is chosen.
func (j *judging) chooseStanding() {
	p := j.profile
	j.plan.Standing = []string{}
	needs, measured := j.needs()
	switch {
	case j.reference == nil:
		j.plan.Standing = append(j.plan.Standing, p.Standing...)
	case p.Standing != nil || measured:
		j.plan.Standing = append(j.plan.Standing, p.Standing...)
		height, known := p.StackHeight(p.Standing)
		j.standing = height
		if !known {
			j.say("standing-unknown", model.Warns, "the standing stack names a ring that is not in the kit: choose it again")
			break
		}
		j.betterStanding(needs)
	default:
		rack, err := j.kit.Rack(needs, j.reference.need.Highest, p.Saw.Flange)
		if err != nil {
			j.say("standing-refused", model.Warns, "no standing stack was chosen: %v", err)
			break
		}
		j.standing, j.plan.Standing = rack.Standing.Height, rack.Standing.IDs()
		j.explainStanding(needs, rack)
		if rack.Partly {
			j.say("standing-partly", model.Warns, "standing stacks above %s were not looked through, and one may be better: these rings make too many heights, and the tolerance leaves the blades hardly any room; type the rings to 0.001 mm, leave some out, or widen the tolerance", j.words.Figure(rack.Looked))
		}
	}
	j.plan.StandingHeight = j.standing
}

// needs lists what the compared blades want that may run, and whether a cut says so
// of any.
func (j *judging) needs() (needs []stacking.Need, measured bool) {
	for i := range j.findings {
		if f := &j.findings[i]; f.compared && !f.barred {
			needs = append(needs, f.need)
			measured = measured || f.offset.Basis == model.Measured
		}
	}
	return needs, measured
}

func (j *judging) explainStanding(needs []stacking.Need, rack stacking.RackFit) {
	if len(rack.Standing.Rings) == 0 {
		return
	}
	bare, err := j.kit.On(0, j.reference.need.Highest, needs, j.profile.Saw.Flange)
	if err != nil {
		return
	}
	why := "it saves rings on the other blades"
	switch {
	case bare.Cannot > rack.Cannot:
		why = blades(bare.Cannot) + " could not be brought in without it, and " + blades(rack.Cannot) + " with it"
	case bare.Unsure > rack.Unsure:
		why = "without it " + blades(bare.Unsure) + " might come out beyond the tolerance, and with it " + blades(rack.Unsure)
	case bare.Excess > rack.Excess:
		why = "the worst blade misses by " + j.words.Figure(rack.Excess) + " instead of " + j.words.Figure(bare.Excess)
	case bare.Rings == rack.Rings:
		why = "the other blades come nearer to the datum face"
	}
	j.say("standing", model.Explains, "a standing stack of %s goes behind the reference: %s", stacking.StackWords(rack.Standing.Rings, j.words), why)
}

// betterStanding says when another standing stack would bring more blades in.
func (j *judging) betterStanding(needs []stacking.Need) {
	flange, highest := j.profile.Saw.Flange, j.reference.need.Highest
	now, err := j.kit.On(j.standing, highest, needs, flange)
	if err != nil || now.Cannot == 0 || j.refused {
		return
	}
	better, err := j.kit.Rack(needs, highest, flange)
	if err != nil || better.Cannot >= now.Cannot {
		return
	}
	j.say("standing-better", model.Warns, "with %s behind the reference %s; with %s, %s: that moves the datum, so every blade is cut again",
		j.words.Figure(j.standing), cannot(now.Cannot), stacking.StackWords(better.Standing.Rings, j.words), cannot(better.Cannot))
}

func cannot(n int) string {
	if n == 0 {
		return "every blade can be brought in"
	}
	return blades(n) + " cannot be brought in"
}

func blades(n int) string {
	if n == 0 {
		return "none"
	}
	return fmt.Sprintf("%d %s", n, metrology.Plural(n, "blade", "blades"))
}
