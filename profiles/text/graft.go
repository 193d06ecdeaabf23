package text

import (
	"slices"

	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

// graft brings the tree of a file to the values of next, and leaves comments, the
// order of keys and the way in which unchanged values are written as they are. New
// keys come where next has them.
func graft(old, next *yaml.Node) *yaml.Node {
	if old.Kind != next.Kind {
		next.HeadComment, next.LineComment, next.FootComment = old.HeadComment, old.LineComment, old.FootComment
		return next
	}
	switch old.Kind {
	case yaml.MappingNode:
		graftKeys(old, next)
	case yaml.SequenceNode:
		graftItems(old, next)
	default:
		if !sameText(old.Value, next.Value) {
			old.Value, old.Tag, old.Style = next.Value, next.Tag, next.Style
		}
	}
	return old
}

func graftKeys(old, next *yaml.Node) {
	kept := old.Content[:0:0]
	for i := 0; i+1 < len(old.Content); i += 2 {
		if v, _ := child(next, old.Content[i].Value); v != nil {
			kept = append(kept, old.Content[i], graft(old.Content[i+1], v))
		}
	}
	old.Content = kept
	for i := 0; i+1 < len(next.Content); i += 2 {
		if v, _ := child(old, next.Content[i].Value); v != nil {
			continue
		}
		at := 0
		if i > 0 {
			at = keyIndex(old, next.Content[i-2].Value) + 2
		}
		old.Content = slices.Insert(old.Content, at, next.Content[i], next.Content[i+1])
	}
}

func keyIndex(n *yaml.Node, key string) int {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return i
		}
	}
	return -2
}

func graftItems(old, next *yaml.Node) {
	out := make([]*yaml.Node, len(next.Content))
	for i, item := range next.Content {
		before := (*yaml.Node)(nil)
		if id := idOf(item); id != "" {
			before = byID(old, id)
		} else if i < len(old.Content) {
			before = old.Content[i]
		}
		if out[i] = item; before != nil {
			out[i] = graft(before, item)
		}
	}
	if len(old.Content) == 0 {
		old.Style = next.Style
	}
	old.Content = out
}

// sameText reports whether two scalars say the same: 0.10 mm is 0.1 mm.
func sameText(a, b string) bool {
	if a == b {
		return true
	}
	x, errX := model.ParseLength(a, model.NoUnit)
	y, errY := model.ParseLength(b, model.NoUnit)
	return errX == nil && errY == nil && x == y
}
