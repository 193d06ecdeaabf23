package screen

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/tell"
)

// start is the first screen: profiles found, a new saw, practice.
type start struct{ choice choice }

func newStart(shelf wizard.Shelf, l frame.Look) start {
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
		lines = append(lines, fmt.Sprintf("STALE: %s. Write %s anew", tell.PaperAge(s.paper), s.paper.Export.As))
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
		c.names[i] = model.Printable(f.Name)
	}
	c.names[len(lines)-2] = "new saw"
	c.root = true
	frame.Off(false, &c.keys.Back)
	if len(found) == 0 {
		c.at = 1
		c.notes = []string{"No saw is set up here yet."}
	}
	if err != nil {
		c.notes = []string{model.Printable(err.Error())}
	}
	return start{c}
}

// renewed asks for a paper to be written anew from a profile.
type renewed struct {
	paper   wizard.Paper
	profile string
}

// renew writes a paper anew and says on the start screen what became of it.
func (r root) renew(p wizard.Paper, path string) root {
	store, err := r.options.Shelf.Open(path)
	file := ""
	if err == nil {
		file, err = store.Export(p.Export, p.Path, store.Profile)
	}
	said := fmt.Sprintf("Written, %s: %s; %s.", p.Export, model.Printable(file), tell.PaperPlace(p))
	if err != nil {
		said = "NOT WRITTEN: " + model.Printable(err.Error()) + "."
	}
	s := newStart(r.options.Shelf, r.look)
	s.choice.notes = []string{said}
	next, _, _ := s.update(tea.WindowSizeMsg{Width: r.w, Height: r.h})
	r.base = next.(base)
	return r
}

// began is what a profile was opened for.
type began struct {
	store wizard.Store
	mode  procedure.Mode
	blade string
}

// newEntry asks what a saw that has its reference blade is opened for: the setup from
// where it stands, isolation only, or one of its blades.
func newEntry(l frame.Look, s wizard.Store) choice {
	entries := []began{{s, procedure.Setup, ""}, {s, procedure.IsolateOnly, ""}}
	lines := []string{"The setup, from where it stands", "Isolate only: hands go near the arbor for something else"}
	for _, b := range s.Profile.Rack() {
		entries = append(entries, began{s, procedure.OneBlade, b.ID})
		lines = append(lines, "One blade again: "+model.Printable(s.Profile.BladeName(b.ID)))
	}
	c := newChoice(l, model.Printable(s.Profile.Name)+": what for?", lines, func(i int) any { return entries[i] })
	c.names = []string{"setup", "isolate"}
	for _, b := range s.Profile.Rack() {
		c.names = append(c.names, model.Printable(s.Profile.BladeName(b.ID)))
	}
	return c
}

func foundLine(f wizard.Found) string {
	if f.Fault != "" {
		return model.Printable(f.Name) + ": cannot be opened: " + model.Printable(f.Fault)
	}
	s := model.Printable(f.Name)
	if f.Saw != "" {
		s += ", " + model.Printable(f.Saw)
	}
	s += fmt.Sprintf(": %d of %d blades ready", f.Ready, f.All)
	if f.Due > 0 {
		s += fmt.Sprintf(", %d due", f.Due)
	}
	if !f.Last.IsZero() {
		s += ", last record " + f.Last.Format("2006-01-02 15:04") + " by " + model.Printable(f.By)
	}
	return s
}

func (s start) begin() tea.Cmd { return nil }

func (s start) update(msg tea.Msg) (screen, any, tea.Cmd) {
	next, report, cmd := s.choice.update(msg)
	s.choice = next.(choice)
	return s, report, cmd
}

func (s start) view(w, h int) []string {
	return frame.Padded(s.choice.view(w-2*frame.Margin, h), frame.Margin)
}
