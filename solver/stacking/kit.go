package stacking

import (
	"fmt"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// KitOf is the kit of a profile, ring by ring, with what was left out and why: a
// ring that drops into the flange's relief or hangs on the arbor does nothing but tilt the
// blade, and one without a thickness has no place in a sum. A kit that is too large is refused in
// a reason, and the kit is empty then.
func KitOf(p model.Profile) (Kit, []model.Reason) {
	var reasons []model.Reason
	var pieces []Piece
	w, relief := metrology.WordsOf(p), p.Saw.FlangeRelief.Length
	for _, r := range p.Rings {
		switch {
		case r.Outer.Unit != model.NoUnit && r.Outer.Length <= relief:
			reasons = append(reasons, model.Because("ring-left-out", model.Warns,
				"the %s ring is left out: it is %s across and drops into the flange's relief of %s, where it only tilts the blade", r.Label(), w.Set(r.Outer.Length), w.Set(relief))...)
			continue
		case p.Saw.ArborDiameter.Unit != model.NoUnit && !r.Sits(p.Saw.ArborDiameter.Length):
			reasons = append(reasons, model.Because("ring-left-out", model.Warns,
				"the %s ring is left out: its bore of %s does not sit on the arbor of %s", r.Label(), w.Set(r.Bore.Length), w.Set(p.Saw.ArborDiameter.Length))...)
			continue
		case r.Height() <= 0:
			reasons = append(reasons, model.Because("ring-left-out", model.Warns, "the %s ring is left out: its thickness is %s; type what the micrometer reads", r.Label(), r.Height().Of(w.Unit))...)
			continue
		case r.Count > model.MaxRingKit:
			return Kit{}, append(reasons, refused(fmt.Errorf("there are %d of the %s ring and stacks are searched among %d rings at most: enter those that are used", r.Count, r.Label(), model.MaxRingKit))...)
		}
		for range r.Count {
			pieces = append(pieces, Piece{ID: r.ID, Height: r.Height(), Variance: ringVariance(p, r)})
		}
	}
	kit, err := NewKit(pieces)
	if err != nil {
		return Kit{}, append(reasons, refused(err)...)
	}
	return kit, reasons
}

// ringVariance is what is not known of a ring's height, in square nanometres.
func ringVariance(p model.Profile, r model.Ring) float64 {
	u := Ring(p, r).Standard
	return u * u
}

func refused(err error) []model.Reason { return model.Because("kit-refused", model.Warns, "%v", err) }
