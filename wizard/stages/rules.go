package stages

import (
	"errors"

	"example.com/sawdatum/model"
	"example.com/sawdatum/solver"
)

// asked takes what a rule says of a field that was typed: a danger refuses it, a warning
// is asked again. What only explains is told while it is typed.
func asked(t *taking, key string, reasons []reason) {
	for _, r := range reasons {
		switch r.Weight {
		case model.Danger:
			t.Fault(key, "%s", r.Text)
		case model.Warns:
			t.Question(key, "%s", r.Text)
		}
	}
}

// ruled is a field of lengths that refuses at once what a rule calls a danger.
func ruled(f field, rule func([]model.Length) []reason) field {
	return f.With(func(text string) error {
		ls, ok := typedLengths(f, text)
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

// typedLengths are the lengths of a field as it takes them; false while they are none yet.
func typedLengths(f field, text string) ([]model.Length, bool) {
	if m, err := model.ParseLength(text, f.Unit); err == nil {
		return []model.Length{m.Length}, true
	}
	ms, err := model.ParseReadings(text, f.Unit)
	return model.Lengths(ms), err == nil
}

// each holds every reading by a rule for one; the first that breaks it is told.
func each(rule func(model.Length) []reason) func([]model.Length) []reason {
	return func(ls []model.Length) []reason {
		for _, l := range ls {
			if out := rule(l); out != nil {
				return out
			}
		}
		return nil
	}
}

// setting is what the fence stands at: of the lock in force, else the working width.
func setting(c context) model.Length {
	if c.State.Lock != "" && c.State.Width.Unit != model.NoUnit {
		return c.State.Width.Length
	}
	return c.Profile.WorkingWidth.Length
}

// ripWidth holds what was read of a part that was ripped against the setting. Where
// differences are typed, what is near zero is one.
func ripWidth(c context) func(model.Length) []reason {
	set := setting(c)
	return func(l model.Length) []reason {
		if l < set/2 {
			l += set
		}
		return model.RipWidth(l, set, c.Show)
	}
}

// tipGapWords hold a gap from knife to tooth tips against the rules of the shop.
func tipGapWords(c context, gap model.Length) []reason {
	return solver.CheckTipGap(gap, c.Profile.Rules, solver.WordsOf(c.Profile))
}

// tipGapField asks for the gap from knife to tooth tips.
func tipGapField(c context, label string) field {
	f := measuring(length(c, "tip_gap", label, c.Pick("5", "0.2"), model.Measure{}, 0, 60*mm))
	return ruled(f, each(func(l model.Length) []reason { return tipGapWords(c, l) }))
}

// tipGapFollows says while it is typed what the rules make of the gap.
func tipGapFollows(c context, a answers) []reason {
	ls, ok := typedLengths(field{Unit: c.Unit()}, a["tip_gap"])
	if !ok {
		return nil
	}
	return tipGapWords(c, ls[0])
}
