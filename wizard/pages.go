package wizard

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/model"
)

// page is text to read: help, the records, the tour. Lines too many for the window
// are read on with the arrow and page keys.
type page struct {
	title string
	body  func(w int) []string // wrapped to w
	keys  keys
	look  look
	w, h  int
	top   int
	last  bool // opened at its end
	enter bool // enter closes it
}

func newPage(l look, title string, body func(w int) []string) page {
	k := newKeys()
	off(false, &k.Accept, &k.Next, &k.Previous, &k.Forward, &k.Work, &k.Copy, &k.Help, &k.Records)
	k.Down.SetHelp("up/down", "read on")
	k.PageDown.SetHelp("page down", "")
	return page{title: title, body: body, look: l, keys: k}
}

func (p page) update(msg tea.Msg) (screen, any, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		p.w, p.h = msg.Width, msg.Height
		if p.last {
			p.top = p.most()
		}
	case tea.KeyMsg:
		switch {
		case key.Matches(msg, p.keys.Back, p.keys.Help, p.keys.Records), p.enter && key.Matches(msg, p.keys.Accept):
			return p, closed{}, nil
		case msg.Type == tea.KeyF1 || msg.Type == tea.KeyF2 || msg.Type == tea.KeyCtrlG:
			return p, closed{}, nil
		}
		moves := map[tea.KeyType]int{tea.KeyUp: -1, tea.KeyDown: 1, tea.KeyPgUp: -p.room(), tea.KeyPgDown: p.room(), tea.KeyHome: -1 << 20, tea.KeyEnd: 1 << 20}
		if by, ok := moves[msg.Type]; ok {
			p.top, p.last = min(max(p.top+by, 0), p.most()), false
		}
	}
	return p, nil, nil
}

// room is how many lines of the body are seen at a time.
func (p page) room() int { return max(1, p.h-5) }

func (p page) most() int { return max(0, len(p.body(min(p.w, textWidth)))-p.room()) }

func (p page) view(w, h int) []string {
	body := p.body(min(w, textWidth))
	room := max(1, h-5)
	top := min(p.top, max(0, len(body)-room))
	end := min(len(body), top+room)
	right := ""
	k := p.keys
	if len(body) > room {
		right = p.look.dim.Render(strings.Join([]string{"lines", itoa(top + 1), "to", itoa(end), "of", itoa(len(body))}, " "))
	}
	off(len(body) > room, &k.Down)
	lines := ends(p.look.title.Render(p.title), right, w)
	lines = append(lines, p.look.dim.Render(strings.Repeat(p.look.light, w)))
	lines = append(lines, body[top:end]...)
	foot := k.lines(p.look, w, false)
	return append(tall(lines, max(1, h-len(foot))), foot...)
}

// choice is a list of which one line is chosen: by its number, by the beginning of its
// name, or by the arrow keys.
type choice struct {
	title string
	lines []string
	names []string // what they are called
	notes []string // below the list
	keys  keys
	look  look
	at    int
	typed string
	fault string // what is wrong with it
	root  bool   // there is nothing to go back to
	pick  func(i int) any
}

func newChoice(l look, title string, lines []string, pick func(int) any) choice {
	k := newKeys()
	off(false, &k.Next, &k.Previous, &k.Forward, &k.Work, &k.Copy, &k.Help, &k.Records, &k.PageDown)
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
		if _, err := model.Choose(c.typed, c.names); c.typed != "" && err != nil {
			c.fault = "type a number of the list, or the beginning of one name"
		} else if len(c.lines) > 0 {
			return c, c.pick(c.at), nil
		}
	}
	return c, nil, nil
}

// write is what is typed now, and the line that it names.
func (c *choice) write(text string) {
	c.typed, c.fault = text, ""
	if i, err := model.Choose(text, c.names); err == nil {
		c.at = i
	}
}

func (c choice) view(w, h int) []string {
	lines := []string{c.look.title.Render(c.title), c.look.dim.Render(strings.Repeat(c.look.light, w)), ""}
	var list []string
	at := 0
	for i, text := range c.lines {
		lead, style := "  ", brush{}
		if i == c.at {
			lead, style, at = c.look.focus.Render(c.look.here)+" ", c.look.focus, len(list)
		}
		list = append(list, wrapped(lead+right(itoa(i+1), 2)+"  ", text, min(w, textWidth), style)...)
	}
	var notes []string
	for _, note := range c.notes {
		notes = append(notes, wrapped("", note, min(w, textWidth), c.look.dim)...)
	}
	foot := c.keys.lines(c.look, w, false)
	room := h - len(lines) - len(foot) - len(notes) - 3
	if c.fault != "" {
		room -= 2
	}
	if len(list) > room {
		lines[0] = ends(lines[0], c.look.dim.Render("1 to "+itoa(len(c.lines))), w)[0]
	}
	lines = append(lines, window(list, at, max(1, room))...)
	lines = append(lines, "", "  Number or name: "+ansi.TruncateLeft(c.typed, max(0, cells(c.typed)-w+20), "")+c.look.filled)
	if c.fault != "" {
		lines = append(lines, wrapped("  "+c.look.reversed.Render("WRONG")+"  ", c.fault, min(w, textWidth), brush{})...)
	}
	if len(notes) > 0 {
		lines = append(append(lines, ""), notes...)
	}
	return append(tall(lines, max(1, h-len(foot))), foot...)
}
