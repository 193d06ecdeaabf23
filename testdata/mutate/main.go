// Command mutate changes the code of a package in one small way after the other, and runs the
// package's tests on each change: what no test misses survives. It writes nothing into the
// tree, since go reads the changed file through -overlay.
//
//	go run ./testdata/mutate [-run REGEXP] [-files REGEXP] [-only REGEXP] ./model/interlock ...
//
// testdata/mutate/survivors.txt lists what may survive, each with its reason. A survivor that
// is not in it is an error, and so is a line of it that does not survive any more.
package main

import (
	"bytes"
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
	Dir, ImportPath string
	GoFiles         []string
	Module          struct{ Path string }
}

func main() {
	tests := flag.String("run", "", "only these `tests`")
	files := flag.String("files", "", "only `files` with such names")
	only := flag.String("only", "", "only `changes` that read so")
	limit := flag.Duration("limit", time.Minute, "a test that takes longer has caught its mutant")
	flag.Parse()
	if err := run(flag.Args(), *tests, *files, *only, *limit); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

func run(paths []string, tests, files, only string, limit time.Duration) error {
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
		found, err := try(all, []string{"test", "-count=1", "-failfast", "-vet=off", "-run", tests, path}, limit)
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

// try runs the tests on each mutant, as many at once as there are processors.
func try(all []mutant, test []string, limit time.Duration) (o outcome, err error) {
	dir, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return o, err
	}
	defer os.RemoveAll(dir)
	// The code as it is passes, or every mutant would seem to be caught.
	if out, err := exec.Command("go", test...).CombinedOutput(); err != nil {
		return o, fmt.Errorf("the tests fail without any change:\n%s", out)
	}
	var (
		wait  sync.WaitGroup
		mu    sync.Mutex
		slots = make(chan struct{}, runtime.GOMAXPROCS(0))
	)
	for i, m := range all {
		slots <- struct{}{}
		wait.Go(func() {
			defer func() { <-slots }()
			out, passed, failed := m.try(filepath.Join(dir, fmt.Sprint(i)), test, limit)
			mu.Lock()
			defer mu.Unlock()
			switch {
			case failed != nil:
				err = failed
			case passed:
				o.alive = append(o.alive, m.what)
				fmt.Println("  survives:", m.what)
			case bytes.Contains(out, []byte("[build failed]")):
				o.unbuilt++
			}
		})
	}
	wait.Wait()
	return o, err
}

// try runs the tests on one mutant; passed: nobody missed what it lacks.
func (m mutant) try(base string, test []string, limit time.Duration) (out []byte, passed bool, err error) {
	source, overlay := base+".go", base+".json"
	replace, err := json.Marshal(map[string]any{"Replace": map[string]string{m.file: source}})
	if err != nil {
		return nil, false, err
	}
	if err := os.WriteFile(source, m.source, 0o600); err != nil {
		return nil, false, err
	}
	if err := os.WriteFile(overlay, replace, 0o600); err != nil {
		return nil, false, err
	}
	timeout, cancel := context.WithTimeout(context.Background(), limit+time.Minute)
	defer cancel()
	args := append([]string{test[0], "-overlay", overlay, "-timeout", limit.String()}, test[1:]...)
	out, failed := exec.CommandContext(timeout, "go", args...).CombinedOutput()
	return out, failed == nil, nil
}
