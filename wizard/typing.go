package wizard

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/huh"
	"github.com/charmbracelet/lipgloss"

	"example.com/sawdatum/model/procedure"
)

// typing is the fields of one visit to a place. Every key is finished within one
// update: no message of one field can answer another.
type typing struct {
	fields []procedure.Field
	inputs []huh.Field
	texts  []*string // what stands in the fields, valid or not
	faults []string
	asked  []bool // the fault is only a question
	at     int
	w      int
}

// noKey moves nothing: moving between the fields is ours.
var noKey = key.NewBinding(key.WithDisabled())

func newTyping(fields []procedure.Field, texts map[string]string, w int) typing {
	t := typing{fields: fields, faults: make([]string, len(fields)), asked: make([]bool, len(fields)), w: w}
	keymap := huh.NewDefaultKeyMap()
	keymap.Input.Next, keymap.Input.Prev, keymap.Input.Submit, keymap.Input.AcceptSuggestion = noKey, noKey, noKey, noKey
	for _, f := range fields {
		text := texts[f.Key]
		t.texts = append(t.texts, &text)
		input := huh.NewInput().Value(&text).Prompt("")
		t.inputs = append(t.inputs, input.WithKeyMap(keymap).WithTheme(inputTheme()).WithWidth(w))
	}
	return t
}

func inputTheme() *huh.Theme {
	theme := huh.ThemeBase()
	plain := lipgloss.NewStyle()
	for _, s := range []*huh.FieldStyles{&theme.Focused, &theme.Blurred} {
		s.Base, s.TextInput.Prompt, s.TextInput.Text = plain, plain, plain
		s.TextInput.Cursor = plain
	}
	return theme
}

func (t *typing) focus() tea.Cmd {
	if len(t.inputs) == 0 {
		return nil
	}
	return t.inputs[t.at].Focus()
}

func (t *typing) resize(w int) {
	t.w = w
	for i := range t.inputs {
		t.inputs[i] = t.inputs[i].WithWidth(w)
	}
}

// values is what stands in the fields, valid or not.
func (t *typing) values() map[string]string {
	out := make(map[string]string, len(t.fields))
	for i, f := range t.fields {
		out[f.Key] = *t.texts[i]
	}
	return out
}

// set writes into a field. huh does not follow a variable, so the field is new.
func (t *typing) set(i int, text string) tea.Cmd {
	fresh := newTyping(t.fields[i:i+1], map[string]string{t.fields[i].Key: text}, t.w)
	t.texts[i], t.inputs[i] = fresh.texts[0], fresh.inputs[0]
	return t.focus()
}

// move goes to the field n further on, if there is one.
func (t *typing) move(n int) tea.Cmd {
	to := t.at + n
	if to < 0 || to >= len(t.fields) {
		return nil
	}
	t.inputs[t.at].Blur()
	t.at = to
	return t.focus()
}

// check looks at the focused field and tells whether it takes its text.
func (t *typing) check() bool {
	err := t.fields[t.at].Check(*t.texts[t.at])
	t.faults[t.at] = ""
	if err != nil {
		t.faults[t.at] = err.Error()
	}
	return err == nil
}

// blame shows what is wrong with fields, and goes to the first of them.
func (t *typing) blame(faults []procedure.Fault) tea.Cmd {
	first := -1
	for i, f := range t.fields {
		for _, fault := range faults {
			if fault.Field == f.Key {
				t.faults[i], t.asked[i] = fault.Text, fault.Question
				if first < 0 {
					first = i
				}
			}
		}
	}
	if first < 0 {
		return nil
	}
	return t.move(first - t.at)
}

// key gives a message to the focused field.
func (t *typing) key(msg tea.Msg) tea.Cmd {
	if len(t.inputs) == 0 {
		return nil
	}
	if _, ok := msg.(tea.KeyMsg); ok {
		t.faults[t.at], t.asked[t.at] = "", false
	}
	next, cmd := t.inputs[t.at].Update(msg)
	t.inputs[t.at] = next.(huh.Field)
	return cmd
}

// input is the focused field's one line.
func (t typing) input() string {
	return strings.TrimRight(strings.Split(t.inputs[t.at].View(), "\n")[0], " ")
}
