package field

import (
	"slices"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/huh"
)

// entry is a field with what is typed in it. The text lies on the heap since huh
// writes to it at every key.
type entry struct {
	spec   Spec
	input  *huh.Input
	text   *string
	err    error
	held   bool // set from outside: enter does not pass it before something is typed
	fresh  bool // the text is not typed here: the first letter or figure replaces it
	missed bool // keys of what is being typed were not taken; the rest is not either, up to an enter
}

// List is the fields of one visit to a place. It is made anew for every visit.
type List struct {
	entries []entry
	at      int
	done    bool
	width   int // cells for a text and the cursor behind it
}

// pasted is the clipboard's answer, for the field that asked for it.
type pasted struct {
	input *huh.Input
	msg   tea.Msg
}

// New makes the fields, the focus on the first, their texts drawn in so many cells.
func New(width int, specs []Spec) *List {
	l := &List{}
	for _, s := range specs {
		text := s.Value
		var err error
		if s.Gate {
			text = ""
		} else if err = s.refuse(0, []rune(text)); err != nil {
			text = ""
		}
		l.entries = append(l.entries, entry{spec: s, text: &text, err: err, fresh: s.Default && text != ""})
	}
	l.inputs()
	l.Resize(width)
	l.focus()
	return l
}

// inputs makes huh's fields, each over its own text.
func (l *List) inputs() {
	keys := huh.NewDefaultKeyMap()
	off := key.NewBinding(key.WithDisabled()) // moving on is ours
	keys.Input.Next, keys.Input.Prev, keys.Input.Submit, keys.Input.AcceptSuggestion = off, off, off, off
	look := theme()
	for i, e := range l.entries {
		input := huh.NewInput().Key(e.spec.Key).Prompt("").CharLimit(MaxText).Value(e.text).Validate(e.spec.check)
		l.entries[i].input = input.WithKeyMap(keys).WithTheme(look).(*huh.Input)
	}
}

// Init starts the blinking of the cursor.
func (l *List) Init() tea.Cmd { return l.focus() }

func (l *List) focus() tea.Cmd {
	if len(l.entries) == 0 {
		return nil
	}
	return l.entries[l.at].input.Focus()
}

// Focused is the number of the field that has the focus, from 0.
func (l *List) Focused() int { return l.at }

// Done reports whether the last key was an enter on the last field with all fields
// valid.
func (l *List) Done() bool { return l.done }

// Values are the texts as they stand, by key, valid or not.
func (l *List) Values() map[string]string {
	values := make(map[string]string, len(l.entries))
	for _, e := range l.entries {
		values[e.spec.Key] = *e.text
	}
	return values
}

// SetError shows what is wrong with the answers as a whole at one field, and puts
// the focus on the first such field. Enter does not pass it before a key has
// changed some text, so a double enter does not answer a question about the first.
// A nil error takes the message away; with a key that no field has, the message
// stands at the focused field.
func (l *List) SetError(key string, err error) {
	l.done = false
	if len(l.entries) == 0 {
		return
	}
	named := func(e entry) bool { return e.spec.Key == key }
	i := slices.IndexFunc(l.entries, named)
	if i < 0 {
		i = l.at
	}
	l.entries[i].err, l.entries[i].held = err, err != nil
	if first := slices.IndexFunc(l.entries, func(e entry) bool { return e.held }); first >= 0 {
		l.moveTo(first)
	}
}

// Update takes one message. Enter goes to the next field if this one is valid, and
// from the last field finishes the list if all are. Tab, shift+tab and the up and
// down keys go to another field whatever is typed. All other keys are text.
func (l *List) Update(msg tea.Msg) (*List, tea.Cmd) {
	if len(l.entries) == 0 {
		if k, ok := msg.(tea.KeyMsg); ok && k.Type == tea.KeyEnter && !k.Paste {
			l.done = true
		}
		return l, nil
	}
	switch msg := msg.(type) {
	case pasted:
		if msg.input != l.entries[l.at].input {
			return l, nil
		}
		return l, l.insert(msg.msg)
	case tea.KeyMsg:
		return l, l.key(msg)
	}
	return l, l.pass(msg)
}

func (l *List) key(k tea.KeyMsg) tea.Cmd {
	l.done = false
	// The word "left" that arrives in one read has the name of a key: it is text.
	k.Paste = k.Paste || k.Type == tea.KeyRunes && len(k.Runes) > 1
	if e := &l.entries[l.at]; e.missed && k.Type != tea.KeyTab && k.Type != tea.KeyShiftTab {
		if !ends(k) {
			return nil
		}
		if l.anew(l.at); k.Type == tea.KeyEnter {
			return nil
		}
	}
	if k.Paste {
		return l.typed(k)
	}
	switch k.Type {
	case tea.KeyEnter:
		return l.enter()
	case tea.KeyTab, tea.KeyDown:
		return l.leave(1)
	case tea.KeyShiftTab, tea.KeyUp:
		return l.leave(-1)
	case tea.KeyCtrlV:
		return l.clipboard()
	case tea.KeyCtrlJ:
		// A line feed of a paste that the terminal does not mark as one.
		if *l.entries[l.at].text == "" || l.entries[l.at].spec.Gate {
			return nil
		}
		return l.typed(tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}})
	case tea.KeyRunes, tea.KeySpace:
		return l.typed(k)
	}
	return l.edit(k)
}

// typed puts text into the focused field, or says why not.
func (l *List) typed(k tea.KeyMsg) tea.Cmd {
	e := &l.entries[l.at]
	if k.Paste && e.spec.Gate {
		k.Runes = append([]rune{' '}, k.Runes...) // even one character
	}
	stands := len([]rune(*e.text))
	replaces := e.fresh && (k.Paste || k.Type == tea.KeyRunes)
	if replaces {
		stands = 0
	}
	if err := e.spec.refuse(stands, k.Runes); err != nil {
		if e.err = err; e.spec.Gate {
			e.miss(err)
		}
		return nil
	}
	if replaces {
		l.write(l.at, "")
		l.toEnd()
	}
	return l.edit(k)
}

// insert is the clipboard's text: in place of what stands fresh, if there is any.
func (l *List) insert(msg tea.Msg) tea.Cmd {
	e := &l.entries[l.at]
	stood := *e.text
	if !e.fresh {
		return l.edit(msg)
	}
	l.write(l.at, "")
	cmd := l.edit(msg)
	if e.fresh = *e.text == ""; e.fresh {
		l.write(l.at, stood)
	}
	return cmd
}

// write puts a text into a field from outside.
func (l *List) write(i int, text string) {
	*l.entries[i].text = text
	l.entries[i].input.Value(l.entries[i].text)
	l.fit(i)
}

// clipboard asks for the clipboard's text. It comes as a message and is taken only
// if the field that asked still has the focus.
func (l *List) clipboard() tea.Cmd {
	e := &l.entries[l.at]
	if e.spec.Gate {
		e.err = e.spec.refuse(0, nil)
		return nil
	}
	input := e.input
	return func() tea.Msg { return pasted{input, textinput.Paste()} }
}

// edit hands a message to the focused field and looks whether its text changed.
func (l *List) edit(msg tea.Msg) tea.Cmd {
	e := &l.entries[l.at]
	before := *e.text
	cmd := l.pass(msg)
	if _, key := msg.(tea.KeyMsg); key {
		e.fresh = false // also by an arrow key: who moves the cursor wants to keep the rest
	}
	if *e.text == before {
		return cmd
	}
	l.done, e.err = false, nil // also by the clipboard
	for i := range l.entries {
		l.entries[i].held = false
	}
	return cmd
}

func (l *List) pass(msg tea.Msg) tea.Cmd {
	_, cmd := l.entries[l.at].input.Update(msg)
	return cmd
}

// validate looks at a field's text. What was set from outside stays until something
// is typed.
func (l *List) validate(i int) error {
	e := &l.entries[i]
	if !e.held {
		e.input.Blur() // stores and validates
		e.err = e.input.Error()
	}
	return e.err
}

func (l *List) enter() tea.Cmd {
	if l.validate(l.at) != nil {
		return l.focus()
	}
	if l.at < len(l.entries)-1 {
		return l.moveTo(l.at + 1)
	}
	for i := range l.entries {
		if l.validate(i) != nil {
			return l.moveTo(i)
		}
	}
	l.done = true
	return l.focus()
}

// leave goes to a neighbour. A field that something was typed in is looked at.
func (l *List) leave(step int) tea.Cmd {
	to := l.at + step
	if to < 0 || to >= len(l.entries) {
		return nil
	}
	if *l.entries[l.at].text != "" {
		l.validate(l.at)
	}
	return l.moveTo(to)
}

func (l *List) moveTo(i int) tea.Cmd {
	l.entries[l.at].input.Blur()
	l.at = i
	return l.toEnd()
}
