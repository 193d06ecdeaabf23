package text

import (
	"maps"
	"slices"
	"strings"
	"time"

	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

// stampFields stand first in every record.
var stampFields = []field[model.Record]{
	bind("at", instant, func(r *model.Record) *time.Time { return &r.At }),
	bind("by", patterned(text, model.InitialsForm, "initials of who did it"), func(r *model.Record) *string { return &r.By }),
	bind("kind", word(kinds...), func(r *model.Record) *model.Kind { return &r.Kind }),
}

// keyFields say how each key of model.KindTable stands in a file.
var keyFields = map[model.Key]field[model.Record]{}

func key[V any](name model.Key, c codec[V], get func(*model.Record) *V) {
	keyFields[name] = bind(string(name), c, get)
}

// recordFields are all the keys of each kind, in the order in which they are written;
// correctionFields those of a correction, by the kind that it corrects, and anyFields
// those of one that names nothing that can be corrected: the model finds fault with it.
var (
	recordFields, correctionFields = map[model.Kind][]field[model.Record]{}, map[model.Kind][]field[model.Record]{}
	anyFields                      []field[model.Record]
)

// fieldsOf are the keys of a record of a kind. of is the record that it is about.
func fieldsOf(kind model.Kind, of string) []field[model.Record] {
	if kind != model.Correction {
		return recordFields[kind]
	}
	if fields, ok := correctionFields[model.RefKind(of)]; ok {
		return fields
	}
	return anyFields
}

var kinds = slices.Sorted(maps.Keys(model.KindTable))

func init() {
	key("run_down", seconds, func(r *model.Record) *time.Duration { return &r.RunDown })
	key("still", truth, func(r *model.Record) *bool { return &r.Still })
	key("typed", truth, func(r *model.Record) *bool { return &r.Typed })
	key("how", word("unplugged", "locked"), func(r *model.Record) *string { return &r.How })
	key("dead", text, func(r *model.Record) *string { return &r.Dead })
	key("answers", text, func(r *model.Record) *string { return &r.Answers })
	key("dial", signeds, func(r *model.Record) *[]model.Measure { return &r.Dial })
	key("turned", degrees, func(r *model.Record) *float64 { return &r.TurnedDeg })
	key("dial_turned", signeds, func(r *model.Record) *[]model.Measure { return &r.DialTurned })
	key("blade", idText, func(r *model.Record) *string { return &r.Blade })
	key("rings", listOf(idText, yaml.FlowStyle), func(r *model.Record) *[]string { return &r.Rings })
	key("span", length, func(r *model.Record) *model.Measure { return &r.Span })
	key("slot_front", length, func(r *model.Record) *model.Measure { return &r.SlotFront })
	key("slot_rear", signed, func(r *model.Record) *model.Measure { return &r.SlotRear })
	key("fence_front", length, func(r *model.Record) *model.Measure { return &r.FenceFront })
	key("fence_rear", signed, func(r *model.Record) *model.Measure { return &r.FenceRear })
	key("lock", text, func(r *model.Record) *string { return &r.Lock })
	key("width", length, func(r *model.Record) *model.Measure { return &r.Width })
	key("length", length, func(r *model.Record) *model.Measure { return &r.Length })
	key("lead", length, func(r *model.Record) *model.Measure { return &r.Lead })
	key("tail", length, func(r *model.Record) *model.Measure { return &r.Tail })
	key("knife", idText, func(r *model.Record) *string { return &r.Knife })
	key("left", idText, func(r *model.Record) *string { return &r.Left })
	key("gaps", exactly(4, lengths), func(r *model.Record) *[]model.Measure { return &r.Gaps })
	key("tip_gap", length, func(r *model.Record) *model.Measure { return &r.TipGap })
	key("faces", exactly(2, signeds), func(r *model.Record) *[]model.Measure { return &r.Faces })
	key("mounting", text, func(r *model.Record) *string { return &r.Mounting })
	key("for", word(model.Datum, model.ForBlade, model.Closing), func(r *model.Record) *model.StripFor { return &r.For })
	key("round", truth, func(r *model.Record) *bool { return &r.Round })
	key("pairs", some(1, listOf(short(structOf(pairFields)), 0)), func(r *model.Record) *[]model.Pair { return &r.Pairs })
	key("cursor", signed, func(r *model.Record) *model.Measure { return &r.Cursor })
	key("readings", lengths, func(r *model.Record) *[]model.Measure { return &r.Readings })
	key("differences", signeds, func(r *model.Record) *[]model.Measure { return &r.Differences })
	key("zeroed", some(1, listOf(text, 0)), func(r *model.Record) *[]string { return &r.Zeroed })
	key("plate", lengths, func(r *model.Record) *[]model.Measure { return &r.Plate })
	key("kerf", lengths, func(r *model.Record) *[]model.Measure { return &r.Kerf })
	key("tooth_plate", lengths, func(r *model.Record) *[]model.Measure { return &r.ToothPlate })
	key("datum", word(model.DatumStays, model.DatumMoves), func(r *model.Record) *model.DatumGoes { return &r.Datum })
	key("back", truth, func(r *model.Record) *bool { return &r.Back })
	key("runout", length, func(r *model.Record) *model.Measure { return &r.Runout })
	key("of", text, func(r *model.Record) *string { return &r.Of })
	key("why", text, func(r *model.Record) *string { return &r.Why })
	key("about", word(model.AboutLeft), func(r *model.Record) *model.About { return &r.About })
	key("text", text, func(r *model.Record) *string { return &r.Text })
	for kind := range model.KindTable {
		recordFields[kind] = tableFields(&model.Record{Kind: kind})
		if model.Correctable(kind) {
			correctionFields[kind] = tableFields(&model.Record{Kind: model.Correction, Of: string(kind)})
		}
	}
	anyFields = slices.Clone(recordFields[model.Correction])
	for _, k := range slices.Sorted(maps.Keys(keyFields)) {
		if f := keyFields[k]; k != "of" {
			anyFields = append(anyFields, f.orNone())
		}
	}
}

// tableFields are the fields of all keys that a record may have.
func tableFields(rec *model.Record) []field[model.Record] {
	fields := slices.Clone(stampFields)
	for _, u := range rec.Keys() {
		f, ok := keyFields[u.Key]
		if !ok {
			panic("no field for the record key " + u.Key)
		}
		f.optional = !u.Required
		fields = append(fields, f)
	}
	return fields
}

// exactly tells the schema how many values a list has; the model checks it.
func exactly[V any](n int, c codec[[]V]) codec[[]V] {
	c.schema = schema{"type": "array", "items": c.schema["items"], "minItems": n, "maxItems": n}
	return c
}

var pairFields = []field[model.Pair]{
	bind("set", length, func(p *model.Pair) *model.Measure { return &p.Set }),
	bind("read", length, func(p *model.Pair) *model.Measure { return &p.Read }),
}

// readRecord reads one record. The kind says which keys it must and may have.
func readRecord(r *reader, n *yaml.Node, at *place, rec *model.Record) {
	if n.Kind != yaml.MappingNode {
		r.fault(n, at, "write at:, by:, kind: and the keys of that kind", "%s stands here, not a record", kindName(n))
		return
	}
	kind, _ := child(n, "kind")
	if kind == nil {
		r.fault(n, at, "write kind: and one of "+kindList(), "the record has no kind")
		return
	}
	if _, ok := recordFields[model.Kind(kind.Value)]; kind.Kind != yaml.ScalarNode || !ok {
		r.fault(kind, &place{up: at, key: "kind"}, "write one of "+kindList(), "%s is not a kind of record", nodeText(kind))
		return
	}
	about := ""
	if of, _ := child(n, "of"); of != nil {
		about = of.Value
	}
	fields := fieldsOf(model.Kind(kind.Value), about)
	readFields(r, n, at, fields, rec)
	for _, f := range fields {
		if f.optional {
			continue
		}
		if v, _ := child(n, f.key); v == nil {
			r.fault(n, &place{up: at, key: f.key}, "write it: a record of this kind has "+keyList(fields), "is missing")
		}
	}
}

func kindList() string {
	words := make([]string, len(kinds))
	for i, k := range kinds {
		words[i] = string(k)
	}
	return strings.Join(words, ", ")
}

// recordNode is a record as it is written. A list that its kind needs is written
// even where it is empty: no rings is a fact.
func recordNode(rec *model.Record) *yaml.Node {
	n := &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map"}
	for _, f := range fieldsOf(rec.Kind, rec.Of) {
		v := f.write(rec)
		if v == nil && !f.optional && f.schema["type"] == "array" {
			v = &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Style: yaml.FlowStyle}
		}
		if v == nil || f.optional && v.Kind == yaml.SequenceNode && len(v.Content) == 0 {
			continue
		}
		n.Content = append(n.Content, scalar(f.key), v)
	}
	return n
}

// SameRecord reports whether two records tell the same, to the unit typed.
func SameRecord(a, b *model.Record) bool {
	return a.Kind == b.Kind && (a.Kind != model.Correction || a.Of == b.Of) && sameFields(fieldsOf(a.Kind, a.Of), a, b)
}

// FormatRecord is a record as it stands in a file, without indentation.
func FormatRecord(rec model.Record) string {
	out, err := encode(&yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Content: []*yaml.Node{recordNode(&rec)}})
	if err != nil {
		panic(err) // plain nodes always encode
	}
	return out
}
