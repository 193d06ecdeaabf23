package solver

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.com/sawdatum/model"
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

// Advice is which rings to buy. Buy is empty where nothing has to be bought, and
// where even two rings do not bring every blade in (Enough false); then Rack is what
// the two that help most would do.
type Advice struct {
	Buy     []model.Length // thinner first
	Enough  bool
	Rack    RackFit
	Reasons []model.Reason
}

// Advise looks for the one ring, else the two, of a series that bring every blade in:
// fewest bought, then the smallest worst residual, then the fewest rings on the arbor,
// then the thinner. The standing stack stays as it is, so that the datum and the knife
// stay too. What Kit.On refuses is an error.
func Advise(kit []Piece, needs []Need, standing, highest model.Length, flange model.Flange, series []model.Length, w Words) (Advice, error) {
	try := func(buy ...model.Length) (Advice, error) {
		pieces := append([]Piece(nil), kit...)
		for _, b := range buy {
			pieces = append(pieces, Piece{ID: "new " + b.Of(w.Unit).String(), Height: b})
		}
		k, err := NewKit(pieces)
		if err != nil {
			return Advice{}, err
		}
		rack, err := k.On(standing, highest, needs, flange)
		return Advice{Buy: buy, Enough: rack.Cannot == 0, Rack: rack}, err
	}
	best, err := try()
	if err != nil || best.Enough {
		return best, err
	}
	for rings := 1; rings <= 2 && !best.Enough; rings++ {
		for _, buy := range choicesOf(series, rings) {
			a, err := try(buy...)
			if err != nil {
				return Advice{}, err
			}
			if a.better(best) {
				best = a
			}
		}
	}
	return best.worded(needs, w), nil
}

// AdviseRack is Advise for a profile and the plan made of it, with the series of the
// shop's unit. Blades whose plate and kerf were not both read are left out.
func AdviseRack(p model.Profile, plan model.Plan) (Advice, error) {
	kit, _ := KitOf(p)
	state, series := model.Fold(p), MetricSeries
	if p.Units == model.IN {
		series = InchSeries
	}
	reference, err := Mean(model.Lengths(state.Blades[plan.Reference].Plate))
	if err != nil {
		return Advice{}, errors.New("the reference blade's plate has not been read: nothing can be advised yet")
	}
	highest := func(plate model.Length) model.Length {
		if p.Saw.SpareThread.Unit == model.NoUnit || p.Saw.ThreadPitch.Unit == model.NoUnit {
			return math.MaxInt64
		}
		return ThreadLimit(p.Saw.SpareThread.Length, p.Saw.ThreadPitch.Length, reference, plate)
	}
	var needs []Need
	for _, row := range plan.Blades {
		b := state.Blades[row.ID]
		plate, err := Mean(model.Lengths(b.Plate))
		if err != nil || len(b.Kerf) == 0 || row.ID == plan.Reference {
			continue
		}
		needs = append(needs, Need{ID: p.BladeName(row.ID), Height: row.Want - plan.StandingHeight, Zone: Both(max(p.Tolerance.Length-row.Expanded, 0)), Highest: highest(plate)})
	}
	return Advise(kit.pieces, needs, plan.StandingHeight, highest(reference), p.Saw.Flange, series, WordsOf(p))
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

// better orders advice of the same size, and any that is enough before any that is
// not.
func (a Advice) better(b Advice) bool {
	switch {
	case a.Enough != b.Enough:
		return a.Enough
	case !a.Enough:
		return a.Rack.Less(b.Rack.Score)
	case a.Rack.Worst != b.Rack.Worst:
		return a.Rack.Worst < b.Rack.Worst
	}
	return a.Rack.Rings < b.Rack.Rings
}

func (a Advice) worded(needs []Need, w Words) Advice {
	var names []string
	for _, b := range a.Buy {
		names = append(names, b.Of(w.Unit).String())
	}
	rings := strings.Join(names, " and one of ")
	if a.Enough {
		a.Reasons = one("buy", model.Explains, "one more ring of %s brings every blade in, the worst %s off; measure what you buy and type it in", rings, w.figure(a.Rack.Worst))
		return a
	}
	var short []string
	for i, f := range a.Rack.Blades {
		if f.Verdict == model.Cannot {
			short = append(short, fmt.Sprintf("the %s misses by %s", needs[i].ID, w.figure(f.Excess())))
		}
	}
	text := "neither one ring nor two of the series bring every blade in"
	if rings != "" {
		text += "; the nearest are one of " + rings + ", and even then " + strings.Join(short, ", ")
	} else {
		text += ", and none helps: " + strings.Join(short, ", ")
	}
	a.Buy, a.Reasons = nil, one("buy-cannot", model.Warns, "%s; a lower uncertainty, another standing stack or another reference may help", text)
	return a
}
