package form

import (
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/wizard/picture"
)

// SharpStill is said wherever a blade is held.
const SharpStill = "Sharp when still: gloves or a rag."

// LeastReadings are taken of each strip, at the same marked places.
const LeastReadings = 3

// Before is what comes off: as this run knows it, else as the records have it; false where
// neither does.
func Before(c context) (interlock.Fit, bool) {
	if on, known := c.Lock.On(); known {
		return on, true
	}
	on := c.State.On
	return Fit(on.Blade, on.Rings, on.Knife), c.State.Seen
}

// Fit is a blade with its rings, flange first, and a knife, for the interlock.
func Fit(blade string, rings []string, knife string) interlock.Fit {
	return interlock.Fit{Blade: blade, Rings: strings.Join(rings, " "), Knife: knife}
}

// KnifeFit says whether a blade may run with the knife that it names.
func KnifeFit(c context, blade string) model.KnifeFit {
	row, ok := c.Plan.Row(blade)
	if !ok {
		return model.KnifeNone
	}
	return row.Knife
}

// Twins are the other blades of the rack with as many teeth.
func Twins(c context, blade model.Blade) (names []string) {
	for _, b := range c.Profile.Rack() {
		if b.ID != blade.ID && b.Teeth == blade.Teeth {
			names = append(names, b.Name())
		}
	}
	return names
}

// Mean is the mean of readings; 0 where there are none.
func Mean(ls []model.Length) model.Length {
	m, err := metrology.Mean(ls)
	if err != nil {
		return 0
	}
	return m
}

// Figures is how pictures say lengths in this shop.
func Figures(c context) picture.Figures {
	return picture.Figures{Unit: c.Unit(), Resolution: c.Profile.Instruments.Caliper.Length}
}

// Readings are the whole readings in a text that is being typed.
func Readings(c context, text string) []model.Length {
	ms, err := model.ParseReadings(text, c.Unit())
	if err != nil {
		return nil
	}
	return model.Lengths(ms)
}
