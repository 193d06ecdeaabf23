// Command mutate changes the code of a package in one small way after the other, and runs the
// package's tests on each change: what no test misses survives. All changes are built into one
// program, which is told by its environment which of them holds. It writes nothing into the
// tree, since go reads the changed files through -overlay.
//
//	go run ./testdata/mutate [-run REGEXP] [-skip REGEXP] [-files REGEXP] [-only REGEXP] [-by PACKAGE] ./model/interlock ...
//
// testdata/mutate/survivors.txt lists what may survive, each with its reason. A survivor that
// is not in it is an error, and so is a line of it that does not survive any more.
package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"
)

const list = "testdata/mutate/survivors.txt"

// pkg is what go list says of a package.
type pkg struct {
	Dir, ImportPath, Name              string
	GoFiles, TestImports, XTestImports []string
	Module                             struct{ Path string }
}

func main() {
	tests := flag.String("run", "", "only these `tests`")
	skip := flag.String("skip", "", "without these `tests`")
	files := flag.String("files", "", "only `files` with such names")
	only := flag.String("only", "", "only `changes` that read so")
	by := flag.String("by", "", "what the package's own tests leave, by the tests of this `package` above it")
	limit := flag.Duration("limit", time.Minute, "a test that takes longer has caught its mutant")
	flag.Parse()
	if err := run(flag.Args(), []string{"-test.run", *tests, "-test.skip", *skip}, *files, *only, *by, *limit); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

func run(paths, tests []string, files, only, by string, limit time.Duration) error {
	wanted, err := regexp.Compile(files)
	if err != nil {
		return err
	}
	these, err := regexp.Compile(only)
	if err != nil {
		return err
	}
	text, err := os.ReadFile(list)
	if err != nil {
		return err
	}
	known := reasons(string(text))
	var wrong []string
	for _, path := range paths {
		p, err := listed(path)
		if err != nil {
			return err
		}
		all, err := p.mutants(wanted)
		if err != nil {
			return err
		}
		whole := ""
		if files+only == "" {
			whole = p.name() + "/"
		}
		all = slices.DeleteFunc(all, func(m mutant) bool { return !these.MatchString(m.what) })
		testers := []pkg{p}
		if by != "" {
			above, err := listed(by)
			if err != nil {
				return err
			}
			testers = append(testers, above)
		}
		found, err := p.try(all, testers, tests, limit)
		if err != nil {
			return err
		}
		wrong = append(wrong, found.against(known, all, whole)...)
		fmt.Printf("%s: %d changes, %d caught, %d survive, %d do not build\n", p.name(), len(all), len(all)-len(found.alive)-found.unbuilt, len(found.alive), found.unbuilt)
	}
	if len(wrong) > 0 {
		return fmt.Errorf("not as %s has it:\n%s", list, strings.Join(wrong, "\n"))
	}
	return nil
}

// reasons are the lines of the list: what survives, two blanks or more and a #, and why.
func reasons(text string) map[string]string {
	known := map[string]string{}
	for line := range strings.Lines(text) {
		what, why, ok := strings.Cut(strings.TrimSpace(line), "  # ")
		if ok {
			known[strings.TrimSpace(what)] = why
		}
	}
	return known
}

func listed(path string) (p pkg, err error) {
	out, err := exec.Command("go", "list", "-json", path).Output()
	if err != nil {
		return p, fmt.Errorf("go list %s: %w", path, err)
	}
	return p, json.Unmarshal(out, &p)
}

// name is the package as the list calls it.
func (p pkg) name() string { return strings.TrimPrefix(p.ImportPath, p.Module.Path+"/") }

func (p pkg) mutants(wanted *regexp.Regexp) (all []mutant, err error) {
	for _, file := range p.GoFiles {
		if !wanted.MatchString(file) {
			continue
		}
		more, err := mutantsOf(filepath.Join(p.Dir, file), p.name()+"/"+file)
		if err != nil {
			return nil, err
		}
		all = append(all, more...)
	}
	return all, nil
}

// outcome is what became of the mutants of a package.
type outcome struct {
	alive   []string
	unbuilt int
}

// against is how the survivors differ from the list. whole is how the lines of a package begin
// all of whose changes were tried.
func (o outcome) against(known map[string]string, tried []mutant, whole string) (wrong []string) {
	lives := map[string]bool{}
	for _, what := range o.alive {
		lives[what] = true
		if known[what] == "" {
			wrong = append(wrong, "survives: "+what)
		}
	}
	for what := range known {
		was := slices.ContainsFunc(tried, func(m mutant) bool { return m.what == what })
		if was && !lives[what] || !was && whole != "" && strings.HasPrefix(what, whole) {
			wrong = append(wrong, "is caught, or is no more: "+what)
		}
	}
	return wrong
}

// try runs the tests on each mutant, those of one package after those of the other, as many at
// once as there are processors.
func (p pkg) try(all []mutant, testers []pkg, tests []string, limit time.Duration) (o outcome, err error) {
	dir, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return o, err
	}
	defer os.RemoveAll(dir)
	unbuilt, programs := map[int]bool{}, []string{}
	for i, by := range testers {
		program := filepath.Join(dir, fmt.Sprint("tests", i))
		if err := p.build(all, unbuilt, by, dir, program); err != nil {
			return o, err
		}
		programs = append(programs, program)
	}
	o.unbuilt = len(unbuilt)
	test := func(by, number int) ([]byte, error) {
		timeout, cancel := context.WithTimeout(context.Background(), limit+time.Minute)
		defer cancel()
		flags := append([]string{"-test.failfast", "-test.timeout", limit.String()}, tests...)
		if slices.Contains(slices.Concat(testers[by].TestImports, testers[by].XTestImports), "pgregory.net/rapid") { // that a change is caught is enough
			flags = append(flags, "-rapid.nofailfile", "-rapid.shrinktime=0")
		}
		c := exec.CommandContext(timeout, programs[by], flags...)
		c.Dir, c.Env = testers[by].Dir, append(os.Environ(), fmt.Sprint(variable, "=", number))
		return c.CombinedOutput()
	}
	// The code as it is passes, or every mutant would seem to be caught.
	for by := range testers {
		if out, err := test(by, none); err != nil {
			return o, fmt.Errorf("the tests fail without any change:\n%s", out)
		}
	}
	var (
		wait  sync.WaitGroup
		mu    sync.Mutex
		slots = make(chan struct{}, runtime.GOMAXPROCS(0))
	)
	for i, m := range all {
		if unbuilt[i] {
			continue
		}
		slots <- struct{}{}
		wait.Go(func() {
			defer func() { <-slots }()
			for by := range testers {
				if _, err := test(by, i); err != nil {
					return
				}
			}
			mu.Lock()
			defer mu.Unlock()
			o.alive = append(o.alive, m.what)
			fmt.Println("  survives:", m.what)
		})
	}
	wait.Wait()
	return o, nil
}
