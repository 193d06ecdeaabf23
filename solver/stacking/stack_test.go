package stacking

import (
	"cmp"
	"fmt"
	"iter"
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/testdata/given"

	"pgregory.net/rapid"

	"example.com/sawdatum/model"
)

func rings(heights ...float64) []Piece {
	var out []Piece
	for i, h := range heights {
		out = append(out, Piece{ID: fmt.Sprintf("r%d", i), Height: given.MM(h)})
	}
	return out
}

// Stack makes a kit ready, and finds its best stack for a goal.
func Stack(goal Goal, pieces []Piece) (Fit, error) {
	kit, err := NewKit(pieces)
	if err != nil {
		return Fit{}, err
	}
	return kit.Best(goal)
}

// The expected stacks are worked out by hand from the rules of the goal.
func TestStack(t *testing.T) {
	const noLimit = math.MaxInt64
	coarse := rings(0.10, 0.10, 0.25, 0.50)
	for _, c := range []struct {
		name                  string
		want, within, highest float64
		flange                model.Flange
		kit                   []Piece
		stack                 []float64
		verdict               model.Verdict
	}{
		{"nothing wanted, nothing taken", 0, 0, 9, model.Far, coarse, nil, model.In},
		{"within the zone without a ring", 0.02, 0.02, 9, model.Far, coarse, nil, model.In},
		{"just outside it", 0.020001, 0.02, 9, model.Far, coarse, nil, model.Cannot},
		{"exact", 0.60, 0, 9, model.Far, coarse, []float64{0.10, 0.50}, model.In},
		{"the kit cannot", 0.81, 0.02, 9, model.Far, coarse, []float64{0.10, 0.25, 0.50}, model.Cannot},
		{"the same at the edge of the zone", 0.81, 0.04, 9, model.Far, coarse, []float64{0.10, 0.25, 0.50}, model.In},
		{"fewest rings before the smallest miss", 0.46, 0.05, 9, model.Far, coarse, []float64{0.50}, model.In},
		{"then the smallest miss", 0.46, 0.20, 9, model.Far, rings(0.3, 0.44, 0.50), []float64{0.44}, model.In},
		{"far: a tie goes to the higher stack", 0.50, 0.10, 9, model.Far, rings(0.45, 0.55), []float64{0.55}, model.In},
		{"near: a tie goes to the lower stack", 0.50, 0.10, 9, model.Near, rings(0.45, 0.55), []float64{0.45}, model.In},
		{"an empty flange counts as far", 0.50, 0.10, 9, "", rings(0.45, 0.55), []float64{0.55}, model.In},
		{"cannot, far: a tie goes to the higher stack", 0.50, 0.01, 9, model.Far, rings(0.45, 0.55), []float64{0.55}, model.Cannot},
		{"cannot, near: a tie goes to the lower stack", 0.50, 0.01, 9, model.Near, rings(0.45, 0.55), []float64{0.45}, model.Cannot},
		{"thicker rings first", 0.60, 0, 9, model.Far, rings(0.30, 0.30, 0.20, 0.40, 0.10, 0.50), []float64{0.10, 0.50}, model.In},
		{"thicker rings first, compared ring by ring", 0.90, 0, 9, model.Far, rings(0.40, 0.30, 0.20, 0.35, 0.15), []float64{0.15, 0.35, 0.40}, model.In},
		// The kit is searched in two halves; here both sets of a tie lie in the thicker
		// one, and the winner once has the thinnest ring of it and once has not.
		{"a tie in one half, with its thinnest ring", 0.60, 0, 9, model.Far, rings(0.40, 0.30, 0.30, 0.20, 0.001, 0.002, 0.003, 0.004), []float64{0.20, 0.40}, model.In},
		{"a tie in one half, without it", 1.10, 0, 9, model.Far, rings(0.50, 0.30, 0.30, 0.45, 0.45, 0.20, 0.001, 0.002, 0.003, 0.004, 0.005, 0.006), []float64{0.30, 0.30, 0.50}, model.In},
		{"cannot: of equal misses the fewest rings", 0.60, 0.01, 9, model.Far, rings(0.25, 0.25, 0.70), []float64{0.70}, model.Cannot},
		{"the thread limits the height", 0.60, 0.05, 0.55, model.Far, coarse, []float64{0.50}, model.Cannot},
		{"a stack at the limit itself", 0.60, 0, 0.60, model.Far, coarse, []float64{0.10, 0.50}, model.In},
		{"a nanometre under it", 0.60, 0.01, 0.599999, model.Far, coarse, []float64{0.50}, model.Cannot},
		{"not even no rings", 0, 0.05, -0.1, model.Far, coarse, nil, model.Cannot},
		{"more than the whole kit", 2, 0.05, 9, model.Far, coarse, []float64{0.10, 0.10, 0.25, 0.50}, model.Cannot},
		{"negative", -0.2, 0.05, 9, model.Far, coarse, nil, model.Cannot},
		{"negative but within the zone", -0.04, 0.05, 9, model.Near, coarse, nil, model.In},
		{"an empty kit", 0.3, 0.05, 9, model.Far, nil, nil, model.Cannot},
		{"an empty kit that is enough", 0.03, 0.05, 9, model.Far, nil, nil, model.In},
		{"inch and metric rings", 0.354, 0, 9, model.Far, rings(0.254, 0.10, 0.25), []float64{0.10, 0.254}, model.In},
	} {
		goal := Goal{given.MM(c.want), Both(given.MM(c.within)), given.MM(c.highest), c.flange}
		fit, err := Stack(goal, c.kit)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var want []model.Length
		for _, h := range c.stack {
			want = append(want, given.MM(h))
		}
		if !slices.Equal(fit.Heights(), want) || fit.Verdict != c.verdict {
			t.Errorf("%s: got %v %s, want %v %s", c.name, fit.Heights(), fit.Verdict, want, c.verdict)
		}
		if fit.Height != model.Sum(fit.Heights()) {
			t.Errorf("%s: height %v of rings %v", c.name, fit.Height, fit.Heights())
		}
		goal.Highest = noLimit
		if _, err := Stack(goal, c.kit); err != nil {
			t.Errorf("%s, no limit: %v", c.name, err)
		}
	}
}

func TestStackRefuses(t *testing.T) {
	many := make([]Piece, 33)
	for i := range many {
		many[i] = Piece{ID: "r", Height: given.MM(0.1)}
	}
	for _, c := range []struct {
		name string
		goal Goal
		kit  []Piece
		say  string
	}{
		{"33 rings", Goal{}, many, "33 rings"},
		{"a ring of no thickness", Goal{}, []Piece{{ID: "r0"}}, "r0"},
		{"a negative ring", Goal{}, []Piece{{ID: "r0", Height: -1}}, "above zero"},
		{"a ring of 1e18 nm", Goal{}, []Piece{{ID: "r0", Height: 1e18}}, "thicker than"},
		{"a want of 1e18 nm", Goal{Want: 1e18}, nil, "wanted height"},
		{"the smallest number", Goal{Want: math.MinInt64}, nil, "wanted height"},
		{"a negative zone", Goal{Zone: Both(-1)}, nil, "acceptance zone"},
	} {
		if _, err := Stack(c.goal, c.kit); err == nil || !strings.Contains(err.Error(), c.say) {
			t.Errorf("%s: error %v does not say %q", c.name, err, c.say)
		}
	}
	if _, err := Stack(Goal{Want: given.MM(0.1)}, many[:32]); err != nil {
		t.Errorf("32 rings: %v", err)
	}
}

// Sums stay exact for the thickest rings that are taken, and 1e12 nm is refused
// rather than computed with.
func TestStackAtTheLimitsOfLength(t *testing.T) {
	kit := make([]Piece, 32)
	for i := range kit {
		kit[i] = Piece{ID: fmt.Sprint(i), Height: model.MaxLength - model.Length(i)}
	}
	fit, err := Stack(Goal{Want: model.MaxLength - 31, Highest: math.MaxInt64}, kit)
	if err != nil || fit.Verdict != model.In || fit.IDs()[0] != "31" {
		t.Errorf("got %v, %v", fit, err)
	}
	for _, c := range []struct {
		want model.Length
		kit  []Piece
		say  string
	}{
		{1e12, nil, "the wanted height is 1000000 mm"},
		{0, []Piece{{ID: "a", Height: 1e12}}, "ring a is 1000000 mm thick"},
	} {
		if _, err := Stack(Goal{Want: c.want}, c.kit); err == nil || !strings.Contains(err.Error(), c.say) {
			t.Errorf("error %v does not say %q", err, c.say)
		}
	}
}

// bruteStack tries every set of rings and compares them by the rules as written.
func bruteStack(g Goal, kit []Piece) Fit {
	better := func(a, b Fit) bool {
		missA, missB := (a.Height - g.Want).Abs(), (b.Height - g.Want).Abs()
		if a.Verdict != b.Verdict {
			return a.Verdict == model.In
		}
		order := []int{cmp.Compare(len(a.Rings), len(b.Rings)), cmp.Compare(missA, missB)}
		if a.Verdict == model.Cannot {
			beyond := func(f Fit) model.Length {
				return max(f.Residual()-g.Zone.Toward, -g.Zone.Away-f.Residual())
			}
			order = slices.Insert(order, 0, cmp.Compare(beyond(a), beyond(b)))
		}
		toward := func(f Fit) int {
			if f.Residual() > 0 {
				return 0
			}
			return 1
		}
		descending := func(f Fit) []model.Length {
			h := f.Heights()
			slices.Reverse(h)
			return h
		}
		order = append(order, cmp.Compare(toward(a), toward(b)), slices.Compare(descending(b), descending(a)))
		return cmp.Or(order...) < 0
	}
	best := Fit{Goal: g, Verdict: model.Cannot}
	found := false
	for f := range everyStack(g, kit) {
		f.Verdict = model.Cannot
		if r := f.Residual(); -g.Zone.Away <= r && r <= g.Zone.Toward {
			f.Verdict = model.In
		}
		if !found || better(f, best) {
			best, found = f, true
		}
	}
	return best
}

// everyStack goes through all that can be laid from a kit up to the highest, thinnest first.
func everyStack(g Goal, kit []Piece) iter.Seq[Fit] {
	return func(yield func(Fit) bool) {
		for mask := range 1 << len(kit) {
			f := Fit{Goal: g}
			for i, p := range kit {
				if mask>>i&1 == 1 {
					f.Rings = append(f.Rings, p)
					f.Height += p.Height
				}
			}
			slices.SortFunc(f.Rings, func(a, b Piece) int { return cmp.Compare(a.Height, b.Height) })
			if f.Height <= g.Highest && !yield(f) {
				return
			}
		}
	}
}

// drawKit mixes kits of few nominal values, where ties abound, with inch rings and
// with rings of arbitrary thickness.
func drawKit(t *rapid.T, most int) []Piece {
	grain := rapid.SampledFrom([]model.Length{50_000, 10_000, 25_400, 1}).Draw(t, "grain")
	n := rapid.IntRange(0, most).Draw(t, "rings")
	var kit []Piece
	for i := range n {
		h := model.Length(rapid.Int64Range(1, 1_000_000/int64(grain)).Draw(t, "height")) * grain
		kit = append(kit, Piece{ID: fmt.Sprintf("r%02d", i), Height: h})
	}
	return kit
}

// drawZone draws zones as wide to either side, and others, among them such that no cut
// face on the datum lies in.
func drawZone(t *rapid.T, most int64, grain model.Length) Zone {
	side := func(least int64, name string) model.Length {
		return model.Length(rapid.Int64Range(least, most).Draw(t, name)) * grain
	}
	if rapid.Bool().Draw(t, "both sides") {
		return Both(side(0, "within"))
	}
	return Zone{Toward: side(-most/2, "toward"), Away: side(0, "away")}
}

// need is what a blade wants that may lie as far to either side.
func need(id string, height, within, highest model.Length) Need {
	return Need{ID: id, Height: height, Zone: Both(within), Highest: highest}
}

func drawGoal(t *rapid.T) Goal {
	grain := rapid.SampledFrom([]model.Length{25_000, 1}).Draw(t, "goal grain")
	steps := 3_000_000 / int64(grain)
	return Goal{
		Want:    model.Length(rapid.Int64Range(-steps/10, steps).Draw(t, "want")) * grain,
		Zone:    drawZone(t, steps/30, grain),
		Highest: model.Length(rapid.Int64Range(-1, steps).Draw(t, "highest")) * grain,
		Flange:  rapid.SampledFrom([]model.Flange{model.Far, model.Near}).Draw(t, "flange"),
	}
}

func TestStackIsWhatBruteForceFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kit, goal := drawKit(t, 14), drawGoal(t)
		got, err := Stack(goal, kit)
		if err != nil {
			t.Fatal(err)
		}
		want := bruteStack(goal, kit)
		if !slices.Equal(got.Heights(), want.Heights()) || got.Verdict != want.Verdict {
			t.Fatalf("got %v %s, brute force %v %s", got.Heights(), got.Verdict, want.Heights(), want.Verdict)
		}
	})
}

func TestStackDoesNotDependOnTheOrderOfTheKit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kit, goal := drawKit(t, 32), drawGoal(t)
		got, err := Stack(goal, kit)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Stack(goal, rapid.Permutation(kit).Draw(t, "order"))
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(got.IDs(), again.IDs()) {
			t.Fatalf("got %v, then %v", got.IDs(), again.IDs())
		}
		if !slices.IsSorted(got.Heights()) {
			t.Fatalf("not thinnest first: %v", got.Heights())
		}
	})
}

func TestOneMoreRingNeverMakesTheBestWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kit, goal := drawKit(t, 31), drawGoal(t)
		before, err := Stack(goal, kit)
		if err != nil {
			t.Fatal(err)
		}
		more := append(slices.Clone(kit), Piece{ID: "new", Height: model.Length(rapid.Int64Range(1, 1_000_000).Draw(t, "new ring"))})
		after, err := Stack(goal, more)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case before.Verdict == model.In && (after.Verdict != model.In || len(after.Rings) > len(before.Rings)),
			before.Verdict == model.Cannot && after.Verdict == model.Cannot && after.Excess() > before.Excess():
			t.Fatalf("before %v %s, after %v %s", before.Heights(), before.Verdict, after.Heights(), after.Verdict)
		}
	})
}

func FuzzStack(f *testing.F) {
	f.Add(int64(810_000), int64(20_000), int64(9_000_000), true, []byte{10, 10, 25, 50})
	f.Add(int64(-1), int64(0), int64(-1), false, []byte{})
	f.Add(int64(500_000), int64(0), int64(math.MaxInt64), false, []byte{1, 2, 4, 8, 16, 32, 64, 128, 3, 3, 3, 3})
	f.Fuzz(func(t *testing.T, want, within, highest int64, near bool, kit []byte) {
		goal := Goal{model.Length(want), Both(model.Length(within)), model.Length(highest), model.Far}
		if near {
			goal.Flange = model.Near
		}
		var pieces []Piece
		for i, b := range kit {
			pieces = append(pieces, Piece{ID: fmt.Sprint(i), Height: model.Length(b) * 10_000})
		}
		got, err := Stack(goal, pieces)
		if err != nil {
			return
		}
		if len(kit) <= 12 {
			if brute := bruteStack(goal, pieces); !slices.Equal(got.Heights(), brute.Heights()) || got.Verdict != brute.Verdict {
				t.Fatalf("got %v %s, brute force %v %s", got.Heights(), got.Verdict, brute.Heights(), brute.Verdict)
			}
		}
	})
}

// arbitrary is a seeded kit of n rings whose thicknesses have nothing in common.
func arbitrary(n int, seed uint64) []Piece {
	r := rand.New(rand.NewPCG(seed, uint64(n)))
	kit := make([]Piece, n)
	for i := range kit {
		kit[i] = Piece{ID: fmt.Sprintf("r%02d", i), Height: 50_000 + model.Length(r.Int64N(950_000))}
	}
	return kit
}

// With 32 arbitrary rings and a zone of nothing, a known set of rings is found
// again, or one that is as near with fewer rings.
func TestStackFindsAPlantedSet(t *testing.T) {
	for seed := range uint64(5) {
		kit := arbitrary(32, seed)
		r := rand.New(rand.NewPCG(seed, 1))
		mask := r.Uint32()
		var sum model.Length
		for i, p := range kit {
			if mask>>i&1 == 1 {
				sum += p.Height
			}
		}
		fit, err := Stack(Goal{Want: sum, Highest: math.MaxInt64}, kit)
		if err != nil || fit.Verdict != model.In || fit.Height != sum || len(fit.Rings) > bits.OnesCount32(mask) {
			t.Errorf("seed %d: planted %d rings of %d nm, got %d of %d, %v", seed, bits.OnesCount32(mask), sum, len(fit.Rings), fit.Height, err)
		}
	}
}

// The dearest question: 32 arbitrary rings and a height just over their reach, so
// that every number of rings is walked through. 50 ms and 64 MB are the goals.
func BenchmarkStack32(b *testing.B) {
	kit := arbitrary(32, 1)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Stack(Goal{Want: 8_123_457, Highest: 8_123_450}, kit); err != nil {
			b.Fatal(err)
		}
	}
}
