package text

import (
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

// Difference is one value of the head that two copies of a profile do not agree on.
// Path is a key path with ids: blades[rip-24].kerf. A value that one side does not
// have reads "not given".
type Difference struct {
	Path   string
	Mine   string
	Theirs string
}

func (d Difference) String() string { return d.Path + ": mine " + d.Mine + ", theirs " + d.Theirs }

const notGiven = "not given"

// SameHead reports whether two profiles agree in all but their records, to the unit typed.
func SameHead(a, b model.Profile) bool { return sameFields(headFields, &a, &b) }

// Differences lists what the heads of two copies do not agree on, in the order of the file.
func Differences(mine, theirs model.Profile) []Difference {
	if SameHead(mine, theirs) {
		return nil
	}
	return compareNodes("", writeFields(headFields, &mine), writeFields(headFields, &theirs))
}

// compareNodes lists what differs between two trees that were written here. Lists
// with ids are compared id by id, other lists as a whole.
func compareNodes(path string, a, b *yaml.Node) []Difference {
	if leaves(a, b) {
		if x, y := nodeLine(a), nodeLine(b); x != y {
			return []Difference{{path, x, y}}
		}
		return nil
	}
	var out []Difference
	keys, find := keysOf(a, b)
	for _, k := range keys {
		out = append(out, compareNodes(join(path, k, a.Kind), find(a, k), find(b, k))...)
	}
	if a.Kind == yaml.SequenceNode {
		if x, y := strings.Join(shared(a, b), ", "), strings.Join(shared(b, a), ", "); x != y {
			out = append(out, Difference{path, "in the order " + x, "in the order " + y})
		}
	}
	return out
}

// leaves reports whether two nodes are compared as a whole.
func leaves(a, b *yaml.Node) bool {
	return a == nil || b == nil || a.Kind == yaml.ScalarNode || a.Kind != b.Kind || a.Kind == yaml.SequenceNode && !hasIDs(a) && !hasIDs(b)
}

// shared lists the ids of a list that the other has too.
func shared(a, b *yaml.Node) []string {
	other := idsOf(b)
	return slices.DeleteFunc(idsOf(a), func(id string) bool { return !slices.Contains(other, id) })
}

func join(path, key string, parent yaml.Kind) string {
	switch {
	case parent == yaml.SequenceNode:
		return path + "[" + key + "]"
	case path == "":
		return key
	}
	return path + "." + key
}

// keysOf lists the keys of two mappings, or the ids of two lists, each once, and how
// to find what stands under one.
func keysOf(a, b *yaml.Node) (keys []string, find func(n *yaml.Node, key string) *yaml.Node) {
	list := idsOf
	find = byID
	if a.Kind == yaml.MappingNode {
		list = func(n *yaml.Node) (out []string) {
			for i := 0; i+1 < len(n.Content); i += 2 {
				out = append(out, n.Content[i].Value)
			}
			return out
		}
		find = func(n *yaml.Node, key string) *yaml.Node {
			v, _ := child(n, key)
			return v
		}
	}
	for _, k := range append(list(a), list(b)...) {
		if !slices.Contains(keys, k) {
			keys = append(keys, k)
		}
	}
	return keys, find
}

func hasIDs(n *yaml.Node) bool {
	return n.Kind == yaml.SequenceNode && len(n.Content) > 0 && idOf(n.Content[0]) != ""
}

func idOf(n *yaml.Node) string {
	if v, _ := child(n, "id"); v != nil {
		return v.Value
	}
	return ""
}

func idsOf(n *yaml.Node) (out []string) {
	for _, c := range n.Content {
		out = append(out, idOf(c))
	}
	return out
}

func byID(n *yaml.Node, id string) *yaml.Node {
	if i := slices.IndexFunc(n.Content, func(c *yaml.Node) bool { return idOf(c) == id }); i >= 0 {
		return n.Content[i]
	}
	return nil
}

// nodeLine is a value on one line, for people.
func nodeLine(n *yaml.Node) string {
	switch {
	case n == nil:
		return notGiven
	case n.Kind == yaml.ScalarNode:
		return Show(n.Value)
	}
	flow := *n
	flow.Style = yaml.FlowStyle
	out, err := encode(&flow)
	if err != nil {
		return kindName(n)
	}
	return Show(strings.TrimSpace(out))
}
