package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strings"
)

// mutant is one change of a file.
type mutant struct {
	file string // path of the file
	what string // file, function, and what became of what
	span        // of the function's body, or the variable's value, that it is in
	text string // how that reads with the change
}

// span is a part of a file, by its bytes: the body of a function, and what has to stand behind
// a copy of it; or a value, behind which nothing has to.
type span struct {
	from, to int
	ends     string
}

// edits finds what can be changed in one file.
type edits struct {
	fset  *token.FileSet
	src   []byte
	file  string
	name  string
	where string // the function that is looked at
	in    span   // its body
	seen  map[string]int
	done  map[[3]any]bool // what was changed already, by place and text
	out   []mutant
}

// mutantsOf are all changes of a file. Each condition is taken out once as if it never held
// and once as if it always did; each operand of && and || by itself; each assignment, call
// and field of a literal is left out; each yes is made a no.
func mutantsOf(file, name string) ([]mutant, error) {
	src, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	e := edits{fset: token.NewFileSet(), src: src, file: file, name: name, seen: map[string]int{}, done: map[[3]any]bool{}}
	parsed, err := parser.ParseFile(e.fset, file, src, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	for _, d := range parsed.Decls {
		if f, ok := d.(*ast.FuncDecl); ok && f.Body != nil {
			ends := "return"
			if f.Type.Results != nil {
				ends = `panic("behind a body")`
			}
			e.inside(f.Name.Name, f.Body, ends)
		} else if g, ok := d.(*ast.GenDecl); ok && g.Tok == token.VAR {
			for _, s := range g.Specs {
				for _, value := range s.(*ast.ValueSpec).Values {
					e.inside("var", value, "")
				}
			}
		}
	}
	return e.out, nil
}

func (e *edits) inside(where string, n ast.Node, ends string) {
	e.where, e.in = where, span{e.at(n.Pos()), e.at(n.End()), ends}
	ast.Inspect(n, e.visit)
}

func (e *edits) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.IfStmt:
		e.always(n.Cond)
	case *ast.CaseClause:
		for _, c := range n.List {
			if boolean(c) {
				e.always(c)
			}
		}
	case *ast.BinaryExpr:
		switch n.Op {
		case token.LAND, token.LOR:
			e.replace(n, e.text(n.X))
			e.replace(n, e.text(n.Y))
		case token.EQL, token.NEQ, token.LSS, token.GTR, token.LEQ, token.GEQ:
			e.always(n)
		}
	case *ast.UnaryExpr:
		if n.Op == token.NOT {
			e.replace(n, e.text(n.X))
		}
	case *ast.AssignStmt:
		e.assignment(n)
	case *ast.IncDecStmt:
		e.replace(n, "_ = "+e.text(n.X))
	case *ast.ExprStmt:
		e.replace(n, "{}")
	case *ast.CompositeLit:
		for _, f := range n.Elts {
			if kv, ok := f.(*ast.KeyValueExpr); ok {
				e.without(kv)
			}
		}
	case *ast.Ident:
		if other, ok := map[string]string{"true": "false", "false": "true"}[n.Name]; ok {
			e.replace(n, other)
		}
	}
	return true
}

// boolean reports whether a case is a condition, and no value.
func boolean(x ast.Expr) bool {
	switch x := x.(type) {
	case *ast.BinaryExpr:
		return true
	case *ast.UnaryExpr:
		return x.Op == token.NOT
	case *ast.ParenExpr:
		return boolean(x.X)
	}
	return false
}

// assignment leaves out what one place is set to.
func (e *edits) assignment(n *ast.AssignStmt) {
	switch {
	case n.Tok == token.DEFINE:
	case n.Tok != token.ASSIGN:
		e.replace(n, "_ = "+e.text(n.Rhs[0]))
	case len(n.Lhs) == len(n.Rhs):
		for i, to := range n.Lhs {
			if e.text(to) != "_" {
				e.change(n.Rhs[i], e.text(to), e.text(to)+" not set to "+e.text(n.Rhs[i]))
			}
		}
	}
}

// always makes a condition never hold, and always; what it names stays in use.
func (e *edits) always(x ast.Expr) {
	e.change(x, "((("+e.text(x)+")) && false)", e.text(x)+" never")
	e.change(x, "((("+e.text(x)+")) || true)", e.text(x)+" always")
}

func (e *edits) replace(n ast.Node, text string) { e.change(n, text, e.text(n)+" -> "+text) }

// without leaves out a field of a literal, and the comma behind it.
func (e *edits) without(n ast.Node) {
	from, to := e.at(n.Pos()), e.at(n.End())
	if to < len(e.src) && e.src[to] == ',' {
		to++
	}
	e.cut(from, to, "", "without "+e.text(n))
}

func (e *edits) change(n ast.Node, text, what string) {
	e.cut(e.at(n.Pos()), e.at(n.End()), text, what)
}

func (e *edits) cut(from, to int, text, what string) {
	if at := [3]any{from, to, text}; e.done[at] {
		return // a condition that is a comparison is met twice
	} else {
		e.done[at] = true
	}
	what = fmt.Sprintf("%s: %s: %s", e.name, e.where, strings.Join(strings.Fields(what), " "))
	if e.seen[what]++; e.seen[what] > 1 {
		what = fmt.Sprintf("%s (%d)", what, e.seen[what])
	}
	e.out = append(e.out, mutant{e.file, what, e.in, string(e.src[e.in.from:from]) + text + string(e.src[to:e.in.to])})
}

func (e *edits) at(p token.Pos) int     { return e.fset.Position(p).Offset }
func (e *edits) text(n ast.Node) string { return string(e.src[e.at(n.Pos()):e.at(n.End())]) }
