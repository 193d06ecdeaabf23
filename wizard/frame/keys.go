package frame

import (
	"github.com/charmbracelet/bubbles/key"
)

// Keys are all keys of the full screen. What a screen has no use for is disabled, and
// the line at the bottom is drawn from what is enabled. Letters are never among them.
type Keys struct {
	Accept, Next, Previous, Back, Forward, Help, Records, Work, Copy key.Binding
	Up, Down, PageUp, PageDown, Suspend, Leave                       key.Binding
}

// NewKeys are all of them, enabled.
func NewKeys() Keys {
	bind := func(shown, does string, names ...string) key.Binding {
		return key.NewBinding(key.WithKeys(names...), key.WithHelp(shown, does))
	}
	return Keys{
		Accept:   bind("enter", "accept", "enter"),
		Next:     bind("tab", "next", "tab"),
		Previous: bind("shift+tab", "", "shift+tab"),
		Back:     bind("esc", "back", "esc"),
		Forward:  bind("F4", "forward", "f4"),
		Help:     bind("F1", "why", "f1", "ctrl+g"),
		Records:  bind("F2", "records", "f2"),
		Work:     bind("F3", "work", "f3"),
		Copy:     bind("ctrl+s", "save a copy", "ctrl+s"),
		Up:       bind("up", "", "up"),
		Down:     bind("up/down", "move", "down"),
		PageUp:   bind("page up", "", "pgup"),
		PageDown: bind("pgdn", "more", "pgdown"),
		Suspend:  bind("ctrl+z", "", "ctrl+z"),
		Leave:    bind("ctrl+c", "leave", "ctrl+c"),
	}
}

// Off disables bindings that do nothing now.
func Off(ok bool, bindings ...*key.Binding) {
	for _, b := range bindings {
		b.SetEnabled(ok)
	}
}

// shown lists the bindings in the order in which the bottom line names them.
func (k Keys) shown() []key.Binding {
	return []key.Binding{k.Accept, k.Next, k.Previous, k.Back, k.Forward, k.Down, k.PageDown, k.Help, k.Records, k.Work, k.Copy, k.Leave}
}

// Lines names the keys that do something now, on as many lines of this width as
// they take. Where lines are few it is one, without the keys that the help names too.
func (k Keys) Lines(l Look, w int, few bool) []string {
	if lines := Flow(k.words(l), "   ", w); len(lines) == 1 {
		return lines
	}
	for _, b := range []*key.Binding{&k.Copy, &k.Work, &k.Forward, &k.Next, &k.Records, &k.Down} {
		if few && len(Flow(k.words(l), "  ", w)) > 1 {
			b.SetEnabled(false)
		}
	}
	return Flow(k.words(l), "  ", w)
}

func (k Keys) words(l Look) []string {
	var words []string
	for _, b := range k.shown() {
		if b.Enabled() && b.Help().Desc != "" {
			words = append(words, l.key.Render(b.Help().Key)+" "+l.Dim.Render(b.Help().Desc))
		}
	}
	return words
}
