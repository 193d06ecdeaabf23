package stacking

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.com/sawdatum/testdata/given"

	"gonum.org/v1/gonum/stat"
)

// independent are the programs that solve the same: the command line, and how the
// optimum is read from what they write.
var independent = []struct {
	name    string
	command func(problem, answer string) []string
	optimum func(text string) (float64, error)
}{
	{"glpsol", func(problem, answer string) []string { return []string{"--lp", problem, "-w", answer} }, glpkOptimum},
	{"cbc", func(problem, answer string) []string {
		return []string{problem, "scaling", "off", "ratio", "0", "allow", "0", "solve", "solution", answer}
	}, cbcOptimum},
}

var errInfeasible = errors.New("infeasible")

// glpkOptimum reads "s mip rows columns o objective": o says optimal, n infeasible.
func glpkOptimum(text string) (float64, error) {
	for line := range strings.Lines(text) {
		if f := strings.Fields(line); len(f) == 6 && f[0] == "s" && f[1] == "mip" {
			switch f[4] {
			case "o":
				return strconv.ParseFloat(f[5], 64)
			case "n":
				return 0, errInfeasible
			}
		}
	}
	return 0, fmt.Errorf("no optimum in %.80q", text)
}

// cbcOptimum reads "Optimal - objective value 12.00000000".
func cbcOptimum(text string) (float64, error) {
	line, _, _ := strings.Cut(text, "\n")
	if strings.Contains(strings.ToLower(line), "infeasible") {
		return 0, errInfeasible
	}
	value, ok := strings.CutPrefix(line, "Optimal - objective value ")
	if !ok {
		return 0, fmt.Errorf("no optimum in %.80q", text)
	}
	return strconv.ParseFloat(strings.TrimSpace(value), 64)
}

// solve hands one stage to a solver and says how much processor time that took:
// what else the machine does at the time is not counted against it.
func (in instance) solve(ctx context.Context, dir string, solver int, s stage) (best int64, took time.Duration, err error) {
	program := independent[solver]
	problem, answer := filepath.Join(dir, program.name+".lp"), filepath.Join(dir, program.name+".out")
	if err := os.WriteFile(problem, []byte(in.program(s)), 0o600); err != nil {
		return 0, 0, err
	}
	command := exec.CommandContext(ctx, program.name, program.command(problem, answer)...)
	out, err := command.CombinedOutput()
	if command.ProcessState != nil {
		took = command.ProcessState.UserTime() + command.ProcessState.SystemTime()
	}
	if err != nil {
		return 0, took, fmt.Errorf("%s: %w: %.200s", program.name, err, out)
	}
	text, err := os.ReadFile(answer)
	if err != nil {
		return 0, took, err
	}
	optimum, err := program.optimum(string(text))
	if err != nil {
		return 0, took, fmt.Errorf("%s: %w", program.name, err)
	}
	return int64(math.Round(optimum)), took, nil
}

// agree solves the lexicographic goal in stages and holds every stage against our
// answer. Blades that cannot, rings and standing stack are the solver's own optima;
// excess and worst residual are shown to be the least by asking for a micrometre
// less, which must cost more of what was settled before, or not be possible.
func (in instance) agree(ctx context.Context, dir string, solver int, ours RackFit) (took time.Duration, err error) {
	settled := stage{"rings", ours.Cannot, ours.Excess, -1, anything}
	last := stage{"standing", ours.Cannot, ours.Excess, ours.Rings, ours.Worst}
	checks := []struct {
		what  string
		s     stage
		value int64
		more  bool // the optimum must be more than value
	}{
		{"blades that cannot", stage{"cannot", -1, anything, -1, anything}, int64(ours.Cannot), false},
		{"less excess", stage{"cannot", -1, ours.Excess - micrometre, -1, anything}, int64(ours.Cannot), true},
		{"rings", settled, int64(ours.Rings), false},
		{"a smaller worst residual", stage{"rings", ours.Cannot, ours.Excess, -1, ours.Worst - micrometre}, int64(ours.Rings), true},
		{"standing stack", last, int64(ours.Standing.Height / micrometre), false},
	}
	for _, c := range checks {
		if c.more && (c.s.excess < 0 || c.s.worst < 0) {
			continue
		}
		best, t, err := in.solve(ctx, dir, solver, c.s)
		took += t
		switch {
		case c.more && errors.Is(err, errInfeasible):
		case err != nil:
			return took, fmt.Errorf("%s: %w", c.what, err)
		case c.more && best <= c.value || !c.more && best != c.value:
			return took, fmt.Errorf("%s: %s says %d, ours is %d", c.what, independent[solver].name, best, c.value)
		}
	}
	return took, nil
}

// TestIndependentSolvers puts small racks to GLPK and CBC. They are Debian's
// glpk-utils and coinor-cbc; where SAWDATUM_INDEPENDENT asks for the test and one of
// them is missing, it fails.
func TestIndependentSolvers(t *testing.T) {
	if os.Getenv("SAWDATUM_INDEPENDENT") != "1" {
		t.Log("not asked for: set SAWDATUM_INDEPENDENT=1, with glpsol and cbc installed")
		return
	}
	for _, tolerance := range []float64{0.02, 0.01, 0.005} {
		for seed := range uint64(2) {
			in := instanceOf(4, 7, given.MM(tolerance), seed)
			ours, err := in.ours()
			if err != nil {
				t.Fatal(err)
			}
			for s := range independent {
				if _, err := in.agree(t.Context(), t.TempDir(), s, ours); err != nil {
					t.Errorf("tolerance %v mm, seed %d, %+v: %v", tolerance, seed, ours.Score, err)
				}
			}
		}
	}
}

// BenchmarkIndependent solves racks of 12 blades and 12 rings with ours, GLPK and
// CBC in one run and prints what each took. Run it by testdata/independent.sh; SAWDATUM_RACKS
// says how many a tolerance, seven without it.
func BenchmarkIndependent(b *testing.B) {
	racks := uint64(7)
	if n, err := strconv.ParseUint(os.Getenv("SAWDATUM_RACKS"), 10, 8); err == nil {
		racks = n
	}
	fmt.Printf("%-28s %4s %8s %6s %8s %9s %10s %10s %10s %9s\n", "tolerance, seed", "cannot", "excess", "rings", "worst", "standing", "ours", "glpsol", "cbc", "ratio")
	var ratios []float64
	for _, tolerance := range []float64{0.02, 0.01, 0.005} {
		for seed := range racks {
			in := instanceOf(12, 12, given.MM(tolerance), seed)
			var times []float64
			var ours RackFit
			for range 25 {
				began := time.Now()
				var err error
				if ours, err = in.ours(); err != nil {
					b.Fatal(err)
				}
				times = append(times, time.Since(began).Seconds())
			}
			slices.Sort(times)
			mine := stat.Quantile(0.5, stat.Empirical, times, nil)
			theirs := make([]float64, len(independent))
			for s := range independent {
				took, err := in.agree(b.Context(), b.TempDir(), s, ours)
				if err != nil {
					b.Fatalf("tolerance %v mm, seed %d, %+v on %v: %v", tolerance, seed, ours.Score, ours.Standing.Height, err)
				}
				theirs[s] = took.Seconds()
			}
			ratio := slices.Min(theirs) / mine
			ratios = append(ratios, ratio)
			fmt.Printf("%v mm, seed %-14d %6d %8v %6d %8v %9v %8.2fms %9.2fs %9.2fs %9.0f\n", tolerance, seed, ours.Cannot, ours.Excess.Millimetres(), ours.Rings, ours.Worst.Millimetres(), ours.Standing.Height.Millimetres(), 1000*mine, theirs[0], theirs[1], ratio)
		}
	}
	slices.Sort(ratios)
	median := stat.Quantile(0.5, stat.Empirical, ratios, nil)
	fmt.Printf("%d racks, the same optimum by all three; the faster of the two takes %.0f times as long at the median, %.0f at the least\n", len(ratios), median, ratios[0])
	b.ReportMetric(median, "times")
}
