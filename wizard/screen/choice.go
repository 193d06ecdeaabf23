package screen

import (
	"errors"
	"strconv"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/procedure"
)

// choice is a list of which one line is chosen: by its number, by the beginning of a word of its
// name, or by the arrow keys.
type choice struct {
	title string
	lines []string
	names []string                       // what they are called
	find  func(text string) (int, error) // the line that a text names; nil: a number, a name, or the beginning of a word of one name
	shown func(i int) int                // the number of a line; nil: they are counted from 1
	notes []string                       // below the list
	keys  frame.Keys
	look  frame.Look
	at    int
	typed string
	fault string // what is wrong with it
	root  bool   // there is nothing to go back to
	pick  func(i int) any
}

func newChoice(l frame.Look, title string, lines []string, pick func(int) any) choice {
	k := frame.NewKeys()
	frame.Off(false, &k.Next, &k.Previous, &k.Forward, &k.Work, &k.Copy, &k.Help, &k.Records, &k.PageDown)
	k.Accept.SetHelp("number or name + enter", "choose")
	return choice{title: title, lines: lines, names: lines, pick: pick, look: l, keys: k}
}

func (c choice) update(msg tea.Msg) (screen, any, tea.Cmd) {
	k, ok := msg.(tea.KeyMsg)
	switch {
	case !ok:
	case isText(k):
		text := string(k.Runes)
		if c.fault == "" { // else it is typed anew
			text = c.typed + text
		}
		if c.fault = model.TextFault(text); c.fault == "" {
			c.write(text)
		}
	case key.Matches(k, c.keys.Back) && !c.root:
		return c, closed{}, nil
	case key.Matches(k, c.keys.Up):
		c.write("")
		c.at = max(0, c.at-1)
	case key.Matches(k, c.keys.Down):
		c.write("")
		c.at = min(len(c.lines)-1, c.at+1)
	case k.Type == tea.KeyBackspace:
		runes := []rune(c.typed)
		c.write(string(runes[:max(0, len(runes)-1)]))
	case k.Type == tea.KeyCtrlU:
		c.write("")
	case key.Matches(k, c.keys.Accept):
		if _, err := c.named(c.typed); c.typed != "" && err != nil {
			c.fault = model.Printable(err.Error())
		} else if len(c.lines) > 0 {
			return c, c.pick(c.at), nil
		}
	}
	return c, nil, nil
}

// write is what is typed now, and the line that it names.
func (c *choice) write(text string) {
	c.typed, c.fault = text, ""
	if i, err := c.named(text); err == nil {
		c.at = i
	}
}

func (c choice) named(text string) (int, error) {
	if c.find != nil {
		return c.find(text)
	}
	i, err := model.ChooseWord(text, c.names)
	return i, inList(err)
}

// inList is what is wrong with a text that names no line, without all the lines that it might name.
func inList(err error) error {
	if err != nil && !errors.Is(err, model.ErrSeveral) {
		return errors.New("type a number of the list, or a word of one name")
	}
	return err
}

// number is what a line is chosen by.
func (c choice) number(i int) string {
	if c.shown != nil {
		return strconv.Itoa(c.shown(i))
	}
	return strconv.Itoa(i + 1)
}

func (c choice) view(w, h int) []string {
	lines := []string{c.look.Title.Render(c.title), c.look.Dim.Render(strings.Repeat(c.look.Light, w)), ""}
	var list []string
	at := 0
	for i, text := range c.lines {
		lead, style := "  ", frame.Brush{}
		if i == c.at {
			lead, style, at = c.look.Focus.Render(c.look.Here)+" ", c.look.Focus, len(list)
		}
		list = append(list, frame.Wrapped(lead+frame.Right(c.number(i), 2)+"  ", text, min(w, frame.TextWidth), style)...)
	}
	var notes []string
	for _, note := range c.notes {
		notes = append(notes, frame.Wrapped("", note, min(w, frame.TextWidth), c.look.Dim)...)
	}
	foot := c.keys.Lines(c.look, w, false)
	room := h - len(lines) - len(foot) - len(notes) - 3
	if c.fault != "" {
		room -= 2
	}
	if len(list) > room {
		lines[0] = frame.Ends(lines[0], c.look.Dim.Render(c.number(0)+" to "+c.number(len(c.lines)-1)), w)[0]
	}
	lines = append(lines, frame.Window(list, at, max(1, room))...)
	lines = append(lines, "", "  Number or name: "+ansi.TruncateLeft(c.typed, max(0, frame.Cells(c.typed)-w+20), "")+c.look.Filled)
	if c.fault != "" {
		lines = append(lines, frame.Wrapped("  "+c.look.Reversed.Render("WRONG")+"  ", c.fault, min(w, frame.TextWidth), frame.Brush{})...)
	}
	if len(notes) > 0 {
		lines = append(append(lines, ""), notes...)
	}
	return append(frame.Tall(lines, max(1, h-len(foot))), foot...)
}

// newWork lists the other work that may begin now.
func newWork(l frame.Look, p procedure.Procedure) choice {
	tasks := p.Tasks()
	lines := make([]string, len(tasks))
	for i, t := range tasks {
		lines[i] = t.Label
	}
	c := newChoice(l, "Other work that may begin now", lines, func(i int) any { return led{procedure.Begin, tasks[i].Place} })
	c.shown = func(i int) int { return tasks[i].Number }
	c.find = func(text string) (int, error) { return procedure.FindTask(tasks, text) }
	c.keys.Accept.SetHelp("number or word + enter", "choose")
	c.notes = []string{"What it changes sends you back to the steps that it touches. Nothing recorded is lost."}
	return c
}
