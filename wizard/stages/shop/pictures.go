package shop

import (
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/solver/gauging"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/solver/stacking"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
	"example.com/sawdatum/wizard/stages/practice"
)

// results are lengths with one digit more than the caliper has.
func results(c context) picture.Figures {
	return picture.Figures{Unit: c.Unit(), Resolution: model.Computed(c.Profile.Instruments.Caliper.Length, c.Unit())}
}

// Read is what readings come to; 0 where there are none.
func Read(ms []model.Measure) model.Length { return form.Mean(model.Lengths(ms)) }

// BladeRead is what the readings of a blade come to.
func BladeRead(c context, id string) stacking.Thickness {
	b := c.State.Blades[id]
	return stacking.Thickness{ID: id, Name: c.Name(id), Plate: Read(b.Plate), Kerf: Read(b.Kerf), Runout: b.Runout.Length}
}

// datumFace is where the datum face lies, from the flange face; false while no reference
// is chosen or read.
func datumFace(c context) (model.Length, bool) {
	height, ok := c.Profile.StackHeight(c.Plan.Standing)
	t := BladeRead(c, c.Plan.Reference)
	if !ok || c.Plan.Reference == "" || t.Plate == 0 || t.Kerf == 0 {
		return 0, false
	}
	return t.CutFace(c.Profile.Saw.Flange, height), true
}

// Section is the arbor as seen from the front, with a blade and its rings, flange first.
func Section(c context, blade string, rings []string) picture.ArborSection {
	p := c.Profile
	s := picture.ArborSection{Figures: results(c), Flange: p.Saw.Flange, FenceSide: p.Saw.FenceSide, Tolerance: p.Tolerance.Length}
	for _, id := range rings {
		if r, ok := p.RingByID(id); ok {
			s.Rings = append(s.Rings, r.Height())
		}
	}
	if blade == "" {
		return s
	}
	t := BladeRead(c, blade)
	s.Blade, s.Plate, s.Kerf, s.Runout = t.Name, t.Plate, t.Kerf, t.Runout
	s.Datum, s.HasDatum = datumFace(c)
	if row, ok := c.Plan.Row(blade); ok && s.HasDatum && row.Basis != "" { // once it was cut, as it was cut
		height, _ := p.StackHeight(rings)
		s.Datum, s.Gap = t.CutFace(p.Saw.Flange, height)-leaves(p.Saw.Flange, row, rings, height), row.Gap
	}
	if k, ok := c.Knife(blade); ok && s.HasDatum {
		s.Knife, s.KnifeFace = k.Thickness.Length, s.Datum
	}
	return s
}

// OnArbor is the arbor with what is on it: a blade and its rings, or nothing.
func OnArbor(c context, blade string, rings []string) picture.ArborSection {
	s := Section(c, blade, rings)
	s.Empty = blade == ""
	return s
}

// leaves is the residual that rings of a height are to leave behind a blade: as its cut
// tells, where there is one, else as predicted.
func leaves(flange model.Flange, row model.BladeRow, rings []string, height model.Length) model.Length {
	for _, w := range row.Ways {
		if (w.Kind == model.WayStack || w.Kind == model.WayOwn) && slices.Equal(w.Stack, rings) {
			return w.Expect
		}
	}
	return stacking.Residual(flange, height, row.Want)
}

// knifeWindow shows which knives every blade may run with, the blade at hand first.
func knifeWindow(c context, first string) procedure.Picture {
	rack := RackBlades(c)
	if i := slices.Index(rack, first); i > 0 {
		rack = slices.Insert(slices.Delete(rack, i, i+1), 0, first)
	}
	if len(rack) == 0 {
		return nil
	}
	w := picture.KnifeWindow{Figures: picture.Figures{Unit: c.Unit(), Resolution: c.Profile.Instruments.Micrometer.Length}, Margin: c.Profile.Margin()}
	for _, id := range rack {
		t := BladeRead(c, id)
		b := picture.KnifeBlade{ID: id, Label: t.Name, Plate: t.Plate, Kerf: t.Kerf, Fit: model.KnifeNone}
		blade, _ := c.Profile.BladeByID(id)
		if k, named := c.Profile.KnifeByID(blade.Knife); named {
			b.Knife = k.Thickness.Length
			b.Fit, _, _ = solver.KnifeWindow(t.Plate, t.Kerf, b.Knife, w.Margin, metrology.WordsOf(c.Profile))
			if c.State.Gone[k.ID] != nil {
				b.Fit = model.KnifeMissing
			}
		}
		w.Blades = append(w.Blades, b)
	}
	return w
}

// RackPicture is all blades against the datum face.
func RackPicture(c context, current string) procedure.Picture {
	datum, ok := datumFace(c)
	if !ok {
		return nil
	}
	r := picture.Rack{Figures: results(c), FenceSide: c.Profile.Saw.FenceSide, Tolerance: c.Profile.Tolerance.Length, Current: current}
	for _, b := range c.Plan.Blades {
		verdict, rings := b.Verdict, ""
		for i, id := range b.Stack {
			ring, _ := c.Profile.RingByID(id)
			if i > 0 {
				rings += " + "
			}
			rings += practice.Bare(ring.Label())
		}
		if b.Knife != model.KnifeFits {
			verdict, rings = "", "" // whatever the numbers say, it must not run with its knife
		}
		after, expanded := b.Residual, b.Expanded
		if Disagreed(b) {
			after, expanded = -b.PairSays.Offset, b.PairSays.Expanded
		}
		r.Blades = append(r.Blades, picture.RackBlade{
			ID: b.ID, Label: c.Name(b.ID), Reference: b.ID == c.Plan.Reference, Known: b.CutFace != 0,
			Before: b.CutFace - datum, After: after, Expanded: expanded, Verdict: verdict, Rings: rings, State: b.State,
		})
	}
	return r
}

// Disagreed reports whether the newest pair of a blade says that it is out, or rather that: it
// tells nothing of another, and its verdict of before no longer holds.
func Disagreed(row model.BladeRow) bool {
	return slices.ContainsFunc(row.Reasons, func(r reason) bool { return r.Code == "proof-out" || r.Code == "proof-rather-out" })
}

// MicrometerWords has the digits of the dial, which are those of the micrometer.
func MicrometerWords(c context) metrology.Words {
	w := metrology.WordsOf(c.Profile)
	w.Resolution = c.Profile.Instruments.Micrometer.Length
	return w
}

// Wobbles tells flange and blade apart, once both sets of readings and the angle are there.
func Wobbles(c context, a answers) gauging.Wobbles {
	degrees, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(a["turned"]), "deg")), 64)
	if err != nil {
		return gauging.Wobbles{}
	}
	apart, err := gauging.Separate(form.Readings(c, a["dial"]), form.Readings(c, a["dial_turned"]), degrees)
	if err != nil {
		return gauging.Wobbles{}
	}
	return apart
}

// DialPicture is what a dial reads round the arbor, and the wave that fits it.
func DialPicture(c context, a answers, what string) procedure.Picture {
	d := picture.Dial{Figures: picture.Figures{Unit: c.Unit(), Resolution: c.Profile.Instruments.Micrometer.Length}, What: what, Readings: form.Readings(c, a["dial"])}
	if h, err := gauging.FirstHarmonic(d.Readings); err == nil {
		d.Fitted, d.HighDeg = true, h.HighSpot
		d.Mean, _ = model.FromMillimetres(h.Mean / float64(model.Millimetre))
		d.Amplitude = h.Total / 2
	}
	if apart := Wobbles(c, a); apart != (gauging.Wobbles{}) {
		d.BestDeg, _ = apart.Best()
		d.HasBest = true
	}
	return d
}
