package year

import (
	"maps"

	"example.com/sawdatum/model"
)

func both(a, b func(*run)) func(*run) {
	return func(r *run) {
		if a != nil {
			a(r)
		}
		b(r)
	}
}

// noticed: somebody bumps the fence under a lock, and says so.
func (y *year) noticed() func(*run) {
	return func(r *run) {
		if y.bump == 0 || r.ripped == 0 || r.lock == "" || r.View().Gate {
			return
		}
		if err := r.begin("fence-moved"); err == nil {
			y.bump = 0
		}
	}
}

// cleaned: with the arbor bare the flange is cleaned, and it is said.
func (y *year) cleaned() func(*run) {
	return func(r *run) {
		if v := r.View(); y.cleans && v.Place.Step == "mount" && r.blade == "" {
			if err := r.begin("cleaned"); err == nil {
				y.cleans = false
			}
		}
	}
}

// lost: a knife that is not in the saw is not found when a run begins, which is put on record; some
// weeks later another of its thickness is there.
func (y *year) lost(own map[string]string, between func(*run)) (map[string]string, func(*run)) {
	step, knife := "", ""
	gone := model.Fold(y.profile).Gone
	for _, k := range y.profile.Knives {
		switch {
		case y.back && gone[k.ID] != nil:
			step, knife = "knife-back", k.ID
		case y.loses && gone[k.ID] == nil && k.ID != y.knife && len(gone) == 0 && step == "":
			step, knife = "knife-lost", k.ID
		}
	}
	if step == "" {
		return own, between
	}
	y.loses, y.back = false, false
	own = maps.Clone(own)
	if own == nil {
		own = map[string]string{}
	}
	own[step+" knife"], own["knife-goes became"] = knife, "lost"
	return own, both(between, once(step))
}
