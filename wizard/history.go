package wizard

import (
	"strings"
	"time"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/picture"
)

// drifts are the charts of the blades that were proved more than once.
func drifts(p model.Profile) []picture.Drift {
	var out []picture.Drift
	for _, b := range p.Rack() {
		proofs := solver.Proofs(p, b.ID)
		chart, err := solver.Drift(proofs, p.Tolerance.Length, solver.WordsOf(p))
		if err != nil {
			continue
		}
		d := picture.Drift{Blade: p.BladeName(b.ID), HasLimits: true, Tolerance: p.Tolerance.Length,
			Figures: picture.Figures{Unit: p.Units, Resolution: p.Instruments.Caliper.Length / 10}}
		d.Mean, _ = model.FromMillimetres(chart.Mean / float64(model.Millimetre))
		d.Lower, _ = model.FromMillimetres(chart.Lower / float64(model.Millimetre))
		d.Upper, _ = model.FromMillimetres(chart.Upper / float64(model.Millimetre))
		var before time.Time
		for _, proof := range proofs {
			d.Points = append(d.Points, picture.DriftPoint{Day: proof.At.UTC().Format("01-02"), Value: proof.Residual, Sharpened: sharpenedBetween(p, b.ID, before, proof.At)})
			before = proof.At
		}
		for _, i := range chart.Beyond {
			d.Points[i].Beyond = true
		}
		out = append(out, d)
	}
	return out
}

func sharpenedBetween(p model.Profile, blade string, from, to time.Time) bool {
	for _, r := range p.Records {
		if r.Kind == model.Sharpened && r.Blade == blade && r.At.After(from) && r.At.Before(to) {
			return true
		}
	}
	return false
}

const driftHeight = 10

// driftLines draws the charts one below the other, each under its blade's name.
func driftLines(p model.Profile, l look, w int) []string {
	var lines []string
	for _, d := range drifts(p) {
		lines = append(lines, l.title.Render("Proofs over time: "+d.Blade))
		lines = append(lines, strings.Split(d.Draw(w, driftHeight, l.pictures()), "\n")...)
		lines = append(lines, "")
	}
	return lines
}

// outlook tells which ring to buy, which blade drifts, what sharpening takes.
func outlook(p procedure.Procedure) []string {
	var out []string
	for _, r := range solver.Outlook(p.Profile(), p.Plan()) {
		out = append(out, reasonLine(r))
	}
	return out
}
