// Package stacking chooses rings: what a stack does to a blade's cut face, the best stack of a kit
// for one blade, for a whole rack behind one standing stack, and which ring to buy.
package stacking

import (
	"cmp"
	"fmt"
	"math"
	"math/bits"
	"slices"
	"strings"
	"sync"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// Piece is one ring in the hand. Rings of one sort have the same ID.
type Piece struct {
	ID       string
	Height   model.Length
	Variance float64 // of the height, in square nanometres; 0: taken as it is
}

// Zone is how far the cut face may lie from the datum face to either side. Toward may
// be negative: then the face must lie away from the fence, and by so much at least.
type Zone struct {
	Toward, Away model.Length
}

// Both is a zone that reaches as far to either side.
func Both(within model.Length) Zone { return Zone{within, within} }

// Excess is how far a residual, + = toward the fence, lies outside the zone; 0 inside.
// In a zone that is empty nothing lies inside.
func (z Zone) Excess(residual model.Length) model.Length {
	return max(residual-z.Toward, -residual-z.Away, 0)
}

// Goal is what a stack is to do. Lengths are in whole nanometres.
type Goal struct {
	Want    model.Length // wanted height; negative where no stack can help
	Zone    Zone         // acceptance zone of the residual that a stack leaves
	Highest model.Length // what the thread allows; negative: not even no rings
	Flange  model.Flange // decides which side of Want is toward the fence; empty counts as far
}

// Fit is the best stack for a goal. Verdict is In or Cannot.
type Fit struct {
	Goal
	Rings   []Piece // flange first: thinnest first
	Height  model.Length
	Verdict model.Verdict
	Sure    bool         // in whatever is not known of the rings
	Beyond  model.Length // how far it lies outside the zone where it would be sure; 0: it is
}

// IDs lists the rings, flange first. It is never nil: no rings are a stack too.
func (f Fit) IDs() []string {
	ids := make([]string, 0, len(f.Rings))
	for _, r := range f.Rings {
		ids = append(ids, r.ID)
	}
	return ids
}

// Heights lists the rings' heights, flange first.
func (f Fit) Heights() []model.Length {
	hs := make([]model.Length, 0, len(f.Rings))
	for _, r := range f.Rings {
		hs = append(hs, r.Height)
	}
	return hs
}

// Residual is where the stack leaves the cut face, + = toward the fence.
func (f Fit) Residual() model.Length { return Residual(f.Flange, f.Height, f.Want) }

// Excess is how far the stack lies outside the acceptance zone; 0 inside.
func (f Fit) Excess() model.Length { return f.Zone.Excess(f.Residual()) }

// span is the lowest and the highest stack in the zone; the thread is not looked at.
func (g Goal) span() (low, high model.Length) {
	if g.Flange == model.Near {
		return g.Want - g.Zone.Toward, g.Want + g.Zone.Away
	}
	return g.Want - g.Zone.Away, g.Want + g.Zone.Toward
}

// Kit is a set of rings made ready for many questions. The order in which the
// rings were given has no part in any answer.
type Kit struct {
	pieces      []Piece // thickest first
	thick, thin byNumber
	sets        func() [2]byNumber // every set of sorts of ring of each half, equal sums too
}

// Pieces are the rings of the kit, thickest first.
func (k Kit) Pieces() []Piece { return slices.Clone(k.pieces) }

// byNumber holds every choice from one half of the kit, by number of rings. Within a
// number, sums are distinct and ascending.
type byNumber [][]choice

// choice is a set of rings as bits: the thickest ring of the kit has the highest
// bit, so that of two sets with as many rings and the same sum the one with thicker
// rings first is the larger number.
type choice struct {
	sum  model.Length
	mask uint32
}

// NewKit makes a kit ready. It refuses more than model.MaxRingKit rings, and rings
// that are not thicker than nothing or thicker than model.MaxLength.
func NewKit(pieces []Piece) (Kit, error) {
	if len(pieces) > model.MaxRingKit {
		return Kit{}, fmt.Errorf("the kit has %d rings and stacks are searched among %d at most: leave out those that are least used", len(pieces), model.MaxRingKit)
	}
	for _, p := range pieces {
		if p.Height <= 0 {
			return Kit{}, fmt.Errorf("ring %s is %s thick: a ring has a thickness above zero", model.Clip(p.ID), p.Height.Of(model.MM))
		}
		if p.Height > model.MaxLength {
			return Kit{}, fmt.Errorf("ring %s is %s thick: no ring of this trade is thicker than %s", model.Clip(p.ID), p.Height.Of(model.MM), model.MaxLength.Of(model.MM))
		}
	}
	sorted := slices.SortedFunc(slices.Values(pieces), func(a, b Piece) int {
		return cmp.Or(cmp.Compare(b.Height, a.Height), cmp.Compare(a.ID, b.ID))
	})
	middle := len(sorted) / 2
	k := Kit{pieces: sorted, thick: choices(sorted, 0, middle), thin: choices(sorted, middle, len(sorted))}
	k.sets = sync.OnceValue(func() [2]byNumber { return allSets(sorted) })
	return k, nil
}

// choices lists the sums of every set of the rings from..to by adding ring after
// ring and merging, so that nothing is ever sorted.
func choices(pieces []Piece, from, to int) byNumber {
	h := byNumber{{{0, 0}}}
	for i := from; i < to; i++ {
		bit := uint32(1) << (len(pieces) - 1 - i)
		h = append(h, nil)
		for n := len(h) - 1; n > 0; n-- {
			h[n] = joined(h[n], h[n-1], choice{pieces[i].Height, bit})
		}
	}
	return h
}

// joined merges the sets without a ring and the sets with it. Of equal sums the
// one with thicker rings first stays: whatever else goes with it, it wins the tie.
func joined(without, fewer []choice, ring choice) []choice {
	out := make([]choice, 0, len(without)+len(fewer))
	for len(without) > 0 || len(fewer) > 0 {
		switch {
		case len(fewer) == 0 || len(without) > 0 && without[0].sum < fewer[0].sum+ring.sum:
			out, without = append(out, without[0]), without[1:]
		case len(without) == 0 || without[0].sum > fewer[0].sum+ring.sum:
			out, fewer = append(out, choice{fewer[0].sum + ring.sum, fewer[0].mask | ring.mask}), fewer[1:]
		default:
			out = append(out, choice{without[0].sum, max(without[0].mask, fewer[0].mask|ring.mask)})
			without, fewer = without[1:], fewer[1:]
		}
	}
	return out
}

// Best is the best stack of the kit for the goal: of those within the acceptance
// zone and no higher than the thread allows the one with the fewest rings, then the
// smallest miss, then the one that puts the cut face toward the fence, then thicker
// rings first. Where none is, the one that lies the least outside the zone under the
// limit, ties as before, and the verdict Cannot. The result is exact. It refuses a goal that
// makes no sense.
func (k Kit) Best(goal Goal) (Fit, error) {
	mask, verdict, err := k.best(goal)
	if err != nil {
		return Fit{}, err
	}
	return k.fit(goal, mask, verdict), nil
}

func (k Kit) best(goal Goal) (uint32, model.Verdict, error) {
	if err := goal.check(); err != nil {
		return 0, "", err
	}
	low, high := goal.span()
	for n := 0; n <= len(k.pieces) && low <= min(high, goal.Highest); n++ {
		if m := k.nearest(n, goal, 2*goal.Want, low, min(high, goal.Highest)); m.off >= 0 {
			return m.mask, model.In, nil
		}
	}
	// Outside the zone, the nearer to its middle the less outside.
	best := match{off: -1}
	for n := 0; n <= len(k.pieces); n++ {
		m := k.nearest(n, goal, low+high, math.MinInt64, goal.Highest)
		if best.off < 0 || m.off >= 0 && m.off < best.off {
			best = m
		}
	}
	return best.mask, model.Cannot, nil
}

// fit is a set of rings as the answer to a goal.
func (k Kit) fit(goal Goal, mask uint32, verdict model.Verdict) Fit {
	f := Fit{Goal: goal, Rings: k.take(mask), Verdict: verdict}
	for _, r := range f.Rings {
		f.Height += r.Height
	}
	f.Sure, f.Beyond = verdict == model.In, f.Excess()
	return f
}

func (g Goal) check() error {
	if g.Zone.Away < 0 {
		return fmt.Errorf("the acceptance zone is %s: it is a distance to either side and not below zero", g.Zone.Away.Of(model.MM))
	}
	if g.Want > model.MaxLength || g.Want < -model.MaxLength {
		return fmt.Errorf("the wanted height is %s: nothing on a saw is larger than %s", g.Want.Of(model.MM), model.MaxLength.Of(model.MM))
	}
	return nil
}

// match is a set of rings, and twice its distance from the height aimed at; -1: none.
type match struct {
	off   model.Length
	miss  model.Length // from the wanted height
	fence bool         // the residual is toward the fence
	mask  uint32
}

func (m match) beats(o match) bool {
	switch {
	case o.off < 0 || m.off != o.off:
		return o.off < 0 || m.off < o.off
	case m.miss != o.miss:
		return m.miss < o.miss
	case m.fence != o.fence:
		return m.fence
	}
	return m.mask > o.mask
}

// nearest is the set of exactly n rings from low to high that is nearest to half of
// aim. The walk goes up through one half and down through the other along that height,
// or the end of the span that is nearer to it, so it meets the nearest sum on either
// side, and every set that has that sum.
func (k Kit) nearest(n int, goal Goal, aim, low, high model.Length) match {
	best := match{off: -1}
	along := aim
	if along/2 > high {
		along = 2 * high
	}
	if along/2 < low {
		along = 2 * low
	}
	for i := max(0, n-len(k.thin)+1); i < len(k.thick) && i <= n; i++ {
		up, down := k.thick[i], k.thin[n-i]
		for a, b := 0, len(down)-1; a < len(up) && b >= 0; {
			sum := up[a].sum + down[b].sum
			if low <= sum && sum <= high {
				m := match{(2*sum - aim).Abs(), (sum - goal.Want).Abs(), Residual(goal.Flange, sum, goal.Want) > 0, up[a].mask | down[b].mask}
				if m.beats(best) {
					best = m
				}
			}
			if 2*sum <= along {
				a++
			}
			if 2*sum >= along {
				b--
			}
		}
	}
	return best
}

// take lists the rings of a set, thinnest first.
func (k Kit) take(mask uint32) []Piece {
	out := make([]Piece, 0, bits.OnesCount32(mask))
	for i := len(k.pieces) - 1; i >= 0; i-- {
		if mask&(1<<(len(k.pieces)-1-i)) != 0 {
			out = append(out, k.pieces[i])
		}
	}
	return out
}

// StackWords names rings by their height, flange first.
func StackWords(rings []Piece, w metrology.Words) string {
	if len(rings) == 0 {
		return "no rings"
	}
	var heights []string
	var sum model.Length
	for _, r := range rings {
		heights = append(heights, r.Height.Of(w.Unit).String())
		sum += r.Height
	}
	if len(rings) == 1 {
		return heights[0]
	}
	return strings.Join(heights, " + ") + " = " + sum.Of(w.Unit).String()
}
