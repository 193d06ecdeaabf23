package evidence

import (
	"math"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// Obstacle is why a doubtful verdict can't be settled by strips.
type Obstacle uint8

// Nothing stands in the way; more strips would be needed than count; the steps of the
// caliper alone are too coarse; one zeroing served several readings.
const (
	NoObstacle Obstacle = iota
	TooFewStrips
	CoarseCaliper
	OneZeroing
)

// Settle says which further strips, in their order, would settle a doubtful course if
// the offset stays as it is, or why none would. A course that is decided, or was not
// looked at yet, wants none.
func (l *Ledger) Settle(c *Course) ([]Purpose, Obstacle) {
	if c.Looks == 0 || c.Verdict != model.Doubtful {
		return nil, NoObstacle
	}
	r := c.Value.Abs()
	if q := l.resolution; r <= l.tolerance && q > l.tolerance-r || r > l.tolerance && q >= r-l.tolerance {
		return nil, CoarseCaliper
	}
	last := c.Parts[len(c.Parts)-1]
	datum, offset, ok := l.Carrier(last.page, c.Outfit)
	if !ok {
		return nil, TooFewStrips
	}
	d, ok := differ(last.strips, datum.Strips)
	if !ok {
		return nil, TooFewStrips
	}
	rest := 1/l.share(c) - 1/d.share // what the strips under older locks are worth
	settles := func(blade, reference float64, more ...metrology.Contribution) bool {
		u, err := stripUncertainty(c.Spread.Taken().times(1/(rest+1/(1/blade+1/reference))), l.resolution, append(more, metrology.Contribution{Standard: offset.Uncertainty.Standard, Freedom: max(offset.Uncertainty.Freedom, 1)}, c.Seat)...)
		return err == nil && metrology.Decide(c.Value, model.Length(math.Ceil(u.Expanded)), l.tolerance) != model.Doubtful
	}
	var more []metrology.Contribution
	if d.zeroed {
		more = append(more, d.zero)
	}
	blade, reference := float64(d.blade), d.Datum
	var out []Purpose
	for range MostFurther - c.Further {
		if !d.widths || 1/blade > 1/reference {
			blade, out = blade+1, append(out, ForBlade)
		} else {
			reference, out = reference+1, append(out, ForDatum)
		}
		if settles(blade, reference, more...) {
			return out, NoObstacle
		}
	}
	if d.zeroed && settles(blade, float64(len(datum.Strips))) {
		return nil, OneZeroing
	}
	return nil, TooFewStrips
}

// Pair is how many strips of each blade a pair takes to prove one whose offset is as it was:
// one where enough is known of how rips repeat, else two; as many more as it takes to say in,
// three at the most.
func (l *Ledger) Pair(offset model.Length) int {
	spread, seat := l.Spread(), nothing
	n := 1
	if spread.Freedom < proofFreedom {
		n = EnoughBladeStrips
	}
	if s := l.seat(); s.Freedom >= SeatFreedom {
		seat = s.times(1)
	}
	for ; n < MostFurther; n++ {
		u, err := stripUncertainty(spread.times(2/float64(n)), l.resolution, seat)
		if err == nil && offset.Abs()+model.Length(math.Ceil(u.Expanded)) <= l.tolerance {
			break
		}
	}
	return n
}

// share is how much of the variance of one strip is in the estimate of a course.
func (l *Ledger) share(c *Course) float64 {
	worth := 0.0
	for _, p := range c.Parts {
		if datum, _, ok := l.Carrier(p.page, c.Outfit); ok && p.usable {
			if d, ok := differ(p.strips, datum.Strips); ok {
				worth += 1 / d.share
			}
		}
	}
	return 1 / worth
}
