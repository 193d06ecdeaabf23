package field

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"
)

// Set writes a text into a field in place of what stands there, such as a reading
// that was taken for the user. A gate takes none.
func (l *List) Set(key, text string) tea.Cmd {
	i := slices.IndexFunc(l.entries, func(e entry) bool { return e.spec.Key == key })
	if i < 0 || l.entries[i].spec.Gate {
		return nil
	}
	e := &l.entries[i]
	if e.err = e.spec.refuse(0, []rune(text)); e.err != nil {
		return nil
	}
	e.held, e.fresh, l.done = false, text != "", false
	l.write(i, text)
	return l.toEnd()
}

// Fresh reports whether the first letter or figure replaces the focused field's text.
func (l *List) Fresh() bool { return len(l.entries) > 0 && l.entries[l.at].fresh }

// Anew has the first letter or figure replace a field's text, which is to be typed again.
func (l *List) Anew(key string) {
	for i := range l.entries {
		if l.entries[i].spec.Key == key {
			l.entries[i].fresh = *l.entries[i].text != ""
		}
	}
}

// Gate reports whether the focused field is typed by hand, key by key.
func (l *List) Gate() bool { return len(l.entries) > 0 && l.entries[l.at].spec.Gate }

// Miss does not take a key, for the reason given. Where it was text, the rest of what is
// being typed is not taken either: it is typed anew behind an enter.
func (l *List) Miss(k tea.KeyMsg, why error) {
	if len(l.entries) == 0 {
		return
	}
	e := &l.entries[l.at]
	switch {
	case k.Type == tea.KeyRunes || k.Type == tea.KeySpace:
		l.done = false
		e.miss(why)
	case e.missed && ends(k):
		l.anew(l.at)
	}
}

// miss takes nothing more of what is being typed, since half a reading is a wrong one.
func (e *entry) miss(why error) { e.missed, e.err = true, why }

// anew begins a field again of which keys were missed. A gate is emptied. A default stands
// as it did; where something was typed, enter does not pass before a key has changed it.
func (l *List) anew(i int) {
	e := &l.entries[i]
	e.missed = false
	switch {
	case e.spec.Gate:
		l.write(i, "")
	case e.fresh || *e.text == "":
		e.err = nil
	default:
		e.held = true
	}
}

// ends reports a key after which something is typed anew.
func ends(k tea.KeyMsg) bool {
	return !k.Paste && (k.Type == tea.KeyEnter || k.Type == tea.KeyBackspace || k.Type == tea.KeyCtrlU)
}

// Error is what is wrong with a field, as far as it was looked at.
func (l *List) Error(key string) error {
	for _, e := range l.entries {
		if e.spec.Key == key {
			return e.err
		}
	}
	return nil
}
