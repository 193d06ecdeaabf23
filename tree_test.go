package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"
)

const module = "example.com/sawdatum"

// mayImport says for each folder of code what of ours it may import besides what lies
// below itself; x/... is x with all that lies below it. Imports run one way:
// main -> wizard -> profiles -> solver -> model.
var mayImport = map[string][]string{
	".":                  {"wizard/...", "profiles/...", "solver/...", "model/...", "testdata/procedure", "testdata/terminal", "testdata/walk"},
	"wizard":             {"wizard/procedure", "wizard/stages/...", "solver/...", "model/..."},
	"wizard/tell":        {"wizard", "wizard/procedure", "wizard/picture", "profiles/export", "solver/...", "model/..."},
	"wizard/screen":      {"wizard", "wizard/procedure", "wizard/tell", "wizard/frame", "wizard/picture", "wizard/field", "wizard/background", "profiles/export", "model/..."},
	"wizard/plain":       {"wizard", "wizard/procedure", "wizard/tell", "profiles/export", "model/..."},
	"wizard/frame":       {"wizard/picture", "model"},
	"wizard/picture":     {"solver/...", "model/..."},
	"wizard/field":       {"model/..."},
	"wizard/background":  {},
	"wizard/procedure":   {"model/..."},
	"wizard/stages":      {"wizard/stages/shop", "wizard/stages/form", "wizard/stages/practice", "wizard/procedure", "wizard/picture", "solver/...", "model/..."},
	"wizard/stages/shop": {"wizard/stages/form", "wizard/stages/practice", "wizard/procedure", "wizard/picture", "solver/...", "model/..."},
	"profiles":           {"profiles/text", "solver", "model"},
	"profiles/text":      {"model"},
	"profiles/export":    {"profiles", "profiles/text", "solver/...", "model"},
	"solver":             {"solver/metrology", "solver/stacking", "solver/evidence", "solver/gauging", "solver/drift", "model/..."},
	"solver/metrology":   {"model/..."},
	"solver/stacking":    {"solver/metrology", "model/..."},
	"solver/evidence":    {"solver/stacking", "solver/metrology", "model/..."},
	"solver/gauging":     {"solver/metrology", "model/..."},
	"solver/drift":       {"solver/metrology", "model/..."},
	"solver/simsaw":      {"model/..."},
	"model":              {},
	"model/interlock":    {},
	"testdata/terminal":  {},
	"testdata/procedure": {},
	"testdata/walk":      {"testdata/terminal", "testdata/procedure", "profiles/...", "solver/..."},
	"testdata/measure":   {"testdata/terminal", "testdata/walk"},
	"testdata/frames":    {"testdata/terminal", "testdata/walk"},
	"testdata/sample":    {"model/..."},
	"testdata/invented":  {"solver/simsaw", "model"},
	"testdata/strips":    {"testdata/invented", "solver/...", "model/..."},
	"testdata/given":     {"model/..."},
	"testdata/years":     {"testdata/hand", "testdata/invented", "wizard/stages/...", "wizard/procedure", "solver/...", "model/..."},
	"testdata/mutate":    {},
	"testdata/update":    {},
	"testdata/roam":      {},
}

// onlyInTests are imports that tests need and the program must not have: the
// procedure is explored with the real plan, against a saw that is not there, and told
// in stories about a saw in a profile; strips are ripped by the thousand.
var onlyInTests = map[string][]string{
	"model":           {"solver/...", "profiles/...", "testdata/procedure", "testdata/roam"},
	"solver":          {"testdata/strips/trial", "testdata/given", "testdata/invented"},
	"profiles":        {"testdata/sample"},
	"profiles/text":   {"testdata/sample"},
	"profiles/export": {"testdata/sample"},
	"wizard/plain":    {"testdata/bay", "testdata/hand"},
	"wizard/screen":   {"wizard/plain", "wizard/stages/...", "testdata/bay", "testdata/hand"},

	"wizard/stages":    {"profiles/...", "testdata/hand", "testdata/procedure", "testdata/roam"},
	"wizard/procedure": {"solver/...", "profiles/...", "testdata/hand", "testdata/procedure", "wizard/stages"},

	"solver/metrology": {"testdata/given"},
	"solver/stacking":  {"testdata/given", "testdata/invented", "solver", "solver/simsaw"},
	"solver/simsaw":    {"testdata/invented"},
	"solver/evidence":  {"testdata/given"},
	"solver/gauging":   {"testdata/given"},
	"solver/drift":     {"testdata/given"},
}

// updating gives tests the flag -update.
const updating = "testdata/update"

// Flags are handed to every test below a folder: go test ./wizard/... -update wants them
// all to know it.
func TestEveryTestOfTheWizardKnowsUpdate(t *testing.T) {
	knows := map[string]bool{}
	for _, file := range tree(t) {
		folder := filepath.ToSlash(filepath.Dir(file))
		if !below(folder, "wizard") || !strings.HasSuffix(file, "_test.go") {
			continue
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		knows[folder] = knows[folder] || slices.ContainsFunc(parsed.Imports, func(spec *ast.ImportSpec) bool {
			return spec.Path.Value == strconv.Quote(module+"/"+updating)
		})
	}
	for folder, does := range knows {
		if !does {
			t.Errorf("the tests of %s do not know -update: import _ %q", folder, module+"/"+updating)
		}
	}
}

func TestImportsRunOneWay(t *testing.T) {
	files := 0
	for _, file := range tree(t) {
		if filepath.Ext(file) != ".go" {
			continue
		}
		files++
		folder := filepath.ToSlash(filepath.Dir(file))
		home := folder // the row of mayImport: the folder itself, or the nearest above it
		for mayImport[home] == nil && home != "." {
			home = path.Dir(home)
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, spec := range parsed.Imports {
			name, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			ours, isOurs := strings.CutPrefix(name, module+"/")
			switch {
			case isOurs && !below(ours, home) && !listed(ours, mayImport[home]) &&
				!(strings.HasSuffix(file, "_test.go") && (listed(ours, onlyInTests[home]) || ours == updating)):
				t.Errorf("%s imports %s: imports run main -> wizard -> profiles -> solver -> model", file, ours)
			case !isOurs && below(folder, "model") && strings.Contains(name, ".") && !strings.HasSuffix(file, "_test.go"):
				t.Errorf("%s imports %s: model takes the standard library only", file, name)
			}
		}
	}
	if files < 30 {
		t.Errorf("only %d Go files were looked at", files)
	}
}

// listed reports whether a folder is on a list of mayImport.
func listed(folder string, list []string) bool {
	return slices.ContainsFunc(list, func(f string) bool {
		top, all := strings.CutSuffix(f, "/...")
		return folder == top || all && below(folder, top)
	})
}

func below(folder, top string) bool { return folder == top || strings.HasPrefix(folder, top+"/") }

// TestNoMachinePaths looks for paths and names of the machines that the project was
// written on.
func TestNoMachinePaths(t *testing.T) {
	machine := regexp.MustCompile(`/(?:home|root|work|tmp|Users|mnt)/[\w.]|[A-Z]:\\Users`)
	for _, file := range tree(t) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if !utf8.Valid(data) || filepath.Base(file) == "tree_test.go" {
			continue
		}
		for i, line := range strings.Split(string(data), "\n") {
			if found := machine.FindString(line); found != "" {
				t.Errorf("%s:%d names a place on somebody's machine: %s", file, i+1, found)
			}
		}
	}
}

// tree lists the files of the repository.
func tree(t *testing.T) []string {
	t.Helper()
	var files []string
	err := filepath.WalkDir(".", func(file string, d fs.DirEntry, err error) error {
		if err == nil && d.IsDir() && d.Name() == ".git" {
			return fs.SkipDir
		}
		if err == nil && d.Type().IsRegular() {
			files = append(files, file)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// productFiles are the Go files of the program: tests and their data left out.
func productFiles(t *testing.T) []string {
	return slices.DeleteFunc(tree(t), func(file string) bool {
		return filepath.Ext(file) != ".go" || strings.HasSuffix(file, "_test.go") || below(filepath.ToSlash(file), "testdata")
	})
}

// TestFilesAreShort: no file of the program is longer than one likes to read.
func TestFilesAreShort(t *testing.T) {
	for _, file := range productFiles(t) {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(string(text), "\n"); n > 350 {
			t.Errorf("%s has %d lines: split it", file, n)
		}
	}
}

func TestPackagesAreSmall(t *testing.T) {
	files := map[string]int{}
	for _, file := range productFiles(t) {
		files[filepath.Dir(file)]++
	}
	for folder, n := range files {
		if n > 20 {
			t.Errorf("%s has %d files: give what belongs together in it a room of its own", folder, n)
		}
	}
}

// TestStepsAreNamedInTheirRows: nothing in the program asks which step it is, or names one: what
// a step does stands in its row.
func TestStepsAreNamedInTheirRows(t *testing.T) {
	isText := func(x ast.Expr) bool { lit, ok := x.(*ast.BasicLit); return ok && lit.Kind == token.STRING }
	isStep := func(x ast.Expr) bool { s, ok := x.(*ast.SelectorExpr); return ok && s.Sel.Name == "Step" }
	for _, file := range productFiles(t) {
		files := token.NewFileSet()
		parsed, err := parser.ParseFile(files, file, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(parsed, func(n ast.Node) bool {
			named := false
			switch n := n.(type) {
			case *ast.BinaryExpr:
				named = n.Op != token.ADD && (isStep(n.X) && isText(n.Y) || isStep(n.Y) && isText(n.X))
			case *ast.KeyValueExpr:
				key, ok := n.Key.(*ast.Ident)
				named = ok && key.Name == "Step" && isText(n.Value)
			case *ast.SwitchStmt:
				named = n.Tag != nil && isStep(n.Tag)
			}
			if named {
				t.Errorf("%s names a step", files.Position(n.Pos()))
			}
			return true
		})
	}
}

// TestTheGuideNamesTestsThatAre: whoever looks for a test that DEVELOPERS.md names finds it.
func TestTheGuideNamesTestsThatAre(t *testing.T) {
	guide, err := os.ReadFile("DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	var tests []byte
	for _, file := range tree(t) {
		if strings.HasSuffix(file, "_test.go") {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			tests = append(tests, text...)
		}
	}
	named := regexp.MustCompile("`(Test[A-Za-z]+)").FindAllSubmatch(guide, -1)
	if len(named) < 50 {
		t.Errorf("only %d tests are named", len(named))
	}
	for _, n := range named {
		if !strings.Contains(string(tests), "func "+string(n[1])+"(") {
			t.Errorf("there is no test %s", n[1])
		}
	}
}
