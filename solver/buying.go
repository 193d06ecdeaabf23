package solver

import (
	"errors"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/stacking"
)

// AdviseRack is Advise for a profile, with the series of the shop's unit. Blades that
// must not run, and those that are not compared yet, neither count nor hide advice.
func AdviseRack(p model.Profile) (stacking.Advice, error) {
	j := judgingOf(p, time.Time{})
	for i := range j.findings {
		j.need(&j.findings[i])
	}
	j.chooseStanding()
	if j.reference == nil || !j.reference.known {
		return stacking.Advice{}, errors.New("the reference blade's plate has not been read: nothing can be advised yet")
	}
	a := stacking.Asking{Kit: j.kit.Pieces(), Standing: j.standing, Free: j.uncut(), Highest: j.reference.need.Highest, Flange: p.Saw.Flange, Series: stacking.MetricSeries}
	for i := range j.findings {
		if f := &j.findings[i]; f.compared && !f.barred {
			f.need.ID = f.blade.Name()
			a.Needs = append(a.Needs, f.need)
		}
	}
	if p.Units == model.IN {
		a.Series = stacking.InchSeries
	}
	u := stacking.Ring(p, model.Ring{}).Standard
	a.Variance = u * u
	return stacking.Advise(a, j.words)
}

// uncut reports whether nothing was cut at the present datum.
func (j *judging) uncut() bool {
	for _, s := range j.told.Strips {
		if s.Present {
			return false
		}
	}
	return true
}
