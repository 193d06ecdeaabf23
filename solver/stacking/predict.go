package stacking

import (
	"fmt"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// Bare is what the bench says of where a blade cuts without rings, from the flange face
// and positive toward the fence, in nanometres.
type Bare struct {
	At      float64
	Parts   []metrology.Contribution
	Reasons []model.Reason
}

// Variance of what is not known of it.
func (b Bare) Variance() (v float64) {
	for _, c := range b.Parts {
		v += c.Standard * c.Standard
	}
	return v
}

// BareOf reads a blade's plate and kerf, each mean with its scatter and the resolution of
// the micrometer, both by half (job.md, Geometry). Runout brings the cut face half of the
// reading toward the fence; where nobody read it, that half lies anywhere from nothing to
// unread. Missing readings, readings beyond model.MaxLength and a negative resolution are
// errors.
func BareOf(flange model.Flange, b model.Blade, resolution, unread model.Length) (Bare, error) {
	var out Bare
	plate := map[model.Flange]float64{model.Far: 0.5, model.Near: -0.5}[flange]
	if plate == 0 {
		return Bare{}, fmt.Errorf("the flange is %q: it is far or near", flange)
	}
	for _, read := range []struct {
		what     string
		readings []model.Measure
		factor   float64
	}{{"plate", b.Plate, plate}, {"kerf", b.Kerf, 0.5}} {
		mean, scatter, err := metrology.ReadMean(model.Lengths(read.readings), resolution)
		if err != nil {
			return Bare{}, fmt.Errorf("%s of the %s: %w", read.what, b.Name(), err)
		}
		if len(read.readings) == 1 {
			out.Reasons = append(out.Reasons, model.Because("single-reading", model.Warns, "the %s of the %s was read only once, so its scatter is not known: read it at three places", read.what, b.Name())...)
		}
		out.At += read.factor * mean
		out.Parts = append(out.Parts, scatter.Times(0.5), metrology.Resolution(float64(resolution)).Times(0.5))
	}
	if b.Runout.Unit != model.NoUnit {
		out.At += 0.5 * float64(b.Runout.Length)
		out.Parts = append(out.Parts, metrology.Resolution(float64(resolution)).Times(0.5))
		return out, nil
	}
	out.At += float64(unread) / 2
	out.Parts = append(out.Parts, metrology.Rectangular(float64(unread)/2))
	return out, nil
}

// Predict is the offset to expect of a blade before any cut, no rings behind either.
func Predict(reference, blade Bare) (Offset, error) {
	o := Offset{Basis: model.Predicted, Parts: append(append([]metrology.Contribution{}, reference.Parts...), blade.Parts...)}
	o.Reasons = append(append(o.Reasons, reference.Reasons...), blade.Reasons...)
	u, err := metrology.Combine(metrology.Coverage, o.Parts...)
	if err != nil {
		return Offset{}, err
	}
	o.Value, o.U, o.Uncertainty = metrology.Rounded(reference.At-blade.At), metrology.Rounded(u.Expanded), u
	if u.Standard == 0 {
		o.Reasons = append(o.Reasons, model.Because("no-resolution", model.Warns, "all readings agree and the micrometer's resolution is not given: the uncertainty shows as zero, which it is not; give the resolution")...)
	}
	return o, nil
}

// UnreadRunout is the most that runout nobody read may move a cut face, of a profile.
func UnreadRunout(p model.Profile) model.Length {
	if p.HalfRunout.Unit == model.NoUnit {
		return model.DefaultHalfRunout
	}
	return p.HalfRunout.Length
}
