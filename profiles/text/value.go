package text

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

// text reads one line of text. What looks like a number or a truth value to YAML has
// to be quoted, so that every program reads the same.
var text = codec[string]{
	read: func(r *reader, n *yaml.Node, at *place) (string, bool) {
		if n.Kind != yaml.ScalarNode {
			r.fault(n, at, "write one line of text", "%s stands here, not text", kindName(n))
			return "", false
		}
		if n.Tag != "!!str" && n.Tag != "!!timestamp" {
			r.fault(n, at, fmt.Sprintf("put it in quotes: %q", Show(n.Value)), "%s is not text as it stands", Show(n.Value))
			return "", false
		}
		if n.Value == "" {
			r.fault(n, at, "type it in, or take the key out", "has no text")
			return "", false
		}
		return n.Value, true
	},
	write: func(s string) *yaml.Node {
		if s == "" {
			return nil
		}
		return scalar(s)
	},
	same:   func(a, b string) bool { return a == b },
	schema: schema{"type": "string", "maxLength": model.MaxText, "pattern": `^[\p{L}\p{M}\p{N}\p{P}\p{S} ]+$`},
}

// patterned is text of one form; what says it in words.
func patterned(c codec[string], form model.Form, what string) codec[string] {
	c.schema = schema{"type": "string", "pattern": form.Pattern, "description": what}
	return c
}

// word is one of a few words.
func word[V ~string](options ...V) codec[V] {
	list := make([]string, len(options))
	for i, o := range options {
		list[i] = string(o)
	}
	return codec[V]{
		read: func(r *reader, n *yaml.Node, at *place) (V, bool) {
			if n.Kind == yaml.ScalarNode {
				if i := slices.Index(list, n.Value); i >= 0 {
					return options[i], true
				}
				r.fault(n, at, "write "+strings.Join(list, " or "), "%q is not one of the words known here", model.Clip(n.Value))
				return "", false
			}
			r.fault(n, at, "write "+strings.Join(list, " or "), "%s stands here, not a word", kindName(n))
			return "", false
		},
		write:  func(v V) *yaml.Node { return text.write(string(v)) },
		same:   func(a, b V) bool { return a == b },
		schema: schema{"enum": list},
	}
}

var units = codec[model.Unit]{
	read: func(r *reader, n *yaml.Node, at *place) (model.Unit, bool) {
		w, ok := word("mm", "in").read(r, n, at)
		return map[string]model.Unit{"mm": model.MM, "in": model.IN}[w], ok
	},
	write:  func(u model.Unit) *yaml.Node { return text.write(u.Label()) },
	same:   func(a, b model.Unit) bool { return a == b },
	schema: schema{"enum": []string{"mm", "in"}},
}

// The forms in which a length stands in a file; model.ParseLength reads them.
const (
	unsignedLength = `((\d+\.?\d*|\.\d+)\s*(mm|in|"|thou)|((\d+(\s+|-))?\d+/\d+)\s*(in|"))`
	lengthForm     = `^\s*\+?` + unsignedLength + `\s*$`
	signedForm     = `^\s*[+-]?` + unsignedLength + `\s*$`
)

func lengthOf(form string) codec[model.Measure] {
	return codec[model.Measure]{
		read: readLength,
		write: func(m model.Measure) *yaml.Node {
			if m.Unit == model.NoUnit {
				return nil
			}
			return scalar(m.String())
		},
		// a length that its unit cannot show stands in another: 3/10 in as 0.3 in
		same: func(a, b model.Measure) bool {
			return a == b || a.Length == b.Length && (a.Unit == model.NoUnit) == (b.Unit == model.NoUnit) && a.String() == b.String()
		},
		schema: schema{"type": "string", "pattern": form, "description": "a length with its unit: 0.25 mm, 0.010 in, 1/8 in, 12 thou"},
	}
}

// length is a length that is never negative, signed one that may be.
var (
	length  = lengthOf(lengthForm)
	signed  = lengthOf(signedForm)
	lengths = some(1, listOf(length, yaml.FlowStyle))
	signeds = some(1, listOf(signed, yaml.FlowStyle))
)

func readLength(r *reader, n *yaml.Node, at *place) (model.Measure, bool) {
	if n.Kind != yaml.ScalarNode {
		r.fault(n, at, "write a number and its unit, such as 0.25 mm", "%s stands here, not a length", kindName(n))
		return model.Measure{}, false
	}
	if m, ok := r.lengths[n.Value]; ok {
		return m, true
	}
	m, err := model.ParseLength(n.Value, model.NoUnit)
	if err != nil {
		fault, cure := err.Error(), "write a number and its unit, such as 0.25 mm"
		if i := strings.LastIndex(fault, ": "); i >= 0 {
			fault, cure = fault[:i], fault[i+2:]
		}
		r.fault(n, at, cure, "%s", fault)
		return model.Measure{}, false
	}
	r.lengths[n.Value] = m
	return m, true
}

var wholeForm = regexp.MustCompile(`^(0|[1-9][0-9]{0,5})$`)

var number = codec[int]{
	read: func(r *reader, n *yaml.Node, at *place) (int, bool) {
		if n.Kind != yaml.ScalarNode || n.Tag != "!!int" || !wholeForm.MatchString(n.Value) {
			r.fault(n, at, "write a whole number, such as 48", "%s is not a whole number", nodeText(n))
			return 0, false
		}
		v, err := strconv.Atoi(n.Value)
		return v, err == nil
	},
	write: func(v int) *yaml.Node {
		if v == 0 {
			return nil
		}
		return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!int", Value: strconv.Itoa(v)}
	},
	same:   func(a, b int) bool { return a == b },
	schema: schema{"type": "integer", "minimum": 0, "maximum": 999999},
}

// minutes are one or more; for none the key is left out.
var minutes = codec[int]{
	read: func(r *reader, n *yaml.Node, at *place) (int, bool) {
		v, ok := number.read(r, n, at)
		if ok && v == 0 {
			r.fault(n, at, "write 1 or more, or take the key out", "0 minutes cannot be")
		}
		return v, ok && v > 0
	},
	write:  number.write,
	same:   number.same,
	schema: schema{"type": "integer", "minimum": 1, "maximum": model.MaxIdleMinutes},
}

// counted is a number of pieces, written even when it is zero: none of that sort is left.
var counted = codec[int]{
	read: number.read,
	write: func(v int) *yaml.Node {
		return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!int", Value: strconv.Itoa(v)}
	},
	same:   number.same,
	schema: number.schema,
}

// readAnswer reads yes or no, and the two words of YAML for them.
func readAnswer(r *reader, n *yaml.Node, at *place) (yes, ok bool) {
	if n.Kind == yaml.ScalarNode {
		switch n.Tag + " " + n.Value {
		case "!!str yes", "!!bool true":
			return true, true
		case "!!str no", "!!bool false":
			return false, true
		}
	}
	r.fault(n, at, "write yes or no", "%s is neither yes nor no", nodeText(n))
	return false, false
}

var answers = schema{"enum": []any{"yes", "no", true, false}}

func plainWord(w string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: w}
}

// truth is written as yes where it is true, and left out where it is not.
var truth = codec[bool]{
	read: readAnswer,
	write: func(v bool) *yaml.Node {
		if !v {
			return nil
		}
		return plainWord(string(model.Yes))
	},
	same:   func(a, b bool) bool { return a == b },
	schema: answers,
}

// yesNo tells a no from what was not asked yet.
var yesNo = codec[model.YesNo]{
	read: func(r *reader, n *yaml.Node, at *place) (model.YesNo, bool) {
		yes, ok := readAnswer(r, n, at)
		return map[bool]model.YesNo{true: model.Yes, false: model.No}[yes], ok
	},
	write: func(v model.YesNo) *yaml.Node {
		if v == "" {
			return nil
		}
		return plainWord(string(v))
	},
	same:   func(a, b model.YesNo) bool { return a == b },
	schema: answers,
}

// wholeOf is a whole number above zero with its unit. The schema gets its form.
func wholeOf(form, unit, example string) codec[int] {
	return codec[int]{
		read: func(r *reader, n *yaml.Node, at *place) (int, bool) {
			m := wholeOfForm.FindStringSubmatch(n.Value)
			if n.Kind != yaml.ScalarNode || m == nil || m[2] != unit && m[2]+"s" != unit {
				r.fault(n, at, "write a whole number and "+unit+", such as "+example, "%s is not a number of %s", nodeText(n), unit)
				return 0, false
			}
			v, err := strconv.Atoi(m[1])
			return v, err == nil
		},
		write: func(v int) *yaml.Node {
			if v == 0 {
				return nil
			}
			text := strconv.Itoa(v) + " " + unit
			if v == 1 {
				text = strings.TrimSuffix(text, "s")
			}
			return scalar(text)
		},
		same:   number.same,
		schema: schema{"type": "string", "pattern": form, "description": "a whole number with its unit: " + example},
	}
}

var wholeOfForm = regexp.MustCompile(`^([1-9][0-9]{0,5}) ([a-z]+)$`)

var (
	days  = wholeOf(`^[1-9][0-9]{0,5} days?$`, "days", "30 days")
	speed = wholeOf(`^[1-9][0-9]{0,5} rpm$`, "rpm", "4000 rpm")
)

var secondsForm = regexp.MustCompile(`^([0-9]{1,5}(\.[0-9]{1,9})?) s$`)

var seconds = codec[time.Duration]{
	read: func(r *reader, n *yaml.Node, at *place) (time.Duration, bool) {
		m := secondsForm.FindStringSubmatch(n.Value)
		if n.Kind != yaml.ScalarNode || m == nil {
			r.fault(n, at, "write a number and s, such as 6 s", "%s is not a time in seconds", nodeText(n))
			return 0, false
		}
		d, err := time.ParseDuration(m[1] + "s")
		return d, err == nil
	},
	write: func(d time.Duration) *yaml.Node {
		if d == 0 {
			return nil
		}
		return scalar(strconv.FormatFloat(d.Seconds(), 'f', -1, 64) + " s")
	},
	same:   func(a, b time.Duration) bool { return a == b },
	schema: schema{"type": "string", "pattern": secondsForm.String(), "description": "seconds with their unit: 6 s"},
}

var degreesForm = regexp.MustCompile(`^(-?[0-9]{1,4}(\.[0-9]{1,15})?) deg$`)

var degrees = codec[float64]{
	read: func(r *reader, n *yaml.Node, at *place) (float64, bool) {
		m := degreesForm.FindStringSubmatch(n.Value)
		if n.Kind != yaml.ScalarNode || m == nil {
			r.fault(n, at, "write a number and deg, such as 180 deg", "%s is not an angle in degrees", nodeText(n))
			return 0, false
		}
		d, err := strconv.ParseFloat(m[1], 64)
		return d, err == nil
	},
	write: func(d float64) *yaml.Node {
		if d == 0 {
			return nil
		}
		return scalar(strconv.FormatFloat(d, 'f', -1, 64) + " deg")
	},
	same:   func(a, b float64) bool { return a == b },
	schema: schema{"type": "string", "pattern": degreesForm.String(), "description": "an angle with its unit: 180 deg"},
}

var instantForm = regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,9})?Z$`)

var instant = codec[time.Time]{
	read: func(r *reader, n *yaml.Node, at *place) (time.Time, bool) {
		t, err := time.Parse(time.RFC3339Nano, n.Value)
		if n.Kind != yaml.ScalarNode || err != nil || !instantForm.MatchString(n.Value) {
			r.fault(n, at, "write the time in UTC, such as 2026-03-02T07:42:00Z", "%s is not a time in UTC", nodeText(n))
			return time.Time{}, false
		}
		return t, true
	},
	write: func(t time.Time) *yaml.Node {
		return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!timestamp", Value: t.UTC().Format(time.RFC3339Nano)}
	},
	same:   time.Time.Equal,
	schema: schema{"type": "string", "pattern": instantForm.String(), "format": "date-time", "description": "RFC 3339, UTC: 2026-03-02T07:42:00Z"},
}

func nodeText(n *yaml.Node) string {
	if n.Kind != yaml.ScalarNode {
		return kindName(n)
	}
	return strconv.Quote(model.Clip(Show(n.Value)))
}

// ambiguous texts are read as truth values by older YAML programs.
func ambiguous(s string) bool {
	return slices.Contains([]string{"y", "n", "yes", "no", "on", "off"}, strings.ToLower(s))
}
