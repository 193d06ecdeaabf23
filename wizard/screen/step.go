package screen

import (
	"errors"
	"maps"
	"slices"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/procedure"
)

// step is the screen at which the work is done: one visit to one place.
type step struct {
	job    wizard.Job
	place  procedure.View
	places []procedure.PlaceStatus
	typing typing
	look   frame.Look
	keys   frame.Keys
	w, h   int
	top    int // first line seen of a long text
	notice notice
	unmet  []string
	read   map[string]string // what the simulated saw has read in this visit, by field
	typed  bool              // something was typed in this visit
	deaf   time.Time         // a gate hears no keys before it
	so     []model.Reason    // what follows, from the last answer or from what is typed
	rows   *rows
	texts  frame.Wording
}

func newStep(j wizard.Job, l frame.Look, w, h int) step {
	v := j.Procedure.View()
	s := step{deaf: time.Now().Add(wizard.DeafTime), job: j, place: v, places: j.Procedure.Places(), look: l, keys: frame.NewKeys(), w: w, h: h, read: map[string]string{}, so: j.Procedure.Report(), rows: &rows{}, texts: frame.Wording{}}
	s.typing = newTyping(v.Fields, gateFields(v, j.Saw != nil), j.Typed(v), inputWidth(w))
	for _, r := range j.Known(v) {
		if !slices.Contains(s.so, r) {
			s.so = append(slices.Clip(s.so), r)
		}
	}
	_, back := j.Procedure.Apply(procedure.Event{Kind: procedure.Back})
	_, forward := j.Procedure.Apply(procedure.Event{Kind: procedure.Forward})
	frame.Off(back == nil, &s.keys.Back)
	frame.Off(forward == nil, &s.keys.Forward)
	frame.Off(len(v.Fields) > 1, &s.keys.Next, &s.keys.Previous)
	frame.Off(len(j.Procedure.Tasks()) > 0, &s.keys.Work)
	frame.Off(len(j.Procedure.Profile().Records) > 0, &s.keys.Records)
	table := slices.ContainsFunc(v.Fields, func(f procedure.Field) bool { return len(f.Table) > 0 })
	frame.Off(table, &s.keys.Up, &s.keys.Down)
	s.keys.Down.SetHelp(l.Arrows, "row")
	reads := v.Look == procedure.Result || v.Look == procedure.Handover
	s.keys.PageDown.SetEnabled(reads)
	s.keys.PageUp.SetEnabled(reads)
	s.keys.Copy.SetHelp("ctrl+s", "")
	return s
}

// page is how far the page keys go.
func (s step) page() int { return max(1, s.h/2) }

func inputWidth(w int) int { return max(20, min(w, frame.TextWidth)-6) }

func (s step) focus() (step, tea.Cmd) {
	cmd := s.typing.focus()
	return s, cmd
}

func (s step) update(msg tea.Msg) (screen, any, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		s.w, s.h = msg.Width, msg.Height
		s.typing.resize(inputWidth(s.w))
		return s, nil, nil
	case tea.KeyMsg:
		return s.key(msg)
	}
	_, cmd := s.typing.key(msg)
	return s, nil, cmd
}

func (s step) key(k tea.KeyMsg) (screen, any, tea.Cmd) {
	if !k.Paste {
		switch {
		case key.Matches(k, s.keys.Back):
			return s, led{procedure.Back, s.place.Place}, nil
		case key.Matches(k, s.keys.Forward):
			return s, led{procedure.Forward, s.place.Place}, nil
		case key.Matches(k, s.keys.PageDown):
			s.top += s.page()
			return s, nil, nil
		case key.Matches(k, s.keys.PageUp):
			s.top = max(0, s.top-s.page())
			return s, nil, nil
		case s.early(k):
			return s, nil, nil
		case key.Matches(k, s.keys.Accept):
			if next, cmd, ok := s.measure(); ok {
				return next, nil, cmd
			}
		}
	}
	if next, cmd, ok := s.row(k); ok {
		return next, nil, cmd
	}
	before, at := s.typing.values(), s.typing.at()
	done, cmd := s.typing.key(k)
	now := s.typing.values()
	if !k.Paste && key.Matches(k, s.keys.Accept) && at < len(s.place.Fields) {
		f := s.place.Fields[at]
		done = done || f.Alone(now[f.Key])
	}
	if !maps.Equal(before, now) {
		s.typed, s.unmet = true, nil
		s = s.preview(now)
	}
	if done {
		return s, answered{s.place.Visit, now}, cmd
	}
	if !k.Paste && key.Matches(k, s.keys.Accept) && s.typing.at() != at {
		return s, left{s.place.Visit, s.place.Fields[at].Key, now}, cmd
	}
	return s, nil, cmd
}

// What is said of keys that were not taken.
var (
	errEarly  = errors.New("that came before this could be read: press enter, look, then type")
	errUnseen = errors.New("keys were typed while the window was too small to see them, and none was taken: press enter, then type")
)

// early reports a key that was under way before a gate, or a screen of danger, could be
// read. Every other field hears every key from the first.
func (s step) early(k tea.KeyMsg) bool {
	if !time.Now().Before(s.deaf) {
		return false
	}
	if s.typing.list.Gate() {
		s.typing.list.Miss(k, errEarly)
		return true
	}
	danger := func(r model.Reason) bool { return r.Weight == model.Danger }
	return key.Matches(k, s.keys.Accept) && !s.typed && slices.ContainsFunc(s.so, danger)
}

// isText reports a key that is typed into a field.
func isText(k tea.KeyMsg) bool { return k.Type == tea.KeyRunes || k.Type == tea.KeySpace }

// measure takes a reading of the simulated saw into an empty measuring field. It is
// shown first; the next enter takes it.
func (s step) measure() (step, tea.Cmd, bool) {
	if s.job.Saw == nil || len(s.place.Fields) == 0 {
		return s, nil, false
	}
	f := s.place.Fields[s.typing.at()]
	if !f.Measuring || s.typing.text(s.typing.at()) != "" {
		return s, nil, false
	}
	text, ok := s.place.Read(s.job.Saw, f.Key, s.typing.values())
	if !ok {
		return s, nil, false
	}
	s.read = maps.Clone(s.read)
	s.read[f.Key], s.typed = text, true
	cmd := s.typing.list.Set(f.Key, text)
	return s.preview(s.typing.values()), cmd, true
}

// row goes through the rows and cells of the table that the focused field takes, by the arrow
// keys, as long as nothing else is typed.
func (s step) row(k tea.KeyMsg) (step, tea.Cmd, bool) {
	way, arrow := map[tea.KeyType][2]int{tea.KeyUp: {-1, 0}, tea.KeyDown: {1, 0}, tea.KeyLeft: {0, -1}, tea.KeyRight: {0, 1}}[k.Type]
	if !arrow || len(s.place.Fields) == 0 {
		return s, nil, false
	}
	f := s.place.Fields[s.typing.at()]
	text, ok := f.Beside(s.typing.text(s.typing.at()), way[0], way[1])
	if !ok { // past the last cell what an arrow has put there stays to be replaced
		return s, nil, len(f.Table) > 0 && s.typing.list.Fresh()
	}
	s.typed, s.unmet = true, nil
	cmd := s.typing.list.Set(f.Key, text)
	return s.preview(s.typing.values()), cmd, true
}

// preview works out what follows from what is typed.
func (s step) preview(typed map[string]string) step {
	s.so = s.place.Follows(typed)
	return s
}

// refused shows why an answer was not taken.
func (s step) refused(j wizard.Job, r *procedure.Refusal) (step, tea.Cmd) {
	s.job, s.unmet = j, r.Unmet
	cmd := s.typing.blame(r.Faults)
	return s, cmd
}

func (s step) begin() tea.Cmd {
	_, cmd := s.focus()
	return cmd
}
