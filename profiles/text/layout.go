package text

import (
	"bytes"
	"strings"

	"gopkg.in/yaml.v3"
)

// layout is where the records stand in the text of a profile.
type layout struct {
	form   form
	line   int    // of the records key; 0: there is none
	value  int    // column of the [] in that line, where form is empty
	indent string // before the dash of a record
	items  []int  // line of each record
}

// form is how the records stand there.
type form uint8

const (
	awkward form = iota // in a way that records cannot be added to as text: the tree is written anew
	absent              // no records key
	open                // the key with nothing behind it
	empty               // the key with []
	listed              // one record below the other
)

func layoutOf(root *yaml.Node, data []byte) layout {
	if root.Style&yaml.FlowStyle != 0 || root.Column != 1 || bytes.Contains(data, []byte("\n...")) {
		return layout{}
	}
	value, key := child(root, recordsKey)
	switch {
	case value == nil:
		return layout{form: absent, indent: indentation}
	case isNull(value) && value.Value == "":
		return layout{form: open, line: key.Line, indent: indentation}
	case value.Kind == yaml.SequenceNode && len(value.Content) == 0 && value.Line == key.Line && closesThere(data, value):
		return layout{form: empty, line: key.Line, value: value.Column, indent: indentation}
	case value.Kind != yaml.SequenceNode || value.Style&yaml.FlowStyle != 0:
		return layout{}
	}
	l := layout{form: listed, line: key.Line, indent: strings.Repeat(" ", value.Column-1), items: make([]int, len(value.Content))}
	for i, item := range value.Content {
		if l.items[i] = item.Line; i > 0 && item.Line == l.items[i-1] {
			return layout{}
		}
	}
	return l
}

// closesThere reports whether the list that begins at n ends in the same line.
func closesThere(data []byte, n *yaml.Node) bool {
	line, _, _ := strings.Cut(string(data[lineStart(data, n.Line):]), "\n")
	return strings.HasPrefix(strings.TrimLeft(line[runeOffset(line, n.Column):], "[ "), "]")
}

// lineStart is where a line begins in data. Lines count from 1.
func lineStart(data []byte, line int) int {
	at := 0
	for ; line > 1; line-- {
		i := bytes.IndexByte(data[at:], '\n')
		if i < 0 {
			return len(data)
		}
		at += i + 1
	}
	return at
}

func lineCount(data []byte) int { return bytes.Count(data, []byte("\n")) }

// ending is the end of line that data uses.
func ending(data []byte) string {
	if i := bytes.IndexByte(data, '\n'); i > 0 && data[i-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// oneEnding is a copy of data with \n at the end of each line, as the YAML library writes
// it: with other endings the library loses comments.
func oneEnding(data []byte) []byte { return bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n")) }
