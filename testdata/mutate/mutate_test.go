package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
)

// Each kind of change, as written here by hand.
func TestMutants(t *testing.T) {
	for _, c := range []struct {
		code string
		want []string
	}{
		{"if a { b() }", []string{"a never", "a always", "b() -> {}"}},
		{"_ = a && b", []string{"a && b -> a", "a && b -> b"}},
		{"_ = !a", []string{"!a -> a"}},
		{"_ = x == y", []string{"x == y never", "x == y always"}},
		{"s.x, y = 1, 2", []string{"s.x not set to 1", "y not set to 2"}},
		{"x += 2", []string{"x += 2 -> _ = 2"}},
		{"if x == y { b() }", []string{"x == y never", "x == y always", "b() -> {}"}},
		{"x++", []string{"x++ -> _ = x"}},
		{"x := true", []string{"true -> false"}},
		{"_ = T{a: 1, b: x}", []string{"without a: 1", "without b: x"}},
		{"switch { case !a: }", []string{"!a never", "!a always", "!a -> a"}},
		{"switch x { case 1: }", nil},
	} {
		file := filepath.Join(t.TempDir(), "x.go")
		if err := os.WriteFile(file, []byte("package x\nfunc f() {\n"+c.code+"\n}\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		all, err := mutantsOf(file, "x.go")
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, m := range all {
			got = append(got, strings.TrimPrefix(m.what, "x.go: f: "))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.code, got, c.want)
		}
	}
}

func TestAgainstTheList(t *testing.T) {
	known := reasons("What may survive.\np/x.go: f: a never  # it is asked again at the door\np/x.go: f: b never  # the same\nq/x.go: f: c never  # of another package\n")
	o := outcome{alive: []string{"p/x.go: f: a never", "p/x.go: f: d never"}}
	tried := []mutant{{what: "p/x.go: f: a never"}, {what: "p/x.go: f: d never"}}
	const lives, gone = "survives: p/x.go: f: d never", "is caught, or is no more: p/x.go: f: b never"
	for whole, want := range map[string][]string{"p/": {lives, gone}, "": {lives}} {
		if got := o.against(known, tried, whole); !slices.Equal(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := (outcome{}).against(known, append(tried, mutant{what: "p/x.go: f: b never"}), ""); len(got) != 2 {
		t.Errorf("caught are two of the list: %q", got)
	}
}

// TestTry: a package whose test misses one change of a body and one of a value; two changes
// do not build. Each of the others is caught.
func TestTry(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"go.mod": "module m\n\ngo 1.26\n",
		"x.go": `package m

var sizes = map[string]int{"a": 1, "b": 2}

type counter struct{ n, unseen int }

func (c *counter) add(n int) {
	c.n += n
	c.unseen += n
}

func larger(a, b int) (most int) {
	if most = a; b > a {
		most = b
	}
	return
}

func positive(x any) bool {
	n, ok := x.(int)
	return ok && n > 0
}
`,
		"x_test.go": `package m

import "testing"

func Test(t *testing.T) {
	var c counter
	if c.add(2); c.n != 2 || larger(1, 2) != 2 || larger(2, 1) != 2 || sizes["a"] != 1 || !positive(1) || positive(-1) || positive("") {
		t.Fatal()
	}
}
`,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	p := pkg{Dir: dir, ImportPath: "m", Name: "m", GoFiles: []string{"x.go"}}
	all, err := p.mutants(regexp.MustCompile(""))
	if err != nil {
		t.Fatal(err)
	}
	got, err := p.try(all, []pkg{p}, nil, time.Minute)
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(got.alive)
	if want := []string{`m/x.go: add: c.unseen += n -> _ = n`, `m/x.go: var: without "b": 2`}; !slices.Equal(got.alive, want) || got.unbuilt != 2 || len(all) != 12 {
		t.Errorf("of %d survive %q, %d do not build", len(all), got.alive, got.unbuilt)
	}
}
