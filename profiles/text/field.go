package text

import (
	"fmt"
	"slices"

	"gopkg.in/yaml.v3"
)

// codec says how one kind of value stands in a file: how it is read from a node,
// written to one, compared, and what the schema says of it.
type codec[V any] struct {
	read   func(r *reader, n *yaml.Node, at *place) (V, bool)
	write  func(V) *yaml.Node // nil: nothing to write, the key is left out
	same   func(a, b V) bool
	schema schema
}

// field is one key of a mapping and the value of T that it holds. Reader, writer,
// comparison and schema all follow the tables of fields.
type field[T any] struct {
	key    string
	read   func(r *reader, n *yaml.Node, at *place, t *T)
	write  func(t *T) *yaml.Node
	same   func(a, b *T) bool
	schema schema
	// optional: a whole profile may go without it
	optional bool
}

func bind[T, V any](key string, c codec[V], get func(*T) *V) field[T] {
	return field[T]{
		key: key,
		read: func(r *reader, n *yaml.Node, at *place, t *T) {
			if v, ok := c.read(r, n, at); ok {
				*get(t) = v
			}
		},
		write:  func(t *T) *yaml.Node { return c.write(*get(t)) },
		same:   func(a, b *T) bool { return c.same(*get(a), *get(b)) },
		schema: c.schema,
	}
}

func (f field[T]) orNone() field[T] {
	f.optional = true
	return f
}

// readFields reads the keys of a mapping into t. Unknown and doubled keys are faults.
func readFields[T any](r *reader, n *yaml.Node, at *place, fields []field[T], t *T) {
	if n.Kind != yaml.MappingNode {
		r.fault(n, at, "write "+fields[0].key+": and the other keys, indented below it", "%s stands here, not keys with values", kindName(n))
		return
	}
	var seen uint64
	here, next := &place{up: at}, 0
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		here.key = key.Value
		k := next // keys mostly stand in the order of the table
		if k >= len(fields) || fields[k].key != key.Value {
			k = slices.IndexFunc(fields, func(f field[T]) bool { return f.key == key.Value })
		}
		next = k + 1
		switch {
		case k < 0:
			r.fault(key, here, "known here: "+keyList(fields), "unknown key")
		case seen&(1<<k) != 0:
			r.fault(key, here, "keep one of the two", "this key stands here twice")
		case isNull(value):
			seen |= 1 << k
			if r.inRecords {
				r.fault(value, here, "type it in, or take the key out", "has no value")
			}
		default:
			seen |= 1 << k
			fields[k].read(r, value, here, t)
		}
	}
}

func writeFields[T any](fields []field[T], t *T) *yaml.Node {
	n := &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"}
	for _, f := range fields {
		if v := f.write(t); v != nil {
			n.Content = append(n.Content, scalar(f.key), v)
		}
	}
	return n
}

func sameFields[T any](fields []field[T], a, b *T) bool {
	for i := range fields {
		if !fields[i].same(a, b) {
			return false
		}
	}
	return true
}

func keyList[T any](fields []field[T]) string {
	s := ""
	for i, f := range fields {
		if i > 0 {
			s += ", "
		}
		s += f.key
	}
	return s
}

// structOf is the codec of a mapping. It is left out where nothing in it is set.
func structOf[T any](fields []field[T]) codec[T] {
	return codec[T]{
		read: func(r *reader, n *yaml.Node, at *place) (T, bool) {
			var t T
			readFields(r, n, at, fields, &t)
			return t, true
		},
		write: func(t T) *yaml.Node {
			if n := writeFields(fields, &t); len(n.Content) > 0 {
				return n
			}
			return nil
		},
		same:   func(a, b T) bool { return sameFields(fields, &a, &b) },
		schema: objectSchema(fields),
	}
}

// listOf is the codec of a list. A nil list is left out, an empty one is written.
func listOf[V any](item codec[V], style yaml.Style) codec[[]V] {
	return codec[[]V]{
		read: func(r *reader, n *yaml.Node, at *place) ([]V, bool) {
			if n.Kind != yaml.SequenceNode {
				r.fault(n, at, "write it as a list: [...]", "%s stands here, not a list", kindName(n))
				return nil, false
			}
			out := make([]V, 0, len(n.Content))
			here := &place{up: at}
			for i, c := range n.Content {
				here.index = i
				if isNull(c) {
					r.fault(c, here, "type it in, or take it out of the list", "has no value")
					continue
				}
				if v, ok := item.read(r, c, here); ok {
					out = append(out, v)
				}
			}
			return out, true
		},
		write: func(vs []V) *yaml.Node {
			if vs == nil {
				return nil
			}
			n := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Style: style}
			if len(vs) == 0 {
				n.Style = yaml.FlowStyle
			}
			for _, v := range vs {
				if c := item.write(v); c != nil {
					n.Content = append(n.Content, c)
				}
			}
			return n
		},
		same: func(a, b []V) bool {
			if len(a) == len(b) && len(a) > 0 && &a[0] == &b[0] {
				return true // the very same list, as in most records of two profiles
			}
			return slices.EqualFunc(a, b, item.same)
		},
		schema: schema{"type": "array", "items": item.schema},
	}
}

// some holds a list to at least n values; an empty one is left out.
func some[V any](n int, c codec[[]V]) codec[[]V] {
	read, write := c.read, c.write
	c.read = func(r *reader, node *yaml.Node, at *place) ([]V, bool) {
		out, ok := read(r, node, at)
		if ok && len(node.Content) < n {
			r.fault(node, at, fmt.Sprintf("write %d or more, or take the key out", n), "the list has %d values", len(node.Content))
			return nil, false
		}
		return out, ok
	}
	c.write = func(vs []V) *yaml.Node {
		if len(vs) == 0 {
			return nil
		}
		return write(vs)
	}
	c.schema = schema{"type": "array", "items": c.schema["items"], "minItems": n}
	return c
}

// chosen tells a list that was not chosen yet (nil) from an empty one.
func chosen[V any](c codec[[]V]) codec[[]V] {
	same := c.same
	c.same = func(a, b []V) bool { return (a == nil) == (b == nil) && same(a, b) }
	return c
}

// short writes the mapping of a codec on one line.
func short[V any](c codec[V]) codec[V] {
	write := c.write
	c.write = func(v V) *yaml.Node {
		n := write(v)
		if n != nil {
			n.Style = yaml.FlowStyle
		}
		return n
	}
	return c
}

func scalar(text string) *yaml.Node {
	n := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: text}
	if ambiguous(text) {
		n.Style = yaml.DoubleQuotedStyle
	}
	return n
}

func isNull(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Tag == "!!null" }

func kindName(n *yaml.Node) string {
	switch {
	case n.Kind == yaml.MappingNode:
		return "a group of keys"
	case n.Kind == yaml.SequenceNode:
		return "a list"
	case isNull(n):
		return "nothing"
	}
	return "a single value"
}
