package wizard

import (
	"fmt"
	"time"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.com/sawdatum/wizard/procedure"
)

// root handles size, quitting, the clock and what the screens report; all else goes
// to the screen on top.
type root struct {
	options Options
	job     job
	working bool   // a profile is open; base is its step
	base    base   // start, or the step
	over    screen // help, records, other work, a name to type; nil: none
	look    look
	keys    keys
	escape  escape
	watch   *watch
	w, h    int

	lastKey time.Time
	tick    time.Time // of the last look at the clock
	idle    bool      // told the procedure already
	toured  map[int]bool

	saving  bool            // something is being written
	again   bool            // the profile changed while it was being saved
	asked   []func() handed // to be written as soon as that is done
	unsaved error
	retake  func() // takes the terminal again
	stopped bool   // by its own key: what stopped it gives the terminal back
	leaving bool   // as soon as what is being written is written
	warned  bool   // that leaving loses what is not saved
	notice  notice
}

func newRoot(o Options, l look, w *watch) root {
	r := root{options: o, look: l, keys: newKeys(), watch: w, toured: map[int]bool{}}
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
func (r *root) open(s Store) tea.Cmd {
	r.options.Store = s
	r.job, r.working, r.over = newJob(r.options), true, nil
	return r.visit()
}

// visit shows the place where the procedure now stands.
func (r *root) visit() tea.Cmd {
	r.job.papers = r.job.stale()
	s, cmd := newStep(r.job, r.look, r.w, r.h).focus()
	s.notice = r.notice
	r.base = s
	if n := s.place.Stage; r.job.saw != nil && !r.toured[n] {
		r.toured[n] = true
		r.cover(newTour(r.look, n))
	}
	return cmd
}

// cover lays a screen over the step.
func (r *root) cover(s screen) {
	r.over, _, _ = s.update(tea.WindowSizeMsg{Width: r.w - 2*margin, Height: r.h - len(r.above())})
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
		s.deaf = time.Now().Add(deafTime)
		r.base = s
	}
}

func (r root) Init() tea.Cmd { return tea.Batch(ticking(), r.base.begin()) }

func (r root) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		if msg.Width <= 0 || msg.Height <= 0 { // a terminal that does not tell, as on a serial line
			msg = tea.WindowSizeMsg{Width: usualWidth, Height: usualHeight}
		}
		r.w, r.h = msg.Width, msg.Height
		var cmd tea.Cmd
		if r.over != nil {
			r.over, _, cmd = r.over.update(tea.WindowSizeMsg{Width: r.w - 2*margin, Height: r.h - len(r.above())})
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
		r.watch.stopped()
		return r, r.lapse(procedure.Suspend)
	case savedMsg:
		return r.saved(msg)
	case handed:
		return r.handedOn(msg)
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
	return append(padded(s.strip(r.w-2*margin), margin), "")
}

// small reports a window in which no screen has room.
func (r root) small() bool { return r.w < leastWidth || r.h < leastHeight }

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

// opens lays the screen over the step that a key asks for.
func (r *root) opens(k tea.KeyMsg) bool {
	s := r.base.(step)
	switch {
	case key.Matches(k, s.keys.Help):
		r.cover(newHelp(r.look, s))
	case key.Matches(k, s.keys.Records):
		r.cover(newRecords(r.look, r.job.procedure.Profile()))
	case key.Matches(k, s.keys.Work):
		r.cover(newWork(r.look, r.job.procedure))
	case key.Matches(k, s.keys.Copy) && r.options.Copy != nil:
		r.cover(newPrompt(r.look, "Save a copy", "A new file's name", "such as bay-two-copy.yaml", func(name string) any { return copied{name} }))
	default:
		return false
	}
	return true
}

// heed does what a screen reports.
func (r root) heed(report any, cmd tea.Cmd) (root, tea.Cmd) {
	switch report := report.(type) {
	case nil:
		return r, cmd
	case answered:
		return r.answer(report, cmd)
	case led:
		return r.lead(report, cmd)
	case closed:
		r.uncover()
		return r, cmd
	case naming:
		r.cover(newPrompt(r.look, "A new saw", "Name of its profile", "letters, figures and dashes, such as bay-two", func(name string) any { return created{name} }))
		return r, cmd
	case copied:
		r.over = nil
		r.notice = notice{short: "The copy is written.", full: "A copy is in " + printable(report.path) + "."}
		if err := r.options.Copy(report.path, r.job.procedure.Profile()); err != nil {
			r.notice = notice{"NO COPY: F1 says why.", "NO COPY: " + printable(err.Error()) + ".", true}
		}
		return r.noticed(), cmd
	case opened:
		store, err := r.options.Shelf.Open(report.path)
		if err == nil && store.Profile.Reference != "" {
			r.cover(newEntry(r.look, store))
			return r, cmd
		}
		return r.start(func() (Store, error) { return store, err }, false)
	case began:
		r.over = nil
		r.options.Run.Mode, r.options.Run.Blade = report.mode, report.blade
		return r.start(func() (Store, error) { return report.store, nil }, false)
	case created:
		return r.start(func() (Store, error) { return r.options.Shelf.Create(report.name) }, false)
	case renewed:
		return r.renew(report.paper, report.profile), cmd
	case practised:
		return r.start(r.options.Shelf.Practice, true)
	}
	return r, cmd
}

// start opens what was chosen on the start screen, or tells there why it cannot.
func (r root) start(open func() (Store, error), practice bool) (root, tea.Cmd) {
	store, err := open()
	if err != nil {
		if p, ok := r.over.(prompt); ok {
			r.over = p.wrong(err)
			return r, nil
		}
		s := r.base.(start)
		s.choice.notes = []string{printable(err.Error())}
		r.base = s
		return r, nil
	}
	r.options.Practice = practice
	cmd := r.open(store)
	return r, cmd
}

func (r root) answer(a answered, cmd tea.Cmd) (root, tea.Cmd) {
	next, changed, err := r.job.answer(a.visit, a.answers)
	r.job = next
	if err != nil {
		s, focus := r.base.(step).refused(next, refusal(err))
		r.base = s
		return r, tea.Batch(cmd, focus)
	}
	if r.unsaved == nil {
		r.notice = r.job.aside.notice()
	}
	show := r.visit()
	var save tea.Cmd
	if changed {
		save = r.save()
	}
	if r.job.procedure.Finished() {
		r.leaving = true
		if !r.saving {
			return r, tea.Quit
		}
	}
	hand := r.handOn()
	return r, tea.Batch(cmd, show, save, hand)
}

func (r root) lead(l led, cmd tea.Cmd) (root, tea.Cmd) {
	s := r.base.(step)
	r.job = r.job.keep(s.place.Place, s.typing.values())
	next, err := r.job.lead(l.kind, l.place)
	r.job, r.over = next, nil
	if err != nil {
		s.unmet = refusal(err).Unmet
		r.base = s
		return r, cmd
	}
	return r, tea.Batch(cmd, r.visit())
}

func (r root) View() string {
	if r.w == 0 || r.h == 0 {
		return ""
	}
	if r.small() {
		text := fmt.Sprintf("This window is %d x %d. Sawdatum needs %d x %d: make it larger. Nothing typed is lost.", r.w, r.h, leastWidth, leastHeight)
		lines := wrapped("", text, max(r.w, 9), brush{})
		for i := range lines {
			lines[i] = ansi.Truncate(lines[i], r.w, "")
		}
		return join(lines[:min(len(lines), r.h)])
	}
	if r.over != nil {
		above := r.above()
		return join(append(above, padded(r.over.view(r.w-2*margin, r.h-len(above)), margin)...))
	}
	return join(r.base.view(r.w, r.h))
}
