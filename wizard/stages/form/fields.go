// Package form is what the rows of all stages are written with: their fields and orders, and what
// they know of blades, rings and readings.
package form

import (
	"errors"
	"strings"

	"example.com/sawdatum/solver/metrology"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
)

const mm = model.Millimetre

type (
	context = procedure.Context
	taking  = procedure.Taking
	field   = procedure.Field
	answers = procedure.Answers
	reason  = model.Reason
)

// Said is one text, whatever the moment.
func Said(text string) func(context) string { return func(context) string { return text } }

// Lines are texts, whatever the moment; of each {300 mm|12 in} the part that the shop reads.
func Lines(texts ...string) func(context) []string {
	return func(c context) []string { return inUnit(c, texts) }
}

// Lined are orders that read neither the moment nor the pass.
func Lined[P any](texts ...string) func(context, P) []string {
	return func(c context, _ P) []string { return inUnit(c, texts) }
}

func inUnit(c context, texts []string) []string {
	out := make([]string, len(texts))
	for i, text := range texts {
		out[i] = c.Unit().Words(text)
	}
	return out
}

// Fields are fields, whatever the moment.
func Fields(fs ...field) func(context) []field {
	return func(context) []field { return fs }
}

// Word is a field that takes one word, typed by hand.
func Word(key, label, text string) field {
	return field{Key: key, Label: label, Hint: "type " + text, Kind: procedure.FieldWord, Word: text}
}

// Choice is a field that takes one of some options.
func Choice(key, label, value string, options ...string) field {
	hint := strings.Join(options, ", ")
	if len(options) == 2 {
		hint = options[0] + " or " + options[1]
	}
	return field{Key: key, Label: label, Hint: hint, Kind: procedure.FieldChoice, Options: options, Value: value}
}

// Seen is a field that takes one of some options in full: it says what somebody has seen, and no single
// key says so.
func Seen(key, label string, options ...string) field {
	f := Choice(key, label, "", options...)
	f.Whole = true
	return f
}

// Typed is a measure as it was typed; empty where it was not.
func Typed(m model.Measure) string {
	if m.Unit == model.NoUnit {
		return ""
	}
	return m.String()
}

// TypedAll are readings as they were typed, separated by spaces.
func TypedAll(c context, ms []model.Measure) string { return unitless(c, alike(ms)) }

// Sizes are knives by their thickness, as it was typed, separated by spaces.
func Sizes(c context, knives []model.Knife) string {
	out := make([]string, len(knives))
	for i, k := range knives {
		out[i] = k.Label()
	}
	return unitless(c, out)
}

// unitless are lengths without the unit of the shop, each in one word.
func unitless(c context, texts []string) string {
	out := make([]string, len(texts))
	for i, text := range texts {
		at := strings.LastIndex(text, " ")
		if out[i] = strings.ReplaceAll(text[:at], " ", "-"); text[at+1:] != c.Unit().Label() {
			out[i] += text[at+1:]
		}
	}
	return strings.Join(out, " ")
}

// TypedOne is a reading as it was typed; empty for one that is not known.
func TypedOne(c context, m model.Measure) string {
	if m.Unit == model.NoUnit {
		return ""
	}
	return TypedAll(c, []model.Measure{m})
}

// Told are readings as they were typed, for people to read.
func Told(ms []model.Measure) string { return strings.Join(alike(ms), ", ") }

// alike are readings with the decimals of the finest of them: an instrument shows as many each time.
func alike(ms []model.Measure) []string {
	most := 0
	for _, m := range ms {
		most = max(most, m.Decimals())
	}
	out := make([]string, len(ms))
	for i, m := range ms {
		out[i] = m.Padded(most)
	}
	return out
}

// Length is a field that takes one length between two limits.
func Length(c context, key, label, example string, value model.Measure, least, most model.Length) field {
	u := c.Unit()
	return field{Key: key, Label: label, Kind: procedure.FieldLength, Unit: u, Min: least, Max: most, Value: Typed(value),
		Hint: model.Between(least, most, u) + ", such as " + example}
}

// Lengths is a field that takes several readings, separated by spaces.
func Lengths(c context, key, label, example string, value []model.Measure, atLeast, atMost int, least, most model.Length) field {
	return field{Key: key, Label: label, Hint: example, Kind: procedure.FieldLengths, Unit: c.Unit(), AtLeast: atLeast, AtMost: atMost,
		Min: least, Max: most, Value: TypedAll(c, value), Measuring: true}
}

// Measuring is a field of which the saw of practice may show the reading.
func Measuring(f field) field { f.Measuring = true; return f }

// Optional is a field that may stay empty.
func Optional(f field) field { f.Optional = true; return f }

// Parse is a length in a text that is being typed; false while it is none yet.
func Parse(c context, text string) (model.Length, bool) {
	m, err := model.ParseLength(text, c.Unit())
	return m.Length, err == nil
}

// American reports whether the shop goes by the rules of the United States.
func American(c context) bool { return c.Profile.Rules == model.RulesUS }

// Asked takes what a rule says of a field that was typed: a danger refuses it, a warning
// is asked again. What only explains is told while it is typed.
func Asked(t *taking, key string, reasons []reason) {
	for _, r := range reasons {
		switch r.Weight {
		case model.Danger:
			t.Fault(key, "%s", r.Text)
		case model.Warns:
			t.Question(key, "%s", r.Text)
		}
	}
}

// Ruled is a field of lengths that refuses at once what a rule calls a danger.
func Ruled(f field, rule func([]model.Length) []reason) field {
	return f.With(func(text string) error {
		ls, ok := TypedLengths(f, text)
		if !ok {
			return nil
		}
		for _, r := range rule(ls) {
			if r.Weight == model.Danger {
				return errors.New(r.Text)
			}
		}
		return nil
	})
}

// TypedLengths are the lengths of a field as it takes them; false while they are none yet.
func TypedLengths(f field, text string) ([]model.Length, bool) {
	if m, err := model.ParseLength(text, f.Unit); err == nil {
		return []model.Length{m.Length}, true
	}
	ms, err := model.ParseReadings(text, f.Unit)
	return model.Lengths(ms), err == nil
}

// Each holds every reading by a rule for one; the first that breaks it is told.
func Each(rule func(model.Length) []reason) func([]model.Length) []reason {
	return func(ls []model.Length) []reason {
		for _, l := range ls {
			if out := rule(l); out != nil {
				return out
			}
		}
		return nil
	}
}

// Setting is what the fence stands at: of the lock in force, else the working width.
func Setting(c context) model.Length {
	if c.State.Lock != "" && c.State.Width.Unit != model.NoUnit {
		return c.State.Width.Length
	}
	return c.Profile.WorkingWidth.Length
}

// RipWidth holds what was read of a part that was ripped against the setting. Where
// differences are typed, what is near zero is one.
func RipWidth(c context) func(model.Length) []reason {
	set := Setting(c)
	return func(l model.Length) []reason {
		if l < set/2 {
			l += set
		}
		return model.RipWidth(l, set, c.Show)
	}
}

// TipGapWords hold a gap from knife to tooth tips against the rules of the shop.
func TipGapWords(c context, gap model.Length) []reason {
	return solver.CheckTipGap(gap, c.Profile.Rules, metrology.WordsOf(c.Profile))
}

// TipGapField asks for the gap from knife to tooth tips.
func TipGapField(c context, label string) field {
	f := Measuring(Length(c, "tip_gap", label, c.Pick("5", "13/64"), model.Measure{}, 0, 60*mm))
	return Ruled(f, Each(func(l model.Length) []reason { return TipGapWords(c, l) }))
}

// TipGapFollows says while it is typed what the rules make of the gap.
func TipGapFollows(c context, a answers) []reason {
	ls, ok := TypedLengths(field{Unit: c.Unit()}, a["tip_gap"])
	if !ok {
		return nil
	}
	return TipGapWords(c, ls[0])
}
