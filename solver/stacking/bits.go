package stacking

import (
	"math/bits"

	"example.com/sawdatum/model"
)

// heightSet is a set of heights as bits: bit i of it is the height i steps above its
// lowest.
type heightSet []uint64

// word is the 64 heights from a place on; the place may lie outside.
func (s heightSet) word(from int) uint64 {
	at, by := from>>6, uint(from&63)
	var w uint64
	if at >= 0 && at < len(s) {
		w = s[at] >> by
	}
	if by > 0 && at+1 >= 0 && at+1 < len(s) {
		w |= s[at+1] << (64 - by)
	}
	return w
}

// join adds what the set holds so many steps lower, or higher where by is negative.
func (s heightSet) join(by int) {
	if by >= 0 {
		for i := len(s) - 1; i >= 0; i-- {
			s[i] |= s.word(i<<6 - by)
		}
		return
	}
	for i := range s {
		s[i] |= s.word(i<<6 - by)
	}
}

// moved is the set so many steps higher.
func (s heightSet) moved(by int) heightSet {
	out := make(heightSet, len(s))
	for i := range out {
		out[i] = s.word(i<<6 - by)
	}
	return out
}

// mostSteps bounds the memory of one set to 8 MB; a kit on a finer grid is not sifted.
const mostSteps = 1 << 26

// sieve tells which rings beside a kit might bring every blade into its zone on one
// standing stack: the heights of the kit as bits, and for each blade the standing stacks
// on which one of them lies in its zone. It may let pass what the thread does not.
type sieve struct {
	step     model.Length // of all heights
	sums     heightSet    // from below 0, by what may be bought
	reaches  []heightSet  // by blade: standing stacks, on the same grid
	pad, end int          // where 0 and the highest standing stack lie
	only     int          // the standing stack, where it is not free; -1: it is
	never    bool         // some blade takes no stack at all
	whole    bool         // everything passes: too fine a grid
}

func newSieve(kit []Piece, a Asking) sieve {
	var s sieve
	var bought, whole model.Length
	for _, b := range a.Series {
		s.step, bought = gcd(s.step, b), max(bought, 2*b)
	}
	for _, p := range kit {
		s.step = gcd(s.step, p.Height)
		whole += p.Height
	}
	highest, spread := min(a.Highest, whole+bought), model.Length(0)
	for _, n := range a.Needs {
		low, high := n.Goal(0, a.Flange).span()
		s.never = s.never || n.Highest < 0 || low > high
		highest = min(highest, max(n.Highest-low, -1))
		spread = max(spread, high)
	}
	if highest < 0 {
		s.never = true
	}
	if s.never || s.step == 0 {
		return s
	}
	s.pad, s.only = int(bought/s.step), -1
	s.end = s.pad + int(highest/s.step)
	if !a.Free {
		s.only = s.pad + int(a.Standing/s.step)
		s.never = s.only > s.end
		s.whole = a.Standing%s.step != 0
	}
	size := int64(s.pad) + int64((highest+spread)/s.step) + 1
	if s.whole = s.whole || size > mostSteps; s.whole {
		return s
	}
	s.sums = make(heightSet, size>>6+1)
	s.sums[s.pad>>6] |= 1 << (s.pad & 63)
	for _, p := range kit {
		s.sums.join(int(p.Height / s.step))
	}
	for _, n := range a.Needs {
		low, high := n.Goal(0, a.Flange).span()
		s.reaches = append(s.reaches, s.sums.reached(-floorDiv(high, s.step), -ceilDiv(low, s.step)))
	}
	return s
}

// reached is the set widened: every height from the set and from so many steps to so many
// steps above it.
func (s heightSet) reached(from, to int) heightSet {
	if from > to {
		return make(heightSet, len(s))
	}
	wide := append(heightSet(nil), s...)
	for done := 1; done < to-from+1; {
		by := min(done, to-from+1-done)
		wide.join(by)
		done += by
	}
	return wide.moved(from)
}

// passes reports whether these rings beside the kit might do.
func (s sieve) passes(buy ...model.Length) bool {
	if s.never || s.whole {
		return !s.never
	}
	shifts := []int{0}
	for _, b := range buy {
		for _, d := range shifts[:len(shifts):len(shifts)] {
			shifts = append(shifts, d+int(b/s.step))
		}
	}
	from, to := s.pad, s.end
	if s.only >= 0 {
		from, to = s.only, s.only
	}
	any := func(set heightSet, at int) (w uint64) {
		for _, d := range shifts {
			w |= set.word(at - d)
		}
		return w
	}
	for at := from; at <= to; at += 64 {
		w := any(s.sums, at)
		if left := to - at; left < 63 {
			w &= 1<<(left+1) - 1
		}
		for i := 0; i < len(s.reaches) && w != 0; i++ {
			w &= any(s.reaches[i], at)
		}
		if bits.OnesCount64(w) > 0 {
			return true
		}
	}
	return false
}

func gcd(a, b model.Length) model.Length {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func floorDiv(a, b model.Length) int {
	q := a / b
	if a%b < 0 {
		q--
	}
	return int(q)
}

func ceilDiv(a, b model.Length) int { return -floorDiv(-a, b) }
