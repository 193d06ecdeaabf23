package evidence

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/stacking"
)

// What another stack has to promise before it is advised.
const (
	MostGoes      = 4                        // stacks of one blade that are cut under one datum
	nearerChance  = 0.95                     // that it lies nearer than the best one that was cut
	MeasureFirst  = 50_000 * model.Nanometre // with a smaller tolerance nominal rings are measured first
	searchedRings = 6                        // rings in a stack that is looked for
	searchedKit   = 20                       // in a larger kit, one fewer
)

// Asked is what another stack is looked for with.
type Asked struct {
	Blade, Reference string
	Standing         []string
	Tolerance        model.Length
	Limit            stacking.Zone // how far the knife lets the cut face lie to either side
	Highest          model.Length  // stack that the thread allows
	U                model.Length  // expanded, of two strips of the blade against three of the datum, as the next first look will take it
	Cut              []CutStack    // stacks that this blade, as it is now, cut with under this datum
	Spread           Scatter       // of strips, as a first look would take it
	Step             model.Length  // of the caliper
}

// CutStack is a stack that strips were cut with, and the residual that they say, + = toward the
// fence.
type CutStack struct {
	Rings    []string
	Residual model.Length
}

// Another is the stack that most likely brings a blade in, of those that no strip was cut with.
// Advised says that enough speaks for it to put it on; else Cure is what would help most.
type Another struct {
	Stack   []string // flange first; Found says that there is one
	Found   bool
	Expect  Expected
	Chance  float64 // that it will be called in
	Advised bool
	Cure    model.WayKind
	Rings   []string // that the cure is about
}

// Another looks for a stack that no strip was cut with yet. Advised is one that may be in with the
// U of two strips, lies nearer than the best one cut with a chance of 95 % and promises
// half of its residual at the most, as long as fewer than four were cut; with a tolerance
// below 0.05 mm its rings are measured.
func (t *Taught) Another(a Asked) Another {
	best := nearest(a.Cut)
	var out Another
	for _, stack := range t.stacks(a) {
		row, _ := t.residual(a.Blade, stack, a.Reference, a.Standing) // blades and rings are on file
		e := t.of(row)
		if e.Mean > float64(a.Limit.Toward) || -e.Mean > float64(a.Limit.Away) {
			continue
		}
		c := Another{Stack: stack, Found: true, Expect: e, Chance: e.Within(float64(a.Tolerance - a.U))}
		c.Advised = len(a.Cut) < MostGoes && math.Abs(e.Mean)+float64(a.U) <= float64(a.Tolerance) &&
			(a.Tolerance >= MeasureFirst || len(t.Nominal(stack)) == 0) &&
			(best == nil || math.Abs(e.Mean) <= math.Abs(float64(best.Residual))/2 && t.nearer(row, a, *best) >= nearerChance)
		if !out.Found || c.before(out) {
			out = c
		}
	}
	if !out.Advised {
		out.Cure, out.Rings = t.cure(a, out)
	}
	return out
}

// before orders candidates: advised ones first, then by their chance in whole percents,
// fewest rings, the nearest.
func (c Another) before(o Another) bool {
	if c.Advised != o.Advised {
		return c.Advised
	}
	return cmp.Or(cmp.Compare(math.Round(100*o.Chance), math.Round(100*c.Chance)), cmp.Compare(len(c.Stack), len(o.Stack)),
		cmp.Compare(math.Abs(c.Expect.Mean), math.Abs(o.Expect.Mean)), slices.Compare(c.Stack, o.Stack)) < 0
}

func nearest(cut []CutStack) *CutStack {
	var best *CutStack
	for i := range cut {
		if best == nil || cut[i].Residual.Abs() < best.Residual.Abs() {
			best = &cut[i]
		}
	}
	return best
}

// nearer is a chance that the true residual of a row is smaller than that of a stack that
// was cut: |x| < |y| where y-x and y+x have the sign of y. It is at least the two chances
// less one, however they hang together.
func (t *Taught) nearer(x []term, a Asked, cut CutStack) float64 {
	y, ok := t.residual(a.Blade, cut.Rings, a.Reference, a.Standing)
	if !ok {
		return 0
	}
	sign := math.Copysign(1, t.of(y).Mean)
	chance := -1.0
	for _, way := range []float64{-1, 1} {
		row := slices.Clone(y)
		for _, v := range x {
			row = append(row, term{v.at, way * v.factor, v.mean, v.variance})
		}
		e := t.of(row) // without a deviation it is sure; and of two that surely lie alike no number comes
		chance += distuv.UnitNormal.CDF(sign * e.Mean / e.Deviation)
	}
	return max(chance, 0)
}

// Nominal lists the rings of a stack that nobody measured.
func (t *Taught) Nominal(stack []string) []string {
	var out []string
	for _, id := range stack {
		if t.rings[id].Measured.Unit == model.NoUnit && !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}

// stacks lists the stacks of the kit, thinnest ring first, that may bring the blade near
// enough to the datum to be looked at, without those that were cut.
func (t *Taught) stacks(a Asked) [][]string {
	base, ok := t.residual(a.Blade, nil, a.Reference, a.Standing)
	if !ok {
		return nil
	}
	want := -t.of(base).Mean
	if t.flange == model.Near {
		want = -want
	}
	var rings []model.Ring
	pieces := 0
	for _, r := range t.rings {
		if r.Height() > 0 {
			rings = append(rings, r)
			pieces += r.Count
		}
	}
	slices.SortFunc(rings, func(x, y model.Ring) int { return cmp.Or(cmp.Compare(x.Height(), y.Height()), cmp.Compare(x.ID, y.ID)) })
	most, slack := searchedRings, float64(2*a.Tolerance)
	if pieces > searchedKit {
		most--
	}
	cut := map[string]bool{}
	for _, c := range a.Cut {
		cut[Canonical(c.Rings)] = true
	}
	var out [][]string
	var stack []string
	// A ring may be off by its half width, and what was learnt moves it by no more.
	loose := func(r model.Ring) float64 { return 2 * t.ringError(r).Standard }
	var look func(from int, height, off float64)
	look = func(from int, height, off float64) {
		if height > float64(a.Highest) || height-off > want+slack {
			return
		}
		if math.Abs(height-want) <= slack+off && !cut[Canonical(stack)] {
			out = append(out, slices.Clone(stack))
		}
		if len(stack) == most {
			return
		}
		for i := from; i < len(rings); i++ {
			used := 0
			for _, id := range stack {
				if id == rings[i].ID {
					used++
				}
			}
			if used == rings[i].Count {
				continue
			}
			stack = append(stack, rings[i].ID)
			look(i, height+float64(rings[i].Height()), off+loose(rings[i]))
			stack = stack[:len(stack)-1]
		}
	}
	look(0, 0, 0)
	return out
}

// Canonical is a stack by which rings are on, whatever their order.
func Canonical(rings []string) string { return stackText(slices.Sorted(slices.Values(rings))) }

// gain is what a cure takes off, nanometres.
type gain struct {
	kind  model.WayKind
	rings []string
	off   float64
}

// cure is what would help the likeliest stack most: measured rings, another ring, more
// history, a finer caliper: what takes the most off its residual, U and doubt together.
func (t *Taught) cure(a Asked, c Another) (model.WayKind, []string) {
	if !c.Found {
		return model.WayRing, nil
	}
	nominal := t.Nominal(c.Stack)
	if a.Tolerance < MeasureFirst && len(nominal) > 0 {
		return model.WayMeasure, nominal
	}
	u := func(s Scatter, q model.Length) float64 {
		v, err := stripUncertainty(s.times(1./EnoughBladeStrips+1./EnoughDatumStrips), q)
		if err != nil {
			return float64(a.U)
		}
		return v.Expanded
	}
	fewer := 0.0
	for _, id := range c.Stack {
		if slices.Contains(nominal, id) {
			fewer += math.Pow(t.ringError(t.rings[id]).Standard, 2)
		}
	}
	doubt := distuv.UnitNormal.Quantile(nearerChance)
	strips := u(a.Spread, a.Step)
	gains := []gain{
		{model.WayMeasure, nominal, doubt * (c.Expect.Deviation - math.Sqrt(max(c.Expect.Deviation*c.Expect.Deviation-fewer, 0)))},
		{model.WayRing, nil, math.Abs(c.Expect.Mean)},
		{model.WayHistory, nil, strips - u(Scatter{a.Spread.Variance, max(a.Spread.Freedom, poolFreedom)}, a.Step)},
		{model.WayCaliper, nil, strips - u(a.Spread, a.Step/10)},
		{model.WayLook, nil, float64(a.U) - strips}, // what mounting does, and what the blade that carries the datum adds
	}
	best := gains[0]
	for _, g := range gains[1:] {
		if g.off > best.off {
			best = g
		}
	}
	return best.kind, best.rings
}
