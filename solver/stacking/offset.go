package stacking

import (
	"errors"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// Offset is by how much a blade cuts a wider part than the reference blade, fence
// unmoved: positive means a cut face farther from the fence. U is its expanded
// uncertainty at Coverage.
type Offset struct {
	Basis       model.Basis
	Value       model.Length
	U           model.Length
	Uncertainty metrology.Uncertainty // of Value, in nanometres
	Reasons     []model.Reason

	Parts []metrology.Contribution
}

// WithRings is the expanded uncertainty of the residual that a prediction leaves:
// that of the offset, joined by what is not known of the rings. A ring known only
// by its nominal thickness lies anywhere within its half width; a measured ring
// within the micrometer's resolution. Of more rings of a sort behind both blades than the
// kit holds some are the same, and cancel. Rings never make an offset surer than it is.
func (o Offset) WithRings(p model.Profile, stack, standing []string) (model.Length, error) {
	var v float64
	count := func(ids []string, id string) (n int) {
		for _, i := range ids {
			if i == id {
				n++
			}
		}
		return n
	}
	for _, r := range p.Rings {
		sort := kind{count: r.Count, judged: count(standing, r.ID)}
		v += sort.differing(count(stack, r.ID), ringVariance(p, r))
	}
	if u := o.with(v); u < model.MaxLength {
		return u, nil
	}
	return 0, errors.New("the half width of a ring is larger than anything on a saw: check the digits and the unit")
}

// Ring is what is not known of a ring's thickness, in nanometres: the resolution of the shop's
// micrometer, or where nobody read it half the width that the ring, else the profile, else what is usual
// gives its nominal thickness.
func Ring(p model.Profile, r model.Ring) metrology.Contribution {
	half := model.DefaultRingHalfWidth
	switch {
	case r.Measured.Unit != model.NoUnit:
		return metrology.Resolution(float64(p.Instruments.Micrometer.Length))
	case r.HalfWidth.Unit != model.NoUnit:
		half = r.HalfWidth.Length
	case p.RingHalfWidth.Unit != model.NoUnit:
		half = p.RingHalfWidth.Length
	}
	return metrology.Rectangular(float64(half))
}
