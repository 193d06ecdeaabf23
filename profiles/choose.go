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
	if a.Kind == yaml.SequenceNode {
		keys = chosenOrder(idsOf(a), idsOf(b), sides[path])
	}
	out := *a
	out.Content = nil
	for _, k := range keys {
		v := chooseNodes(join(path, k, a.Kind), find(a, k), find(b, k), sides)
		switch {
		case v == nil:
		case a.Kind == yaml.MappingNode:
			out.Content = append(out.Content, scalar(k), v)
		default:
			out.Content = append(out.Content, v)
		}
	}
	return &out
}

// chosenOrder is the ids of two lists in the order of one of them. An id that only one
// has comes behind what it stands behind there; of two such, the lesser first, so that
// it does not matter whose list is whose.
func chosenOrder(mine, theirs []string, side Side) []string {
	lead := mine
	if side == Theirs {
		lead = theirs
	}
	only := map[string][][]string{} // behind an id that both have
	for _, ids := range [][]string{mine, theirs} {
		at := ""
		var run []string
		for _, id := range append(slices.Clone(ids), "") {
			if id != "" && !(slices.Contains(mine, id) && slices.Contains(theirs, id)) {
				run = append(run, id)
				continue
			}
			if len(run) > 0 {
				only[at] = append(only[at], run)
			}
			at, run = id, nil
		}
	}
	var out []string
	add := func(behind string) {
		runs := only[behind]
		slices.SortFunc(runs, func(x, y []string) int { return cmp.Compare(x[0], y[0]) })
		out = append(out, slices.Concat(runs...)...)
	}
	add("")
	for _, id := range lead {
		if slices.Contains(mine, id) && slices.Contains(theirs, id) {
			out = append(out, id)
			add(id)
		}
	}
	return out
}
