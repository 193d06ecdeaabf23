package evidence

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
)

// Seating is one mounting of an outfit under one lock: the mean of its strips less
// the datum's, and how much of the variance of one strip is in it.
type Seating struct {
	SeatKey
	mounting string
	lock     string
	Index    int // of its first strip
	Value    float64
	share    float64 // of its own strips
	datum    float64 // of the datum strips, which other locks do not share
}

// SeatKey is what mountings compare in: an outfit against what cut the datum strips;
// of that itself, under one lock.
type SeatKey struct {
	Outfit
	Carrier Outfit
	Lock    string
}

// Seats is what mounting blades again does to where they cut: the variance that it
// adds, with the number of mountings beyond the first of each outfit as freedom, and
// the largest difference seen between two mountings of one, in nanometres.
type Seats struct {
	Scatter
	Largest float64
	Of      Outfit
}

// seatSet is the mountings of one key, in the order in which their locks began, and what
// they come to: freedom times the variance between them, and freedom times the part of the
// variance of one strip that is in it.
type seatSet struct {
	all   []Seating
	first map[string]string // of each mounting, the lock under which it began
	seatSum
}

type seatSum struct{ freedom, squares, noise float64 }

// with is a sum with another added, so many times.
func (s seatSum) with(o seatSum, times float64) seatSum {
	return seatSum{s.freedom + times*o.freedom, s.squares + times*o.squares, s.noise + times*o.noise}
}

// Seatings lists the mountings on a page.
func (p *Page) Seatings() []Seating {
	var out []Seating
	var carrier *Group
	for _, d := range p.datum {
		if carrier == nil || len(d.Strips) > len(carrier.Strips) {
			carrier = d
		}
	}
	for _, g := range p.Blades {
		if carrier == nil || p.broke() {
			break
		}
		byMounting := map[string][]Strip{}
		var order []string
		for _, s := range g.Strips {
			if byMounting[s.Mounting] == nil {
				order = append(order, s.Mounting)
			}
			byMounting[s.Mounting] = append(byMounting[s.Mounting], s)
		}
		for _, mounting := range order {
			if d, ok := differ(byMounting[mounting], carrier.Strips); ok {
				own := 1 / float64(d.blade)
				out = append(out, Seating{SeatKey{g.Outfit, carrier.Outfit, ""}, mounting, g.Lock, byMounting[mounting][0].Index, d.Value, own, d.share - own})
			}
		}
	}
	for _, g := range p.closing {
		for _, d := range p.datum {
			if d.Outfit != g.Outfit || !p.held() {
				continue
			}
			key := SeatKey{g.Outfit, g.Outfit, g.Lock} // of one lock, so that nothing else tells them apart
			out = append(out,
				Seating{SeatKey: key, share: 1 / float64(len(d.Values))},
				Seating{SeatKey: key, share: 1 / float64(len(g.Values)), Value: stat.Mean(g.Values, nil) - stat.Mean(d.Values, nil)})
		}
	}
	return out
}

// broke reports whether a round of a lock was seen not to hold: its strips tell of the lock.
func (p *Page) broke() bool {
	return slices.ContainsFunc(p.rounds, func(c Closing) bool { return !c.Held && !c.Again })
}

// held reports whether every round of a lock was seen to hold: only then does a closing
// strip tell of mounting, and not of the lock.
func (p *Page) held() bool {
	return len(p.rounds) > 0 && !slices.ContainsFunc(p.rounds, func(c Closing) bool { return !c.Held })
}

// seat is what is known by now of mounting again.
func (l *Ledger) seat() Scatter {
	for _, p := range l.touched {
		for _, s := range p.seats {
			set := l.seats[s.SeatKey]
			set.all = slices.DeleteFunc(set.all, func(other Seating) bool { return other.lock == s.lock })
			l.reckon(set)
		}
		p.seats = slices.DeleteFunc(p.Seatings(), l.moved)
		for _, s := range p.seats {
			set := l.seats[s.SeatKey]
			if set == nil {
				set = &seatSet{first: map[string]string{}}
				l.seats[s.SeatKey], l.seatOrder = set, append(l.seatOrder, s.SeatKey)
			}
			if set.first[s.mounting] == "" {
				set.first[s.mounting] = s.lock
			}
			if set.first[s.mounting] == s.lock { // else one mounting under a second lock
				set.all = append(set.all, s)
			}
		}
		for _, s := range p.seats {
			l.reckon(l.seats[s.SeatKey])
		}
	}
	l.touched = nil
	return l.between(l.seated)
}

// seatBefore is what was known of mounting again before an outfit was compared under a lock: what
// that comparison shows is no measure of what it may show.
func (l *Ledger) seatBefore(o Outfit, lock string) Scatter {
	l.seat()
	sum := l.seated
	for _, key := range l.seatOrder {
		if set := l.seats[key]; key.Outfit == o {
			sum = sum.with(set.seatSum, -1).with(l.sumOf(slices.DeleteFunc(slices.Clone(set.all), func(s Seating) bool { return s.lock == lock })), 1)
		}
	}
	return l.between(sum)
}

// between is the variance between the means of mountings less what the strips themselves
// scatter, never below zero.
func (l *Ledger) between(sum seatSum) Scatter {
	if sum.freedom == 0 {
		return Scatter{}
	}
	return Scatter{max((sum.squares-l.repeats().Variance*sum.noise)/sum.freedom, 0), sum.freedom}
}

// moved reports whether a mounting is that of a proof which is out: something has moved, fence,
// blade or dust, and so far no mounting again moves it.
func (l *Ledger) moved(s Seating) bool {
	c := l.courses[s.Outfit]
	return c != nil && slices.ContainsFunc(c.Proofs, func(p *Proofing) bool {
		return p.Verdict == model.Out && p.Lock == s.lock && p.Mounting == s.mounting
	})
}

// repeats is how all strips so far repeat.
func (l *Ledger) repeats() Scatter {
	var out Scatter
	for _, g := range l.ByAge {
		out = out.with(g.scatter())
	}
	return out
}

// reckon works out a set anew.
func (l *Ledger) reckon(set *seatSet) {
	before := set.seatSum
	set.seatSum = l.sumOf(set.all)
	l.seated = l.seated.with(before, -1).with(set.seatSum, 1)
}

// near are the mountings of one key that cut within the tolerance of the first. In one that does
// not, something was wrong, fence, ring or dust, whatever became of it since: as what mounting
// again does it would leave every later verdict in doubt.
func (l *Ledger) near(all []Seating) (out []Seating) {
	for _, s := range all {
		if math.Abs(s.Value-all[0].Value) <= float64(l.tolerance) || l.tolerance == 0 {
			out = append(out, s)
		}
	}
	return out
}

// sumOf works out the mountings of one key.
func (l *Ledger) sumOf(all []Seating) seatSum {
	all = l.near(all)
	if len(all) < 2 {
		return seatSum{}
	}
	values, noise, datum := make([]float64, 0, len(all)), 0.0, 0.0
	for _, s := range all {
		values, noise, datum = append(values, s.Value), noise+s.share, datum+s.datum
	}
	if all[0].lock != all[len(all)-1].lock { // else they share the datum strips
		noise += datum
	}
	k := float64(len(values))
	return seatSum{k - 1, (k - 1) * stat.Variance(values, nil), (k - 1) * noise / k}
}

// Seats gathers what the strips so far say of mounting again.
func (l *Ledger) Seats() Seats {
	out := Seats{Scatter: l.seat()}
	for _, key := range l.seatOrder {
		lowest, highest := math.Inf(1), math.Inf(-1)
		for _, s := range l.near(l.seats[key].all) {
			lowest, highest = min(lowest, s.Value), max(highest, s.Value)
		}
		if highest-lowest > out.Largest {
			out.Largest, out.Of = highest-lowest, key.Outfit
		}
	}
	return out
}
