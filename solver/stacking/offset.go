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
		v += sort.differing(count(stack, r.ID), ringVariance(r, p.Instruments.Micrometer.Length))
	}
	if u := o.with(v); u < model.MaxLength {
		return u, nil
	}
	return 0, errors.New("the half width of a ring is larger than anything on a saw: check the digits and the unit")
}

// Ring is what is not known of a ring's thickness, in nanometres.
func Ring(r model.Ring, micrometer model.Length) metrology.Contribution {
	switch {
	case r.Measured.Unit != model.NoUnit:
		return metrology.Resolution(float64(micrometer))
	case r.HalfWidth.Unit != model.NoUnit:
		return metrology.Rectangular(float64(r.HalfWidth.Length))
	}
	return metrology.Rectangular(float64(model.DefaultRingHalfWidth))
}
