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
	*e.text, e.held, l.done = text, false, false
	e.input.Value(e.text)
	l.fit(i)
	return l.toEnd()
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
