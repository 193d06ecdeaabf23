// Strips prints how well verdicts by strips hold: the tables in DEVELOPERS.md.
//
//	go run ./testdata/strips accepts    false accepts at the limit over the grid
//	go run ./testdata/strips perfect    blades at the datum and half-way to the limit
//	go run ./testdata/strips habits     what bad days, quiet references, mountings and burrs do
//	go run ./testdata/strips drift      how long it takes until a chart of proofs tells something
//	go run ./testdata/strips loop       what becomes of 200 invented shops, stack after stack
package main

import (
	"flag"
	"fmt"
	"os"
	"runtime"
	"sync"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/strips/trial"
)

const micrometre = 1000 * model.Nanometre

var blades = flag.Int("blades", 200_000, "blades a cell")

func main() {
	flag.Parse()
	tables := map[string]func(){"accepts": accepts, "perfect": perfect, "habits": habits, "drift": charts, "loop": loop}
	print, ok := tables[flag.Arg(0)]
	if !ok {
		fmt.Fprintln(os.Stderr, "strips: name a table: accepts, perfect, habits, drift or loop")
		os.Exit(2)
	}
	print()
}

// each runs jobs on all processors.
func each(n int, job func(i int)) {
	var all sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		all.Go(func() {
			for i := range next {
				job(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	all.Wait()
}

// row is one line of the table of false accepts: a shop's tolerance, caliper and
// history, over all ways in which rips and readings repeat.
type row struct {
	tolerance, step model.Length
	history         int
}

func accepts() {
	var rows []row
	for _, tolerance := range []model.Length{50_000, 54_000, 58_500, 67_000, 100_000} {
		for _, step := range []model.Length{10_000, 20_000} {
			for _, history := range []int{0, 12} {
				rows = append(rows, row{tolerance, step, history})
			}
		}
	}
	rips, readings := []float64{0, 5_000, 10_000, 20_000}, []float64{1_000, 10_000, 30_000}
	cells := len(rips) * len(readings)
	type result struct {
		cell              trial.Cell
		stubborn, advised trial.Outcome
	}
	results := make([]result, len(rows)*cells)
	each(len(results), func(i int) {
		r := rows[i/cells]
		c := trial.Cell{Tolerance: r.tolerance, Step: r.step, History: r.history, Rip: rips[i%cells/len(readings)], Reading: readings[i%len(readings)]}
		at := float64(r.tolerance)
		results[i] = result{
			cell:     c,
			stubborn: trial.Run(c, at, trial.Stubborn, *blades, uint64(i)),
			advised:  trial.Run(c, at, trial.Advised, *blades/10, uint64(i)),
		}
	})
	fmt.Println("| tolerance, step | history | worst false accepts, going on regardless | where: rip, reading | as advised |")
	fmt.Println("|---|---|---|---|---|")
	for k, r := range rows {
		worst, advised := results[k*cells], 0.0
		for _, x := range results[k*cells : (k+1)*cells] {
			if x.stubborn.InShare() > worst.stubborn.InShare() {
				worst = x
			}
			advised = max(advised, x.advised.InShare())
		}
		fmt.Printf("| %s, %s | %d | %.2f %% | %.3f, %.3f mm | %.2f %% |\n", r.tolerance.Of(model.MM), r.step.Of(model.MM), r.history, 100*worst.stubborn.InShare(), worst.cell.Rip/1e6, worst.cell.Reading/1e6, 100*advised)
	}
}

func perfect() {
	var cells []trial.Cell
	for _, tolerance := range []model.Length{50_000, 100_000} {
		for _, history := range []int{0, 12} {
			for _, rip := range []float64{0, 5_000, 10_000, 20_000} {
				cells = append(cells, trial.Cell{Tolerance: tolerance, Step: 10 * micrometre, History: history, Rip: rip, Reading: 4_000})
			}
		}
	}
	results := make([][4]trial.Outcome, len(cells))
	each(len(cells), func(i int) {
		c, n := cells[i], *blades/10
		half := float64(c.Tolerance) / 2
		results[i] = [4]trial.Outcome{
			trial.Run(c, 0, trial.Stubborn, n, uint64(i)), trial.Run(c, 0, trial.Advised, n, uint64(i)),
			trial.Run(c, half, trial.Stubborn, n, uint64(i)), trial.Run(c, half, trial.Advised, n, uint64(i)),
		}
	})
	fmt.Println("| tolerance, history | rip to rip | perfect, going on: in, further strips | as advised | half-way, going on | as advised |")
	fmt.Println("|---|---|---|---|---|---|")
	for i, c := range cells {
		fmt.Printf("| %s, %d | %.3f mm |", c.Tolerance.Of(model.MM), c.History, c.Rip/1e6)
		for _, o := range results[i] {
			fmt.Printf(" %.1f %%, %.1f |", 100*o.InShare(), float64(o.Further)/float64(o.Blades))
		}
		fmt.Println()
	}
}

func habits() {
	shops := []struct {
		name string
		cell trial.Cell
	}{
		{"as usual", trial.Cell{}},
		{"a day of twice the scatter, 12 degrees of usual history", trial.Cell{Worse: 2, History: 12}},
		{"a day of twice the scatter, no history", trial.Cell{Worse: 2}},
		{"a reference three times as quiet", trial.Cell{Quiet: 0.33}},
		{"a reference three times as quiet, 12 degrees", trial.Cell{Quiet: 0.33, History: 12}},
		{"mounting 0.005 mm", trial.Cell{Mounting: 5_000, History: 12}},
		{"mounting 0.01 mm", trial.Cell{Mounting: 10_000, History: 12}},
		{"a burr on one strip in ten, not looked for", trial.Cell{Burrs: 0.1}},
	}
	results := make([][2]trial.Outcome, 2*len(shops))
	each(len(results), func(i int) {
		c := shops[i/2].cell
		c.Tolerance, c.Step, c.Reading = []model.Length{50_000, 100_000}[i%2], 10*micrometre, 4_000
		c.Rip = []float64{5_000, 10_000}[i%2]
		results[i] = [2]trial.Outcome{trial.Run(c, float64(c.Tolerance), trial.Stubborn, *blades, uint64(i)), trial.Run(c, 0, trial.Advised, *blades/10, uint64(i))}
	})
	fmt.Println("| shop | tolerance 0.05, rip 0.005 mm: false accepts, perfect in | tolerance 0.1, rip 0.01 mm |")
	fmt.Println("|---|---|---|")
	for i, s := range shops {
		a, b := results[2*i], results[2*i+1]
		fmt.Printf("| %s | %.2f %%, %.1f %% | %.2f %%, %.1f %% |\n", s.name, 100*a[0].InShare(), 100*a[1].InShare(), 100*b[0].InShare(), 100*b[1].InShare())
	}
}
