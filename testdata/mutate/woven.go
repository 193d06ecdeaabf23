package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// What tells the program which change holds, and the number of none.
const (
	variable = "SAWDATUM_MUTANT"
	none     = -1
)

// chosen goes into the package: the number of the change that holds, and a variable's value
// with it and without.
const chosen = `package %s

import (
	"os"
	"strconv"
)

var mutantNow = func() int {
	n, err := strconv.Atoi(os.Getenv("` + variable + `"))
	if err != nil {
		return -1
	}
	return n
}()

func mutantValue[T any](n int, changed, as T) T {
	if mutantNow == n {
		return changed
	}
	return as
}
`

// built names the change in whose text the compiler found a fault.
var built = regexp.MustCompile(`\bmutant(\d+):\d+`)

// build makes the tests of a package, its own or of one above, with all its changes in them, and
// adds to unbuilt which had to be left out since they do not build.
func (p pkg) build(all []mutant, unbuilt map[int]bool, by pkg, dir, program string) error {
	for {
		overlay, err := p.overlay(all, unbuilt, dir)
		if err != nil {
			return err
		}
		c := exec.Command("go", "test", "-c", "-vet=off", "-gcflags="+p.ImportPath+"=-e", "-overlay", overlay, "-o", program, ".")
		c.Dir = by.Dir
		out, failed := c.CombinedOutput()
		if failed == nil {
			return nil
		}
		before := len(unbuilt)
		for _, found := range built.FindAllSubmatch(out, -1) {
			n, _ := strconv.Atoi(string(found[1]))
			unbuilt[n] = true
		}
		if len(unbuilt) == before {
			return fmt.Errorf("%s does not build: %w\n%s", p.name(), failed, out)
		}
	}
}

// overlay writes the files with the changes, and which file of the package each stands for.
func (p pkg) overlay(all []mutant, without map[int]bool, dir string) (string, error) {
	of := map[string]map[span][]int{}
	for i, m := range all {
		if without[i] {
			continue
		}
		if of[m.file] == nil {
			of[m.file] = map[span][]int{}
		}
		of[m.file][m.span] = append(of[m.file][m.span], i)
	}
	files := map[string]string{}
	put := func(file, text string) error {
		files[file] = filepath.Join(dir, filepath.Base(file))
		return os.WriteFile(files[file], []byte(text), 0o600)
	}
	for file, spans := range of {
		src, err := os.ReadFile(file)
		if err != nil {
			return "", err
		}
		if err := put(file, woven(string(src), spans, all)); err != nil {
			return "", err
		}
	}
	if err := put(filepath.Join(p.Dir, "mutant_now.go"), fmt.Sprintf(chosen, p.Name)); err != nil {
		return "", err
	}
	overlay := filepath.Join(dir, "overlay.json")
	text, err := json.Marshal(map[string]any{"Replace": files})
	if err != nil {
		return "", err
	}
	return overlay, os.WriteFile(overlay, text, 0o600)
}

// woven is a file with all its changes, by the bodies and values that they are in: each body
// goes, where one of its changes holds, through a copy of itself with that change.
func woven(src string, spans map[span][]int, all []mutant) string {
	order := make([]span, 0, len(spans))
	for s := range spans {
		order = append(order, s)
	}
	slices.SortFunc(order, func(a, b span) int { return b.from - a.from }) // the last first: the places before stay
	for _, s := range order {
		as := src[s.from:s.to]
		if s.ends == "" {
			for _, n := range spans[s] {
				as = fmt.Sprintf("mutantValue(%d, /*line mutant%d:1:1*/%s/*line rest:1:1*/, %s)", n, n, all[n].text, as)
			}
		} else {
			var copies strings.Builder
			for _, n := range spans[s] {
				fmt.Fprintf(&copies, "case %d:\n/*line mutant%d:1:1*/%s\n/*line rest:1:1*/%s\n", n, n, all[n].text, s.ends)
			}
			as = fmt.Sprintf("{\nswitch mutantNow {\n%s}\n%s\n}", copies.String(), as)
		}
		src = src[:s.from] + as + src[s.to:]
	}
	return src
}
