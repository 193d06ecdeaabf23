package solver

import (
	"slices"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/simsaw"
)

func kitOf(v ...float64) []Piece {
	var out []Piece
	for _, l := range lengths(v...) {
		out = append(out, Piece{ID: l.Of(model.MM).String(), Height: l})
	}
	return out
}

func needsOf(within float64, v ...float64) []Need {
	var out []Need
	for i, l := range lengths(v...) {
		out = append(out, Need{ID: string(rune('a' + i)), Height: l, Zone: Both(mm(within)), Highest: mm(5)})
	}
	return out
}

func TestAdvise(t *testing.T) {
	for _, v := range []struct {
		name  string
		kit   []Piece
		needs []Need
		buy   []model.Length
		says  string
	}{
		{"nothing missing", kitOf(0.1), needsOf(0.02, 0.1), nil, ""},
		{"one ring", kitOf(0.1), needsOf(0.02, 0.1, 0.3), lengths(0.3), "one more ring of 0.3 mm brings every blade in, the worst 0.000 mm off"},
		{"the one with the smaller worst residual", kitOf(0.1), needsOf(0.06, 0.21), lengths(0.2), "the worst 0.010 mm off"},
		{"one ring rather than two that are nearer", nil, needsOf(0.03, 0.28), lengths(0.3), "0.020 mm"},
		{"two rings", nil, needsOf(0.01, 0.1, 0.25), lengths(0.1, 0.25), "one more ring of 0.1 mm and one of 0.25 mm"},
		{"two of a kind", nil, needsOf(0.001, 2), lengths(1, 1), "one more ring of 1 mm and one of 1 mm"},
		{"fewer rings on the arbor", nil, needsOf(0.001, 0.15, 0.3), lengths(0.15, 0.3), ""},
		{"not even two", nil, needsOf(0.001, 0.1, 0.25, 0.5, 0.7), nil, "neither one ring nor two of the series bring every blade in; the nearest are"},
		{"no ring helps", kitOf(0.1), needsOf(0.01, -0.3), nil, "none helps: the a misses by 0.290 mm"},
	} {
		a, err := Advise(v.kit, v.needs, 0, mm(5), model.Far, MetricSeries, metric)
		if err != nil || !slices.Equal(a.Buy, v.buy) {
			t.Errorf("%s: buy %v, %v", v.name, a.Buy, err)
		}
		if v.says != "" {
			says(t, a.Reasons, v.says)
		}
	}
}

// No advice is beaten by any one or two rings of the series, each tried on its own.
func TestAdviceIsNeverBeaten(t *testing.T) {
	for seed := range uint64(30) {
		p, _ := simsaw.Random(seed, []model.Flange{model.Far, model.Near}[seed%2])
		p.Rings = p.Rings[:2]
		plan := Plan(p)
		p.Reference, p.Standing = plan.Reference, plan.Standing
		a, err := AdviseRack(p, Plan(p))
		if err != nil {
			t.Fatal(err)
		}
		cannot := func(buy ...model.Length) int {
			q := p
			q.Rings = slices.Clone(p.Rings)
			for _, b := range buy {
				q.Rings = append(q.Rings, model.Ring{ID: "new " + b.Of(model.MM).String(), Thickness: b.Of(model.MM), Count: 1})
			}
			n := 0
			for _, row := range Plan(q).Blades {
				if row.Verdict == model.Cannot {
					n++
				}
			}
			return n
		}
		if got := cannot(a.Buy...); a.Enough != (got == 0) {
			t.Errorf("seed %d: buy %v, and %d blades cannot", seed, a.Buy, got)
		}
		for i, x := range MetricSeries {
			if len(a.Buy) != 1 && cannot() > 0 && cannot(x) == 0 {
				t.Errorf("seed %d: %v alone would do, and not %v", seed, x, a.Buy)
			}
			for _, y := range MetricSeries[i:] {
				if !a.Enough && seed < 6 && cannot(x, y) == 0 {
					t.Errorf("seed %d: %v and %v would do", seed, x, y)
				}
			}
		}
	}
}

func TestAdviseInInches(t *testing.T) {
	w := Words{Unit: model.IN, Resolution: model.Inch / 2000}
	a, err := Advise(nil, []Need{{ID: "a", Height: 12 * model.Thou, Zone: Both(model.Thou / 2), Highest: mm(5)}}, 0, mm(5), model.Near, InchSeries, w)
	if err != nil || !slices.Equal(a.Buy, []model.Length{12 * model.Thou}) {
		t.Errorf("%+v, %v", a, err)
	}
	says(t, a.Reasons, "one more ring of 0.012 in")
}

func TestAdviseRefuses(t *testing.T) {
	full := make([]Piece, model.MaxRingKit)
	for i := range full {
		full[i] = Piece{ID: "r", Height: mm(1)}
	}
	if a, err := Advise(full, needsOf(0.01, 0.3), 0, mm(5), model.Far, MetricSeries, metric); err == nil {
		t.Errorf("a full kit: %+v", a)
	}
	if a, err := AdviseRack(model.Profile{}, Plan(model.Profile{})); err == nil {
		t.Errorf("an empty profile: %+v", a)
	}
}

// The series as sold (facts.md, Trade figures): metric DIN 988 and from memory, inch
// common practice.
func TestRingSeries(t *testing.T) {
	if !slices.Equal(MetricSeries, lengths(0.10, 0.15, 0.20, 0.25, 0.30, 0.50, 1.00)) {
		t.Errorf("metric %v", MetricSeries)
	}
	var inch []model.Length
	for _, text := range []string{"0.002 in", "0.003 in", "0.004 in", "0.005 in", "0.006 in", "0.007 in", "0.008 in", "0.009 in", "0.010 in", "0.012 in", "0.015 in", "0.020 in", "0.025 in"} {
		m, err := model.ParseLength(text, model.NoUnit)
		if err != nil {
			t.Fatal(err)
		}
		inch = append(inch, m.Length)
	}
	if !slices.Equal(InchSeries, inch) {
		t.Errorf("inch %v", InchSeries)
	}
}
