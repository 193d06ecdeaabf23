package profiles

import (
	"bytes"
	"errors"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

// rewrite is the text of f with the values of want. New records are added as text; an
// earlier byte changes only where the head changes, where records of another copy
// come between, or where nothing can be added to the way the records stand there.
// added: the records are those of f and more behind them. Whatever the text was made
// from, it is read back: what does not tell the same is made anew from the tree, then
// from the values alone.
func (f File) rewrite(want model.Profile, added bool) (File, error) {
	ways := []func() (File, error){
		func() (File, error) { return f.edited(want, added) },
		func() (File, error) { return f.evened().edited(want, added) },
		func() (File, error) { return File{data: []byte(Format(want)), anew: true}, nil },
	}
	if f.layout.form == awkward || f.migrated {
		ways = ways[1:]
	}
	var why error
	for _, way := range ways {
		made, err := way()
		if err != nil {
			why = err
			continue
		}
		if r := newReader(f.Path); !checkBytes(r, made.data) {
			return f, r.findings[0]
		}
		layout, err := f.readsBack(made, want, added)
		if err == nil {
			out := f
			out.data, out.layout, out.Profile, out.migrated = made.data, layout, want, false
			out.anew = made.anew
			return out, nil
		}
		why = err
	}
	return f, &DiskError{Path: f.Path, Err: why, Cure: "nothing was saved: save elsewhere"}
}

// edited is f with its text changed where want differs.
func (f File) edited(want model.Profile, added bool) (File, error) {
	if !sameHead(f.Profile, want) {
		if err := f.changeHead(want); err != nil {
			return f, err
		}
	}
	if added {
		f.add(want.Records[len(f.Profile.Records):])
	} else {
		f.interleave(want.Records)
	}
	return f, nil
}

// readsBack reads the text that was made and holds it against want; it gives its
// layout. Bytes of f that stand there unchanged with records below them were read
// before: then it is read from the last of those records on, so that a save costs the
// same however long the file is.
func (f File) readsBack(made File, want model.Profile, added bool) (layout, error) {
	r := newReader("")
	if n := len(f.layout.items); added && n > 0 && bytes.HasPrefix(made.data, f.data) && !f.migrated {
		var p model.Profile
		if list := nodes(r, made.data[lineStart(made.data, f.layout.items[n-1]):]); list != nil {
			readRecords(r, list, &p)
		}
		if len(r.findings) == 0 && sameRecords(p.Records, want.Records[n-1:]) {
			return made.layout, nil
		}
	}
	p := parse("", made.data)
	if faults := p.findings.Faults(); len(faults) > 0 {
		return layout{}, faults[0]
	}
	if !sameProfile(p.profile, want) {
		return layout{}, errors.New("this cannot be written so that it reads the same")
	}
	return p.layout, nil
}

func sameRecords(a, b []model.Record) bool { return len(a) == len(b) && continues(a, b) }

func sameProfile(a, b model.Profile) bool {
	return sameHead(a, b) && sameRecords(a.Records, b.Records)
}

// evened is f with its tree written anew, one record below the other.
func (f File) evened() File {
	r := newReader("")
	root := nodes(r, oneEnding(f.data))
	openVersion(r, root)
	root.Style = 0
	if records, _ := child(root, recordsKey); records != nil {
		records.Style = 0
		for _, rec := range records.Content {
			rec.Style = 0
		}
	}
	text, err := encode(root)
	if err != nil {
		text = Format(f.Profile)
	}
	p := parse(f.Path, []byte(text))
	if len(p.findings.Faults()) > 0 || !sameProfile(p.profile, f.Profile) || p.layout.form == awkward {
		text = Format(f.Profile)
		p = parse(f.Path, []byte(text))
	}
	f.data, f.layout = []byte(text), p.layout
	return f
}

// changeHead rewrites everything before the records through the node tree.
func (f *File) changeHead(want model.Profile) error {
	at := len(f.data)
	if f.layout.line > 0 {
		at = lineStart(f.data, f.layout.line)
	}
	head, records := f.data[:at], f.data[at:]
	r := newReader("")
	root := nodes(r, append(endLine(oneEnding(head), "\n"), recordsKey+":\n"...))
	if root == nil {
		return errors.New("the head of the file cannot be read apart: start a new file with setup")
	}
	next := headNode(&want)
	next.Content = append(next.Content, scalar(recordsKey), &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!null"})
	text, err := encode(graft(root, next))
	if err != nil {
		return err
	}
	i := strings.LastIndex(text, recordsKey+":")
	if p, faults := Parse(f.Path, []byte(text)); i < 0 || len(faults.Faults()) > 0 || !sameHead(p, want) {
		return errors.New("the head of the file cannot be changed without losing something: start a new file with setup")
	}
	text = strings.ReplaceAll(text[:i], "\n", ending(f.data))
	shift := lineCount([]byte(text)) - lineCount(head)
	f.data = slices.Concat([]byte(text), records)
	f.layout.items = slices.Clone(f.layout.items)
	if f.layout.line > 0 {
		f.layout.line += shift
	}
	for i := range f.layout.items {
		f.layout.items[i] += shift
	}
	return nil
}

// add writes records behind what is there.
func (f *File) add(records []model.Record) {
	if len(records) == 0 {
		return
	}
	end := ending(f.data)
	data := slices.Clip(f.data)
	switch f.layout.form {
	case absent:
		data = append(endLine(data, end), strings.ReplaceAll(recordsLine, "\n", end)...)
		f.layout.line = lineCount(data)
	case empty:
		at := lineStart(data, f.layout.line)
		line, rest, _ := strings.Cut(string(data[at:]), "\n")
		value := runeOffset(line, f.layout.value)
		gone := value + strings.IndexByte(line[value:], ']') + 1
		data = slices.Concat(data[:at], []byte(line[:value]+strings.TrimLeft(line[gone:], " ")+"\n"+rest))
	}
	data = endLine(data, end)
	items := slices.Clip(f.layout.items)
	next := lineCount(data) + 1
	for _, rec := range records {
		text := indent(recordText(rec), f.layout.indent)
		items = append(items, next)
		next += strings.Count(text, "\n")
		data = append(data, strings.ReplaceAll(text, "\n", end)...)
	}
	f.data, f.layout.items, f.layout.form = data, items, listed
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
func (f *File) interleave(records []model.Record) {
	have := f.Profile.Records
	if f.layout.form != listed {
		f.add(records)
		return
	}
	chunks := make(map[string][]string, len(have))
	start := lineStart(f.data, f.layout.items[0])
	head := f.data[:start]
	end := ending(f.data)
	rest := string(endLine(slices.Clip(f.data), end)[start:])
	lines := strings.SplitAfter(rest, "\n")
	from := 0
	for i := range have {
		to := len(lines)
		if i+1 < len(have) {
			to = f.layout.items[i+1] - f.layout.items[0]
			for to > from+1 && strings.HasPrefix(strings.TrimSpace(lines[to-1]), "#") {
				to--
			}
		}
		key := recordText(have[i])
		chunks[key] = append(chunks[key], strings.Join(lines[from:to], ""))
		from = to
	}
	var b bytes.Buffer
	b.Write(head)
	for _, rec := range records {
		text := recordText(rec)
		if known := chunks[text]; len(known) > 0 {
			b.WriteString(known[0])
			chunks[text] = known[1:]
			continue
		}
		b.WriteString(strings.ReplaceAll(indent(text, f.layout.indent), "\n", end))
	}
	f.data = b.Bytes()
}
