package screen

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/export"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/picture"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/tell"
)

// page is text to read: help, the records, the tour. Lines too many for the window
// are read on with the arrow and page keys.
type page struct {
	title string
	body  func(w int) []string // wrapped to w
	keys  frame.Keys
	look  frame.Look
	w, h  int
	top   int
	last  bool // opened at its end
	enter bool // enter closes it: the tour
}

func newPage(l frame.Look, title string, body func(w int) []string) page {
	k := frame.NewKeys()
	frame.Off(false, &k.Accept, &k.Next, &k.Previous, &k.Forward, &k.Work, &k.Copy, &k.Help, &k.Records)
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

func (p page) most() int { return max(0, len(p.body(min(p.w, frame.TextWidth)))-p.room()) }

func (p page) view(w, h int) []string {
	body := p.body(min(w, frame.TextWidth))
	room := max(1, h-5)
	top := min(p.top, max(0, len(body)-room))
	end := min(len(body), top+room)
	right := ""
	k := p.keys
	if len(body) > room {
		right = p.look.Dim.Render(strings.Join([]string{"lines", strconv.Itoa(top + 1), "to", strconv.Itoa(end), "of", strconv.Itoa(len(body))}, " "))
	}
	frame.Off(len(body) > room, &k.Down)
	lines := frame.Ends(p.look.Title.Render(p.title), right, w)
	lines = append(lines, p.look.Dim.Render(strings.Repeat(p.look.Light, w)))
	lines = append(lines, body[top:end]...)
	foot := k.Lines(p.look, w, false)
	return append(frame.Tall(lines, max(1, h-len(foot))), foot...)
}

// newHelp tells more of the why of a place, the cautions, all that follows, and the
// keys.
func newHelp(l frame.Look, s step) page {
	v, k := s.place, s.keys
	return newPage(l, "Why: "+v.Title, func(w int) []string {
		var lines []string
		if s.notice.full != "" {
			lines = frame.Wrapped(l.Reversed.Render(l.Careful)+" ", s.notice.full, w, frame.Brush{})
		}
		if a := s.job.Aside; a != nil && s.notice == asideNotice(a) {
			lines = nil
			for _, text := range tell.AsideSentences(a, len(a.Values)) {
				lines = append(lines, frame.Wrapped(l.Title.Render(l.Careful)+" ", text, w, frame.Brush{})...)
			}
		}
		for _, text := range v.Why {
			lines = append(lines, frame.Wrapped(l.Title.Render(l.Careful)+"  ", text, w, frame.Brush{})...)
		}
		for _, text := range v.Help {
			lines = append(append(lines, ""), frame.Wrapped("   ", text, w, frame.Brush{})...)
		}
		for _, r := range byWeight(s.so) {
			lines = append(append(lines, ""), s.verdict(r, w)...)
		}
		if tell.Staged(s.job.Procedure) {
			lines = append(lines, "", l.Title.Render(fmt.Sprintf("Stage %d of 11", v.Stage)))
			lines = append(lines, frame.Wrapped("   ", tell.StageIs(v.Stage), w, frame.Brush{})...)
		}
		lines = append(lines, "", l.Title.Render("Keys"))
		lines = append(lines, k.Lines(l, w, false)...)
		rest := "ctrl+u empties a field, ctrl+w takes off its last word. ctrl+s saves a copy elsewhere. ctrl+z stops the program for a while; the saw then counts as live. ctrl+g is F1 too. Everything accepted is saved at once."
		return append(append(lines, ""), frame.Wrapped("", rest, w, l.Dim)...)
	})
}

func newRecords(l frame.Look, p model.Profile) page {
	page := newPage(l, "Records, oldest first, times in UTC", func(w int) []string {
		lines := driftLines(p, l, w)
		for _, text := range export.RecordLines(p) {
			n, rest, _ := strings.Cut(text, "  ")
			lines = append(lines, frame.Wrapped(l.Dim.Render(frame.Right(n, 4))+"  ", rest, w, frame.Brush{})...)
		}
		return lines
	})
	page.last = true
	return page
}

// newPaper is a paper to be read on the screen.
func newPaper(l frame.Look, j wizard.Job, e procedure.Export) page {
	p := newPage(l, model.Sentence(e.String()+", as it would be written now"), func(w int) []string {
		var lines []string
		for _, text := range tell.Paper(j, e, w, l.Pictures().Charset != picture.Blocks) {
			if frame.Cells(text) <= w {
				lines = append(lines, text)
			} else {
				lines = append(lines, frame.Wrapped("", text, w, frame.Brush{})...)
			}
		}
		return lines
	})
	p.keys.Back.SetKeys("enter", "esc")
	p.keys.Back.SetHelp("enter or esc", "back")
	return p
}

const driftHeight = 10

// driftLines draws the charts one below the other, each under its blade's name.
func driftLines(p model.Profile, l frame.Look, w int) []string {
	var lines []string
	for _, d := range tell.Drifts(p) {
		lines = append(lines, l.Title.Render("Proofs over time: "+d.Blade))
		lines = append(lines, strings.Split(d.Draw(w, driftHeight, l.Pictures()), "\n")...)
		lines = append(lines, "")
	}
	return lines
}

// newTour tells somebody who practises how that goes.
func newTour(j wizard.Job, l frame.Look) page {
	p := newPage(l, "Practice", func(w int) []string {
		lines := []string{""}
		for _, text := range tell.Tour(j) {
			lines = append(append(lines, frame.Wrapped("   ", text, w, frame.Brush{})...), "")
		}
		return lines
	})
	p.enter = true
	p.keys.Accept.SetEnabled(true)
	p.keys.Accept.SetHelp("enter", "go on")
	frame.Off(false, &p.keys.Back)
	return p
}
