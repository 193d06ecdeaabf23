package solver

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// seating is one mounting of an outfit under one lock: the mean of its strips less
// the datum's, and how much of the variance of one strip is in it.
type seating struct {
	seatKey
	mounting string
	lock     string
	index    int // of its first strip
	value    float64
	share    float64 // of its own strips
	datum    float64 // of the datum strips, which other locks do not share
}

// seatKey is what mountings compare in: an outfit against what cut the datum strips;
// of that itself, under one lock.
type seatKey struct {
	Outfit
	carrier Outfit
	lock    string
}

// Seats is what mounting blades again does to where they cut: the variance that it
// adds, with the number of mountings beyond the first of each outfit as freedom, and
// the largest difference seen between two mountings of one, in nanometres.
type Seats struct {
	Scatter
	Largest float64
	Of      Outfit
}

// seatings lists the mountings on a page.
func (p *lockPage) seatings() []seating {
	if p.seats != nil {
		return p.seats
	}
	out := []seating{}
	var carrier *group
	for _, d := range p.datum {
		if carrier == nil || len(d.strips) > len(carrier.strips) {
			carrier = d
		}
	}
	for _, g := range p.blades {
		if carrier == nil {
			break
		}
		byMounting := map[string][]Strip{}
		var order []string
		for _, s := range g.strips {
			if byMounting[s.Mounting] == nil {
				order = append(order, s.Mounting)
			}
			byMounting[s.Mounting] = append(byMounting[s.Mounting], s)
		}
		for _, mounting := range order {
			if d, ok := differ(byMounting[mounting], carrier.strips); ok {
				own := 1 / float64(d.blade)
				out = append(out, seating{seatKey{g.Outfit, carrier.Outfit, ""}, mounting, g.lock, byMounting[mounting][0].Index, d.value, own, d.share - own})
			}
		}
	}
	for _, g := range p.closing {
		for _, d := range p.datum {
			if d.Outfit != g.Outfit {
				continue
			}
			key := seatKey{g.Outfit, g.Outfit, g.lock}
			out = append(out,
				seating{seatKey: key, mounting: d.strips[0].Mounting, share: 1 / float64(len(d.values))},
				seating{seatKey: key, mounting: g.strips[0].Mounting, share: 1 / float64(len(g.values)), value: stat.Mean(g.values, nil) - stat.Mean(d.values, nil)})
		}
	}
	p.seats = out
	return out
}

// Seats gathers what the strips so far say of mounting again: the variance between
// the means of mountings less what the strips themselves scatter, never below zero.
func (l *Ledger) Seats() Seats {
	sets, order := map[seatKey][]seating{}, []seatKey(nil)
	for _, p := range l.pages {
	next:
		for _, s := range p.seatings() {
			for _, other := range sets[s.seatKey] {
				if other.mounting == s.mounting {
					continue next // one mounting under a second lock
				}
			}
			if sets[s.seatKey] == nil {
				order = append(order, s.seatKey)
			}
			sets[s.seatKey] = append(sets[s.seatKey], s)
		}
	}
	var strips Scatter
	for _, g := range l.byAge {
		strips = strips.with(g.scatter())
	}
	var out Seats
	sum := 0.0
	for _, key := range order {
		set := sets[key]
		if len(set) < 2 {
			continue
		}
		oneLock := !slices.ContainsFunc(set, func(s seating) bool { return s.lock != set[0].lock })
		values, noise, lowest, highest := make([]float64, len(set)), 0.0, math.Inf(1), math.Inf(-1)
		for i, s := range set {
			values[i] = s.value
			lowest, highest = min(lowest, s.value), max(highest, s.value)
			noise += s.share / float64(len(set))
			if !oneLock {
				noise += s.datum / float64(len(set))
			}
		}
		freedom := float64(len(set) - 1)
		sum += freedom * (stat.Variance(values, nil) - strips.Variance*noise)
		out.Freedom += freedom
		if highest-lowest > out.Largest {
			out.Largest, out.Of = highest-lowest, key.Outfit
		}
	}
	if out.Freedom > 0 {
		out.Variance = max(sum/out.Freedom, 0)
	}
	return out
}
