package tell

import (
	"math"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/picture"
)

// Drifts are the charts of the blades that were proved more than once as they are now.
func Drifts(p model.Profile) []picture.Drift {
	var out []picture.Drift
	for _, w := range solver.WatchRack(p) {
		d := picture.Drift{Blade: p.BladeName(w.Blade), HasLimits: w.Missing == nil, Tolerance: p.Tolerance.Length,
			Figures: picture.Figures{Unit: p.Units, Resolution: model.Computed(p.Instruments.Caliper.Length, p.Units)}}
		d.Mean, d.Lower, d.Upper = nearest(w.Watch.Centre), nearest(w.Watch.Centre-w.Watch.Limit), nearest(w.Watch.Centre+w.Watch.Limit)
		for _, proof := range w.Proofs {
			d.Points = append(d.Points, picture.DriftPoint{Day: proof.At.UTC().Format("01-02"), Value: nearest(proof.Residual)})
		}
		for _, i := range w.Watch.Beyond {
			d.Points[i].Beyond = true
		}
		out = append(out, d)
	}
	return out
}

// nearest is a length in whole nanometres.
func nearest(nm float64) model.Length { return model.Length(math.Round(nm)) }
