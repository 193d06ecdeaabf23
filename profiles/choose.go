package profiles

import (
	"cmp"
	"fmt"
	"slices"

	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

// Choose is the union of the records of two copies of a profile under a head that takes
// each value they do not agree on from the side chosen for its path (Difference.Path).
// What records name and the head would not have comes along as in Take. The error is
// Findings where the values chosen do not make a profile.
func Choose(mine, theirs model.Profile, sides map[string]Side) (model.Profile, error) {
	for _, d := range differences(mine, theirs) {
		if s := sides[d.Path]; s != Mine && s != Theirs {
			return model.Profile{}, fmt.Errorf("%s: no side is chosen: write mine or theirs", d.Path)
		}
	}
	out := model.Profile{Version: model.FormatVersion}
	head := chooseNodes("", writeFields(headFields, &mine), writeFields(headFields, &theirs), sides)
	r := newReader("")
	readFields(r, head, nil, headFields, &out)
	if faults := r.findings.Faults(); len(faults) > 0 {
		return model.Profile{}, faults
	}
	out.Records = union(mine.Records, theirs.Records)
	first, second := mine, theirs
	if Format(withHead(second, nil)) < Format(withHead(first, nil)) { // whoever asks
		first, second = second, first
	}
	out = named(named(out, first), second)
	if faults := checked("", out, 0).Faults(); len(faults) > 0 {
		return model.Profile{}, faults
	}
	return out, nil
}

// chooseNodes is a tree of the values chosen, nil where that is not to be there. It
// follows compareNodes.
func chooseNodes(path string, a, b *yaml.Node, sides map[string]Side) *yaml.Node {
	if leaves(a, b) {
		if sides[path] == Theirs {
			return b
		}
		return a
	}
	keys, find := keysOf(a, b)
	chosen := map[string]*yaml.Node{}
	for _, k := range keys {
		chosen[k] = chooseNodes(join(path, k, a.Kind), find(a, k), find(b, k), sides)
	}
	if a.Kind == yaml.SequenceNode {
		gone := func(id string) bool { return chosen[id] == nil }
		keys = chosenOrder(slices.DeleteFunc(idsOf(a), gone), slices.DeleteFunc(idsOf(b), gone), sides[path])
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

// chosenOrder is the ids of two lists in the order of the side chosen, those behind that
// only the other has. Where no side is chosen the longer list leads, so that it does not
// matter whose list is whose.
func chosenOrder(mine, theirs []string, side Side) []string {
	lead, other := mine, theirs
	if side == Theirs || side == "" && cmp.Or(cmp.Compare(len(theirs), len(mine)), slices.Compare(mine, theirs)) > 0 {
		lead, other = theirs, mine
	}
	return append(lead, slices.DeleteFunc(other, func(id string) bool { return slices.Contains(lead, id) })...)
}
