package text

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

// Limits on what is read.
const (
	MaxFile   = 16 << 20 // bytes
	maxDepth  = 16
	maxValues = 1 << 20 // lines, commas and brackets: a bound on the number of nodes
)

// checkBytes refuses what must not even reach the YAML library.
func checkBytes(r *reader, data []byte) bool {
	whole := &yaml.Node{}
	switch {
	case len(data) > MaxFile:
		r.fault(whole, nil, "a profile has at most 16 MiB: is this the right file?", "the file is too large")
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		r.fault(&yaml.Node{Line: 1, Column: 1}, nil, "save it as UTF-8", "the file is UTF-16 text")
	case len(bytes.TrimSpace(data)) == 0:
		r.fault(&yaml.Node{Line: 1, Column: 1}, nil, "a profile starts with sawdatum: 1", "the file is empty")
	case values(data) > maxValues:
		r.fault(whole, nil, "is this the right file?", "the file has more values than any profile")
	}
	if len(r.findings) > 0 {
		return false
	}
	for line, rest := 1, data; len(rest) > 0; line++ {
		var text []byte
		text, rest, _ = bytes.Cut(rest, []byte("\n"))
		if !plainASCII(text) {
			checkLine(r, line, text)
		}
	}
	return !r.unreadable()
}

func values(data []byte) (n int) {
	for _, c := range []byte("\n,[{") {
		n += bytes.Count(data, []byte{c})
	}
	return n
}

func plainASCII(line []byte) bool {
	line = bytes.TrimSuffix(line, []byte("\r"))
	for _, c := range line {
		if c < 0x20 || c > 0x7e {
			return false
		}
	}
	return true
}

func checkLine(r *reader, line int, text []byte) {
	text = bytes.TrimSuffix(text, []byte("\r"))
	for i, column := 0, 1; i < len(text); column++ {
		c, size := utf8.DecodeRune(text[i:])
		at := &yaml.Node{Line: line, Column: column}
		switch {
		case c == utf8.RuneError && size == 1:
			r.harm(at, nil, "save the file as UTF-8", "byte 0x%02x is not UTF-8 text", text[i])
			r.unseen[line] = true
			return
		case c == '\ufeff' && line == 1 && column == 1:
		case c == '\t':
			if strings.TrimSpace(string(text[:i])) == "" {
				r.fault(at, nil, "indent by spaces", "a tab stands before the text")
				return
			}
		case invisible(c):
			r.harm(at, nil, "take it out", "U+%04X is a character that cannot be seen", c)
			r.unseen[line] = true
			return
		}
		i += size
	}
}

func invisible(c rune) bool {
	return unicode.In(c, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) || c == '\ufffe' || c == '\uffff' // no characters at all
}

// visible is data with U+FFFD in the place of what checkLine finds fault with, so that
// the rest can be read: the YAML library refuses some of it, and takes some for the end
// of a line.
func visible(data []byte) []byte {
	data = bytes.ReplaceAll(bytes.TrimPrefix(data, []byte("\ufeff")), []byte("\r\n"), []byte("\n"))
	return bytes.Map(func(c rune) rune {
		if invisible(c) && c != '\n' && c != '\t' {
			return utf8.RuneError
		}
		return c
	}, data)
}

// checkNodes refuses what a profile does not need of YAML (anchors, tags, keys that are
// lists, deep nesting) and texts that cannot be shown, before any value is read.
func checkNodes(r *reader, n *yaml.Node, at *place, depth int) {
	if depth > maxDepth {
		r.spoil(n, at, "a profile has at most 16 levels", "nested too deeply")
		return
	}
	switch {
	case n.Kind == yaml.AliasNode || n.Anchor != "":
		r.spoil(n, at, "write the value out in each place", "anchors and aliases are not read here")
		return
	case n.Style&yaml.TaggedStyle != 0:
		r.spoil(n, at, "take the tag away", "tags are not read here")
		return
	case n.Kind == yaml.ScalarNode:
		if fault := model.TextFault(n.Value); fault != "" {
			r.spoil(n, at, "write at most 200 characters that can be seen", fault)
		}
		return
	}
	here := &place{up: at}
	if n.Kind == yaml.SequenceNode {
		for i, c := range n.Content {
			if here.index = i; !evidentlyFine(c) {
				checkNodes(r, c, here, depth+1)
			}
		}
		return
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		switch {
		case evidentlyFine(key):
		case key.Kind != yaml.ScalarNode || key.Tag == "!!merge" || key.Anchor != "" || key.Style&yaml.TaggedStyle != 0:
			r.spoil(key, at, "write a plain word before the colon", "only plain keys are read here")
			continue
		default:
			if fault := model.TextFault(key.Value); fault != "" {
				r.spoil(key, at, "write a plain word before the colon", fault)
			}
		}
		if here.key = key.Value; !evidentlyFine(value) {
			checkNodes(r, value, here, depth+1)
		}
	}
}

// evidentlyFine reports a short plain ASCII text, as most values are, which checkNodes need
// not look at.
func evidentlyFine(n *yaml.Node) bool {
	if n.Kind != yaml.ScalarNode || n.Anchor != "" || n.Style&yaml.TaggedStyle != 0 || n.Tag == "!!merge" || len(n.Value) > model.MaxText {
		return false
	}
	for i := range len(n.Value) {
		if c := n.Value[i]; c < 0x20 || c > 0x7e {
			return false
		}
	}
	return true
}
