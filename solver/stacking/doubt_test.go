package stacking

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/sawdatum/solver/metrology"
	"example.com/sawdatum/testdata/given"

	"pgregory.net/rapid"

	"example.com/sawdatum/model"
)

// doubted is an offset whose uncertainty comes from scatter with so many degrees of
// freedom.
func doubted(t interface{ Fatal(...any) }, standard, freedom float64) Offset {
	parts := []metrology.Contribution{{Standard: standard, Freedom: freedom}}
	u, err := metrology.Combine(metrology.Coverage, parts...)
	if err != nil {
		t.Fatal(err)
	}
	return Offset{Parts: parts, U: metrology.Rounded(u.Expanded), Uncertainty: u}
}

// bruteSurest tries every set of rings under a doubt and compares by the rule as written.
// What differs from the judged rings is counted sort by sort: of more than the kit has,
// some are the same.
func bruteSurest(t *rapid.T, g Goal, kit []Piece, d *Doubt, judged []string) Fit {
	plain := bruteStack(g, kit)
	if d == nil {
		plain.Sure, plain.Beyond = plain.Verdict == model.In, plain.Excess()
		return plain
	}
	owned, variance := map[string]int{}, map[string]float64{}
	for _, p := range kit {
		owned[p.ID]++
		variance[p.ID] = p.Variance
	}
	weigh := func(f Fit) Fit {
		v := 0.0
		for id, have := range owned {
			on, held := 0, 0
			for _, r := range f.Rings {
				if r.ID == id {
					on++
				}
			}
			for _, j := range judged {
				if j == id {
					held++
				}
			}
			same := max(0, on+held-have)
			v += float64(on-same+held-same) * variance[id]
		}
		u, err := metrology.Combine(metrology.Coverage, d.Offset.Parts[0], metrology.Contribution{Standard: math.Sqrt(v), Freedom: math.Inf(1)})
		if err != nil {
			t.Fatal(err)
		}
		a := d.Tolerance - max(d.Offset.U, metrology.Rounded(u.Expanded))
		if d.Offset.U >= d.Tolerance {
			a = d.Tolerance - d.Offset.U
		}
		r := f.Residual()
		f.Beyond = max(0, r-min(a, d.Limit.Toward), -r-min(a, d.Limit.Away))
		f.Sure = f.Beyond == 0
		return f
	}
	best := weigh(plain)
	if plain.Verdict == model.Cannot {
		best.Sure = false
		return best
	}
	for f := range everyStack(g, kit) {
		f.Verdict = model.In
		if f.Excess() > 0 {
			continue
		}
		if f = weigh(f); cmp.Or(cmp.Compare(f.Beyond, best.Beyond), cmp.Compare(len(f.Rings), len(best.Rings)), cmp.Compare(f.Residual().Abs(), best.Residual().Abs()),
			cmp.Compare(best.Residual(), f.Residual()), slices.Compare(thickestFirst(best), thickestFirst(f))) < 0 {
			best = f
		}
	}
	return best
}

func thickestFirst(f Fit) []model.Length {
	h := f.Heights()
	slices.Reverse(h)
	return h
}

// drawSorts is a kit of a few sorts, some of them measured, some by their nominal
// thickness.
func drawSorts(t *rapid.T, most int) []Piece {
	grain := rapid.SampledFrom([]model.Length{50_000, 10_000, 1}).Draw(t, "grain")
	alike := rapid.Bool().Draw(t, "alike")
	var kit []Piece
	for i := range rapid.IntRange(0, most).Draw(t, "sorts") {
		p := Piece{ID: fmt.Sprintf("r%02d", i), Height: model.Length(rapid.Int64Range(1, 600_000/int64(grain)).Draw(t, "height")) * grain, Variance: 133e6}
		if !alike {
			p.Variance = rapid.SampledFrom([]float64{0.083e6, 133e6, 20e6, 0}).Draw(t, "variance")
		}
		for range min(rapid.IntRange(1, 3).Draw(t, "count"), most-len(kit)) {
			kit = append(kit, p)
		}
	}
	return kit
}

func drawDoubt(t *rapid.T, kit []Piece) (*Doubt, Zone) {
	d := &Doubt{
		Offset:    doubted(t, rapid.Float64Range(100, 30_000).Draw(t, "standard"), rapid.SampledFrom([]float64{1, 2, 5, 20, math.Inf(1)}).Draw(t, "freedom")),
		Tolerance: rapid.SampledFrom([]model.Length{20_000, 50_000, 100_000}).Draw(t, "tolerance"),
		Limit:     Zone{rapid.SampledFrom([]model.Length{200_000, 30_000, -5_000}).Draw(t, "play"), 100_000},
	}
	if rapid.Bool().Draw(t, "cut") {
		d.Judged = []string{}
		for _, p := range kit {
			if rapid.Bool().Draw(t, "judged") {
				d.Judged = append(d.Judged, p.ID)
			}
		}
	}
	a := max(d.Tolerance-d.Offset.U, 0)
	return d, Zone{min(a, d.Limit.Toward), min(a, d.Limit.Away)}
}

// drawNear is a height that some of a kit's rings come near to, by 0.06 mm at the most: there a
// doubt decides. A height drawn at random few stacks come near to.
func drawNear(t *rapid.T, kit []Piece) model.Length {
	want := model.Length(rapid.Int64Range(-60_000, 60_000).Draw(t, "off"))
	if rapid.Bool().Draw(t, "even") {
		want -= want % 5_000
	}
	for _, p := range kit {
		if rapid.Bool().Draw(t, "on") {
			want += p.Height
		}
	}
	return want
}

func TestSurestIsWhatBruteForceFinds(t *testing.T) {
	sure, unsure := 0, 0 // where a doubt took another stack than the plain one, which is in and not surely
	rapid.Check(t, func(t *rapid.T) {
		kit := drawSorts(t, 8)
		k, err := NewKit(kit)
		if err != nil {
			t.Fatal(err)
		}
		for range 40 {
			d, zone := drawDoubt(t, kit)
			g := drawGoal(t)
			g.Zone = zone
			if rapid.IntRange(0, 5).Draw(t, "near") > 0 {
				g.Want, g.Highest = drawNear(t, kit), max(g.Highest, model.Millimetre)
			}
			got, err := k.Surest(g, d, d.Judged)
			if err != nil {
				t.Fatal(err)
			}
			want := bruteSurest(t, g, kit, d, d.Judged)
			if got.Verdict != want.Verdict || got.Sure != want.Sure || got.Beyond != want.Beyond || !slices.Equal(got.Heights(), want.Heights()) {
				t.Fatalf("got %v %s %v %v, brute force %v %s %v %v", got.Heights(), got.Verdict, got.Sure, got.Beyond, want.Heights(), want.Verdict, want.Sure, want.Beyond)
			}
			switch plain, _ := k.Best(g); {
			case plain.Height == want.Height && len(plain.Rings) == len(want.Rings):
			case want.Sure:
				sure++
			default:
				unsure++
			}
		}
	})
	if sure < 10 || unsure < 10 {
		t.Errorf("a doubt decided %d times for a sure stack and %d times for another: the draws are lopsided", sure, unsure)
	}
}

func TestRackUnderDoubtIsWhatBruteForceFinds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kit := drawSorts(t, 6)
		needs := drawNeeds(t, 3)
		for i := range needs {
			if rapid.IntRange(0, 4).Draw(t, "without") > 0 {
				needs[i].Doubt, needs[i].Zone = drawDoubt(t, kit)
			}
		}
		highest := model.Length(rapid.Int64Range(0, 2_000_000).Draw(t, "highest"))
		flange := rapid.SampledFrom([]model.Flange{model.Far, model.Near}).Draw(t, "flange")
		k, err := NewKit(kit)
		if err != nil {
			t.Fatal(err)
		}
		got, err := k.Rack(needs, highest, flange)
		if err != nil {
			t.Fatal(err)
		}
		heights := map[model.Length]bool{}
		for mask := range 1 << len(kit) {
			var height model.Length
			for i, p := range kit {
				height += p.Height * model.Length(mask>>i&1)
			}
			heights[height] = height <= highest
		}
		best, at, found := Score{}, model.Length(0), false
		for height, goes := range heights {
			if !goes {
				continue
			}
			standing := bruteStack(Goal{Want: height, Highest: highest, Flange: flange}, kit)
			s := Score{Rings: len(standing.Rings)}
			for _, n := range needs {
				judged := standing.IDs()
				if n.Doubt != nil && n.Doubt.Judged != nil {
					judged = n.Doubt.Judged
				}
				f := bruteSurest(t, Goal{n.Height + height, n.Zone, n.Highest, flange}, kit, n.Doubt, judged)
				if f.Verdict == model.Cannot {
					s.Cannot++
				}
				if !f.Sure {
					s.Unsure++
					s.Excess = max(s.Excess, f.Beyond)
				}
				s.Rings += len(f.Rings)
				s.Worst = max(s.Worst, f.Residual().Abs())
			}
			if !found || s.Less(best) || s == best && height < at {
				best, at, found = s, height, true
			}
		}
		if got.Score != best || got.Standing.Height != at {
			t.Fatalf("got %+v on %v, brute force %+v on %v", got.Score, got.Standing.Height, best, at)
		}
	})
}

// Of a ring by its nominal thickness and a measured one that is less near, the measured
// one is surer: 0.02 mm either way is a standard uncertainty of 0.0115 mm (GUM 4.3.7).
func TestTheMeasuredRingIsSurer(t *testing.T) {
	k, err := NewKit([]Piece{{ID: "nominal", Height: given.MM(0.30), Variance: 20_000 * 20_000 / 3.}, {ID: "measured", Height: given.MM(0.325), Variance: 1000 * 1000 / 12.}})
	if err != nil {
		t.Fatal(err)
	}
	d := &Doubt{Offset: doubted(t, 3_000, math.Inf(1)), Tolerance: given.MM(0.05), Limit: Zone{given.MM(1), given.MM(0.1)}}
	g := Goal{Want: given.MM(0.298), Zone: Both(given.MM(0.044)), Highest: given.MM(5), Flange: model.Far}
	for wanted, ring := range map[float64]string{0.298: "nominal", 0.275: "nominal", 0.3245: "measured", 0.32651: "measured", 0.345: "measured"} {
		g.Want = given.MM(wanted)
		f, err := k.Surest(g, d, nil)
		if err != nil || !f.Sure || !slices.Equal(f.IDs(), []string{ring}) {
			t.Errorf("%v mm: %v, sure %v, %v", wanted, f.IDs(), f.Sure, err)
		}
	}
	// U of the nominal ring is 2 * sqrt(3^2 + 11.547^2) = 23.86 um: sure to 26.14 um.
	for off, sure := range map[model.Length]bool{26_139: true, 26_141: false} {
		if z := d.zone(20_000 * 20_000 / 3.); (z.Excess(off) == 0) != sure {
			t.Errorf("%v nm off: %+v", off, z)
		}
	}
}

// seededDoubt puts a seeded rack under doubt: rings measured to 0.001 mm, or a third of
// them by their nominal thickness.
func seededDoubt(rings int, grain model.Length, mixed bool, tolerance model.Length, standard float64, seed uint64) ([]Piece, []Need) {
	kit, needs := arbitrary(rings, seed), seededNeeds(12, 0, seed)
	r := rand.New(rand.NewPCG(seed, 9))
	for i := range kit {
		kit[i].Height -= kit[i].Height % grain
		kit[i].Variance = 1000 * 1000 / 12.
		if mixed && r.IntN(3) == 0 {
			kit[i].Variance = 20_000 * 20_000 / 3.
		}
	}
	for i := range needs {
		u, _ := metrology.Combine(metrology.Coverage, metrology.Contribution{Standard: standard, Freedom: 8})
		o := Offset{Parts: []metrology.Contribution{{Standard: standard, Freedom: 8}}, U: metrology.Rounded(u.Expanded), Uncertainty: u}
		needs[i].Doubt = &Doubt{Offset: o, Tolerance: tolerance, Limit: Zone{given.MM(0.4), given.MM(0.1)}}
		needs[i].Zone = Both(max(tolerance-o.U, 0))
	}
	return kit, needs
}

func BenchmarkRackUnderDoubt(b *testing.B) {
	for _, v := range []struct {
		name      string
		rings     int
		grain     model.Length
		mixed     bool
		tolerance model.Length
		standard  float64
	}{
		{"measured", 32, 1, false, given.MM(0.05), 5_000},
		{"mixed", 32, 1, true, given.MM(0.05), 5_000},
		{"mixed, wide", 32, 1, true, given.MM(0.1), 10_000},
		{"mixed, narrow", 32, 1000, true, given.MM(0.02), 5_000},
		{"nothing can be in", 32, 1000, false, given.MM(0.02), 10_000},
		{"nothing can be in, mixed", 32, 1000, true, given.MM(0.02), 10_000},
		{"nothing can be in, finer", 32, 20, false, given.MM(0.02), 10_000},
		{"twelve", 12, 1, true, given.MM(0.05), 5_000},
	} {
		b.Run(v.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				kit, needs := seededDoubt(v.rings, v.grain, v.mixed, v.tolerance, v.standard, 1)
				k, err := NewKit(kit)
				if err != nil {
					b.Fatal(err)
				}
				if _, err := k.Rack(needs, given.MM(7), model.Far); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// No variance from here up gives less than the bound says, and some gives hardly more.
func TestUIsBoundFromBelow(t *testing.T) {
	for _, freedom := range []float64{1, 2, 3.5, 6, 8, 20, 300, math.Inf(1)} {
		o := doubted(t, 10_000, freedom)
		for _, from := range []float64{0, 1e6, 1e8, 1e9} {
			bound, least := o.withAtLeast(from), model.MaxLength
			for f := 1.0; f < 40; f *= 1.001 {
				least = min(least, o.with(from+(f-1)*1e8))
			}
			if bound > least || float64(bound) < 0.995*float64(least) {
				t.Errorf("freedom %v, from %v: bound %v, least %v", freedom, from, bound, least)
			}
		}
	}
}
