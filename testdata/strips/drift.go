package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"gonum.org/v1/gonum/stat"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/drift"
)

// proofs says how proofs of a shop repeat and move: one a week.
type proofs struct {
	name  string
	step  float64 // of the deviation, behind the baseline
	trend float64 // nanometres a week, from the first proof on
	round model.Length
}

const (
	deviation = 10_000. // nanometres, of one proof
	mostWeeks = 1500
)

// runs charts shops until something is told, each with baselines of its own: that of
// the blade and of two others.
func runs(p proofs, n int, seed uint64) (whole, alone []float64) {
	r := rand.New(rand.NewPCG(seed, 10))
	start := time.Date(2026, 1, 5, 7, 0, 0, 0, time.UTC)
	// A proof is the mean of three readings of a strip less that of three of the other's.
	draw := func(off float64) float64 {
		if p.round == 0 {
			return off + deviation*r.NormFloat64()
		}
		sum, fence := 0.0, r.Float64()*float64(p.round)
		for _, width := range []float64{off + deviation/math.Sqrt2*r.NormFloat64(), deviation / math.Sqrt2 * r.NormFloat64()} {
			for range 3 {
				sum += math.Round((fence+width+2_000*r.NormFloat64())/float64(p.round)) * float64(p.round) / 3
			}
			sum = -sum
		}
		return sum
	}
	for range n {
		var baselines [][]float64
		for range 3 {
			var b []float64
			for range 8 {
				b = append(b, draw(0))
			}
			baselines = append(baselines, b)
		}
		var dated []drift.Dated
		add := func(step float64) {
			at := len(dated)
			dated = append(dated, drift.Dated{At: start.AddDate(0, 0, 7*at), Residual: draw(step + p.trend*float64(at))})
		}
		for i := range baselines[0] {
			add(0)
			baselines[0][i] = dated[i].Residual
		}
		repeats := drift.RepeatabilityOf(baselines, float64(p.round)/math.Sqrt(6))
		limit := 3 * stat.Mean(drift.MovingRanges(baselines[0]), nil) / 1.128 // an individuals chart: NIST/SEMATECH e-Handbook 6.3.2.2
		centre := stat.Mean(baselines[0], nil)
		told, single := 0, 0
		for week := 1; week <= mostWeeks && (told == 0 || single == 0); week++ {
			add(p.step * deviation)
			if single == 0 && math.Abs(dated[len(dated)-1].Residual-centre) > limit {
				single = week
			}
			if told > 0 {
				continue
			}
			w, err := drift.WatchOf(dated, repeats, 50_000, p.round)
			if err != nil {
				panic(err)
			}
			if w.Moved || w.Trend.Rate != 0 {
				told = week
			}
		}
		if told == 0 {
			told = mostWeeks
		}
		if single == 0 {
			single = mostWeeks
		}
		whole, alone = append(whole, float64(told)), append(alone, float64(single))
	}
	return whole, alone
}

func charts() {
	kinds := []proofs{
		{"quiet", 0, 0, 0}, {"quiet, read in steps of 0.01 mm", 0, 0, 10_000},
		{"step of 1 sigma", 1, 0, 0}, {"step of 2 sigma", 2, 0, 0}, {"step of 3 sigma", 3, 0, 0},
		{"0.002 mm a week", 0, 2_000, 0},
	}
	type result struct {
		whole, alone []float64
	}
	results := make([]result, len(kinds))
	each(len(kinds), func(i int) {
		whole, alone := runs(kinds[i], *blades/100, uint64(i))
		results[i] = result{whole, alone}
	})
	fmt.Println("| proofs, one a week, 0.01 mm apart from each other | mean run | median run | told within 100 | individuals chart alone: mean, median, within 100 |")
	fmt.Println("|---|---|---|---|---|")
	for i, k := range kinds {
		slices.Sort(results[i].whole)
		slices.Sort(results[i].alone)
		figures := func(run []float64) (mean, median, within float64) {
			return stat.Mean(run, nil), stat.Quantile(0.5, stat.Empirical, run, nil), stat.CDF(100, stat.Empirical, run, nil)
		}
		mean, median, within := figures(results[i].whole)
		aMean, aMedian, aWithin := figures(results[i].alone)
		fmt.Printf("| %s | %.0f | %.0f | %.0f %% | %.0f, %.0f, %.0f %% |\n", k.name, mean, median, 100*within, aMean, aMedian, 100*aWithin)
	}
}
