package screen

import (
	"fmt"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/procedure"
)

// root handles size, quitting, the clock and what the screens report; all else goes
// to the screen on top.
type root struct {
	options wizard.Options
	job     wizard.Job
	working bool   // a profile is open; base is its step
	base    base   // start, or the step
	over    screen // help, records, other work, a name to type; nil: none
	look    frame.Look
	keys    frame.Keys
	escape  escape
	watch   *wizard.Watch
	w, h    int

	lastKey time.Time
	tick    time.Time // of the last look at the clock
	idle    bool      // told the procedure already
	toured  bool

	saving  bool                    // something is being written
	again   bool                    // the profile changed while it was being saved
	asked   []func() wizard.Outcome // to be written as soon as that is done
	unsaved error
	retake  func() // takes the terminal again
	stopped bool   // by its own key: what stopped it gives the terminal back
	leaving bool   // as soon as what is being written is written
	warned  bool   // that leaving loses what is not saved
	notice  notice
}

func newRoot(o wizard.Options, l frame.Look, w *wizard.Watch) root {
	r := root{options: o, look: l, keys: frame.NewKeys(), watch: w}
	now := time.Now()
	r.lastKey, r.tick = now, now
	if o.Store.Path == "" && !o.Practice {
		r.base = newStart(o.Shelf, l)
		return r
	}
	r.open(o.Store)
	return r
}

// open begins a run on a profile.
func (r *root) open(s wizard.Store) tea.Cmd {
	r.options.Store = s
	r.job, r.working, r.over = wizard.NewJob(r.options), true, nil
	return r.visit()
}

// visit shows the place where the procedure now stands.
func (r *root) visit() tea.Cmd {
	r.job.Papers = r.job.Stale()
	s, cmd := newStep(r.job, r.look, r.w, r.h).focus()
	s.notice = r.notice
	r.base = s
	if r.job.Saw != nil && !r.toured {
		r.toured = true
		r.cover(newTour(r.job, r.look))
	}
	return cmd
}

// cover lays a screen over the step.
func (r *root) cover(s screen) {
	r.over, _, _ = s.update(tea.WindowSizeMsg{Width: r.w - 2*frame.Margin, Height: r.h - len(r.above())})
}

// touring reports whether the tour covers a place that has not been seen yet.
func (r root) touring() bool {
	p, ok := r.over.(page)
	return ok && p.enter
}

// uncover shows the step again. Behind the tour it is seen for the first time.
func (r *root) uncover() {
	first := r.touring()
	r.over = nil
	if s, ok := r.base.(step); ok && first {
		s.deaf = time.Now().Add(wizard.DeafTime)
		r.base = s
	}
}

func (r root) Init() tea.Cmd { return tea.Batch(ticking(), r.base.begin()) }

func (r root) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		if msg.Width <= 0 || msg.Height <= 0 { // a terminal that does not tell, as on a serial line
			msg = tea.WindowSizeMsg{Width: frame.UsualWidth, Height: frame.UsualHeight}
		}
		r.w, r.h = msg.Width, msg.Height
		var cmd tea.Cmd
		if r.over != nil {
			r.over, _, cmd = r.over.update(tea.WindowSizeMsg{Width: r.w - 2*frame.Margin, Height: r.h - len(r.above())})
		}
		next, _, cmd2 := r.base.update(msg)
		r.base = next.(base)
		return r, tea.Batch(cmd, cmd2)
	case tickMsg:
		cmd := r.glance()
		return r, tea.Batch(cmd, ticking())
	case goesOn:
		if r.stopped || r.retake == nil {
			r.stopped = false
			return r, nil
		}
		retake := r.retake // somebody else had the terminal meanwhile
		return r, tea.Batch(r.lapse(procedure.Suspend), func() tea.Msg { retake(); return nil })
	case tea.ResumeMsg:
		r.watch.Stopped()
		return r, r.lapse(procedure.Suspend)
	case savedMsg:
		return r.saved(msg)
	case wizard.Outcome:
		return r.exported(msg)
	}
	filter, msgs, cmd := r.escape.filter(msg)
	r.escape = filter
	cmds := []tea.Cmd{cmd}
	for _, m := range msgs {
		var c tea.Cmd
		r, c = r.deliver(m)
		cmds = append(cmds, c)
	}
	return r, tea.Batch(cmds...)
}

// above is what stays in sight over other screens: the saw as it is known.
func (r root) above() []string {
	s, ok := r.base.(step)
	if !ok {
		return nil
	}
	return append(frame.Padded(s.strip(r.w-2*frame.Margin), frame.Margin), "")
}

// small reports a window in which no screen has room.
func (r root) small() bool { return r.w < frame.LeastWidth || r.h < frame.LeastHeight }

// deliver gives one message to the screen on top, after the keys that are the root's.
func (r root) deliver(msg tea.Msg) (root, tea.Cmd) {
	k, isKey := msg.(tea.KeyMsg)
	if isKey && k.Type == tea.KeyRunes && len(k.Runes) > 1 {
		// the word "left" that arrives in one read has the name of a key: it is text
		k.Paste = true
		msg = k
	}
	if isKey {
		if key.Matches(k, r.keys.Leave) {
			return r.leave()
		}
		if key.Matches(k, r.keys.Suspend) {
			r.stopped = true
			return r, tea.Suspend
		}
		r.lastKey, r.idle = time.Now(), false
		if s, ok := r.base.(step); r.small() {
			if ok && r.over == nil {
				s.typing.list.Miss(k, errUnseen)
			}
			return r, nil
		}
		if r.touring() && isText(k) {
			r.uncover() // the tour: what is typed is for the place beneath
		}
		if r.over == nil && r.working {
			if r.opens(k) {
				return r, nil
			}
		}
	}
	if !isKey && r.over != nil {
		// what is no key (a blinking cursor, a pasted text's arrival) is for both
		next, _, cmd := r.base.update(msg)
		over, _, cmd2 := r.over.update(msg)
		r.base, r.over = next.(base), over
		return r, tea.Batch(cmd, cmd2)
	}
	if r.over != nil {
		next, report, cmd := r.over.update(msg)
		r.over = next
		return r.heed(report, cmd)
	}
	next, report, cmd := r.base.update(msg)
	r.base = next.(base)
	return r.heed(report, cmd)
}

func (r root) View() string {
	if r.w == 0 || r.h == 0 {
		return ""
	}
	if r.small() {
		text := fmt.Sprintf("This window is %d x %d. Sawdatum needs %d x %d: make it larger. Nothing typed is lost.", r.w, r.h, frame.LeastWidth, frame.LeastHeight)
		lines := frame.Wrapped("", text, max(r.w, 9), frame.Brush{})
		for i := range lines {
			lines[i] = ansi.Truncate(lines[i], r.w, "")
		}
		return frame.Join(lines[:min(len(lines), r.h)])
	}
	if r.over != nil {
		above := r.above()
		return frame.Join(append(above, frame.Padded(r.over.view(r.w-2*frame.Margin, r.h-len(above)), frame.Margin)...))
	}
	return frame.Join(r.base.view(r.w, r.h))
}
