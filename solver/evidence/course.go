package evidence

import (
	"math"
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// Course is how an outfit came to its verdict under the present datum: from its first
// look on, through three further strips at most. How strips repeat is taken at the
// first look and stays; only the counts grow.
type Course struct {
	Outfit
	Strips  []Strip // of the blade, that count
	Looks   int
	Further int // further strips used up, of blade and reference together
	Spread  Spread
	Seat    metrology.Contribution // of mounting again, where enough is known of it
	Estimate
	Verdict model.Verdict // doubtful until decided
	At      int           // index of the strip that decided, or of the last one looked at; -1: no look yet
	Proofs  []*Proofing

	Parts []*Part
	proof bool
}

// Estimate is an offset by strips, positive for a wider part than the datum's, and
// its uncertainty. Value and U are in whole nanometres.
type Estimate struct {
	Value       model.Length
	U           model.Length
	Uncertainty metrology.Uncertainty
	Own         int     // strips of the blade in it
	Datum       float64 // strips of the datum
	Carrier     Outfit  // what cut the datum strips
	Zeroed      bool    // the caliper was zeroed once for several readings
}

// Part is what a course has under one lock.
type Part struct {
	page   *Page
	Lock   string
	group  *Group
	strips []Strip
	usable bool // was compared with enough datum strips before
}

// Proofing is a later look at an outfit that is in: the strips of one mounting under
// one lock.
type Proofing struct {
	Lock, Mounting string
	Course
}

// UsedUp reports whether further strips can change nothing any more.
func (c *Course) UsedUp() bool { return c.Verdict == model.Doubtful && c.Further >= MostFurther }

// Decided reports whether no further strip is looked at.
func (c *Course) Decided() bool { return c.Verdict != model.Doubtful || c.UsedUp() }

// LedgerOf takes strips in one after the other, oldest first. datum is the outfit of the
// reference that defines the present datum; resolution is the caliper's.
func LedgerOf(strips []Strip, datum Outfit, tolerance, resolution model.Length) *Ledger {
	l := &Ledger{
		resolution: resolution, tolerance: tolerance, Datum: datum,
		Locks: map[string]*Page{}, groups: map[groupKey]*Group{}, courses: map[Outfit]*Course{}, known: map[Outfit]bool{}, seats: map[SeatKey]*seatSet{},
	}
	for _, s := range strips {
		l.Take(s)
	}
	return l
}

// Course is how an outfit stands; nil where no strip of it counts.
func (l *Ledger) Course(o Outfit) *Course { return l.courses[o] }

// Take takes in one strip more, later than those before. A strip without readings is
// none, and so is a difference from datum strips that are not there.
func (l *Ledger) Take(s Strip) {
	page := l.Locks[s.Lock]
	if len(s.Widths) == 0 && (len(s.Differences) == 0 || page == nil || len(page.datum) == 0) {
		return
	}
	s.value = s.reading()
	if page == nil {
		page = &Page{}
		l.Locks[s.Lock], l.Pages = page, append(l.Pages, page)
	}
	key := groupKey{s.Outfit, s.Lock, s.For == ForClosing}
	g := l.groups[key]
	if g == nil {
		g = &Group{groupKey: key}
		l.groups[key], l.ByAge = g, append(l.ByAge, g)
		if l.known[s.Outfit] {
			l.again++
		}
		l.known[s.Outfit] = true
		switch s.For {
		case ForDatum:
			page.datum = append(page.datum, g)
		case ForBlade:
			page.Blades = append(page.Blades, g)
		default:
			page.closing = append(page.closing, g)
		}
	}
	if n := len(g.Strips); n > 0 && g.Strips[n-1].Mounting != s.Mounting {
		l.again++
	}
	g.add(s, page.widthOf(s))
	if n := len(l.touched); n == 0 || l.touched[n-1] != page {
		l.touched = append(l.touched, page)
	}
	if !s.Present {
		return
	}
	switch s.For {
	case ForDatum:
		for _, c := range l.Order {
			l.datumStrip(c, s)
		}
	case ForBlade:
		page.compared, page.several = s.Index, page.several || s.Round
		l.bladeStrip(page, g, s)
	case ForClosing:
		l.closingStrip(page, g, s)
	}
}

// bladeStrip looks at a blade anew for a strip of its own.
func (l *Ledger) bladeStrip(page *Page, g *Group, s Strip) {
	c := l.courses[s.Outfit]
	if c == nil {
		c = &Course{Outfit: s.Outfit, Verdict: model.Doubtful, At: -1}
		l.courses[s.Outfit], l.Order = c, append(l.Order, c)
	}
	if c.Verdict == model.In {
		i := slices.IndexFunc(c.Proofs, func(p *Proofing) bool { return p.Lock == s.Lock && p.Mounting == s.Mounting })
		if i < 0 {
			i = len(c.Proofs)
			c.Proofs = append(c.Proofs, &Proofing{s.Lock, s.Mounting, Course{Outfit: s.Outfit, Verdict: model.Doubtful, At: -1, proof: true}})
		}
		c = &c.Proofs[i].Course
	}
	if c.Decided() {
		return
	}
	p := c.In(s.Lock)
	if p == nil {
		p = &Part{page: page, Lock: s.Lock, group: g}
		c.Parts = append(c.Parts, p)
	}
	p.strips = append(p.strips, s)
	c.Strips = append(c.Strips, s)
	if c.Looks > 0 {
		c.Further++
	}
	l.look(c, p, s.Index)
}

// datumStrip looks at a course anew for a datum strip of a lock that it has strips in.
func (l *Ledger) datumStrip(c *Course, s Strip) {
	if c.Verdict == model.In {
		for _, p := range c.Proofs {
			l.datumStrip(&p.Course, s)
		}
		return
	}
	p := c.In(s.Lock)
	if p == nil || c.Decided() {
		return
	}
	if p.usable && c.Looks > 0 {
		c.Further++
	}
	l.look(c, p, s.Index)
}

// In is the part of a course under a lock; nil: none.
func (c *Course) In(lock string) *Part {
	for _, p := range c.Parts {
		if p.Lock == lock {
			return p
		}
	}
	return nil
}

// Carrier is the datum strips of a lock, and the offset that the blade that cut them
// has on record. Of reference and stand-ins the one with more strips is taken.
func (l *Ledger) Carrier(page *Page, compared Outfit) (*Group, Estimate, bool) {
	var best *Group
	var offset Estimate
	for _, g := range page.datum {
		on, known := l.Offset(g.Outfit)
		if !known || g.Outfit == compared || !g.Strips[0].Present {
			continue
		}
		if best == nil || len(g.Strips) > len(best.Strips) {
			best, offset = g, on
		}
	}
	return best, offset, best != nil
}

// Offset is what an outfit is known to cut wider than the datum: nothing for the one
// that defines it, else what its verdict of in says. A blade that was compared with a
// stand-in can't stand in itself, unless it is the reference, sharpened.
func (l *Ledger) Offset(o Outfit) (Estimate, bool) {
	if o == l.Datum {
		return Estimate{}, true
	}
	c := l.courses[o]
	if c == nil || c.Verdict != model.In || c.Carrier.Blade != l.Datum.Blade && o.Blade != l.Datum.Blade {
		return Estimate{}, false
	}
	return c.Estimate, true
}

// look compares and decides, where enough strips are there.
func (l *Ledger) look(c *Course, p *Part, index int) {
	datum, _, ok := l.Carrier(p.page, c.Outfit)
	if !ok {
		return
	}
	if c.Looks == 0 && !l.first(c, p, datum) {
		return
	}
	e, ok := l.estimate(c)
	if !ok {
		return
	}
	c.Estimate, c.At = e, index
	c.Looks++
	if c.Verdict = metrology.Decide(-e.Value, e.U, l.tolerance); c.proof && c.Verdict == model.Out {
		l.touched = append(l.touched, p.page) // it tells no more of mounting again
	}
}

// first takes how strips repeat, where there are enough for the first look.
func (l *Ledger) first(c *Course, p *Part, datum *Group) bool {
	spread := l.spread(datum, p.group)
	var seat Scatter
	if l.again >= SeatFreedom {
		seat = l.seatBefore(c.Outfit, p.Lock)
	}
	switch {
	case c.proof && spread.Pool.Freedom >= proofFreedom:
		spread.Own = Scatter{}
	case c.proof:
		if len(p.strips) < EnoughBladeStrips || len(datum.Strips) < EnoughBladeStrips {
			return false
		}
	case len(p.strips) < EnoughBladeStrips || len(datum.Strips) < EnoughDatumStrips:
		return false
	}
	c.Spread, c.Seat = spread, nothing
	if seat.Freedom >= SeatFreedom {
		c.Seat = seat.times(1)
	}
	c.Parts = []*Part{p} // what stood alone under an older lock is history
	c.Strips = p.strips[:len(p.strips):len(p.strips)]
	return true
}

// Glance is what the strips of a course say, however few they are, by the last of its locks
// that has datum strips; false where none has.
func (l *Ledger) Glance(c *Course) (Difference, bool) {
	for _, p := range slices.Backward(c.Parts) {
		if datum, carried, ok := l.Carrier(p.page, c.Outfit); ok {
			if d, ok := differ(p.strips, datum.Strips); ok {
				d.Value += float64(carried.Value)
				return d, true
			}
		}
	}
	return Difference{}, false
}

// estimate is the offset by all strips of a course: the mean over its locks, each by
// what its strips are worth.
func (l *Ledger) estimate(c *Course) (Estimate, bool) {
	var out Estimate
	var worth, value float64
	var more []metrology.Contribution
	carried := nothing
	least := EnoughDatumStrips
	if c.proof {
		least = 1
	}
	for _, p := range c.Parts {
		datum, offset, ok := l.Carrier(p.page, c.Outfit)
		if !ok || len(datum.Strips) < least {
			continue
		}
		d, ok := differ(p.strips, datum.Strips)
		if !ok {
			continue
		}
		p.usable = true
		worth += 1 / d.share
		value += (d.Value + float64(offset.Value)) / d.share
		out.Own, out.Datum, out.Carrier = out.Own+d.blade, out.Datum+d.Datum, datum.Outfit
		if d.zeroed {
			out.Zeroed, more = true, append(more, d.zero)
		}
		if u := offset.Uncertainty; u.Standard > carried.Standard {
			carried = metrology.Contribution{Standard: u.Standard, Freedom: u.Freedom}
		}
	}
	if worth == 0 {
		return Estimate{}, false
	}
	u, err := stripUncertainty(c.Spread.Taken().times(1/worth), l.resolution, append(more, carried, c.Seat)...)
	if err != nil || u.Expanded > float64(model.MaxLength) {
		return Estimate{}, false
	}
	out.Value, out.Uncertainty = metrology.Rounded(value/worth), u
	out.U = model.Length(math.Ceil(u.Expanded))
	return out, true
}
