package screen

import (
	"errors"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/wizard/field"
	"example.com/sawdatum/wizard/procedure"
)

// typing is the fields of one visit to a place: what they are, and the list that takes
// the keys. Labels and hints are drawn by the step.
type typing struct {
	fields []procedure.Field
	list   *field.List
}

// byHand tells of a field whether it is only typed by hand, key by key.
type byHand func(procedure.Field) bool

// gateFields are those of a safety gate, and every word that is to be typed. In
// practice the simulated saw may fill in what is measured.
func gateFields(v procedure.View, practice bool) byHand {
	return func(f procedure.Field) bool {
		return f.Kind == procedure.FieldWord || v.Gate && !(practice && f.Measuring)
	}
}

func newTyping(fields []procedure.Field, hand byHand, texts map[string]string, w int) typing {
	specs := make([]field.Spec, len(fields))
	for i, f := range fields {
		specs[i] = field.Spec{Key: f.Key, Value: texts[f.Key], Default: texts[f.Key] == f.Value, Gate: hand(f), Check: f.Check}
	}
	return typing{fields: fields, list: field.New(w, specs)}
}

func (t typing) focus() tea.Cmd { return t.list.Init() }

func (t typing) resize(w int) { t.list.Resize(w) }

func (t typing) at() int { return t.list.Focused() }

// text is what stands in a field, valid or not.
func (t typing) text(i int) string { return t.list.Values()[t.fields[i].Key] }

func (t typing) values() map[string]string { return t.list.Values() }

// question is a fault that typing the same again settles. A double enter does not: the
// list wants a key that changes the text first.
type question struct{ error }

// asks reports whether the fault of a field is only a question.
func (t typing) asks(i int) bool {
	_, ok := t.list.Error(t.fields[i].Key).(question)
	return ok
}

func (t typing) fault(i int) string {
	if i < 0 || i >= len(t.fields) { // nothing is asked
		return ""
	}
	if err := t.list.Error(t.fields[i].Key); err != nil {
		return err.Error()
	}
	return ""
}

// blame shows what is wrong with fields, and goes to the first of them.
func (t typing) blame(faults []procedure.Fault) tea.Cmd {
	for _, fault := range faults {
		err := errors.New(fault.Text)
		if fault.Question {
			err = question{err}
			t.list.Anew(fault.Field)
		}
		t.list.SetError(fault.Field, err)
	}
	return t.focus()
}

// key gives a message to the focused field. done reports that enter was pressed on
// the last one and all are valid.
func (t typing) key(msg tea.Msg) (done bool, cmd tea.Cmd) {
	_, cmd = t.list.Update(msg)
	return t.list.Done(), cmd
}

// input is the focused field's one line, of at most w cells.
func (t typing) input(w int) string {
	return ansi.Truncate(t.list.Input(), w, "")
}
