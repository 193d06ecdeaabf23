package stages

import (
	"strconv"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
)

func figures(c context) picture.Figures {
	return picture.Figures{Unit: c.Unit(), Resolution: c.Profile.Instruments.Caliper.Length}
}

// micrometerWords has the digits of the dial, which are those of the micrometer.
func micrometerWords(c context) solver.Words {
	w := solver.WordsOf(c.Profile)
	w.Resolution = c.Profile.Instruments.Micrometer.Length
	return w
}

// readings are the whole readings in a text that is being typed.
func readings(c context, text string) []model.Length {
	ms, err := model.ParseReadings(text, c.Unit())
	if err != nil {
		return nil
	}
	return model.Lengths(ms)
}

// wobbles tells flange and blade apart, once both sets of readings and the angle are there.
func wobbles(c context, a answers) solver.Wobbles {
	degrees, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(a["turned"]), "deg")), 64)
	if err != nil {
		return solver.Wobbles{}
	}
	apart, err := solver.Separate(readings(c, a["dial"]), readings(c, a["dial_turned"]), degrees)
	if err != nil {
		return solver.Wobbles{}
	}
	return apart
}

func dialPicture(c context, a answers, what string) procedure.Picture {
	d := picture.Dial{Figures: picture.Figures{Unit: c.Unit(), Resolution: c.Profile.Instruments.Micrometer.Length}, What: what, Readings: readings(c, a["dial"])}
	if len(d.Readings) == 0 {
		return nil
	}
	if h, err := solver.FirstHarmonic(d.Readings); err == nil {
		d.Fitted, d.HighDeg = true, h.HighSpot
		d.Mean, _ = model.FromMillimetres(h.Mean / float64(model.Millimetre))
		d.Amplitude = h.Total / 2
	}
	if apart := wobbles(c, a); apart != (solver.Wobbles{}) {
		d.BestDeg, _ = apart.Best()
		d.HasBest = true
	}
	return d
}
