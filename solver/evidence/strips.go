// Package evidence is what ripped strips say: how rips repeat, where each blade cuts against the
// datum of its lock, when a look decides, what mounting again does, and what is taught of rings.
package evidence

import (
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// Purpose is what a strip was ripped for.
type Purpose uint8

// To define the datum under its lock, to compare a blade, to see at the end of a
// round that the lock held.
const (
	ForDatum Purpose = iota
	ForBlade
	ForClosing
)

// Outfit is a blade with one stack behind it, between two sharpenings: what has one
// place of its cut face.
type Outfit struct {
	Blade string
	Stack string // rings, flange first, as one text
	Life  int    // how often the blade was sharpened or came back before
}

// Strip is one strip as the statistics take it: widths, or differences from the datum
// strips that the caliper was zeroed on.
type Strip struct {
	Index    int // its place among the records: later strips have greater ones
	Lock     string
	Mounting string
	Outfit
	For         Purpose
	Round       bool // ForBlade: more blades are compared under its lock
	Widths      []model.Length
	Differences []model.Length
	Zeroed      []int // index of a datum strip for each difference, where it was zeroed anew
	Present     bool  // ripped under the present datum

	value float64 // reading, once taken in
}

// reading is a strip as one number: its mean width, or its mean difference.
func (s Strip) reading() float64 {
	of := s.Widths
	if len(of) == 0 {
		of = s.Differences
	}
	x := make([]float64, 0, 8)
	for _, l := range of {
		x = append(x, float64(l-of[0]))
	}
	return float64(of[0]) + stat.Mean(x, nil)
}

// within is how single readings of a strip scatter.
func (s Strip) within() Scatter {
	x := make([]float64, len(s.Widths))
	for i, l := range s.Widths {
		x[i] = float64(l - s.Widths[0])
	}
	return scatterOf(x)
}

// Difference is a blade's strips under one lock less the datum's.
type Difference struct {
	Value  float64                // nanometres
	share  float64                // of the variance of one strip: 1/m of the blade and 1/m of the datum
	blade  int                    // strips of the blade in it
	Datum  float64                // and of the datum; where differences were not zeroed evenly, what they are worth
	widths bool                   // further datum strips make datum larger
	zeroed bool                   // the caliper was zeroed once for several readings
	zero   metrology.Contribution // what that one reading adds
}

// Strips is how many strips of the blade are in a difference.
func (d Difference) Strips() int { return d.blade }

// zeroing is what one zeroing for several readings adds.
func (d Difference) zeroing() []metrology.Contribution {
	if !d.zeroed {
		return nil
	}
	return []metrology.Contribution{d.zero}
}

// differ compares strips with datum strips of the same lock; false where nothing can
// be compared. Differences whose datum strip is gone do not count.
func differ(blade, datum []Strip) (Difference, bool) {
	if len(datum) == 0 {
		return Difference{}, false
	}
	mean := 0.0
	for _, d := range datum {
		mean += d.value / float64(len(datum))
	}
	place := func(index int) int {
		return slices.IndexFunc(datum, func(d Strip) bool { return d.Index == index })
	}
	var out Difference
	values := make([]float64, 0, len(blade))
	weights, single := make([]float64, len(datum)), 0.0
	for _, b := range blade {
		switch {
		case len(b.Widths) > 0:
			values = append(values, b.value-mean)
			for i := range weights {
				weights[i] += 1 / float64(len(datum))
			}
			out.widths = true
		case len(b.Zeroed) != len(b.Differences):
			values, out.zeroed = append(values, b.value), true
			single++
		default:
			var kept []model.Length
			for j, l := range b.Differences {
				if place(b.Zeroed[j]) >= 0 {
					kept = append(kept, l)
				}
			}
			if len(kept) == 0 {
				continue
			}
			values = append(values, Strip{Differences: kept}.reading())
			for _, z := range b.Zeroed {
				if i := place(z); i >= 0 {
					weights[i] += 1 / float64(len(kept))
				}
			}
		}
	}
	out.blade = len(values)
	if out.blade == 0 {
		return Difference{}, false
	}
	n := float64(out.blade)
	square := single * single / n / n
	for _, w := range weights {
		square += w * w / n / n
	}
	out.Value, out.share, out.Datum = stat.Mean(values, nil), 1/n+square, 1/square
	if out.zeroed {
		// A zeroing is one reading: it scatters by what single readings of a strip do, too.
		var within Scatter
		for _, d := range datum {
			within = within.with(d.within())
		}
		out.zero = within.times(single * single / n / n)
	}
	return out, true
}

// Group is the strips of one outfit under one lock, in the order in which they were
// ripped.
type Group struct {
	groupKey
	Strips    []Strip
	Values    []float64 // as widths, all from one zero
	again     bool      // in more than one mounting
	scattered Scatter
}

type groupKey struct {
	Outfit
	Lock    string
	Closing bool
}

// add takes in a strip, as a width. Rips repeat as long as nothing is touched, so each
// mounting scatters about its own mean.
func (g *Group) add(s Strip, width float64) {
	g.Strips, g.Values = append(g.Strips, s), append(g.Values, width)
	g.again = g.again || s.Mounting != g.Strips[0].Mounting
	if !g.again {
		g.scattered = scatterOf(g.Values)
		return
	}
	byMounting := map[string][]float64{}
	for i, s := range g.Strips {
		byMounting[s.Mounting] = append(byMounting[s.Mounting], g.Values[i])
	}
	g.scattered = Scatter{}
	for _, id := range slices.Sorted(maps.Keys(byMounting)) {
		g.scattered = g.scattered.with(scatterOf(byMounting[id]))
	}
}

func (g *Group) scatter() Scatter { return g.scattered }

// Ledger is strips taken in one after the other.
type Ledger struct {
	resolution, tolerance model.Length
	Datum                 Outfit // what defines the present datum, without an offset
	Locks                 map[string]*Page
	Pages                 []*Page
	groups                map[groupKey]*Group
	ByAge                 []*Group // as they began
	courses               map[Outfit]*Course
	Order                 []*Course
	known                 map[Outfit]bool
	again                 int // times that an outfit was mounted again, at the most
	seats                 map[SeatKey]*seatSet
	seatOrder             []SeatKey
	seated                seatSum // all sets together
	touched               []*Page // since the sets were worked out
}

// Page is what was ripped under one fence lock.
type Page struct {
	datum    []*Group // of reference and stand-ins
	Blades   []*Group
	closing  []*Group
	compared int  // index of the last strip that compared a blade
	several  bool // more blades are compared under it than one, or will be
	rounds   []Closing
	seats    []Seating // as they stand in the sets
}

// widthOf is a strip on the scale of its lock, so that strips of one group compare.
func (p *Page) widthOf(s Strip) float64 {
	if len(s.Widths) > 0 {
		return s.value
	}
	on, all := []float64(nil), []float64(nil)
	for _, g := range p.datum {
		for _, d := range g.Strips {
			all = append(all, d.value)
			if slices.Contains(s.Zeroed, d.Index) {
				on = append(on, d.value)
			}
		}
	}
	if len(on) == 0 {
		on = all
	}
	return s.value + stat.Mean(on, nil)
}

// History yields how the strips of groups repeat, those that began last first, but of
// the groups of a comparison itself.
func (l *Ledger) History(own ...*Group) func(func(Scatter) bool) {
	return func(yield func(Scatter) bool) {
		for _, g := range slices.Backward(l.ByAge) {
			if !slices.Contains(own, g) && !yield(g.scatter()) {
				return
			}
		}
	}
}

// spread is how strips repeat for a comparison of groups.
func (l *Ledger) spread(own ...*Group) Spread {
	var scatters []Scatter
	for _, g := range own {
		scatters = append(scatters, g.scatter())
	}
	return SpreadOf(scatters, l.History(own...))
}

// nothing is a contribution that adds nothing.
var nothing = metrology.Contribution{Freedom: math.Inf(1)}
