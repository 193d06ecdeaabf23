//go:build mutants

package procedure_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// listed reports whether a guard stands in one of the tables.
func listed(name string) bool {
	return slices.Contains(guards, name) || slices.Contains(guiding, name) || slices.ContainsFunc(together, func(set string) bool {
		return slices.Contains(strings.Split(set, " + "), name)
	})
}

// sources are the files with guards in them.
func sources(t *testing.T) []string {
	var out []string
	for _, dir := range []string{"..", ".", "../../solver"} {
		files, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, slices.DeleteFunc(files, func(f string) bool { return strings.HasSuffix(f, "_test.go") })...)
	}
	return out
}

// TestGuardsListed finds switches in the code that no mutant drops.
func TestGuardsListed(t *testing.T) {
	named := regexp.MustCompile(`(?:Dropped\(|holds\()"([a-z_-]+)"`)
	found := 0
	for _, file := range sources(t) {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range named.FindAllStringSubmatch(string(text), -1) {
			found++
			if name := m[1]; !strings.HasSuffix(name, "-") && !listed(name) {
				t.Errorf("%s: no mutant drops the guard %s", file, name)
			}
		}
	}
	if found < 60 {
		t.Errorf("only %d guards found in the code", found)
	}
	for kind := range model.KindTable {
		switch kind {
		case model.Mount, model.Arbor, model.KnifeSet, model.FenceLock, model.Scale, model.BladeCut, model.ReferenceCut, model.Note, model.Sharpened:
			if !listed("void-leaves-open-" + string(kind)) {
				t.Errorf("no mutant drops what voiding a %s leaves open", kind)
			}
		}
	}
}

// notGuards are conditions in the functions below that ask what is wanted, and not
// whether it may be.
var notGuards = []string{
	"f != nil", `n.measures != ""`, "p.run.hands == n.measures", "n.board", "n.fence", "n.datum", `n.blade != ""`, "n.power == Isolated", "n.power == Live", "p.run.runDown > longestRunDown", "!p.run.slow", "m != nil", "i > f.datum",
}

// TestChecksAreGuards reads the functions that decide what may be done: each condition
// in them has a switch, or is named as none.
func TestChecksAreGuards(t *testing.T) {
	deciding := []string{"gateBefore", "mounted", "FenceKnown", "present"}
	found := map[string]bool{}
	for _, file := range sources(t) {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		set := token.NewFileSet()
		tree, err := parser.ParseFile(set, file, text, 0)
		if err != nil {
			t.Fatal(err)
		}
		source := func(n ast.Node) string {
			return string(text[set.Position(n.Pos()).Offset:set.Position(n.End()).Offset])
		}
		check := func(name string, conditions ...ast.Expr) {
			for _, c := range conditions {
				for _, part := range operands(c) {
					if s := source(part); !strings.Contains(s, "holds(") && !strings.Contains(s, "Dropped(") && !slices.Contains(notGuards, s) {
						t.Errorf("%s, %s: the condition %s has no switch", file, name, s)
					}
				}
			}
		}
		for _, decl := range tree.Decls {
			fn, ok := decl.(*ast.FuncDecl)
			if !ok || !slices.Contains(deciding, fn.Name.Name) {
				continue
			}
			found[fn.Name.Name] = true
			ast.Inspect(fn.Body, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.IfStmt:
					check(fn.Name.Name, n.Cond)
				case *ast.CaseClause:
					check(fn.Name.Name, n.List...)
				case *ast.ReturnStmt:
					if fn.Name.Name != "gateBefore" {
						check(fn.Name.Name, n.Results...)
					}
				}
				return true
			})
		}
	}
	if len(found) != len(deciding) {
		t.Errorf("found only %v", found)
	}
}

// operands are the parts of a condition that all have to hold.
func operands(e ast.Expr) []ast.Expr {
	if b, ok := e.(*ast.BinaryExpr); ok && b.Op == token.LAND {
		return append(operands(b.X), operands(b.Y)...)
	}
	return []ast.Expr{e}
}

// TestGateFieldsListed: every word and every field of a gate that an exploration comes
// to, at a place where hands go in or the blade turns next, is dropped by a mutant.
func TestGateFieldsListed(t *testing.T) {
	harmless := []string{"who-by", "unfit-aside", "leave-later", "close-done", "fence-moved-moved", "other-blade-other", "retire-gone", "cut-piece"}
	seen := map[string]bool{}
	look := func(v procedure.View) {
		for _, f := range v.Fields {
			if v.Gate || f.Kind == procedure.FieldWord || f.Key == "teeth" && v.Place.Step != "blade" {
				seen[v.Place.Step+"-"+f.Key] = true
			}
		}
	}
	for _, c := range trials {
		if c.name != "wrong answers" && c.name != "isolate only" && c.name != "other work" {
			continue
		}
		s := c.search()
		s.watch = func(p procedure.Procedure) { look(p.View()) }
		c.begin(s)
		s.run(3000, 1)
	}
	for name := range seen {
		if !listed(name) && !slices.Contains(harmless, name) {
			t.Errorf("no mutant drops the field %s", name)
		}
	}
	if len(seen) < 25 {
		t.Errorf("only %d fields seen: %v", len(seen), seen)
	}
}
