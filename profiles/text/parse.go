// Package text turns the bytes of a profile into a model.Profile and back. It opens no
// file. A fault comes with line, column, key path and cure; the whole text is read, so
// that all faults come at once. What stands in a text was written by others: nothing of
// it is trusted, and no byte of it is changed without need.
package text

import (
	"bytes"
	"cmp"
	"errors"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

// Document is the text of a profile and what stands in it. It is a value: Rewrite gives
// the next one.
type Document struct {
	Data     []byte
	Profile  model.Profile // to be used only where Findings has no faults
	Findings Findings      // in the order of the lines
	Migrated bool          // Data is in an older format
	Anew     bool          // Data was made from the values alone: comments are lost

	name   string // of the file, in messages only
	layout layout
}

// Parse is the profile in the text of a file called name, and all that is wrong with it,
// as Read reports it. The profile is to be used only where Faults is empty.
func Parse(name string, data []byte) (model.Profile, Findings) {
	d := Read(name, data)
	return d.Profile, d.Findings
}

// Read reads a profile from the text of a file called name, which is used in messages
// only. It reports everything that is wrong at once, in the order of the lines, and
// never panics.
func Read(name string, data []byte) (d Document) {
	d = Document{Data: data, name: name}
	r := newReader(name)
	defer func() { // the YAML library has panicked on crafted text before
		if broken := recover(); broken != nil {
			r.fault(&yaml.Node{}, nil, "is this a profile?", "the file cannot be read as YAML")
		}
		d.Findings = inLines(r.findings)
	}()
	if !checkBytes(r, data) {
		return d
	}
	readable := data
	if len(r.unseen) > 0 {
		readable = visible(data)
	}
	root := nodes(r, readable)
	if root == nil {
		return d
	}
	d.Migrated = openVersion(r, root)
	if !r.unreadable() {
		readProfile(r, root, &d.Profile)
		d.layout = layoutOf(root, data)
		validate(r, root, d.Profile)
	}
	return d
}

// Locate gives what the model says of the profile the lines where it stands in the text.
func (d Document) Locate(found []model.Finding) Findings {
	if len(found) == 0 {
		return nil
	}
	r := newReader(d.name)
	root := nodes(r, d.Data)
	openVersion(r, root)
	out := make(Findings, len(found))
	for i, f := range found {
		at, _ := find(root, f.Path)
		out[i] = Finding{d.name, at.Line, at.Column, f}
	}
	return inLines(out)
}

// inLines is findings in the order of the lines.
func inLines(fs Findings) Findings {
	slices.SortStableFunc(fs, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return fs
}

// nodes parses text to a tree and checks it (checkNodes); nil: it is not YAML.
func nodes(r *reader, data []byte) *yaml.Node {
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	var doc, second yaml.Node
	if err := decoder.Decode(&doc); err != nil {
		if errors.Is(err, io.EOF) {
			r.fault(&yaml.Node{Line: 1, Column: 1}, nil, "a profile starts with sawdatum: 1", "the file holds no values")
			return nil
		}
		r.syntax(data, err)
		return nil
	}
	if err := decoder.Decode(&second); !errors.Is(err, io.EOF) {
		at := &second
		if second.Line == 0 {
			at = &yaml.Node{Line: secondLine(data), Column: 1}
		}
		r.harm(at, nil, "keep one profile in one file", "a second document starts here")
	}
	checkNodes(r, doc.Content[0], nil, 0)
	return doc.Content[0]
}

// secondLine is the line where a second document begins, for one that is not YAML itself:
// the first text after an end mark (...), or the second beginning mark (---). Lines count
// from 1.
func secondLine(data []byte) int {
	begun, ended := false, false
	for i, line := range strings.Split(string(data), "\n") {
		line = strings.TrimRight(line, " \r")
		switch word, _, _ := strings.Cut(line, " "); {
		case strings.TrimSpace(line) == "" || strings.HasPrefix(strings.TrimSpace(line), "#"):
		case word == "...":
			ended = true
		case ended, word == "---" && begun:
			return i + 1
		default:
			begun = true
		}
	}
	return 1
}

var (
	syntaxLine    = regexp.MustCompile(`^yaml: (?:line (\d+): )?`)
	unknownAnchor = regexp.MustCompile(`^yaml: unknown anchor '(.+)' referenced$`)
)

// syntax reports what the YAML library says; it stops at the first fault.
func (r *reader) syntax(data []byte, err error) {
	at := &yaml.Node{Line: 1, Column: 1}
	if m := unknownAnchor.FindStringSubmatch(err.Error()); m != nil {
		at.Line, at.Column = aliasPlace(data, m[1])
		r.fault(at, nil, "write the value out in each place, or put it in quotes", "anchors and aliases are not read here")
		return
	}
	m := syntaxLine.FindStringSubmatch(err.Error())
	if m != nil && m[1] != "" {
		at.Line, _ = strconv.Atoi(m[1])
	}
	r.fault(at, nil, "look at quotes, colons and indentation on this line and the one before", "not YAML: %s", Show(syntaxLine.ReplaceAllString(err.Error(), "")))
}

// aliasPlace is where the first alias of a name stands, since the library does not say.
// Everything that looks like one is made plain; then each is put back alone, and the first
// that the library refuses is it.
func aliasPlace(data []byte, name string) (line, column int) {
	const most = 50 // texts to try
	alias, plain := []byte("*"+name), []byte("x"+name)
	tame := bytes.ReplaceAll(data, alias, plain)
	for from, try := 0, 0; try < most; try++ {
		i := bytes.Index(data[from:], alias)
		if i < 0 {
			break
		}
		i += from
		from = i + len(alias)
		text := slices.Concat(tame[:i], alias, tame[from:])
		if err := yaml.Unmarshal(text, new(yaml.Node)); err != nil && unknownAnchor.MatchString(err.Error()) {
			start := bytes.LastIndexByte(data[:i], '\n') + 1
			return lineCount(data[:i]) + 1, utf8.RuneCount(data[start:i]) + 1
		}
	}
	return 1, 1
}

// readProfile reads head and records from a tree of the present version.
func readProfile(r *reader, root *yaml.Node, p *model.Profile) {
	p.Version = model.FormatVersion
	head := &yaml.Node{Kind: yaml.MappingNode, Line: root.Line, Column: root.Column}
	for i := 0; i+1 < len(root.Content); i += 2 {
		k, v := root.Content[i], root.Content[i+1]
		switch {
		case k.Value == versionKey && i == 0:
		case k.Value == recordsKey && i == len(root.Content)-2:
			r.inRecords = true
			readRecords(r, v, p)
			r.inRecords = false
		case k.Value == recordsKey:
			r.fault(k, &place{key: recordsKey}, "move it to the end of the file: records are added there", "records is not the last key")
		default:
			head.Content = append(head.Content, k, v)
		}
	}
	readFields(r, head, nil, headFields, p)
}

func readRecords(r *reader, n *yaml.Node, p *model.Profile) {
	at := &place{key: recordsKey}
	if isNull(n) {
		return
	}
	if n.Kind != yaml.SequenceNode {
		r.fault(n, at, "write it as a list, one record after the other", "%s stands here, not a list", kindName(n))
		return
	}
	p.Records = make([]model.Record, len(n.Content))
	here := &place{up: at}
	for i, c := range n.Content {
		here.index = i
		readRecord(r, c, here, &p.Records[i])
	}
}

// validate adds what the model finds impossible or missing, with the line where it
// stands, unless reading has already found fault with that value or one around it.
func validate(r *reader, root *yaml.Node, p model.Profile) {
	told, gaps := map[string]bool{}, false
	for _, f := range r.findings {
		told[f.Path] = true
		if inRecords := strings.HasPrefix(f.Path, recordsKey+"["); inRecords {
			gaps = true
			if strings.HasSuffix(f.Path, "].kind") {
				told[strings.TrimSuffix(f.Path, ".kind")] = true
			}
		}
	}
	for _, f := range p.Validate() {
		if len(r.findings) > maxFindings || len(told) > 0 && covered(told, f.Path) {
			continue
		}
		if gaps && strings.HasPrefix(f.Path, recordsKey) && (strings.HasSuffix(f.Path, ".lock") || strings.HasSuffix(f.Path, ".of")) {
			continue // it may name the record that could not be read
		}
		at, _ := find(root, f.Path)
		if r.spoiled[at] {
			continue
		}
		r.findings = append(r.findings, Finding{r.file, at.Line, at.Column, f})
	}
}

func covered(told map[string]bool, path string) bool {
	for {
		if told[path] {
			return true
		}
		i := strings.LastIndexAny(path, ".[")
		if i < 0 {
			return false
		}
		path = path[:i]
	}
}
