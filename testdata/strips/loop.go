package main

import (
	"fmt"
	"os"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver/simsaw"
	"example.com/sawdatum/testdata/strips/trial"
)

func loop() {
	fmt.Println("| tolerance | rings | blades | in | false in | left with a cure | ring changes | for the worse | most stacks of a blade | offered again | without an end | blades that asked to measure rings | strips a blade |")
	fmt.Println("|---|---|---|---|---|---|---|---|---|---|---|---|---|")
	for _, tolerance := range []model.Length{20_000, 30_000, 50_000, 100_000} {
		for _, measured := range []bool{false, true} {
			shops := make([]trial.Loop, 200)
			each(len(shops), func(i int) {
				var err error
				if shops[i], err = trial.Compare(uint64(i), tolerance, measured, simsaw.Habits{Rip: 5_000}); err != nil {
					fmt.Fprintln(os.Stderr, "strips:", err)
					os.Exit(1)
				}
			})
			var all trial.Loop
			for _, s := range shops {
				all.Add(s)
			}
			rings := map[bool]string{false: "nominal", true: "measured"}[measured]
			fmt.Printf("| %s | %s | %d | %d | %d | %d | %d | %.1f %% | %d | %d | %d | %d | %.1f |\n", tolerance.Of(model.MM), rings, all.Blades, all.In, all.FalseIn, all.Left,
				all.Changes, 100*float64(all.Worse)/float64(max(all.Changes, 1)), all.MostGoes, all.Again, all.Endless, all.Measured, float64(all.Strips)/float64(all.Blades))
		}
	}
}
