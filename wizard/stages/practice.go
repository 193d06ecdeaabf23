package stages

import (
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/simsaw"
	"example.com/sawdatum/wizard/procedure"
)

// saw is the saw of practice: the simulated one, and what was done to it. Only the rows
// that read it look inside.
type saw struct {
	simsaw.Saw
	fence  simsaw.Fence
	set    bool           // the fence was set in this run
	ground map[string]int // how often a blade has come back from the grinder, by its id
}

// Practice is the saw that a run of practice is done at. The same profile and seed give
// the same saw.
func Practice(p model.Profile, seed uint64) procedure.Saw {
	return &saw{Saw: simsaw.New(p, seed), ground: map[string]int{}}
}

// at is the saw of practice at a moment: it has what the profile has come to hold.
func at(c context, s procedure.Saw) *saw {
	here := s.(*saw)
	here.Saw = here.With(c.Profile)
	return here
}

// caliper and micrometer are lengths as somebody would type them who reads them there.
func caliper(c context, ls ...model.Length) string {
	return shown(c, ls, c.Profile.Instruments.Caliper.Length)
}

func micrometer(c context, ls []model.Length) string {
	return shown(c, ls, c.Profile.Instruments.Micrometer.Length)
}

func shown(c context, ls []model.Length, resolution model.Length) string {
	words := make([]string, len(ls))
	for i, l := range ls {
		words[i] = bare(l.Show(c.Unit(), resolution))
	}
	return strings.Join(words, " ")
}

// bare is a figure without its unit.
func bare(figure string) string {
	number, _, _ := strings.Cut(figure, " ")
	return number
}

// grind takes a blade to the grinder, once for each time that it is back from there.
func (s *saw) grind(c context, blade string) {
	times := 1
	for _, r := range c.All() {
		if r.Kind == model.Sharpened && r.Blade == blade {
			times++
		}
	}
	if s.ground[blade] < times {
		s.Saw, s.ground[blade] = s.Sharpened(blade), times
	}
}
