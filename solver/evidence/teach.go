package evidence

import (
	"errors"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/solver/stacking"
)

// Lesson is what the strips of one outfit under one lock say: by how much it cuts wider
// than what cut the datum strips there, in nanometres.
type Lesson struct {
	Blade, Datum  string   // ids
	Stack, Behind []string // rings of either, flange first
	Lock          string
	Value         float64
	Own, DatumOwn metrology.Contribution // what is not known of either mean
}

// Taught is what is known of every blade and ring of a rack after what was cut: where
// each blade cuts without rings, by its bench readings, and how far each ring is off what
// stands on file, corrected by linear least squares. Positions are from the flange face,
// + = toward the fence, in nanometres.
type Taught struct {
	profile model.Profile
	flange  model.Flange
	rings   map[string]model.Ring
	at      map[string]int
	priors  []float64 // variances
	means   []float64
	after   *mat.VecDense
	spread  *mat.SymDense
}

// term is one unknown with its factor in a position.
type term struct {
	at             int // in the fit; fresh: in none, and known by mean and variance alone
	factor         float64
	mean, variance float64
}

const fresh = -1

// Teach fits lessons. blades says of each blade what the bench says; one that is not
// there can't be predicted, and its lessons are left out.
func Teach(p model.Profile, blades map[string]stacking.Bare, lessons []Lesson) (*Taught, error) {
	t := &Taught{profile: p, flange: p.Saw.Flange, rings: map[string]model.Ring{}, at: map[string]int{}}
	for _, r := range p.Rings {
		t.rings[r.ID] = r
		for k := range min(r.Count, model.MaxRingKit) {
			t.add(ringName(r.ID, k), float64(r.Height()), math.Pow(t.ringError(r).Standard, 2))
		}
	}
	for _, id := range slices.Sorted(maps.Keys(blades)) {
		b := blades[id]
		t.add("blade "+id, b.At, b.Variance())
	}
	byLock, locks := map[string][]taking{}, []string(nil)
	for _, l := range lessons {
		datum, known := t.position(l.Datum, l.Behind, true)
		row, also := t.position(l.Blade, l.Stack, true)
		if !known || !also {
			continue
		}
		for i := range row {
			row[i].factor = -row[i].factor
		}
		lock := l.Lock + " " + l.Datum
		if byLock[lock] == nil {
			locks = append(locks, lock)
		}
		byLock[lock] = append(byLock[lock], taking{l, append(datum, row...)})
	}
	n := len(t.means)
	t.after, t.spread = mat.NewVecDense(max(n, 1), slices.Concat(t.means, make([]float64, max(1-n, 0)))), mat.NewSymDense(max(n, 1), nil)
	for i, v := range t.priors {
		t.spread.SetSym(i, i, v)
	}
	for _, lock := range locks {
		for _, l := range byLock[lock] {
			t.excuse(l)
		}
	}
	for _, lock := range locks {
		if err := t.take(byLock[lock]); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// taking is a lesson with the unknowns that it is about.
type taking struct {
	Lesson
	row []term
}

func (t *Taught) add(unknown string, mean, variance float64) int {
	t.at[unknown] = len(t.means)
	t.means, t.priors = append(t.means, mean), append(t.priors, variance)
	return t.at[unknown]
}

func ringName(id string, k int) string { return "ring " + id + " " + strconv.Itoa(k) }

// excuse takes a blade's bench readings for as wrong as one of its lessons says, where that
// is off by more than both expanded uncertainties together: a mistyped kerf or dust under
// one blade must not move what is expected of the others.
func (t *Taught) excuse(l taking) {
	miss, bench := l.Value, 0.0
	for _, x := range l.row {
		miss -= x.factor * t.means[x.at]
		bench += x.factor * x.factor * t.priors[x.at]
	}
	if math.Abs(miss) <= 2*(math.Sqrt(bench)+math.Hypot(l.Own.Standard, l.DatumOwn.Standard)) {
		return
	}
	at := t.at["blade "+l.Blade]
	t.spread.SetSym(at, at, max(t.spread.At(at, at), miss*miss))
}

// position is a blade's cut face with rings, as unknowns, with those that are new taken
// in; false where blade or ring is not on file. Of a sort of several rings nobody knows
// which one is on, so that only all of them together are the same again.
func (t *Taught) position(blade string, stack []string, add bool) ([]term, bool) {
	at, known := t.at["blade "+blade]
	if !known {
		return nil, false
	}
	out := []term{{at: at, factor: 1}}
	sign := 1.0
	if t.flange == model.Near {
		sign = -1
	}
	used := map[string]int{}
	for _, id := range stack {
		used[id]++
	}
	for _, id := range slices.Sorted(maps.Keys(used)) {
		n := used[id]
		r, known := t.rings[id]
		if !known {
			return nil, false
		}
		variance := math.Pow(t.ringError(r).Standard, 2)
		for k := range n {
			unknown := ringName(id, k)
			if n < r.Count {
				unknown += " of " + blade + " " + stackText(stack)
			}
			at, there := t.at[unknown]
			switch {
			case !there && add:
				at = t.add(unknown, float64(r.Height()), variance)
			case !there:
				at = fresh
			}
			out = append(out, term{at, sign, float64(r.Height()), variance})
		}
	}
	return out, true
}

// ringError is what is not known of a ring's thickness.
func (t *Taught) ringError(r model.Ring) metrology.Contribution { return stacking.Ring(t.profile, r) }

// take corrects what is known by the lessons of one lock, whose datum strips have one error
// in common. With P what is known, H the rows and R the noise, the gain is
// P H' (H P H' + R)^-1; lock after lock it comes to the least squares of all.
func (t *Taught) take(lessons []taking) error {
	n, m := len(t.means), len(lessons)
	along, left := mat.NewDense(n, m, nil), mat.NewVecDense(m, nil)
	for k, l := range lessons {
		miss := l.Value
		for _, x := range l.row {
			miss -= x.factor * t.after.AtVec(x.at)
			for i := range n {
				along.Set(i, k, along.At(i, k)+x.factor*t.spread.At(i, x.at))
			}
		}
		left.SetVec(k, miss)
	}
	inner := mat.NewSymDense(m, nil)
	for k, l := range lessons {
		for j := k; j < m; j++ {
			v := l.DatumOwn.Standard * lessons[j].DatumOwn.Standard
			for _, x := range l.row {
				v += x.factor * along.At(x.at, j)
			}
			inner.SetSym(k, j, v)
		}
		// A square nanometre keeps what is known without a doubt apart.
		inner.SetSym(k, k, inner.At(k, k)+max(math.Pow(l.Own.Standard, 2), 1))
	}
	var factor mat.Cholesky
	if !factor.Factorize(inner) {
		return errors.New("the strips do not fit together: read them through")
	}
	var weights, step mat.VecDense
	if err := factor.SolveVecTo(&weights, left); err != nil {
		return err
	}
	step.MulVec(along, &weights)
	t.after.AddVec(t.after, &step)
	var part, less mat.Dense
	if err := factor.SolveTo(&part, along.T()); err != nil {
		return err
	}
	less.Mul(along, &part)
	for i := range n {
		for j := i; j < n; j++ {
			t.spread.SetSym(i, j, t.spread.At(i, j)-(less.At(i, j)+less.At(j, i))/2)
		}
	}
	return nil
}

// Expected is a residual to expect: nearly normal, in nanometres, + = toward the fence.
type Expected struct{ Mean, Deviation float64 }

// Expect is the residual of a blade with a stack against the reference with its own;
// false where blade or ring is not on file.
func (t *Taught) Expect(blade string, stack []string, reference string, standing []string) (Expected, bool) {
	row, ok := t.residual(blade, stack, reference, standing)
	if !ok {
		return Expected{}, false
	}
	return t.of(row), true
}

// residual is the cut face of a blade less the datum face, as unknowns.
func (t *Taught) residual(blade string, stack []string, reference string, standing []string) ([]term, bool) {
	out, ok := t.position(blade, stack, false)
	datum, also := t.position(reference, standing, false)
	for _, d := range datum {
		out = append(out, term{d.at, -d.factor, d.mean, d.variance})
	}
	return out, ok && also
}

// of is the mean and the deviation of a sum of unknowns.
func (t *Taught) of(row []term) Expected {
	var out Expected
	variance := 0.0
	for _, x := range row {
		if x.at == fresh {
			out.Mean, variance = out.Mean+x.factor*x.mean, variance+x.factor*x.factor*x.variance
			continue
		}
		out.Mean += x.factor * t.after.AtVec(x.at)
		for _, y := range row {
			if y.at != fresh {
				variance += x.factor * y.factor * t.spread.At(x.at, y.at)
			}
		}
	}
	out.Deviation = math.Sqrt(max(variance, 0))
	return out
}

// Within is the chance that the residual lies within a distance of the datum.
func (e Expected) Within(distance float64) float64 {
	if distance < 0 {
		return 0
	}
	if e.Deviation == 0 {
		if math.Abs(e.Mean) <= distance {
			return 1
		}
		return 0
	}
	n := distuv.Normal{Mu: e.Mean, Sigma: e.Deviation}
	return n.CDF(distance) - n.CDF(-distance)
}

// stackText is a stack as one text, by which stacks are told apart: in the order in which
// the rings go on.
func stackText(rings []string) string { return strings.Join(rings, " ") }

// Lessons is what the strips taken in so far teach under the present datum, of the outfits that the
// bench knows: called is the name by which it does, false where it does not.
func (l *Ledger) Lessons(called func(Outfit) (name string, known bool)) []Lesson {
	strips := SpreadOf(nil, l.History()).Pool
	step := metrology.Resolution(float64(l.resolution)).Standard
	with := func(share float64) metrology.Contribution {
		return metrology.Contribution{Standard: math.Sqrt(strips.Variance*share + step*step)}
	}
	var out []Lesson
	for _, page := range l.Pages {
		for _, g := range page.Blades {
			datum, _, ok := l.Carrier(page, g.Outfit)
			if !ok || !g.Strips[0].Present {
				continue
			}
			blade, known := called(g.Outfit)
			reference, also := called(datum.Outfit)
			if !known || !also {
				continue
			}
			if d, ok := differ(g.Strips, datum.Strips); ok {
				own := 1 / float64(d.blade)
				out = append(out, Lesson{Blade: blade, Datum: reference, Stack: strings.Fields(g.Stack), Behind: strings.Fields(datum.Stack),
					Lock: g.Lock, Value: d.Value, Own: with(own), DatumOwn: with(d.share - own)})
			}
		}
	}
	return out
}

// Spread is how strips repeat as a first look would take it now, with two strips of a
// blade and three of the reference under one lock, by what was cut before.
func (l *Ledger) Spread() Scatter { return SpreadOf(nil, l.History()).Pool }
