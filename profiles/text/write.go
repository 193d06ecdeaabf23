package text

import (
	"bytes"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

// SchemaName is the file of the JSON Schema that every profile names in its first
// line; profiles.Prepare puts it into the profile folder.
const SchemaName = "sawdatum.schema.json"

const (
	firstLine   = "# yaml-language-server: $schema=" + SchemaName
	recordsLine = recordsKey + ": # what was done and read, oldest first; never edited, only added to\n"
	indentation = "  " // of records
)

func encode(n *yaml.Node) (string, error) {
	var b bytes.Buffer
	e := yaml.NewEncoder(&b)
	e.SetIndent(2)
	if err := e.Encode(n); err != nil {
		return "", err
	}
	if err := e.Close(); err != nil {
		return "", err
	}
	return b.String(), nil
}

// headNode is the head of a profile as it is first written.
func headNode(p *model.Profile) *yaml.Node {
	version := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!int", Value: strconv.Itoa(model.FormatVersion)}
	key := scalar(versionKey)
	key.HeadComment = firstLine
	n := writeFields(headFields, p)
	n.Content = append([]*yaml.Node{key, version}, n.Content...)
	return n
}

// Format is the text of a whole profile: the head in the order of the README, then
// the records.
func Format(p model.Profile) string {
	head, err := encode(headNode(&p))
	if err != nil {
		panic(err) // plain nodes always encode
	}
	var b strings.Builder
	b.WriteString(head)
	b.WriteString(recordsLine)
	for _, rec := range p.Records {
		b.WriteString(indent(FormatRecord(rec), indentation))
	}
	return b.String()
}

func indent(text, by string) string {
	if by == "" {
		return text
	}
	lines := strings.SplitAfter(text, "\n")
	var b strings.Builder
	for _, line := range lines {
		if line != "" {
			b.WriteString(by + line)
		}
	}
	return b.String()
}
