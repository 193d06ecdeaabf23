package solver

import (
	"math"
	"slices"

	"example.com/sawdatum/model"
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
	Seat    Contribution // of mounting again, where enough is known of it
	Estimate
	Verdict model.Verdict // doubtful until decided
	At      int           // Index of the strip that decided, or of the last one looked at; -1: no look yet
	Proofs  []*Proofing

	parts []*part
	proof bool
}

// Estimate is an offset by strips, positive for a wider part than the datum's, and
// its uncertainty. Value and U are in whole nanometres.
type Estimate struct {
	Value       model.Length
	U           model.Length
	Uncertainty Uncertainty
	Own         int     // strips of the blade in it
	Datum       float64 // strips of the datum
	Carrier     Outfit  // what cut the datum strips
	Zeroed      bool    // the caliper was zeroed once for several readings
}

// part is what a course has under one lock.
type part struct {
	page   *lockPage
	lock   string
	group  *group
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

// decided reports whether no further strip is looked at.
func (c *Course) decided() bool { return c.Verdict != model.Doubtful || c.UsedUp() }

// LedgerOf takes strips in one after the other, oldest first. datum is the outfit of the
// reference that defines the present datum; resolution is the caliper's.
func LedgerOf(strips []Strip, datum Outfit, tolerance, resolution model.Length) *Ledger {
	l := &Ledger{
		resolution: resolution, tolerance: tolerance, datum: datum,
		locks: map[string]*lockPage{}, groups: map[groupKey]*group{}, courses: map[Outfit]*Course{}, known: map[Outfit]bool{}, seats: map[seatKey]*seatSet{},
	}
	for _, s := range strips {
		l.Take(s)
	}
	return l
}

// Course is how an outfit stands; nil where no strip of it counts.
func (l *Ledger) Course(o Outfit) *Course { return l.courses[o] }

// Take takes in one strip more, later than those before. A strip without readings is
// none.
func (l *Ledger) Take(s Strip) {
	if len(s.Widths) == 0 && len(s.Differences) == 0 {
		return
	}
	s.value = s.reading()
	page := l.locks[s.Lock]
	if page == nil {
		page = &lockPage{}
		l.locks[s.Lock], l.pages = page, append(l.pages, page)
	}
	key := groupKey{s.Outfit, s.Lock, s.For == ForClosing}
	g := l.groups[key]
	if g == nil {
		g = &group{groupKey: key, began: s.Index}
		l.groups[key], l.byAge = g, append(l.byAge, g)
		if l.known[s.Outfit] {
			l.again++
		}
		l.known[s.Outfit] = true
		switch s.For {
		case ForDatum:
			page.datum = append(page.datum, g)
		case ForBlade:
			page.blades = append(page.blades, g)
		default:
			page.closing = append(page.closing, g)
		}
	}
	if n := len(g.strips); n > 0 && g.strips[n-1].Mounting != s.Mounting {
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
		for _, c := range l.order {
			l.datumStrip(c, s)
		}
	case ForBlade:
		page.compared = s.Index
		l.bladeStrip(page, g, s)
	case ForClosing:
		l.closingStrip(page, g, s)
	}
}

// bladeStrip looks at a blade anew for a strip of its own.
func (l *Ledger) bladeStrip(page *lockPage, g *group, s Strip) {
	c := l.courses[s.Outfit]
	if c == nil {
		c = &Course{Outfit: s.Outfit, Verdict: model.Doubtful, At: -1}
		l.courses[s.Outfit], l.order = c, append(l.order, c)
	}
	if c.Verdict == model.In {
		i := slices.IndexFunc(c.Proofs, func(p *Proofing) bool { return p.Lock == s.Lock && p.Mounting == s.Mounting })
		if i < 0 {
			i = len(c.Proofs)
			c.Proofs = append(c.Proofs, &Proofing{s.Lock, s.Mounting, Course{Outfit: s.Outfit, Verdict: model.Doubtful, At: -1, proof: true}})
		}
		c = &c.Proofs[i].Course
	}
	if c.decided() {
		return
	}
	p := c.in(s.Lock)
	if p == nil {
		p = &part{page: page, lock: s.Lock, group: g}
		c.parts = append(c.parts, p)
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
	p := c.in(s.Lock)
	if p == nil || c.decided() {
		return
	}
	if p.usable && c.Looks > 0 {
		c.Further++
	}
	l.look(c, p, s.Index)
}

func (c *Course) in(lock string) *part {
	for _, p := range c.parts {
		if p.lock == lock {
			return p
		}
	}
	return nil
}

// carrier is the datum strips of a lock, and the offset that the blade that cut them
// has on record. Of reference and stand-ins the one with more strips is taken.
func (l *Ledger) carrier(page *lockPage, compared Outfit) (*group, Estimate, bool) {
	var best *group
	var offset Estimate
	for _, g := range page.datum {
		on, known := l.offset(g.Outfit)
		if !known || g.Outfit == compared || !g.strips[0].Present {
			continue
		}
		if best == nil || len(g.strips) > len(best.strips) {
			best, offset = g, on
		}
	}
	return best, offset, best != nil
}

// offset is what an outfit is known to cut wider than the datum: nothing for the one
// that defines it, else what its verdict of in says. A blade that was compared with a
// stand-in can't stand in itself, unless it is the reference, sharpened.
func (l *Ledger) offset(o Outfit) (Estimate, bool) {
	if o == l.datum {
		return Estimate{}, true
	}
	c := l.courses[o]
	if c == nil || c.Verdict != model.In || c.Carrier.Blade != l.datum.Blade && o.Blade != l.datum.Blade {
		return Estimate{}, false
	}
	return c.Estimate, true
}

// look compares and decides, where enough strips are there.
func (l *Ledger) look(c *Course, p *part, index int) {
	datum, _, ok := l.carrier(p.page, c.Outfit)
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
	c.Verdict = Decide(-e.Value, e.U, l.tolerance)
}

// first takes how strips repeat, where there are enough for the first look.
func (l *Ledger) first(c *Course, p *part, datum *group) bool {
	spread := l.spread(datum, p.group)
	var seat Scatter
	if l.again >= seatFreedom {
		seat = l.seat()
	}
	switch {
	case c.proof && spread.Pool.Freedom >= proofFreedom:
		spread.Own = Scatter{}
	case c.proof:
		if len(p.strips) < EnoughBladeStrips || len(datum.strips) < EnoughBladeStrips {
			return false
		}
	case len(p.strips) < EnoughBladeStrips || len(datum.strips) < EnoughDatumStrips:
		return false
	}
	c.Spread, c.Seat = spread, nothing
	if seat.Freedom >= seatFreedom {
		c.Seat = seat.times(1)
	}
	c.parts = []*part{p} // what stood alone under an older lock is history
	c.Strips = p.strips[:len(p.strips):len(p.strips)]
	return true
}

// glance is what the strips of a course say by its last lock, however few they are; false
// where no datum strip is there.
func (l *Ledger) glance(c *Course) (difference, bool) {
	if len(c.parts) == 0 {
		return difference{}, false
	}
	p := c.parts[len(c.parts)-1]
	datum, carried, ok := l.carrier(p.page, c.Outfit)
	if !ok {
		return difference{}, false
	}
	d, ok := differ(p.strips, datum.strips)
	d.value += float64(carried.Value)
	return d, ok
}

// estimate is the offset by all strips of a course: the mean over its locks, each by
// what its strips are worth.
func (l *Ledger) estimate(c *Course) (Estimate, bool) {
	var out Estimate
	var worth, value float64
	var more []Contribution
	carried := nothing
	least := EnoughDatumStrips
	if c.proof {
		least = 1
	}
	for _, p := range c.parts {
		datum, offset, ok := l.carrier(p.page, c.Outfit)
		if !ok || len(datum.strips) < least {
			continue
		}
		d, ok := differ(p.strips, datum.strips)
		if !ok {
			continue
		}
		p.usable = true
		worth += 1 / d.share
		value += (d.value + float64(offset.Value)) / d.share
		out.Own, out.Datum, out.Carrier = out.Own+d.blade, out.Datum+d.datum, datum.Outfit
		if d.zeroed {
			out.Zeroed, more = true, append(more, d.zero)
		}
		if u := offset.Uncertainty; u.Standard > carried.Standard {
			carried = Contribution{u.Standard, u.Freedom}
		}
	}
	if worth == 0 {
		return Estimate{}, false
	}
	u, err := stripUncertainty(c.Spread.Taken().times(1/worth), l.resolution, append(more, carried, c.Seat)...)
	if err != nil || u.Expanded > float64(model.MaxLength) {
		return Estimate{}, false
	}
	out.Value, out.Uncertainty = rounded(value/worth), u
	out.U = model.Length(math.Ceil(u.Expanded))
	return out, true
}
