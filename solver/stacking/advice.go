package stacking

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
)

// MetricSeries and InchSeries are the thicknesses that rings are sold in: metric 0.10
// 0.20 0.30 0.50 1.00 mm of DIN 988, the rest from memory; inch common practice.
var (
	MetricSeries = []model.Length{100_000, 150_000, 200_000, 250_000, 300_000, 500_000, 1_000_000}
	InchSeries   = []model.Length{
		2 * model.Thou, 3 * model.Thou, 4 * model.Thou, 5 * model.Thou, 6 * model.Thou, 7 * model.Thou, 8 * model.Thou, 9 * model.Thou, 10 * model.Thou,
		12 * model.Thou, 15 * model.Thou, 20 * model.Thou, 25 * model.Thou,
	}
)

// firstPassing is how many kits that pass are looked at for the best of them.
const firstPassing = 8

// Asking is what rings are sought for: the needs of the blades that may run.
type Asking struct {
	Kit      []Piece
	Needs    []Need
	Standing model.Length // the stack behind the reference
	Free     bool         // nothing was cut at this datum, so that it may be another
	Highest  model.Length // of the standing stack
	Flange   model.Flange
	Series   []model.Length
	Variance float64 // of a ring as bought, in square nanometres
}

// Advice is which rings to buy. Buy is empty where nothing has to be bought, and
// where even two rings do not bring every blade in (Enough false); then Rack is what
// the kit does as it is.
type Advice struct {
	Buy     []model.Length // thinner first
	Enough  bool
	Rack    RackFit
	Reasons []model.Reason
}

// Advise looks for the one ring, else the two, of a series that bring every blade in:
// fewest bought, then, of the first eight kits that pass in the order of the series,
// those that do it whatever a ring as bought turns out to be, then the smallest worst
// residual, the fewest rings on the arbor, the thinner. What Kit.Rack and Kit.On refuse
// is an error.
func Advise(a Asking, w metrology.Words) (Advice, error) {
	best, err := a.with()
	if err != nil || best.Enough {
		return best, err
	}
	sieve := newSieve(a.Kit, a)
	for rings := 1; rings <= 2; rings++ {
		var passing []Advice
		for _, buy := range choicesOf(a.Series, rings) {
			if !sieve.passes(buy...) {
				continue
			}
			tried, err := a.with(buy...)
			if err != nil {
				return Advice{}, err
			}
			if tried.Enough {
				passing = append(passing, tried)
			}
			if len(passing) == firstPassing {
				break
			}
		}
		if len(passing) > 0 {
			found := slices.MinFunc(passing, func(a, b Advice) int {
				return cmp.Or(cmp.Compare(a.Rack.Unsure, b.Rack.Unsure), cmp.Compare(a.Rack.Worst, b.Rack.Worst), cmp.Compare(a.Rack.Rings, b.Rack.Rings))
			})
			return found.worded(a, w), nil
		}
	}
	return best.worded(a, w), nil
}

// with is the rack with rings bought.
func (a Asking) with(buy ...model.Length) (Advice, error) {
	pieces := append([]Piece(nil), a.Kit...)
	for _, b := range buy {
		pieces = append(pieces, Piece{ID: "new " + b.Of(model.MM).String(), Height: b, Variance: a.Variance})
	}
	k, err := NewKit(pieces)
	if err != nil {
		return Advice{}, err
	}
	var rack RackFit
	if a.Free {
		rack, err = k.Rack(a.Needs, a.Highest, a.Flange)
	} else {
		rack, err = k.On(a.Standing, a.Highest, a.Needs, a.Flange)
	}
	return Advice{Buy: buy, Enough: rack.Cannot == 0, Rack: rack}, err
}

// choicesOf lists what one or two rings of a series may be bought, two of a kind too.
func choicesOf(series []model.Length, rings int) [][]model.Length {
	var out [][]model.Length
	for i, b := range series {
		if rings == 1 {
			out = append(out, []model.Length{b})
			continue
		}
		for _, other := range series[i:] {
			out = append(out, []model.Length{b, other})
		}
	}
	return out
}

func (a Advice) worded(asked Asking, w metrology.Words) Advice {
	var names []string
	for _, b := range a.Buy {
		names = append(names, b.Of(w.Unit).String())
	}
	rings := strings.Join(names, " and one of ")
	var behind string
	if asked.Free && a.Enough && a.Rack.Standing.Height != asked.Standing {
		behind = fmt.Sprintf(", with %s behind the reference", StackWords(a.Rack.Standing.Rings, w))
	}
	switch {
	case a.Enough && a.Rack.Unsure == 0:
		a.Reasons = model.Because("buy", model.Explains, "one more ring of %s brings every blade in%s, the worst %s off; measure what you buy and type it in", rings, behind, w.Figure(a.Rack.Worst))
	case a.Enough:
		a.Reasons = model.Because("buy-may", model.Explains, "one more ring of %s may bring every blade in%s, the worst %s off by its nominal thickness: measure what you buy and type it in before you rely on it", rings, behind, w.Figure(a.Rack.Worst))
	default:
		var short []string
		for i, f := range a.Rack.Blades {
			if f.Verdict == model.Cannot {
				short = append(short, fmt.Sprintf("the %s by %s", asked.Needs[i].ID, w.Figure(f.Excess())))
			}
		}
		far := ""
		if a.Rack.Partly {
			far = " on a standing stack up to " + w.Figure(a.Rack.Looked) + " (higher ones were not looked through)"
		}
		a.Buy, a.Reasons = nil, model.Because("buy-cannot", model.Warns, "neither one ring nor two of the series bring every blade in%s; as the kit is, it misses %s: buy for one blade by its own row, read more exactly, or take another reference", far, strings.Join(short, ", "))
	}
	return a
}
