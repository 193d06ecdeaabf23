package stacking

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/testdata/given"

	"pgregory.net/rapid"

	"example.com/sawdatum/model"
)

// bruteRack tries every set of rings as the standing stack, gives every blade its
// brute-force stack, and compares by the rack's goal as written.
func bruteRack(needs []Need, kit []Piece, highest model.Length, flange model.Flange) (Score, model.Length) {
	var best Score
	var at model.Length
	found := false
	for mask := range 1 << len(kit) {
		var height model.Length
		rings := 0
		for i, p := range kit {
			if mask>>i&1 == 1 {
				height += p.Height
				rings++
			}
		}
		if height > highest {
			continue
		}
		s := Score{Rings: rings}
		for _, n := range needs {
			f := bruteStack(Goal{n.Height + height, n.Zone, n.Highest, flange}, kit)
			miss := (f.Height - f.Want).Abs()
			if f.Verdict == model.Cannot {
				s.Cannot++
				s.Unsure++
				s.Excess = max(s.Excess, n.Zone.Excess(f.Residual()))
			}
			s.Rings += len(f.Rings)
			s.Worst = max(s.Worst, miss)
		}
		if !found || s.Less(best) || s == best && height < at {
			best, at, found = s, height, true
		}
	}
	return best, at
}

func drawNeeds(t *rapid.T, most int) []Need {
	grain := rapid.SampledFrom([]model.Length{25_000, 10_000, 1}).Draw(t, "need grain")
	steps := 800_000 / int64(grain)
	needs := make([]Need, rapid.IntRange(0, most).Draw(t, "needs"))
	for i := range needs {
		needs[i] = Need{
			ID:      fmt.Sprint(i),
			Height:  model.Length(rapid.Int64Range(-steps/8, steps).Draw(t, "height")) * grain,
			Zone:    drawZone(t, steps/10, grain),
			Highest: model.Length(rapid.Int64Range(-steps/8, 3*steps).Draw(t, "highest")) * grain,
		}
	}
	return needs
}

func TestRackIsWhatBruteForceFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kit, needs := drawKit(t, 6), drawNeeds(t, 4)
		highest := model.Length(rapid.Int64Range(0, 3_000_000).Draw(t, "highest"))
		flange := rapid.SampledFrom([]model.Flange{model.Far, model.Near}).Draw(t, "flange")
		k, err := NewKit(kit)
		if err != nil {
			t.Fatal(err)
		}
		got, err := k.Rack(needs, highest, flange)
		if err != nil {
			t.Fatal(err)
		}
		want, at := bruteRack(needs, kit, highest, flange)
		if got.Score != want || got.Standing.Height != at {
			t.Fatalf("got %+v on %v, brute force %+v on %v", got.Score, got.Standing.Height, want, at)
		}
		for i, f := range got.Blades {
			if b := bruteStack(f.Goal, kit); f.Want != needs[i].Height+at || !slices.Equal(b.Heights(), f.Heights()) {
				t.Fatalf("blade %d wants %v: got %v, brute force %v", i, f.Want, f.Heights(), b.Heights())
			}
		}
	})
}

// What the walk up the ladder thinks of each standing stack is what the stacks
// found for it one by one are worth.
func TestEveryStandingStackIsScoredAsItIs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		needs := drawNeeds(t, 4)
		k, err := NewKit(drawKit(t, 6))
		if err != nil {
			t.Fatal(err)
		}
		l, ok := k.ladder(new(room), model.Far, 4_000_000, MaxHeights)
		if !ok {
			t.Fatal("too many heights")
		}
		windows := make([]slide, len(needs))
		for i, n := range needs {
			windows[i] = slide{window: window{ladder: &l, Need: n}}
		}
		for i, standing := range l.sums {
			got, _, _ := l.score(windows, i, Score{}, false)
			want, err := k.On(standing, 4_000_000, needs, model.Far)
			if err != nil {
				t.Fatal(err)
			}
			if got != want.Score {
				t.Fatalf("on %v: walked %+v, found %+v", standing, got, want.Score)
			}
		}
	})
}

// spoilt are racks on which blades cannot, each in its way.
var spoilt = []struct {
	name  string
	spoil func(*Need)
}{
	{"as it is", func(*Need) {}},
	{"a blade beyond the reference", func(n *Need) { n.Height = given.MM(-0.3) }},
	{"a blade without thread", func(n *Need) { n.Highest = given.MM(-0.1) }},
	{"a blade with little thread", func(n *Need) { n.Highest = given.MM(0.3) }},
	{"a blade farther than the kit", func(n *Need) { n.Height, n.Highest = given.MM(40), math.MaxInt64 }},
	{"a blade with no zone", func(n *Need) { n.Zone = Zone{} }},
}

// Going up in reaches and stopping early finds what the whole ladder, looked at rung by
// rung, holds.
func TestRackStopsEarlyForAReason(t *testing.T) {
	for seed := range uint64(8) {
		for _, within := range []model.Length{18_000, 1_000, 20} {
			for i, v := range spoilt {
				kit, err := NewKit(arbitrary(8+int(seed), 7*seed+uint64(i)))
				if err != nil {
					t.Fatal(err)
				}
				needs, highest := seededNeeds(5, within, seed), given.MM(3)+model.Length(seed)*given.MM(0.5)
				v.spoil(&needs[1])
				got, err := kit.Rack(needs, highest, model.Far)
				if err != nil {
					t.Fatal(err)
				}
				l, ok := kit.ladder(new(room), model.Far, given.MM(99), MaxHeights)
				if !ok || got.Partly {
					t.Fatal("too many heights")
				}
				windows := make([]slide, len(needs))
				for i, n := range needs {
					windows[i] = slide{window: window{ladder: &l, Need: n}}
				}
				best, at := Score{Cannot: math.MaxInt}, model.Length(0)
				for i, standing := range l.sums {
					if s, _, _ := l.score(windows, i, Score{}, false); standing <= highest && s.Less(best) {
						best, at = s, standing
					}
				}
				if got.Score != best || got.Standing.Height != at {
					t.Errorf("seed %d, within %v, %s: got %+v on %v, the whole ladder %+v on %v", seed, within, v.name, got.Score, got.Standing.Height, best, at)
				}
			}
		}
	}
}

// The height nearest to what a blade wants may lie above all that the others want: of
// 0.30 and 1.00, the latter is 0.25 beyond a zone of 0.70 +- 0.05. On a standing stack of
// 0.30 that blade fits, and the one with little thread is 0.30 out.
func TestRackSeesTheNextHeightAbove(t *testing.T) {
	kit, err := NewKit(rings(1.00, 0.30))
	if err != nil {
		t.Fatal(err)
	}
	needs := []Need{need("a", given.MM(0.70), given.MM(0.05), given.MM(5)), need("b", 0, 0, given.MM(0.25))}
	got, err := kit.Rack(needs, given.MM(5), model.Far)
	if want := (Score{Cannot: 1, Unsure: 1, Excess: given.MM(0.25), Rings: 1, Worst: given.MM(0.30)}); err != nil || got.Score != want || got.Standing.Height != 0 {
		t.Errorf("got %+v on %v, want %+v, %v", got.Score, got.Standing.Height, want, err)
	}
}

func TestRackDoesNotDependOnTheOrderOfTheKit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kit, needs := drawKit(t, 14), drawNeeds(t, 12)
		plan := func(kit []Piece) string {
			k, err := NewKit(kit)
			if err != nil {
				t.Fatal(err)
			}
			r, err := k.Rack(needs, 2_000_000, model.Far)
			if err != nil {
				t.Fatal(err)
			}
			out := fmt.Sprint(r.Score, r.Standing.IDs())
			for _, b := range r.Blades {
				out += fmt.Sprint(b.IDs())
			}
			return out
		}
		if a, b := plan(kit), plan(rapid.Permutation(kit).Draw(t, "order")); a != b {
			t.Fatalf("%s, then %s", a, b)
		}
	})
}

func TestOneMoreRingNeverMakesTheRackWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kit, needs := drawKit(t, 11), drawNeeds(t, 8)
		score := func(kit []Piece) Score {
			k, err := NewKit(kit)
			if err != nil {
				t.Fatal(err)
			}
			r, err := k.Rack(needs, 2_000_000, model.Near)
			if err != nil {
				t.Fatal(err)
			}
			return r.Score
		}
		before, after := score(kit), score(append(slices.Clone(kit), Piece{ID: "new", Height: model.Length(rapid.Int64Range(1, 900_000).Draw(t, "new ring"))}))
		// Where blades cannot, an even nearer stack may take more rings; what is
		// promised is that no more blades fail, nor fail by more.
		if after.Cannot > before.Cannot || after.Cannot == before.Cannot && after.Excess > before.Excess ||
			before.Cannot == 0 && after.Rings > before.Rings {
			t.Fatalf("before %+v, after %+v", before, after)
		}
	})
}

// Needs of a few hundredths cannot be made of rings of 0.10 mm and up, but with a
// standing stack they can: 0.10 behind the reference, 0.15 for a need of 0.05.
func TestStandingStackMakesSmallNeedsReachable(t *testing.T) {
	kit, err := NewKit(rings(0.10, 0.15, 0.50))
	if err != nil {
		t.Fatal(err)
	}
	needs := []Need{need("a", given.MM(0.05), given.MM(0.01), given.MM(5))}
	got, err := kit.Rack(needs, given.MM(5), model.Far)
	if err != nil {
		t.Fatal(err)
	}
	if got.Standing.Height != given.MM(0.10) || got.Blades[0].Height != given.MM(0.15) || got.Cannot != 0 || got.Rings != 2 {
		t.Errorf("got %v and %v, %+v", got.Standing.Height, got.Blades[0].Height, got.Score)
	}
	if bare, err := kit.On(0, given.MM(5), needs, model.Far); err != nil || bare.Cannot != 1 {
		t.Errorf("without a standing stack: %+v, %v", bare.Score, err)
	}
}

// Two rings serve 0.50 mm either way: 0.21 + 0.25 without a standing stack, 0.04 mm
// short, or 0.60 on a standing stack of 0.10, which is exact. The highest standing
// stack that is allowed still counts.
func TestRackTakesTheSmallerResidualOfEqualRings(t *testing.T) {
	kit, err := NewKit(rings(0.10, 0.21, 0.25, 0.60))
	if err != nil {
		t.Fatal(err)
	}
	needs := []Need{need("a", given.MM(0.50), given.MM(0.05), given.MM(5))}
	for highest, want := range map[float64]Score{0.10: {Rings: 2}, 0.099999: {Rings: 2, Worst: given.MM(0.04)}} {
		got, err := kit.Rack(needs, given.MM(highest), model.Far)
		if err != nil || got.Score != want {
			t.Errorf("up to %v mm: got %+v on %v, want %+v, %v", highest, got.Score, got.Standing.Height, want, err)
		}
	}
}

func TestRackAtItsLimits(t *testing.T) {
	kit, err := NewKit(rings(0.10, 0.25))
	if err != nil {
		t.Fatal(err)
	}
	if r, err := kit.Rack(nil, given.MM(5), model.Far); err != nil || len(r.Standing.Rings) != 0 || r.Score != (Score{}) {
		t.Errorf("no blades: %+v, %v", r, err)
	}
	if r, err := kit.Rack([]Need{need("a", given.MM(0.1), 0, given.MM(5))}, given.MM(-1), model.Far); err != nil || r.Standing.Verdict != model.Cannot || r.Standing.Height != 0 || r.Cannot != 0 {
		t.Errorf("no thread for the reference: %+v, %v", r, err)
	}
	if r, err := kit.Rack([]Need{need("a", 0, given.MM(1), given.MM(-1))}, given.MM(5), model.Far); err != nil || r.Cannot != 1 || r.Excess != 0 {
		t.Errorf("no thread for a blade: %+v, %v", r, err)
	}
	if _, err := kit.Rack([]Need{need("a", math.MinInt64, 0, 0)}, given.MM(5), model.Far); err == nil || !strings.Contains(err.Error(), "blade a") {
		t.Errorf("an impossible need: %v", err)
	}
	if r, err := kit.Rack([]Need{need("a", given.MM(0.3), 0, math.MaxInt64)}, math.MaxInt64, model.Near); err != nil || r.Cannot != 1 {
		t.Errorf("no limits: %+v, %v", r, err)
	}
	if _, err := kit.On(given.MM(0.07), given.MM(5), nil, model.Far); err != nil {
		t.Errorf("a standing height that the kit does not make: %v", err)
	}
}

// 0.10, 0.20 and 0.30 make seven heights, no rings among them.
func TestLadder(t *testing.T) {
	kit, err := NewKit(rings(0.10, 0.20, 0.30))
	if err != nil {
		t.Fatal(err)
	}
	l, ok := kit.ladder(new(room), model.Far, given.MM(9), 7)
	if want := []uint8{0, 1, 1, 1, 2, 2, 3}; !ok || !slices.Equal(l.fewest, want) {
		t.Errorf("got %v, %v, want %v", l.fewest, ok, want)
	}
	// 0.80 is 0.30 + 0.30 + 0.20, until the thinnest ring makes it two.
	if kit, err := NewKit(rings(0.70, 0.30, 0.30, 0.20, 0.10)); err != nil {
		t.Error(err)
	} else if l, ok := kit.ladder(new(room), model.Far, given.MM(9), 99); !ok || l.fewest[slices.Index(l.sums, given.MM(0.8))] != 2 {
		t.Errorf("0.80: %v %v, %v", l.sums, l.fewest, ok)
	}
	if _, ok := kit.ladder(new(room), model.Far, given.MM(9), 6); ok {
		t.Error("one too many")
	}
	if l, ok := kit.ladder(new(room), model.Far, given.MM(0.3), 6); !ok || len(l.sums) != 4 {
		t.Errorf("up to 0.30: %v, %v", l.sums, ok)
	}
}

// Where no blade has a zone nothing rules a height out: the plan is the best of the standing
// stacks that it says it looked through, and costs no more than any other.
func TestRackSaysHowFarItLooked(t *testing.T) {
	kit, err := NewKit(arbitrary(32, 1))
	if err != nil {
		t.Fatal(err)
	}
	needs := seededNeeds(12, 0, 1)
	got, err := kit.Rack(needs, given.MM(7), model.Far)
	if err != nil || !got.Partly || got.Looked <= 0 || got.Looked >= given.MM(7) || got.Standing.Height > got.Looked {
		t.Fatalf("%v: partly %v, up to %v, on %v", err, got.Partly, got.Looked, got.Standing.Height)
	}
	// The same rack with a standing stack no higher than that is looked through whole.
	whole, err := kit.Rack(needs, got.Looked, model.Far)
	if err != nil || whole.Partly || whole.Score != got.Score || whole.Standing.Height != got.Standing.Height {
		t.Errorf("%v: %+v on %v, no higher than that %+v on %v, partly %v", err, got.Score, got.Standing.Height, whole.Score, whole.Standing.Height, whole.Partly)
	}
	if wide, err := kit.Rack(seededNeeds(12, 8_000, 1), given.MM(7), model.Far); err != nil || wide.Partly {
		t.Errorf("with a zone of 0.008 mm all are: %v, %v", wide.Looked, err)
	}
}

// seededNeeds is a rack of blades-1 needs of 0 to 0.8 mm besides the reference.
func seededNeeds(blades int, within model.Length, seed uint64) []Need {
	r := rand.New(rand.NewPCG(seed, uint64(blades)))
	needs := make([]Need, max(blades-1, 0))
	for i := range needs {
		needs[i] = need(fmt.Sprint(i), model.Length(r.Int64N(800_000)), within, given.MM(7))
	}
	return needs
}

// 5 ms is the goal for 12 blades and 12 rings.
func BenchmarkRack12x12(b *testing.B) {
	for _, within := range []model.Length{18_000, 8_000, 3_000, 0} {
		b.Run(within.Of(model.MM).String(), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				kit, err := NewKit(arbitrary(12, 1))
				if err != nil {
					b.Fatal(err)
				}
				if _, err := kit.Rack(seededNeeds(12, within, 1), given.MM(7), model.Far); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// The dearest kit: 32 rings whose thicknesses have nothing in common, narrow zones, and
// racks on which blades cannot, so that rings rule less out. 50 ms and 64 MB are the
// goals.
func BenchmarkRack12x32(b *testing.B) {
	solve := func(name string, within model.Length, spoil func(*Need)) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				kit, err := NewKit(arbitrary(32, 1))
				if err != nil {
					b.Fatal(err)
				}
				needs := seededNeeds(12, within, 1)
				spoil(&needs[3])
				if _, err := kit.Rack(needs, given.MM(7), model.Far); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	for _, within := range []model.Length{18_000, 8_000, 3_000, 1_000} {
		solve(within.Of(model.MM).String(), within, func(*Need) {})
	}
	for _, v := range spoilt {
		solve(v.name, 8_000, v.spoil)
	}
	solve("no blade has a zone", 0, func(*Need) {})
}

// One blade solved again on a keystroke; 1 ms is the goal.
func BenchmarkOneBladeAgain(b *testing.B) {
	kit := arbitrary(12, 1)
	for b.Loop() {
		if _, err := Stack(Goal{Want: 812_345, Zone: Both(3_000), Highest: given.MM(7), Flange: model.Far}, kit); err != nil {
			b.Fatal(err)
		}
	}
}

// How the cost grows. Rings arbitrary: no two thicknesses have anything in common;
// micrometer: read to 0.001 mm, as in a shop.
func BenchmarkGrowth(b *testing.B) {
	solve := func(b *testing.B, kit []Piece, blades int) {
		b.ReportAllocs()
		for b.Loop() {
			k, err := NewKit(kit)
			if err != nil {
				b.Fatal(err)
			}
			if _, err := k.Rack(seededNeeds(blades, 8_000, 1), given.MM(7), model.Far); err != nil {
				b.Fatal(err)
			}
		}
	}
	for _, n := range []int{8, 12, 16, 20, 24, 28, 32} {
		read := arbitrary(n, 1)
		for i := range read {
			read[i].Height -= read[i].Height % 1000
		}
		b.Run(fmt.Sprintf("stack/rings=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Stack(Goal{Want: 3_123_457, Highest: given.MM(7)}, arbitrary(n, 1)); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(fmt.Sprintf("rack/micrometer/blades=12/rings=%d", n), func(b *testing.B) { solve(b, read, 12) })
		b.Run(fmt.Sprintf("rack/arbitrary/blades=12/rings=%d", n), func(b *testing.B) { solve(b, arbitrary(n, 1), 12) })
	}
	for _, n := range []int{2, 5, 12, 25, 50, 100, 200} {
		b.Run(fmt.Sprintf("rack/arbitrary/rings=12/blades=%d", n), func(b *testing.B) { solve(b, arbitrary(12, 1), n) })
	}
}
