package stacking

import (
	"math"
	"math/bits"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// Doubt is what a stack is held against once what is not known of its rings counts too.
// An offset holds the rings that a cut has judged together with it: of these nothing more is
// unknown. A stack is in where its residual lies within the tolerance less U, the expanded
// uncertainty of the offset and of every ring that it does not hold. Where the offset alone
// leaves nothing of the tolerance, no rings help, and they are not counted.
type Doubt struct {
	Offset    Offset
	Tolerance model.Length
	Limit     Zone     // what the knife allows to either side
	Judged    []string // ring ids that a cut has judged together with the offset; nil: those behind the reference
}

// zone is where a stack is in of which the rings that the offset does not hold have this
// variance. Empty where U is larger than the tolerance.
func (d *Doubt) zone(variance float64) Zone { return d.within(d.Offset.with(variance)) }

// widest is a zone that holds those of every variance from this one up.
func (d *Doubt) widest(variance float64) Zone { return d.within(d.Offset.withAtLeast(variance)) }

func (d *Doubt) within(u model.Length) Zone {
	if d.Offset.U >= d.Tolerance {
		u = d.Offset.U
	}
	a := d.Tolerance - u
	return Zone{min(a, d.Limit.Toward), min(a, d.Limit.Away)}
}

// withAtLeast is not above U with this variance or a greater one. Between whole degrees
// of freedom U grows with the variance; at each of them Student's factor falls, and U
// with it, to the factor times (freedom * sum of u^4/freedom)^(1/4). From 7 degrees up
// these lows grow too.
func (o Offset) withAtLeast(variance float64) model.Length {
	least := float64(o.with(variance))
	if math.IsInf(o.Uncertainty.Freedom, 1) || o.Uncertainty.Standard == 0 {
		return model.Length(least)
	}
	square := o.Uncertainty.Standard * o.Uncertainty.Standard
	fourth := square * square / o.Uncertainty.Freedom
	now := math.Floor((square + variance) * (square + variance) / fourth)
	for k := now + 1; k <= max(now+2, 8) && k < metrology.ManyFreedoms; k++ {
		least = min(least, math.Floor(metrology.StudentT(metrology.Coverage, k)*math.Sqrt(math.Sqrt(k*fourth)))-1)
	}
	return max(o.U, model.Length(least))
}

// with is U of the offset joined by a variance that does not come from scatter; rings
// never make an offset surer than it is without them.
func (o Offset) with(variance float64) model.Length {
	u, err := metrology.Combine(metrology.Coverage, append(o.Parts[:len(o.Parts):len(o.Parts)], metrology.Contribution{Standard: math.Sqrt(variance), Freedom: math.Inf(1)})...)
	if err != nil || u.Expanded > float64(model.MaxLength) {
		return model.MaxLength
	}
	return max(o.U, metrology.Rounded(u.Expanded))
}

// kind is one sort of ring in a kit.
type kind struct {
	first, count int // places in pieces
	judged       int // how many of them the offset holds
}

// differing is the variance of what n rings of the sort and those that the offset holds
// do not share. Of more than the kit has, some must be the same.
func (s kind) differing(n int, of float64) float64 {
	return float64(n+s.judged-2*max(0, n+s.judged-s.count)) * of
}

// kinds lists the sorts of ring of the kit, with those that an offset holds.
func (k Kit) kinds(judged []string) []kind {
	var out []kind
	for i, p := range k.pieces {
		if n := len(out); n > 0 && k.pieces[out[n-1].first].ID == p.ID {
			out[n-1].count++
			continue
		}
		s := kind{first: i, count: 1}
		for _, id := range judged {
			if id == p.ID {
				s.judged++
			}
		}
		out = append(out, s)
	}
	return out
}

// variance is what is not known of a set of rings beside those that the offset holds.
func (k Kit) variance(mask uint32, kinds []kind) float64 {
	var v float64
	for _, s := range kinds {
		n := bits.OnesCount32(mask >> (len(k.pieces) - s.first - s.count) & (1<<s.count - 1))
		v += s.differing(n, k.pieces[s.first].Variance)
	}
	return v
}

// doubting looks for the stack of one goal under a doubt.
type doubting struct {
	kit   Kit
	goal  Goal
	doubt *Doubt
	kinds []kind
	held  int     // rings that the offset holds
	least float64 // smallest variance of a ring of the kit
	alike bool    // as many rings always come to the same variance
}

// Surest is the best stack of the kit where what is not known of the rings counts: of
// those in all the same the one with the fewest rings; else, of those in the zone of the
// goal, the one that lies the least outside the zone where it would be; ties as in Stack.
// Where no stack is in the zone of the goal, it is that of Best. judged are the rings
// that the offset holds. Without a doubt it is Best.
func (k Kit) Surest(goal Goal, doubt *Doubt, judged []string) (Fit, error) {
	mask, verdict, err := k.best(goal)
	if err != nil {
		return Fit{}, err
	}
	plain := k.fit(goal, mask, verdict)
	if doubt == nil {
		return plain, nil
	}
	g := doubting{kit: k, goal: goal, doubt: doubt, kinds: k.kinds(judged), alike: true}
	for i, p := range k.pieces {
		if i == 0 || p.Variance < g.least {
			g.least = p.Variance
		}
		g.alike = g.alike && p.Variance == k.pieces[0].Variance
	}
	for _, s := range g.kinds {
		g.held += min(s.judged, s.count)
	}
	g.alike = g.alike && g.held == 0
	best := g.weigh(mask, plain.Height)
	if verdict == model.In { // else none is in the zone of the goal, and the search is spared
		best = g.nearest(best)
	}
	fit := k.fit(goal, best.mask, verdict)
	fit.Beyond, fit.Sure = best.beyond, best.beyond == 0 && verdict == model.In
	return fit, nil
}

// weighed is a set of rings and how far it lies outside the zone where it would be in.
type weighed struct {
	match
	beyond model.Length
}

func (g *doubting) weigh(mask uint32, sum model.Length) weighed {
	r := Residual(g.goal.Flange, sum, g.goal.Want)
	return weighed{match{0, r.Abs(), r > 0, mask}, g.doubt.zone(g.kit.variance(mask, g.kinds)).Excess(r)}
}

func (w weighed) beats(o weighed) bool {
	a, b := bits.OnesCount32(w.mask), bits.OnesCount32(o.mask)
	switch {
	case w.beyond != o.beyond:
		return w.beyond < o.beyond
	case a != b:
		return a < b
	}
	return w.match.beats(o.match)
}

// floor is the least variance of n rings: so many of them the offset cannot hold.
func (g *doubting) floor(n int) float64 { return math.Abs(float64(n-g.held)) * g.least }

// nearest is the stack in the zone of the goal that lies the least outside the zone where it
// would be in, of equals the one with the fewest rings, ties as in Stack; best is one that is known.
func (g *doubting) nearest(best weighed) weighed {
	least, most := g.goal.span()
	most = min(most, g.goal.Highest)
	for n := 0; n <= len(g.kit.pieces) && best.beyond > 0; n++ { // what is in is not bettered by more rings
		zone := g.doubt.widest
		if g.alike {
			zone = g.doubt.zone
		}
		at := g.goal
		at.Zone = zone(g.floor(n))
		low, high := at.span()
		m := g.kit.nearest(n, g.goal, 2*g.goal.Want, max(low, least), min(high, most))
		if m.off < 0 {
			m = g.kit.nearest(n, g.goal, low+high, least, most) // outside it, the nearer to its middle the less
		}
		if m.off < 0 {
			continue
		}
		if w := g.weigh(m.mask, g.kit.height(m.mask)); w.beats(best) {
			best = w
		}
		if g.alike {
			continue
		}
		g.kit.each(n, max(least, low-best.beyond), min(most, high+best.beyond), func(mask uint32, sum model.Length) {
			if w := g.weigh(mask, sum); w.beats(best) {
				best = w
			}
		})
	}
	return best
}
