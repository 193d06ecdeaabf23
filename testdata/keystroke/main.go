// Command keystroke counts what one key costs at a comparison: how often each function is
// entered for the last figure of a strip's third width and the frame that shows its verdict.
// It runs a test twice, with the key and without it, under the coverage counters of go test.
//
//	go run ./testdata/keystroke [-all]
package main

import (
	"bufio"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// named are what a key should cost little of, by package and function.
var named = []struct{ what, function string }{
	{"lengths parsed", "model.ParseLength"},
	{"lists of readings parsed", "model.ParseReadings"},
	{"field checks", "procedure.Check"},
	{"folds of the records", "model.Fold"},
	{"plans", "solver.Judge"},
	{"views made", "procedure.View"},
	{"pictures drawn", "procedure.Picture"},
}

func main() {
	all := flag.Bool("all", false, "every function that the key enters")
	flag.Parse()
	if err := run(*all); err != nil {
		fmt.Fprintln(os.Stderr, "keystroke:", err)
		os.Exit(1)
	}
}

func run(all bool) error {
	without, err := entered("without")
	if err != nil {
		return err
	}
	with, err := entered("with")
	if err != nil {
		return err
	}
	cost := map[string]int{}
	for f, n := range with {
		if n > without[f] {
			cost[f] = n - without[f]
		}
	}
	if all {
		for _, f := range slices.SortedFunc(maps.Keys(cost), func(a, b string) int { return cost[b] - cost[a] }) {
			fmt.Printf("%6d  %s\n", cost[f], f)
		}
		return nil
	}
	for _, n := range named {
		fmt.Printf("%-26s %3d\n", n.what, cost[n.function])
	}
	return nil
}

// entered is how often each function is entered by one half of the test, by its name.
func entered(half string) (map[string]int, error) {
	dir, err := os.MkdirTemp("", "keystroke")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	profile := filepath.Join(dir, "counts")
	test := exec.Command("go", "test", "-count=1", "-covermode=count", "-coverpkg=./...", "-coverprofile="+profile, "-run", "^TestOneKey$/^"+half+"$", "./wizard/screen")
	if out, err := test.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("%s: %w", out, err)
	}
	starts, err := functions()
	if err != nil {
		return nil, err
	}
	f, err := os.Open(profile)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	counts := map[string]int{}
	for lines := bufio.NewScanner(f); lines.Scan(); {
		// example.com/sawdatum/model/fold.go:9.34,12.2 3 41
		at, rest, _ := strings.Cut(lines.Text(), ",")
		name, ok := starts[strings.TrimPrefix(at, "example.com/sawdatum/")]
		words := strings.Fields(rest)
		if !ok || len(words) != 3 {
			continue
		}
		n, err := strconv.Atoi(words[2])
		if err != nil {
			return nil, err
		}
		counts[name] += n
	}
	return counts, nil
}

// functions are the functions of the tree by where their first block begins.
func functions() (map[string]string, error) {
	starts := map[string]string{}
	err := filepath.WalkDir(".", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.HasPrefix(path, "testdata") {
			return err
		}
		files := token.NewFileSet()
		parsed, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, d := range parsed.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Body != nil {
				at := files.Position(f.Body.Lbrace)
				starts[fmt.Sprintf("%s:%d.%d", filepath.ToSlash(path), at.Line, at.Column)] = parsed.Name.Name + "." + f.Name.Name
			}
		}
		return nil
	})
	return starts, err
}
