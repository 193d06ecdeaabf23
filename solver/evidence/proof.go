package evidence

import (
	"math"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// Overturned is the proof that was the last to be found out, unless another that was begun and
// decided after it is in; nil: none. One that was begun before and decided after takes nothing back:
// its mounting is the older one.
func (c *Course) Overturned() *Proofing {
	var out *Proofing
	for _, p := range c.Proofs {
		switch {
		case p.Verdict == model.Out && (out == nil || p.At > out.At):
			out = p
		case p.Verdict == model.In && out != nil && p.At > out.At:
			out = nil
		}
	}
	return out
}

// OutAgain is the newest proof that is decided, where it is out and the one decided before it, of
// another mounting, was too: the blade lies there now, and no longer where its verdict says. Else nil.
func (c *Course) OutAgain() *Proofing {
	var newest *Proofing
	for _, p := range slices.Backward(c.Proofs) {
		switch {
		case p.Verdict == model.In:
			return nil
		case p.Verdict != model.Out || newest != nil && p.Mounting == newest.Mounting:
		case newest != nil:
			return newest
		default:
			newest = p
		}
	}
	return nil
}

// More is how many further strips of one of the two would settle a doubtful proof, the other
// not touched: that blade is on the saw, and taken off and put on again it would begin another
// proof. 0: none that still counts, or there is no doubt.
func (l *Ledger) More(p *Proofing, of Purpose) int {
	if p.Verdict != model.Doubtful || p.Looks == 0 {
		return 0
	}
	d, _, settles := l.settling(&p.Course)
	if of == ForDatum && !d.widths {
		return 0
	}
	for n := 1; n <= MostFurther-p.Further; n++ {
		blade, reference := float64(d.blade), d.Datum
		if of == ForDatum {
			reference += float64(n)
		} else {
			blade += float64(n)
		}
		if settles(blade, reference, d.zeroing()...) {
			return n
		}
	}
	return 0
}

// Pair is how many strips of each blade a pair takes to decide on one that lies where it was last
// seen: one where enough is known of how rips repeat, else two; as many more as it takes, three at
// the most. offset is that of its verdict, or of a pair since then that left a doubt.
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
		if err == nil && metrology.Decide(offset, model.Length(math.Ceil(u.Expanded)), l.tolerance) != model.Doubtful {
			break
		}
	}
	return n
}
