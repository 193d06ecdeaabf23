package procedure

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.com/sawdatum/model"
)

// Check says what is wrong with a typed text, and what would be right; nil when
// the field takes it.
func (f Field) Check(text string) error {
	text = strings.TrimSpace(text)
	if text == "" {
		switch {
		case f.Optional:
			return nil
		case f.Kind == FieldWord:
			return fmt.Errorf("nothing typed: type %s", f.Word)
		case f.Kind == FieldExport:
			return fmt.Errorf("nothing typed: type %s to leave, or %s", f.Word, model.Either(f.Options))
		case len(f.Options) > 0:
			return fmt.Errorf("nothing typed: type %s", model.Either(f.called()))
		}
		return errors.New("nothing typed: " + f.Hint)
	}
	for _, r := range f.ruling(text) {
		if r.Weight == model.Danger {
			return errors.New(r.Text)
		}
	}
	if err := fieldChecks[f.Kind](f, text); err != nil {
		return err
	}
	if f.check != nil {
		return f.check(text)
	}
	return nil
}

// ruling is what the field's rule says of a text.
func (f Field) ruling(text string) []model.Reason {
	if f.rule == nil {
		return nil
	}
	return f.rule(strings.TrimSpace(text))
}

// ruled gives a field of one length a rule.
func (f Field) ruled(rule func(model.Length) []model.Reason) Field {
	f.rule = func(text string) []model.Reason {
		m, err := model.ParseLength(text, f.Unit)
		if err != nil {
			return nil
		}
		return rule(m.Length)
	}
	return f
}

var fieldChecks = map[FieldKind]func(Field, string) error{
	FieldText: func(_ Field, text string) error {
		if fault := model.TextFault(text); fault != "" {
			return fmt.Errorf("%s: type plain text of at most %d characters", fault, model.MaxText)
		}
		return nil
	},
	FieldChoice: func(f Field, text string) error { _, err := f.Choice(text); return err },
	FieldLength: func(f Field, text string) error {
		m, err := model.ParseLength(text, f.Unit)
		if err != nil {
			return err
		}
		return f.within(m.Length)
	},
	FieldLengths: func(f Field, text string) error {
		ms, err := model.ParseReadings(text, f.Unit)
		if err != nil {
			return err
		}
		for i, m := range ms {
			if err := f.within(m.Length); err != nil {
				return fmt.Errorf("reading %d: %w", i+1, err)
			}
		}
		return f.counted(len(ms))
	},
	FieldPairs: func(f Field, text string) error {
		pairs, err := parsePairs(text, f.Unit)
		if err != nil {
			return err
		}
		for i, p := range pairs {
			if err := errors.Join(f.within(p.Set.Length), f.within(p.Read.Length)); err != nil {
				return fmt.Errorf("pair %d: %w", i+1, err)
			}
		}
		return f.counted(len(pairs))
	},
	FieldCount: func(f Field, text string) error {
		n, err := strconv.Atoi(text)
		if err != nil || len(text) > 6 {
			return fmt.Errorf("%q is not a whole number: type one from %d to %d", model.Clip(text), f.AtLeast, f.AtMost)
		}
		if f.AtMost > 0 && (n < f.AtLeast || n > f.AtMost) {
			return fmt.Errorf("%d is outside %d to %d", n, f.AtLeast, f.AtMost)
		}
		return nil
	},
	FieldSeconds: func(_ Field, text string) error { _, err := parseSeconds(text); return err },
	FieldDegrees: func(_ Field, text string) error { _, err := parseDegrees(text); return err },
	FieldRings:   func(Field, string) error { return nil }, // by check: needs the kit
	FieldRing:    func(f Field, text string) error { _, err := model.ParseRing(text, f.Unit); return err },
	FieldKit:     func(f Field, text string) error { _, err := model.ParseKit(text, f.Unit); return err },
	FieldWord: func(f Field, text string) error {
		if !strings.EqualFold(text, f.Word) {
			return fmt.Errorf("%q is not the word: type %s", model.Clip(text), f.Word)
		}
		return nil
	},
	FieldExport: func(f Field, text string) error {
		if strings.EqualFold(text, f.Word) {
			return nil
		}
		_, err := f.export(text)
		return err
	},
	FieldInitials: func(_ Field, text string) error {
		if !model.InitialsForm.MatchString(text) {
			return fmt.Errorf("%q are not initials: type one to four letters, such as KB", model.Clip(text))
		}
		return nil
	},
}

// Choice is the option that a text names: by what people call it, by the option itself,
// by its number, or by the beginning of its name. A knife is called by its thickness, and
// so has no number.
func (f Field) Choice(text string) (string, error) {
	text = strings.TrimSpace(text)
	thickness := f.Unit != model.NoUnit
	for i, name := range f.called() {
		if strings.EqualFold(text, name) || thickness && sameLength(text, name, f.Unit) {
			return f.Options[i], nil
		}
	}
	for _, o := range f.Options {
		if strings.EqualFold(text, o) {
			return o, nil
		}
	}
	if thickness || f.Whole {
		return "", fmt.Errorf("%q is not one of them: type %s", model.Clip(text), model.Either(f.called()))
	}
	i, err := model.Choose(text, f.called())
	if err != nil {
		return "", err
	}
	return f.Options[i], nil
}

// Name is what people call the option that a text names; the text itself where it names
// none.
func (f Field) Name(text string) string {
	option, err := f.Choice(text)
	if err != nil {
		return text
	}
	return f.called()[slices.Index(f.Options, option)]
}

func sameLength(text, name string, unit model.Unit) bool {
	a, err := model.ParseLength(text, unit)
	b, err2 := model.ParseLength(name, unit)
	return err == nil && err2 == nil && a.Length == b.Length
}

func (f Field) called() []string {
	if len(f.Called) > 0 {
		return f.Called
	}
	return f.Options
}

// bladeField asks for a blade of the rack.
func (c context) bladeField(key, label, value string) Field {
	var ids []string
	for _, b := range c.profile.Rack() {
		ids = append(ids, b.ID)
	}
	f := c.bladeChoice(key, label, ids)
	if value != "" {
		f.Value = c.name(value)
	}
	return f
}

// bladeChoice asks for one of these blades.
func (c context) bladeChoice(key, label string, ids []string) Field {
	f := Field{Key: key, Label: label, Kind: FieldChoice, Options: ids}
	for _, id := range ids {
		f.Called = append(f.Called, c.name(id))
	}
	f.Hint = "by name or number: " + numbered(f.Called)
	return f
}

// knifeChoice asks for one of the saw's knives.
func (c context) knifeChoice(label, value string) Field {
	f := Field{Key: "knife", Label: label, Kind: FieldChoice, Unit: c.unit()}
	for _, k := range c.profile.Knives {
		f.Options, f.Called = append(f.Options, k.ID), append(f.Called, c.set(k.Thickness))
		if k.ID == value {
			f.Value = c.set(k.Thickness)
		}
	}
	f.Hint = model.Either(f.Called)
	return f
}

func numbered(options []string) string {
	var out []string
	for i, o := range options {
		out = append(out, fmt.Sprintf("%d %s", i+1, o))
	}
	return strings.Join(out, ", ")
}

func (f Field) within(l model.Length) error {
	if f.Min == 0 && f.Max == 0 || l >= f.Min && l <= f.Max {
		return nil
	}
	return fmt.Errorf("%s is outside %s", l.Of(f.Unit), model.Between(f.Min, f.Max, f.Unit))
}

func (f Field) counted(n int) error {
	switch {
	case n < f.AtLeast && f.AtLeast == f.AtMost:
		return fmt.Errorf("%d typed: exactly %d are wanted", n, f.AtLeast)
	case n < f.AtLeast:
		return fmt.Errorf("%d typed: at least %d are wanted", n, f.AtLeast)
	case f.AtMost > 0 && n > f.AtMost:
		return fmt.Errorf("%d typed: at most %d are wanted", n, f.AtMost)
	}
	return nil
}

func parsePairs(text string, bare model.Unit) ([]model.Pair, error) {
	if len(text) > 2000 {
		return nil, errors.New("that is too long for a list of pairs: type set=read, separated by spaces")
	}
	var pairs []model.Pair
	for i, word := range strings.Fields(text) {
		set, read, ok := strings.Cut(word, "=")
		if !ok {
			return nil, fmt.Errorf("pair %d: %q is not a pair: type set=read without spaces, such as 60=60.12", i+1, model.Clip(word))
		}
		s, err := model.ParseLength(set, bare)
		if err != nil {
			return nil, fmt.Errorf("pair %d: %w", i+1, err)
		}
		r, err := model.ParseLength(read, bare)
		if err != nil {
			return nil, fmt.Errorf("pair %d: %w", i+1, err)
		}
		pairs = append(pairs, model.Pair{Set: s, Read: r})
	}
	return pairs, nil
}

func parseSeconds(text string) (time.Duration, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, "s")), 64)
	if err != nil || len(text) > 8 || !(v > 0 && v <= 600) {
		return 0, fmt.Errorf("%q is not a run-down time: type the seconds from off to standstill, more than 0 and at most 600", model.Clip(text))
	}
	return time.Duration(v*10+0.5) * time.Second / 10, nil
}

func parseDegrees(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, "deg")), 64)
	if err != nil || len(text) > 12 || !(v > 0 && v < 360) {
		return 0, fmt.Errorf("%q is not an angle: type degrees, more than 0 and less than 360", model.Clip(text))
	}
	return v, nil
}
