package screen

import (
	"errors"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/procedure"
)

// prompt asks for one name.
type prompt struct {
	title  string
	typing typing
	look   frame.Look
	keys   frame.Keys
	report func(name string) any
}

func newPrompt(l frame.Look, title, label, hint string, report func(string) any) prompt {
	k := frame.NewKeys()
	frame.Off(false, &k.Next, &k.Previous, &k.Forward, &k.Work, &k.Copy, &k.Help, &k.Records, &k.Down, &k.PageDown)
	f := procedure.Field{Key: "name", Label: label, Hint: hint, Kind: procedure.FieldText}
	p := prompt{title: title, look: l, keys: k, report: report, typing: newTyping([]procedure.Field{f}, gateFields(procedure.View{}, false), nil, frame.LeastWidth-6)}
	return p
}

func (p prompt) wrong(err error) prompt {
	p.typing.list.SetError("name", errors.New(model.Printable(err.Error())))
	return p
}

func (p prompt) update(msg tea.Msg) (screen, any, tea.Cmd) {
	k, ok := msg.(tea.KeyMsg)
	switch {
	case ok && key.Matches(k, p.keys.Back):
		return p, closed{}, nil
	}
	done, cmd := p.typing.key(msg)
	if done {
		return p, p.report(strings.TrimSpace(p.typing.text(0))), cmd
	}
	return p, nil, cmd
}

func (p prompt) view(w, h int) []string {
	l := p.look
	lines := []string{l.Title.Render(p.title), l.Dim.Render(strings.Repeat(l.Light, w)), ""}
	f := p.typing.fields[0]
	lines = append(lines, l.Focus.Render(l.Here)+" "+l.Focus.Render(f.Label))
	lines = append(lines, frame.Wrapped("    ", f.Hint, w, l.Dim)...)
	lines = append(lines, "    "+p.typing.input(w-4))
	if p.typing.fault(0) != "" {
		lines = append(lines, frame.Wrapped("    "+l.Reversed.Render("WRONG")+"  ", p.typing.fault(0), w, frame.Brush{})...)
	}
	foot := p.keys.Lines(l, w, false)
	return append(frame.Tall(lines, max(1, h-len(foot))), foot...)
}
