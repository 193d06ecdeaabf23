package screen

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/tell"
)

// start is the first screen, in two lists: the saws that were found, with what else can be
// begun, and the blades of the saw at the arrow.
type start struct {
	choice choice
	found  []wizard.Found
	stale  []renewed
}

// swapped asks for a swap to a blade of a saw that was found.
type swapped struct{ path, blade string }

func newStart(shelf wizard.Shelf, l frame.Look) start {
	found, err := shelf.List()
	s := start{found: found}
	var lines, names []string
	for _, f := range found {
		lines, names = append(lines, model.Printable(f.Name)), append(names, model.Printable(f.Name))
		for _, p := range f.Stale {
			s.stale = append(s.stale, renewed{p, f.Path})
		}
	}
	for _, p := range s.stale {
		line := fmt.Sprintf("STALE: %s. Write %s anew", tell.PaperAge(p.paper), p.paper.Export.As)
		lines, names = append(lines, line), append(names, p.paper.Export.As)
	}
	practice := "practice: no saw needed"
	if len(found) == 0 {
		practice += "; start here if this is new to you"
	}
	lines = append(lines, "new saw: set it up from the beginning", practice)
	names = append(names, "new saw", "practice")
	s.choice = newChoice(l, "sawdatum", lines, func(i int) any {
		switch after := i - len(found); {
		case after < 0:
			return opened{found[i].Path}
		case after < len(s.stale):
			return s.stale[after]
		case after == len(s.stale):
			return naming{}
		}
		return practised{}
	})
	c := &s.choice
	c.names, c.root = names, true
	c.keys.Accept.SetHelp("enter", "choose")
	frame.Off(false, &c.keys.Back)
	if len(found) == 0 {
		c.at = 1
		c.notes = []string{"No saw is set up here yet."}
	}
	if err != nil {
		c.notes = []string{model.Printable(err.Error())}
	}
	return s
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
	store  wizard.Store
	mode   procedure.Mode
	blade  string
	proves bool
}

// newEntry asks what a saw that has its reference blade is opened for: a swap to a blade that may be
// used, with a proof first where one is due, and only with one where a pair has to make it ready; the
// setup from where it stands, isolation only, a proof, or one of its blades again. The name of a blade alone is the swap to it, where there is one.
func newEntry(l frame.Look, s wizard.Store, blades []wizard.FoundBlade) choice {
	var entries []began
	var lines, names []string
	add := func(e began, line, name string) {
		e.store = s
		entries, lines, names = append(entries, e), append(lines, line), append(names, name)
	}
	for _, b := range blades {
		to := "Swap to the " + model.Printable(b.Name)
		if b.Check != "" {
			add(began{mode: procedure.Swap, blade: b.ID, proves: true}, to+", with a proof: "+b.State+": "+model.Printable(b.Check), b.Name)
		}
		if b.Barred != "" {
			continue
		}
		if b.Proves {
			add(began{mode: procedure.Swap, blade: b.ID, proves: true}, to+", with a proof: "+b.State, "proof "+b.Name)
		}
		add(began{mode: procedure.Swap, blade: b.ID}, to, b.Name)
	}
	add(began{mode: procedure.Setup}, "The setup, from where it stands", "setup")
	add(began{mode: procedure.IsolateOnly}, "Isolate only: hands go near the arbor for something else", "isolate")
	for _, b := range blades {
		if b.Barred == "" || b.Check != "" {
			add(began{mode: procedure.Prove, blade: b.ID}, "Prove the "+model.Printable(b.Name)+", without work", "prove "+b.Name)
		}
	}
	for _, b := range s.Profile.Rack() {
		name := "again " + s.Profile.BladeName(b.ID)
		if i := slices.IndexFunc(blades, func(f wizard.FoundBlade) bool { return f.ID == b.ID }); i < 0 || blades[i].Barred != "" && blades[i].Check == "" {
			name = s.Profile.BladeName(b.ID)
		}
		add(began{mode: procedure.OneBlade, blade: b.ID}, "One blade again: "+model.Printable(s.Profile.BladeName(b.ID)), name)
	}
	c := newChoice(l, model.Printable(s.Profile.Name)+": what for?", lines, func(i int) any { return entries[i] })
	c.names = names
	c.find = func(text string) (int, error) {
		at, err := model.Choose(text, names)
		if err == nil || errors.Is(err, model.ErrSeveral) {
			return at, err
		}
		blade, err := model.ChooseWord(text, bladeNames(blades))
		if err == nil {
			return slices.Index(names, blades[blade].Name), nil // a word of its name
		}
		return at, inList(err)
	}
	return c
}

// bladesOf are the blades of a saw that was found.
func (s start) bladesOf(path string) []wizard.FoundBlade {
	for _, f := range s.found {
		if f.Path == path {
			return f.Blades
		}
	}
	return nil
}

func (s start) begin() tea.Cmd { return nil }

func (s start) update(msg tea.Msg) (screen, any, tea.Cmd) {
	if k, ok := msg.(tea.KeyMsg); ok && key.Matches(k, s.choice.keys.Accept) {
		saw, blade, err := s.swap()
		switch {
		case err != nil:
			s.choice.fault = err.Error()
			return s, nil, nil
		case saw >= 0:
			return s, swapped{s.found[saw].Path, s.found[saw].Blades[blade].ID}, nil
		}
	}
	next, report, cmd := s.choice.update(msg)
	s.choice = next.(choice)
	if saw, _, _ := s.swap(); saw >= 0 {
		s.choice.at = saw
	}
	return s, report, cmd
}

// swap is the saw and the blade that are typed, such as 1 crosscut; -1: no saw and a blade.
func (s start) swap() (saw, blade int, err error) {
	first, rest, two := strings.Cut(strings.TrimSpace(s.choice.typed), " ")
	names := s.choice.names[:len(s.found)]
	saw, err = model.ChooseWord(first, names)
	if _, whole := model.ChooseWord(s.choice.typed, s.choice.names); !two || whole == nil || err != nil {
		return -1, 0, nil
	}
	blades := s.found[saw].Blades
	if blade, err = model.ChooseWord(rest, bladeNames(blades)); err != nil {
		return saw, 0, err
	}
	if why := blades[blade].Barred; why != "" && blades[blade].Check == "" {
		return saw, blade, fmt.Errorf("the %s %s", model.Printable(blades[blade].Name), model.Printable(why))
	}
	return saw, blade, nil
}

func bladeNames(blades []wizard.FoundBlade) []string {
	names := make([]string, len(blades))
	for i, b := range blades {
		names[i] = model.Printable(b.Name)
	}
	return names
}
