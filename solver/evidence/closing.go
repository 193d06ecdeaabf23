package evidence

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// Closing is what closing strips say: after the last comparison of a round they are ripped
// with the blade of the datum once more. Value is their mean less that of the datum strips, in
// whole nanometres; the lock held where it is within U.
type Closing struct {
	Value, U model.Length
	Strips   int
	After    int  // index of the last comparison before them
	Again    bool // U is wider than the tolerance: one more strip decides
	Held     bool
}

// closingStrip compares the strips that close a round with the datum strips. The
// first one decides, or, where its U is wider than the tolerance, the first two.
func (l *Ledger) closingStrip(page *Page, g *Group, s Strip) {
	if n := len(page.rounds); n > 0 && page.rounds[n-1].After == page.compared && !page.rounds[n-1].Again {
		return
	}
	var datum *Group
	for _, d := range page.datum {
		if d.Outfit == s.Outfit && d.Strips[0].Present {
			datum = d
		}
	}
	if datum == nil {
		return
	}
	var values []float64
	for _, c := range g.Strips {
		if c.Index > page.compared {
			values = append(values, page.widthOf(c))
		}
	}
	var scatter Scatter
	for _, other := range append(append([]*Group{}, page.datum...), page.Blades...) {
		scatter = scatter.with(other.scatter())
	}
	if scatter.Freedom == 0 {
		return
	}
	n, m := float64(len(values)), float64(len(datum.Values))
	u, err := stripUncertainty(scatter.times(1/n+1/m), l.resolution)
	if err != nil {
		return
	}
	c := Closing{
		Value: metrology.Rounded(stat.Mean(values, nil) - stat.Mean(datum.Values, nil)),
		U:     model.Length(math.Ceil(u.Expanded)), Strips: len(values), After: page.compared,
	}
	c.Again = c.U > l.tolerance && c.Strips < 2
	c.Held = !c.Again && c.Value.Abs() <= c.U
	if k := len(page.rounds); k > 0 && page.rounds[k-1].After == page.compared {
		page.rounds[k-1] = c
		return
	}
	page.rounds = append(page.rounds, c)
}

// Several reports whether the round of a lock is one of several blades: more than one was
// compared under it, or the strips of the first say that others follow.
func (p *Page) Several() bool {
	return p.several || slices.ContainsFunc(p.Blades, func(g *Group) bool { return g.Blade != p.Blades[0].Blade })
}

// Round is how the round stands that a strip of a lock belongs to.
type Round uint8

// The blade alone was compared under its lock, or the lock was seen to hold; nobody
// has looked; it did not hold.
const (
	RoundClosed Round = iota
	RoundOpen
	RoundBroken
)

// Round says whether the lock held for strips up to the one with this Index, with
// the closing that tells it, where there is one.
func (l *Ledger) Round(lock string, index int) (Round, Closing) {
	page := l.Locks[lock]
	if page == nil {
		return RoundOpen, Closing{}
	}
	for _, c := range page.rounds {
		switch {
		case c.After < index:
			continue
		case c.Held:
			return RoundClosed, c
		case !c.Again:
			return RoundBroken, c
		}
		return RoundOpen, c
	}
	if page.Several() {
		return RoundOpen, Closing{}
	}
	return RoundClosed, Closing{}
}
