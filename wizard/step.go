package wizard

import (
	"maps"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// step is the screen at which the work is done: one visit to one place.
type step struct {
	job    job
	place  procedure.View
	typing typing
	look   look
	keys   keys
	w, h   int
	top    int    // first line seen of a long text
	notice string // from the root: a failed save, a copy made
	danger bool   // the notice is one of danger
	unmet  []string
	read   map[string]bool // fields that the simulated saw has read in this visit
	typed  bool            // something was typed in this visit
	so     []model.Reason  // what follows, from the last answer or from what is typed
	ahead  procedure.Procedure
}

func newStep(j job, l look, w, h int) step {
	v := j.procedure.View()
	s := step{job: j, place: v, look: l, keys: newKeys(), w: w, h: h, read: map[string]bool{}, so: j.procedure.Report(), ahead: j.procedure}
	s.typing = newTyping(v.Fields, j.typed(v), inputWidth(w))
	_, back := j.procedure.Apply(procedure.Event{Kind: procedure.Back, Place: v.Place})
	_, forward := j.procedure.Apply(procedure.Event{Kind: procedure.Forward, Place: v.Place})
	off(back == nil, &s.keys.Back)
	off(forward == nil, &s.keys.Forward)
	off(len(v.Fields) > 1, &s.keys.Next, &s.keys.Previous)
	off(len(j.procedure.Tasks()) > 0, &s.keys.Work)
	off(len(j.procedure.Profile().Records) > 0, &s.keys.Records)
	off(false, &s.keys.Up, &s.keys.Down)
	s.keys.PageDown.SetEnabled(v.Last)
	s.keys.PageUp.SetEnabled(v.Last)
	s.keys.Copy.SetHelp("ctrl+s", "")
	return s
}

func inputWidth(w int) int { return max(20, min(w, textWidth)-6) }

func (s step) focus() (step, tea.Cmd) {
	cmd := s.typing.focus()
	return s, cmd
}

func (s step) update(msg tea.Msg) (screen, any, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		s.w, s.h = msg.Width, msg.Height
		s.typing.resize(inputWidth(s.workWidth(s.w, s.h)))
		return s, nil, nil
	case tea.KeyMsg:
		return s.key(msg)
	}
	cmd := s.typing.key(msg)
	return s, nil, cmd
}

func (s step) key(k tea.KeyMsg) (screen, any, tea.Cmd) {
	if k.Paste || k.Type == tea.KeyRunes && len(k.Runes) > 1 {
		return s.burst(k)
	}
	switch {
	case key.Matches(k, s.keys.Back):
		return s, led{procedure.Back, s.place.Place}, nil
	case key.Matches(k, s.keys.Forward):
		return s, led{procedure.Forward, s.place.Place}, nil
	case key.Matches(k, s.keys.PageDown):
		s.top += max(1, s.h/2)
		return s, nil, nil
	case key.Matches(k, s.keys.PageUp):
		s.top = max(0, s.top-max(1, s.h/2))
		return s, nil, nil
	case k.Type == tea.KeyTab || k.Type == tea.KeyDown:
		cmd := s.typing.move(1)
		return s, nil, cmd
	case k.Type == tea.KeyShiftTab || k.Type == tea.KeyUp:
		cmd := s.typing.move(-1)
		return s, nil, cmd
	case key.Matches(k, s.keys.Accept):
		return s.enter()
	}
	return s.write(k)
}

// burst takes a paste, or runes that came all at once, as text. A gate and a word
// that is to be typed by hand do not take it.
func (s step) burst(k tea.KeyMsg) (screen, any, tea.Cmd) {
	if len(s.place.Fields) == 0 {
		return s, nil, nil
	}
	f := s.place.Fields[s.typing.at]
	if s.place.Gate || f.Kind == procedure.FieldWord {
		s.typing.faults[s.typing.at] = "that came all at once, so it was not taken: look, and type it by hand"
		return s, nil, nil
	}
	return s.write(k)
}

// write gives a key to the focused field and looks at what follows from it.
func (s step) write(k tea.KeyMsg) (screen, any, tea.Cmd) {
	before := s.typing.values()
	cmd := s.typing.key(k)
	if now := s.typing.values(); !maps.Equal(before, now) {
		s.typed, s.unmet = true, nil
		s = s.preview(now)
	}
	return s, nil, cmd
}

// preview works out what would follow if this were accepted now.
func (s step) preview(answers map[string]string) step {
	ahead, ok := s.job.procedure.Preview(answers)
	s.so, s.ahead = nil, s.job.procedure
	if ok {
		s.so, s.ahead = ahead.Report(), ahead
	}
	s.so = append(live(s.job.procedure, s.place, answers), s.so...)
	return s
}

// enter accepts the focused field, and the place behind the last one.
func (s step) enter() (screen, any, tea.Cmd) {
	t := &s.typing
	if len(t.fields) == 0 {
		return s, nil, nil
	}
	f := t.fields[t.at]
	if s.job.saw != nil && f.Measuring && *t.texts[t.at] == "" && !s.read[f.Key] {
		if text, ok := s.job.saw.read(s.job.procedure, s.place, f, t.values()); ok {
			s.read = maps.Clone(s.read)
			s.read[f.Key], s.typed = true, true
			cmd := t.set(t.at, text)
			return s.preview(t.values()), nil, cmd
		}
	}
	if !t.check() {
		return s, nil, nil
	}
	if t.at < len(t.fields)-1 {
		cmd := t.move(1)
		return s, nil, cmd
	}
	return s, answered{s.place.Place, t.values()}, nil
}

// refused shows why an answer was not taken.
func (s step) refused(j job, r *procedure.Refusal) (step, tea.Cmd) {
	s.job, s.unmet = j, r.Unmet
	cmd := s.typing.blame(r.Faults)
	return s, cmd
}
