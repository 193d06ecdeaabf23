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

// FirstLook is the U that two strips of a blade against three of the datum under a lock will have
// at their first look, where strips repeat so: with what mounting does and what the blade adds
// that carries the datum there.
func (l *Ledger) FirstLook(lock string, s Scatter) model.Length {
	var more []metrology.Contribution
	if seat := l.seat(); seat.Freedom >= SeatFreedom {
		more = append(more, seat.times(1))
	}
	if page := l.Locks[lock]; page != nil {
		if _, on, ok := l.Carrier(page, Outfit{}); ok && on.Uncertainty.Standard > 0 {
			more = append(more, metrology.Contribution{Standard: on.Uncertainty.Standard, Freedom: on.Uncertainty.Freedom})
		}
	}
	return TwoStrips(s, l.resolution, more...)
}

// Settle says which further strips, in their order, would settle a doubtful course if
// the offset stays as it is, or why none would. A course that is decided, or was not
// looked at yet, wants none. Strips that lack datum strips under their lock say nothing in it.
func (l *Ledger) Settle(c *Course) ([]Purpose, Obstacle) {
	if c.Looks == 0 || c.Verdict != model.Doubtful {
		return nil, NoObstacle
	}
	r := c.Value.Abs()
	if q := l.resolution; r <= l.tolerance && q > l.tolerance-r || r > l.tolerance && q >= r-l.tolerance {
		return nil, CoarseCaliper
	}
	d, datum, settles := l.settling(c)
	blade, reference := float64(d.blade), d.Datum
	var out []Purpose
	for range MostFurther - c.Further {
		if !d.widths || 1/blade > 1/reference {
			blade, out = blade+1, append(out, ForBlade)
		} else {
			reference, out = reference+1, append(out, ForDatum)
		}
		if settles(blade, reference, d.zeroing()...) {
			return out, NoObstacle
		}
	}
	if d.zeroed && settles(blade, float64(len(datum.Strips))) {
		return nil, OneZeroing
	}
	return nil, TooFewStrips
}

// Lacks is how many datum strips are missing under a lock before what a course has there is compared
// with them: 0 where that is, and where it has no strip there.
func (l *Ledger) Lacks(c *Course, lock string) int {
	p := c.In(lock)
	if p == nil {
		return 0
	}
	datum, _, ok := l.Carrier(p.page, c.Outfit)
	if !ok {
		return EnoughDatumStrips
	}
	return max(EnoughDatumStrips-len(datum.Strips), 0)
}

// settling is what the newest strips of a course say that were compared, the datum strips they were
// held against, and whether so many strips of either under that lock would settle it, the offset as it is.
func (l *Ledger) settling(c *Course) (Difference, *Group, func(blade, reference float64, more ...metrology.Contribution) bool) {
	var last *Part
	for _, p := range c.Parts {
		if p.usable {
			last = p
		}
	}
	datum, offset, _ := l.Carrier(last.page, c.Outfit)
	d, _ := differ(last.strips, datum.Strips)
	rest := 1/l.share(c) - 1/d.share // what the strips under other locks are worth
	return d, datum, func(blade, reference float64, more ...metrology.Contribution) bool {
		u, err := stripUncertainty(c.Spread.Taken().times(1/(rest+1/(1/blade+1/reference))), l.resolution, append(more, metrology.Contribution{Standard: offset.Uncertainty.Standard, Freedom: max(offset.Uncertainty.Freedom, 1)}, c.Seat)...)
		return err == nil && metrology.Decide(c.Value, model.Length(math.Ceil(u.Expanded)), l.tolerance) != model.Doubtful
	}
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
