package procedure

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
)

// FieldKind says how a field's text is read.
type FieldKind string

// The kinds of field.
const (
	FieldText     FieldKind = "text"
	FieldChoice   FieldKind = "choice"   // one of Options, by what it is called, itself or its number
	FieldLength   FieldKind = "length"   // one length
	FieldLengths  FieldKind = "lengths"  // several, separated by spaces
	FieldPairs    FieldKind = "pairs"    // set=read, separated by spaces
	FieldCount    FieldKind = "count"    // a whole number
	FieldDegrees  FieldKind = "degrees"  // an angle
	FieldRings    FieldKind = "rings"    // rings of the kit, by thickness or id, flange first
	FieldWord     FieldKind = "word"     // exactly Word, typed by hand
	FieldInitials FieldKind = "initials" // one to four letters
	FieldExport   FieldKind = "export"   // Word, or one of Options, with both behind it for both units
)

// Field is one thing to type.
type Field struct {
	Key       string
	Label     string // "Widths of strip 1"
	Hint      string // range and example: "three or more, such as 139.98 139.99 139.98"
	Kind      FieldKind
	Options   []string
	Called    []string   // what people call the options, in their order; empty: as they are
	Whole     bool       // a choice that is typed in full, or by a word of it: it says what somebody has seen
	Numbered  bool       // a choice whose options are shown with numbers, and may be typed by them
	Shows     []string   // FieldExport: of the options, those that can be read on the screen
	Word      string     // FieldWord: what must be typed; FieldExport: what leaves
	Or        string     // a word that is taken in place of a reading; empty: none
	Unit      model.Unit // of a bare number
	Min, Max  model.Length
	AtLeast   int  // least number of readings
	AtMost    int  // zero: no limit
	Optional  bool // empty is an answer
	Measuring bool // something is measured here: practice may read it from the simulated saw
	Value     string
	Table     [][]string // rows of the picture that it goes to: what is typed for each, and behind that for cells of it
	check     func(text string) error
	alone     func(text string) bool
	against   func(*Taking)
}

// With is the field with a check of its own behind that of its kind: it says what is wrong
// with a typed text, and what would be right.
func (f Field) With(check func(text string) error) Field {
	f.check = check
	return f
}

// Against is the field held against what is typed before it: what is wrong or unlikely about it
// is said when it is left, and again when all is sent. Of the answers check reads those up to
// this field; nothing but its faults and questions is taken from it.
func (f Field) Against(check func(*Taking)) Field {
	f.against = check
	return f
}

// WithAlone is a field of which some texts, the empty one too, end the answer: what the row asks
// behind it is not asked then, and what is typed there nonetheless is refused.
func (f Field) WithAlone(alone func(text string) bool) Field {
	f.alone = alone
	return f
}

// Alone reports whether nothing behind a typed text is asked.
func (f Field) Alone(text string) bool {
	return f.alone != nil && f.alone(strings.TrimSpace(text)) && f.Check(text) == nil
}

// Beside is what is typed for the row so far down, or the cell so far to the right, of the one
// that a text goes to; past the last row stands what was offered, and then comes the first. False
// where the text goes to no row, or there is no such cell.
func (f Field) Beside(text string, down, right int) (string, bool) {
	row, cell := -1, 0
	for i, cells := range f.Table {
		if n := slices.Index(cells, strings.TrimSpace(text)); n >= 0 {
			row, cell = i, n
		}
	}
	if len(f.Table) == 0 || row < 0 && (text != f.Value && strings.TrimSpace(text) != "" || down == 0) {
		return "", false
	}
	rows := len(f.Table) + 1
	if row = (row+1+down+rows)%rows - 1; row < 0 {
		return f.Value, true
	}
	if cell += right; cell < 0 || cell >= len(f.Table[row]) {
		return "", false
	}
	return f.Table[row][cell], true
}

// Export is a way of handing the profile on that the closing row was asked for.
type Export struct {
	As        string // one of Options.Exports; empty: none
	BothUnits bool
	Shown     bool // on the screen, and not written
}

func (e Export) String() string {
	if e.BothUnits {
		return e.As + " " + bothUnits
	}
	return e.As
}

// What is typed behind the name of an export, and before it.
const (
	bothUnits = "both"
	shown     = "show"
)

// export reads the name of an export; none where the word to leave is typed.
func (f Field) export(text string) (Export, error) {
	if strings.EqualFold(text, f.Word) {
		return Export{}, nil
	}
	what, show := strings.CutPrefix(strings.Join(strings.Fields(strings.ToLower(text)), " "), shown+" ")
	as, behind, more := strings.Cut(what, " ")
	switch {
	case more && behind != bothUnits || !slices.Contains(f.Options, as):
		return Export{}, fmt.Errorf("%q is not one of them: type %s to leave, or %s, with %s behind it for both units", model.Clip(text), f.Word, model.Either(f.Options), bothUnits)
	case show && !slices.Contains(f.Shows, as):
		return Export{}, fmt.Errorf("%s is not for the screen: show %s, or type %s to have it written", as, model.Either(f.Shows), as)
	}
	return Export{As: as, BothUnits: more, Shown: show}, nil
}

// Instead reports whether a text is the word that is taken in place of a reading.
func (f Field) Instead(text string) bool {
	return f.Or != "" && strings.EqualFold(strings.TrimSpace(text), f.Or)
}

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
	if f.Instead(text) {
		return nil
	}
	if err := fieldChecks[f.Kind](f, text); err != nil {
		return err
	}
	if f.check != nil {
		return f.check(text)
	}
	return nil
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
		pairs, err := ParsePairs(text, f.Unit)
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
	FieldDegrees: func(_ Field, text string) error { _, err := parseDegrees(text); return err },
	FieldRings:   func(Field, string) error { return nil }, // by check: needs the kit
	FieldWord: func(f Field, text string) error {
		if !strings.EqualFold(text, f.Word) {
			return fmt.Errorf("%q is not the word: type %s", model.Clip(text), f.Word)
		}
		return nil
	},
	FieldExport: func(f Field, text string) error { _, err := f.export(text); return err },
	FieldInitials: func(_ Field, text string) error {
		if !model.InitialsForm.MatchString(text) {
			return fmt.Errorf("%q are not initials: type one to four letters, such as KB", model.Clip(text))
		}
		return nil
	},
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

// ParsePairs reads settings and readings: 60=60.12 120=120.11. bare is the unit of a bare
// number.
func ParsePairs(text string, bare model.Unit) ([]model.Pair, error) {
	if len(text) > 2000 {
		return nil, errors.New("that is too long for a list of pairs: type set=read, separated by spaces")
	}
	var pairs []model.Pair
	words := strings.Fields(text)
	for i, word := range words {
		if i+1 < len(words) {
			if mixed, ok := model.SplitMixed(word, words[i+1]); ok {
				return nil, fmt.Errorf("pair %d: write %s %s as %s, with a dash: a space separates pairs", i+1, word, model.Clip(words[i+1]), model.Clip(mixed))
			}
		}
		set, read, ok := strings.Cut(word, "=")
		if !ok {
			return nil, fmt.Errorf("pair %d: %q is not a pair: type setting=reading without spaces, such as %s", i+1, model.Clip(word), bare.Words("{60=60.12|4=4.004}"))
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

func parseDegrees(text string) (float64, error) {
	v, _ := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, "deg")), 64)
	if len(text) > 12 || !(v > 0 && v < 360) { // what is no number reads as 0
		return 0, fmt.Errorf("%q is not an angle: type degrees, more than 0 and less than 360", model.Clip(text))
	}
	return v, nil
}
