package wizard

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles"
	"example.com/sawdatum/wizard/procedure"
)

// start is the first screen: profiles found, a new saw, practice.
type start struct{ choice choice }

func newStart(shelf Shelf, l look) start {
	found, err := shelf.List()
	var lines []string
	var stale []renewed
	for _, f := range found {
		lines = append(lines, foundLine(f))
		for _, p := range f.Stale {
			stale = append(stale, renewed{p, f.Path})
		}
	}
	for _, s := range stale {
		lines = append(lines, fmt.Sprintf("STALE: %s. Write %s anew", s.paper.old(), s.paper.Export.As))
	}
	newSaw := "A new saw: set it up from the beginning"
	practice := "Practice: look around without a saw"
	if len(found) == 0 {
		practice += " (start here if you have not seen this before)"
	}
	lines = append(lines, newSaw, practice)
	c := newChoice(l, "Sawdatum: every blade cuts at one line", lines, func(i int) any {
		switch after := i - len(found); {
		case after < 0:
			return opened{found[i].Path}
		case after < len(stale):
			return stale[after]
		case after == len(stale):
			return naming{}
		}
		return practised{}
	})
	c.names = slices.Clone(lines)
	for i, f := range found {
		c.names[i] = printable(f.Name)
	}
	c.names[len(lines)-2] = "new saw"
	c.root = true
	off(false, &c.keys.Back)
	if len(found) == 0 {
		c.at = 1
		c.notes = []string{"No saw is set up here yet."}
	}
	if err != nil {
		c.notes = []string{printable(err.Error())}
	}
	return start{c}
}

// renewed asks for a paper to be written anew from a profile.
type renewed struct {
	paper   Paper
	profile string
}

// renew writes a paper anew and says on the start screen what became of it.
func (r root) renew(p Paper, path string) root {
	store, err := r.options.Shelf.Open(path)
	file := ""
	if err == nil {
		file, err = store.Export(p.Export, p.Path, store.Profile)
	}
	said := fmt.Sprintf("Written, %s: %s; %s.", p.Export, printable(file), p.hang())
	if err != nil {
		said = "NOT WRITTEN: " + printable(err.Error()) + "."
	}
	s := newStart(r.options.Shelf, r.look)
	s.choice.notes = []string{said}
	next, _, _ := s.update(tea.WindowSizeMsg{Width: r.w, Height: r.h})
	r.base = next.(base)
	return r
}

// began is what a profile was opened for.
type began struct {
	store Store
	mode  procedure.Mode
	blade string
}

// newEntry asks what a saw that has its reference blade is opened for: the setup from
// where it stands, isolation only, or one of its blades.
func newEntry(l look, s Store) choice {
	entries := []began{{s, procedure.Setup, ""}, {s, procedure.IsolateOnly, ""}}
	lines := []string{"The setup, from where it stands", "Isolate only: hands go near the arbor for something else"}
	for _, b := range s.Profile.Rack() {
		entries = append(entries, began{s, procedure.OneBlade, b.ID})
		lines = append(lines, "One blade again: "+printable(s.Profile.BladeName(b.ID)))
	}
	c := newChoice(l, printable(s.Profile.Name)+": what for?", lines, func(i int) any { return entries[i] })
	c.names = []string{"setup", "isolate"}
	for _, b := range s.Profile.Rack() {
		c.names = append(c.names, printable(s.Profile.BladeName(b.ID)))
	}
	return c
}

func foundLine(f Found) string {
	if f.Fault != "" {
		return printable(f.Name) + ": cannot be opened: " + printable(f.Fault)
	}
	s := printable(f.Name)
	if f.Saw != "" {
		s += ", " + printable(f.Saw)
	}
	s += fmt.Sprintf(": %d of %d blades ready", f.Ready, f.All)
	if f.Due > 0 {
		s += fmt.Sprintf(", %d due", f.Due)
	}
	if !f.Last.IsZero() {
		s += ", last record " + f.Last.Format("2006-01-02 15:04") + " by " + printable(f.By)
	}
	return s
}

func (s start) begin() tea.Cmd { return nil }

func (s start) update(msg tea.Msg) (screen, any, tea.Cmd) {
	next, report, cmd := s.choice.update(msg)
	s.choice = next.(choice)
	return s, report, cmd
}

func (s start) view(w, h int) []string { return padded(s.choice.view(w-2*margin, h), margin) }

func (s step) begin() tea.Cmd {
	_, cmd := s.focus()
	return cmd
}

// newWork lists the other work that may begin now.
func newWork(l look, p procedure.Procedure) choice {
	tasks := p.Tasks()
	lines := make([]string, len(tasks))
	for i, t := range tasks {
		lines[i] = t.Label
	}
	c := newChoice(l, "Other work that may begin now", lines, func(i int) any { return led{procedure.Begin, tasks[i].Place} })
	c.notes = []string{"What it changes sends you back to the steps that it touches. Nothing recorded is lost."}
	return c
}

// newHelp tells more of the why of a place, the cautions, all that follows, and the
// keys.
func newHelp(l look, s step) page {
	v, k := s.place, s.keys
	return newPage(l, "Why: "+v.Title, func(w int) []string {
		var lines []string
		if s.notice.full != "" {
			lines = wrapped(l.reversed.Render(l.careful)+" ", s.notice.full, w, brush{})
		}
		if a := s.job.aside; a != nil && s.notice == a.notice() {
			lines = nil
			for _, text := range a.sentences(len(a.Values)) {
				lines = append(lines, wrapped(l.title.Render(l.careful)+" ", text, w, brush{})...)
			}
		}
		for _, text := range v.Why {
			lines = append(lines, wrapped(l.title.Render(l.careful)+"  ", text, w, brush{})...)
		}
		for _, text := range v.Help {
			lines = append(append(lines, ""), wrapped("   ", text, w, brush{})...)
		}
		for _, r := range byWeight(s.so) {
			lines = append(append(lines, ""), s.verdict(r, w)...)
		}
		lines = append(lines, "", l.title.Render("Keys"))
		lines = append(lines, k.lines(l, w, false)...)
		rest := "ctrl+u empties a field, ctrl+w takes off its last word. ctrl+s saves a copy elsewhere. ctrl+z stops the program for a while; the saw then counts as live. ctrl+g is F1 too. Everything accepted is saved at once."
		return append(append(lines, ""), wrapped("", rest, w, l.dim)...)
	})
}

func newRecords(l look, p model.Profile) page {
	page := newPage(l, "Records, oldest first, times in UTC", func(w int) []string {
		lines := driftLines(p, l, w)
		for _, text := range profiles.RecordLines(p) {
			n, rest, _ := strings.Cut(text, "  ")
			lines = append(lines, wrapped(l.dim.Render(right(n, 4))+"  ", rest, w, brush{})...)
		}
		return lines
	})
	page.last = true
	return page
}

// newTour explains a step of the procedure to somebody who practises.
func newTour(l look, number int) page {
	p := newPage(l, fmt.Sprintf("Practice, stage %d of 11", number), func(w int) []string {
		lines := []string{""}
		for _, text := range tour[number] {
			lines = append(append(lines, wrapped("   ", text, w, brush{})...), "")
		}
		return lines
	})
	p.enter = true
	p.keys.Accept.SetEnabled(true)
	p.keys.Accept.SetHelp("enter", "go on")
	off(false, &p.keys.Back)
	return p
}

// prompt asks for one name.
type prompt struct {
	title  string
	typing typing
	look   look
	keys   keys
	report func(name string) any
}

func newPrompt(l look, title, label, hint string, report func(string) any) prompt {
	k := newKeys()
	off(false, &k.Next, &k.Previous, &k.Forward, &k.Work, &k.Copy, &k.Help, &k.Records, &k.Down, &k.PageDown)
	f := procedure.Field{Key: "name", Label: label, Hint: hint, Kind: procedure.FieldText}
	p := prompt{title: title, look: l, keys: k, report: report, typing: newTyping([]procedure.Field{f}, gateFields(procedure.View{}, false), nil, leastWidth-6)}
	return p
}

func (p prompt) wrong(err error) prompt {
	p.typing.list.SetError("name", errors.New(printable(err.Error())))
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
	lines := []string{l.title.Render(p.title), l.dim.Render(strings.Repeat(l.light, w)), ""}
	f := p.typing.fields[0]
	lines = append(lines, l.focus.Render(l.here)+" "+l.focus.Render(f.Label))
	lines = append(lines, wrapped("    ", f.Hint, w, l.dim)...)
	lines = append(lines, "    "+p.typing.input(w-4))
	if p.typing.fault(0) != "" {
		lines = append(lines, wrapped("    "+l.reversed.Render("WRONG")+"  ", p.typing.fault(0), w, brush{})...)
	}
	foot := p.keys.lines(l, w, false)
	return append(tall(lines, max(1, h-len(foot))), foot...)
}
