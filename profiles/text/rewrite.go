package text

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

// Rewrite is the document with the values of want. New records are added as text; an
// earlier byte changes only where the head changes, where records of another copy
// come between, or where nothing can be added to the way the records stand there.
// added: the records are those of d and more behind them. Whatever the text was made
// from, it is read back: what does not tell the same is made anew from the tree, then
// from the values alone. The error says why there is no such text.
func (d Document) Rewrite(want model.Profile, added bool) (Document, error) {
	ways := []func() (Document, error){
		func() (Document, error) { return d.edited(want, added) },
		func() (Document, error) { return d.evened().edited(want, added) },
		func() (Document, error) { return Document{Data: []byte(Format(want)), Anew: true}, nil },
	}
	if d.layout.form == awkward || d.Migrated {
		ways = ways[1:]
	}
	var why error
	for _, way := range ways {
		made, err := way()
		if err != nil {
			why = err
			continue
		}
		if r := newReader(d.name); !checkBytes(r, made.Data) {
			return d, r.findings[0]
		}
		layout, err := d.readsBack(made, want, added)
		if err == nil {
			lost := made.Anew || !bytes.HasPrefix(made.Data, d.Data) && losesComments(d.Data, made.Data)
			return Document{Data: made.Data, Profile: want, Anew: lost, name: d.name, layout: layout}, nil
		}
		why = err
	}
	return d, fmt.Errorf("%s: %w: nothing was saved: save elsewhere", Show(d.name), why)
}

// edited is d with its text changed where want differs.
func (d Document) edited(want model.Profile, added bool) (Document, error) {
	d.Anew = false
	if !SameHead(d.Profile, want) {
		if err := d.changeHead(want); err != nil {
			return d, err
		}
	}
	if added {
		d.add(want.Records[len(d.Profile.Records):])
	} else {
		d.interleave(want.Records)
	}
	return d, nil
}

// readsBack reads the text that was made and holds it against want; it gives its
// layout. Bytes of d that stand there unchanged with records below them were read
// before: then it is read from the last of those records on, so that a save costs the
// same however long the file is.
func (d Document) readsBack(made Document, want model.Profile, added bool) (layout, error) {
	r := newReader("")
	if n := len(d.layout.items); added && n > 0 && bytes.HasPrefix(made.Data, d.Data) && !d.Migrated {
		var p model.Profile
		if list := nodes(r, made.Data[lineStart(made.Data, d.layout.items[n-1]):]); list != nil {
			readRecords(r, list, &p)
		}
		if len(r.findings) == 0 && sameRecords(p.Records, want.Records[n-1:]) {
			return made.layout, nil
		}
	}
	back := Read("", made.Data)
	if faults := back.Findings.Faults(); len(faults) > 0 {
		return layout{}, faults[0]
	}
	if !sameProfile(back.Profile, want) {
		return layout{}, errors.New("this cannot be written so that it reads the same")
	}
	return back.layout, nil
}

func sameRecords(a, b []model.Record) bool {
	return slices.EqualFunc(a, b, func(x, y model.Record) bool { return SameRecord(&x, &y) })
}

func sameProfile(a, b model.Profile) bool {
	return SameHead(a, b) && sameRecords(a.Records, b.Records)
}

// evened is d with its tree written anew, one record below the other.
func (d Document) evened() Document {
	r := newReader("")
	root := nodes(r, oneEnding(d.Data))
	openVersion(r, root)
	root.Style = 0
	if records, key := child(root, recordsKey); records != nil {
		records.Style = 0
		if records.LineComment != "" { // behind a list that goes on in other lines there is no room
			key.HeadComment, records.LineComment = strings.TrimLeft(key.HeadComment+"\n"+records.LineComment, "\n"), ""
		}
		for _, rec := range records.Content {
			rec.Style = 0
		}
	}
	lead := above(root, oneEnding(d.Data))
	text, err := encode(root)
	if text = lead + text; err != nil {
		text = Format(d.Profile)
	}
	end := ending(d.Data)
	even := Read(d.name, []byte(strings.ReplaceAll(text, "\n", end)))
	if len(even.Findings.Faults()) > 0 || !sameProfile(even.Profile, d.Profile) || even.layout.form == awkward {
		even = Read(d.name, []byte(strings.ReplaceAll(Format(d.Profile), "\n", end)))
	}
	d.Data, d.layout = even.Data, even.layout
	return d
}

// changeHead rewrites everything before the records through the node tree.
func (d *Document) changeHead(want model.Profile) error {
	at := len(d.Data)
	if d.layout.line > 0 {
		at = lineStart(d.Data, d.layout.line)
	}
	head, records := d.Data[:at], d.Data[at:]
	r := newReader("")
	root := nodes(r, append(endLine(oneEnding(head), "\n"), recordsKey+":\n"...))
	if root == nil {
		return errors.New("the head of the file cannot be read apart: start a new file with setup")
	}
	lead := above(root, head)
	next := headNode(&want)
	next.Content = append(next.Content, scalar(recordsKey), &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!null"})
	text, err := encode(graft(root, next))
	if err != nil {
		return err
	}
	i := strings.LastIndex(text, recordsKey+":")
	if p, faults := Parse(d.name, []byte(text)); i < 0 || len(faults.Faults()) > 0 || !SameHead(p, want) {
		return errors.New("the head of the file cannot be changed without losing something: start a new file with setup")
	}
	text = lead + strings.ReplaceAll(text[:i], "\n", ending(d.Data))
	shift := lineCount([]byte(text)) - lineCount(head)
	d.Data = slices.Concat([]byte(text), records)
	d.layout.items = slices.Clone(d.layout.items)
	if d.layout.line > 0 {
		d.layout.line += shift
	}
	for i := range d.layout.items {
		d.layout.items[i] += shift
	}
	return nil
}

// losesComments reports whether a line of comment that stands in one text is not in another:
// the YAML library drops some between the items of a list.
func losesComments(was, is []byte) bool {
	there := map[string]bool{}
	for line := range bytes.Lines(is) {
		for line = bytes.TrimSpace(line); bytes.IndexByte(line, '#') >= 0; line = line[1:] {
			line = line[bytes.IndexByte(line, '#'):]
			there[string(line)] = true
		}
	}
	for line := range bytes.Lines(was) {
		if line = bytes.TrimSpace(line); bytes.HasPrefix(line, []byte("#")) && !there[string(line)] {
			return true
		}
	}
	return false
}

// above takes the lines above the first key of a document out of its tree, and gives them as
// they stand: the YAML library loses comments there that a blank line sets apart.
func above(root *yaml.Node, data []byte) string {
	if len(root.Content) == 0 {
		return ""
	}
	first := root.Content[0]
	lead := string(data[:lineStart(data, first.Line)])
	for line := range strings.Lines(strings.TrimPrefix(lead, "\ufeff")) {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' && line[0] != '%' && !strings.HasPrefix(line, "---") {
			return ""
		}
	}
	root.HeadComment, first.HeadComment = "", ""
	return lead
}

// add writes records behind what is there.
func (d *Document) add(records []model.Record) {
	if len(records) == 0 {
		return
	}
	end := ending(d.Data)
	data := slices.Clip(d.Data)
	switch d.layout.form {
	case absent:
		data = append(endLine(data, end), strings.ReplaceAll(recordsLine, "\n", end)...)
		d.layout.line = lineCount(data)
	case empty:
		at := lineStart(data, d.layout.line)
		line, rest, _ := strings.Cut(string(data[at:]), "\n")
		value := runeOffset(line, d.layout.value)
		gone := value + strings.IndexByte(line[value:], ']') + 1
		data = slices.Concat(data[:at], []byte(line[:value]+strings.TrimLeft(line[gone:], " ")+"\n"+rest))
	}
	data = endLine(data, end)
	items := slices.Clip(d.layout.items)
	next := lineCount(data) + 1
	for _, rec := range records {
		text := indent(FormatRecord(rec), d.layout.indent)
		items = append(items, next)
		next += strings.Count(text, "\n")
		data = append(data, strings.ReplaceAll(text, "\n", end)...)
	}
	d.Data, d.layout.items, d.layout.form = data, items, listed
}

func endLine(data []byte, end string) []byte {
	if len(data) > 0 && data[len(data)-1] != '\n' {
		return append(data, end...)
	}
	return data
}

// runeOffset is where the character of a column begins. Columns count from 1.
func runeOffset(line string, column int) int {
	n := 1
	for i := range line {
		if n == column {
			return i
		}
		n++
	}
	return len(line)
}

// interleave writes the records in their order: those that are in the file as they
// stand there, with the comments above them, the others as new text.
func (d *Document) interleave(records []model.Record) {
	have := d.Profile.Records
	if d.layout.form != listed {
		d.add(records)
		return
	}
	chunks := make(map[string][]string, len(have))
	start := lineStart(d.Data, d.layout.items[0])
	head := d.Data[:start]
	end := ending(d.Data)
	rest := string(endLine(slices.Clip(d.Data), end)[start:])
	lines := strings.SplitAfter(rest, "\n")
	from := 0
	for i := range have {
		to := len(lines)
		if i+1 < len(have) {
			to = d.layout.items[i+1] - d.layout.items[0]
			for to > from+1 && strings.HasPrefix(strings.TrimSpace(lines[to-1]), "#") {
				to--
			}
		}
		key := FormatRecord(have[i])
		chunks[key] = append(chunks[key], strings.Join(lines[from:to], ""))
		from = to
	}
	var b bytes.Buffer
	b.Write(head)
	for _, rec := range records {
		text := FormatRecord(rec)
		if known := chunks[text]; len(known) > 0 {
			b.WriteString(known[0])
			chunks[text] = known[1:]
			continue
		}
		b.WriteString(strings.ReplaceAll(indent(text, d.layout.indent), "\n", end))
	}
	d.Data = b.Bytes()
}
