package text

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

// maxFindings is how many findings of one file are listed.
const maxFindings = 1000

// Finding is one thing wrong with a file. Line and Column count from 1; 0 means the
// file as a whole.
type Finding struct {
	File         string
	Line, Column int
	model.Finding
}

// Error is one line for people: file:line:col: key path: fault: cure.
func (f Finding) Error() string {
	var parts []string
	place := Show(f.File)
	if f.Line > 0 {
		place += ":" + strconv.Itoa(f.Line) + ":" + strconv.Itoa(f.Column)
	}
	for _, s := range []string{place, f.Path, f.Fault, f.Cure} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, ": ")
}

// Findings are all that is wrong with a file, in the order of its lines.
type Findings []Finding

// Error is one line a finding.
func (fs Findings) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Faults are the findings that keep a file from being used. The others only say
// what has not been filled in yet, or is hardly so at any saw.
func (fs Findings) Faults() Findings {
	var out Findings
	for _, f := range fs {
		if !f.Missing && !f.Doubt {
			out = append(out, f)
		}
	}
	return out
}

// place is where a value stands in a file: a chain of keys and indices.
type place struct {
	up    *place
	key   string
	index int
}

func (p *place) String() string {
	switch {
	case p == nil:
		return ""
	case p.key == "":
		return p.up.String() + "[" + strconv.Itoa(p.index) + "]"
	case p.up == nil:
		return Show(p.key)
	}
	return p.up.String() + "." + Show(p.key)
}

// reader gathers what is wrong while values are read from nodes.
type reader struct {
	file      string
	findings  Findings
	inRecords bool
	lengths   map[string]model.Measure // texts already read: readings repeat
	unseen    map[int]bool             // lines for which an unreadable character was reported
	spoiled   map[*yaml.Node]bool      // values that were refused: no further finding about them
	harmful   int                      // findings that do not keep the rest from being read
}

func newReader(file string) *reader {
	return &reader{file: file, lengths: map[string]model.Measure{}, unseen: map[int]bool{}, spoiled: map[*yaml.Node]bool{}}
}

// unreadable reports whether something was found that keeps the rest from being read.
func (r *reader) unreadable() bool { return len(r.findings) > min(r.harmful, maxFindings) }

func (r *reader) fault(n *yaml.Node, at *place, cure, fault string, a ...any) {
	if len(r.findings) > maxFindings || r.spoiled[n] {
		return
	}
	f := Finding{r.file, n.Line, n.Column, model.Finding{Path: at.String(), Fault: fmt.Sprintf(fault, a...), Cure: cure}}
	if len(r.findings) == maxFindings {
		f.Finding = model.Finding{Fault: "more is wrong than can be listed", Cure: "cure the lines above first"}
	}
	r.findings = append(r.findings, f)
}

// harm is a fault that does not keep the rest from being read.
func (r *reader) harm(n *yaml.Node, at *place, cure, fault string, a ...any) {
	r.fault(n, at, cure, fault, a...)
	r.harmful++
}

// spoil finds fault with a value and drops every later finding about it. A character that
// was reported for its line already is not reported again.
func (r *reader) spoil(n *yaml.Node, at *place, cure, fault string) {
	if !r.unseen[n.Line] || !strings.ContainsRune(n.Value, utf8.RuneError) {
		r.harm(n, at, cure, "%s", fault)
	}
	r.spoiled[n] = true
}

// find is the node that a key path names, such as blades[2].kerf, or the nearest one above
// it that is there (exact is false then).
func find(root *yaml.Node, path string) (n *yaml.Node, exact bool) {
	n = root
	var above *yaml.Node // the key of n
	steps := strings.FieldsFunc(strings.ReplaceAll(path, "[", ".["), func(r rune) bool { return r == '.' })
	for i, step := range steps {
		next, name := child(n, step)
		if next == nil && above != nil {
			return above, false
		}
		if next == nil {
			return n, false
		}
		if n, above = next, name; i == len(steps)-1 && name != nil && next.Kind != yaml.ScalarNode {
			n = name
		}
	}
	return n, true
}

// child is the value under a key, with the node of the key, or the item under [index];
// nil: there is none.
func child(n *yaml.Node, step string) (value, key *yaml.Node) {
	if index, ok := strings.CutPrefix(step, "["); ok {
		i, err := strconv.Atoi(strings.TrimSuffix(index, "]"))
		if err != nil || n.Kind != yaml.SequenceNode || i < 0 || i >= len(n.Content) {
			return nil, nil
		}
		return n.Content[i], nil
	}
	if n.Kind != yaml.MappingNode {
		return nil, nil
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == step {
			return n.Content[i+1], n.Content[i]
		}
	}
	return nil, nil
}
