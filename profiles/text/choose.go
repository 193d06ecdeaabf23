package text

import (
	"cmp"
	"slices"

	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

// ChooseHead is a profile without records that takes each value that the heads of two
// copies do not agree on from the side chosen for its path (Difference.Path): that of
// theirs where takeTheirs says so, else that of mine. Findings say where the values
// chosen cannot be read as a head.
func ChooseHead(mine, theirs model.Profile, takeTheirs map[string]bool) (model.Profile, Findings) {
	out := model.Profile{Version: model.FormatVersion}
	head := chooseNodes("", writeFields(headFields, &mine), writeFields(headFields, &theirs), takeTheirs)
	r := newReader("")
	readFields(r, head, nil, headFields, &out)
	return out, r.findings
}

// chooseNodes is the tree of the values chosen; nil where the side chosen has none. It goes
// through the trees as compareNodes does.
func chooseNodes(path string, a, b *yaml.Node, takeTheirs map[string]bool) *yaml.Node {
	if leaves(a, b) {
		if takeTheirs[path] {
			return b
		}
		return a
	}
	keys, find := keysOf(a, b)
	chosen := map[string]*yaml.Node{}
	for _, k := range keys {
		chosen[k] = chooseNodes(join(path, k, a.Kind), find(a, k), find(b, k), takeTheirs)
	}
	if a.Kind == yaml.SequenceNode {
		gone := func(id string) bool { return chosen[id] == nil }
		keys = chosenOrder(slices.DeleteFunc(idsOf(a), gone), slices.DeleteFunc(idsOf(b), gone), path, takeTheirs)
	}
	out := *a
	out.Content = nil
	for _, k := range keys {
		switch v := chosen[k]; {
		case v == nil:
		case a.Kind == yaml.MappingNode:
			out.Content = append(out.Content, scalar(k), v)
		default:
			out.Content = append(out.Content, v)
		}
	}
	return &out
}

// chosenOrder is the ids of two lists in the order of the side chosen, and behind them those
// that only the other list has. Where no side is chosen the longer list leads, so that the
// outcome is the same from either side.
func chosenOrder(mine, theirs []string, path string, takeTheirs map[string]bool) []string {
	lead, other := mine, theirs
	swap, chosen := takeTheirs[path]
	if !chosen {
		swap = cmp.Or(cmp.Compare(len(theirs), len(mine)), slices.Compare(mine, theirs)) > 0
	}
	if swap {
		lead, other = theirs, mine
	}
	return append(lead, slices.DeleteFunc(other, func(id string) bool { return slices.Contains(lead, id) })...)
}
