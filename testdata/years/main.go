// Years plays simulated years of shops through the real procedure and counts what came of
// them: the table in DEVELOPERS.md.
//
//	go run ./testdata/years [-years 100] [-first 1] [-tolerance 0.05] [-bad 10] [-told]
package main

import (
	"flag"
	"fmt"
	"runtime"
	"sync"

	"example.com/sawdatum/model"
	"example.com/sawdatum/testdata/years/year"
)

func main() {
	years, first := flag.Int("years", 100, "how many"), flag.Uint64("first", 1, "seed of the first")
	bad := flag.Int("bad", 10, "one day of so many repeats twice as badly; 0: none")
	tolerance, told := flag.Float64("tolerance", 0.05, "of the shops, mm"), flag.Bool("told", false, "say each false ready")
	flag.Parse()
	width, err := model.FromMillimetres(*tolerance)
	if err != nil {
		panic(err)
	}
	all := make([]year.Tally, *years)
	var wait sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range next {
				all[i] = year.Play(*first+uint64(i), width, *bad)
			}
		})
	}
	for i := range all {
		next <- i
	}
	close(next)
	wait.Wait()
	var sum year.Tally
	for _, t := range all {
		sum.Add(t)
	}
	of := func(n int) string { return fmt.Sprintf("%.1f", float64(n)/float64(max(sum.Years, 1))) }
	fmt.Printf("| of %d years, tolerance %g mm, a year | |\n|---|---|\n", sum.Years, *tolerance)
	fmt.Printf("| strips; mountings; runs | %s; %s; %s |\n", of(sum.Strips), of(sum.Mounted), of(sum.Runs))
	fmt.Printf("| mountings of a blade called ready, all told | %d |\n", sum.Cuts)
	for why, n := range sum.False {
		fmt.Printf("| of them beyond the tolerance, all told: %s | %d |\n", why, n)
	}
	for how, n := range sum.KnifeOut {
		fmt.Printf("| with the knife out of its kerf, %s, all told | %d |\n", how, n)
	}
	for why, n := range sum.Checks {
		fmt.Printf("| put to check: %s; needlessly | %s; %s |\n", why, of(n), of(sum.Needless[why]))
	}
	fmt.Printf("| wanted, and could not be made ready | %s |\n", of(sum.Unbrought))
	fmt.Printf("| wanted, and its knife was lost | %s |\n", of(sum.Knifeless))
	fmt.Printf("| runs that an honest hand could not end | %s |\n", of(len(sum.Stopped)))
	for _, s := range sum.Stopped {
		fmt.Println("stopped:", s)
	}
	if *told {
		for _, s := range sum.Told {
			fmt.Println(s)
		}
	}
}
