package solver

import (
	"fmt"

	"example.com/sawdatum/model"
)

// chooseStanding takes the profile's standing stack, or the one that serves the
// rack best, and explains. Cuts that count were made with the present one, so
// beside them nothing is chosen.
func (s *sheet) chooseStanding() {
	p := s.profile
	s.out.Standing = []string{}
	needs, measured := s.needs()
	switch {
	case s.reference == nil:
		s.out.Standing = append(s.out.Standing, p.Standing...)
	case p.Standing != nil || measured:
		s.out.Standing = append(s.out.Standing, p.Standing...)
		height, known := p.StackHeight(p.Standing)
		s.standing = height
		if !known {
			s.say("standing-unknown", model.Warns, "the standing stack names a ring that is not in the kit: choose it again")
			break
		}
		s.betterStanding(needs)
	default:
		rack, err := s.kit.Rack(needs, s.reference.need.Highest, p.Saw.Flange)
		if err != nil {
			s.say("standing-refused", model.Warns, "no standing stack was chosen: %v", err)
			break
		}
		s.standing, s.out.Standing = rack.Standing.Height, rack.Standing.IDs()
		s.explainStanding(needs, rack)
	}
	s.out.StandingHeight = s.standing
}

// needs lists what the compared blades want that may run, and whether a cut says so
// of any.
func (s *sheet) needs() (needs []Need, measured bool) {
	for i := range s.findings {
		if f := &s.findings[i]; f.compared && !f.barred {
			needs = append(needs, f.need)
			measured = measured || f.cut != nil
		}
	}
	return needs, measured
}

func (s *sheet) explainStanding(needs []Need, rack RackFit) {
	if len(rack.Standing.Rings) == 0 {
		return
	}
	bare, err := s.kit.On(0, s.reference.need.Highest, needs, s.profile.Saw.Flange)
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
		why = "the worst blade misses by " + s.words.figure(rack.Excess) + " instead of " + s.words.figure(bare.Excess)
	case bare.Rings == rack.Rings:
		why = "the other blades come nearer to the datum face"
	}
	s.say("standing", model.Explains, "a standing stack of %s goes behind the reference: %s", s.words.stack(rack.Standing.Rings), why)
}

// betterStanding says when another standing stack would bring more blades in.
func (s *sheet) betterStanding(needs []Need) {
	flange, highest := s.profile.Saw.Flange, s.reference.need.Highest
	now, err := s.kit.On(s.standing, highest, needs, flange)
	if err != nil || now.Cannot == 0 || s.refused {
		return
	}
	better, err := s.kit.Rack(needs, highest, flange)
	if err != nil || better.Cannot >= now.Cannot {
		return
	}
	s.say("standing-better", model.Warns, "with %s behind the reference %s; with %s, %s: that moves the datum, so every blade is cut again",
		s.words.figure(s.standing), cannot(now.Cannot), s.words.stack(better.Standing.Rings), cannot(better.Cannot))
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
	return fmt.Sprintf("%d %s", n, plural(n, "blade", "blades"))
}
