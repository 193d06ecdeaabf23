package screen

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/procedure"
)

// screen is one thing that fills the terminal. It finishes a message within one
// update: what the root has to do about it comes back at once as a report, never as a
// later message that could answer another screen. Its view changes nothing.
type screen interface {
	update(msg tea.Msg) (next screen, report any, cmd tea.Cmd)
	view(w, h int) []string // at most h lines of at most w cells
}

// base is a screen that others are laid over; begin is its command when it is shown
// first.
type base interface {
	screen
	begin() tea.Cmd
}

// The reports of screens.
type (
	answered struct {
		visit   uint64
		answers map[string]string
	}
	left struct { // a field, by enter
		visit uint64
		key   string
		typed map[string]string
	}
	led struct {
		kind  procedure.EventKind
		place procedure.Place
	}
	opened    struct{ path string } // a profile was chosen
	created   struct{ name string } // a new saw was named
	practised struct{}              // practice was chosen
	copied    struct{ path string } // a file for a copy was named
	naming    struct{}              // a new saw is to be named
	closed    struct{}              // back to what lies beneath
)

// opens lays the screen over the step that a key asks for.
func (r *root) opens(k tea.KeyMsg) bool {
	s := r.base.(step)
	switch {
	case key.Matches(k, s.keys.Help):
		r.cover(newHelp(r.look, s))
	case key.Matches(k, s.keys.Records):
		r.cover(newRecords(r.look, r.job.Procedure.Profile()))
	case key.Matches(k, s.keys.Work):
		r.cover(newWork(r.look, r.job.Procedure))
	case key.Matches(k, s.keys.Copy) && r.options.Copy != nil:
		r.cover(newPrompt(r.look, "Save a copy", "A new file's name", "such as bay-two-copy.yaml", func(name string) any { return copied{name} }))
	default:
		return false
	}
	return true
}

// heed acts on the report of a screen.
func (r root) heed(report any, cmd tea.Cmd) (root, tea.Cmd) {
	switch report := report.(type) {
	case nil:
		return r, cmd
	case answered:
		return r.answer(report, cmd)
	case left:
		return r.left(report, cmd)
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
		r.notice = notice{short: "The copy is written.", full: "A copy is in " + model.Printable(report.path) + "."}
		if err := r.options.Copy(report.path, r.job.Procedure.Profile()); err != nil {
			r.notice = notice{"NO COPY: F1 says why.", "NO COPY: " + model.Printable(err.Error()) + ".", true}
		}
		return r.noticed(), cmd
	case opened:
		store, err := r.options.Shelf.Open(report.path)
		if err == nil && store.Profile.Reference != "" {
			r.cover(newEntry(r.look, store, r.base.(start).bladesOf(report.path)))
			return r, cmd
		}
		return r.start(func() (wizard.Store, error) { return store, err }, false)
	case swapped:
		store, err := r.options.Shelf.Open(report.path)
		if err == nil {
			r.options.Run.Mode, r.options.Run.Blade, r.options.Run.Offers = procedure.Swap, report.blade, true
		}
		return r.start(func() (wizard.Store, error) { return store, err }, false)
	case began:
		r.over = nil
		r.options.Run.Mode, r.options.Run.Blade, r.options.Run.Proves = report.mode, report.blade, report.proves
		return r.start(func() (wizard.Store, error) { return report.store, nil }, false)
	case created:
		return r.start(func() (wizard.Store, error) { return r.options.Shelf.Create(report.name) }, false)
	case renewed:
		return r.renew(report.paper, report.profile), cmd
	case practised:
		return r.start(r.options.Shelf.Practice, true)
	}
	return r, cmd
}

// start opens what was chosen on the start screen, or tells there why it cannot.
func (r root) start(open func() (wizard.Store, error), practice bool) (root, tea.Cmd) {
	store, err := open()
	if err != nil {
		if p, ok := r.over.(prompt); ok {
			r.over = p.wrong(err)
			return r, nil
		}
		s := r.base.(start)
		s.choice.notes = []string{model.Printable(err.Error())}
		r.base = s
		return r, nil
	}
	r.options.Practice = practice
	cmd := r.open(store)
	return r, cmd
}

func (r root) answer(a answered, cmd tea.Cmd) (root, tea.Cmd) {
	next, changed, err := r.job.Answer(a.visit, a.answers)
	r.job = next
	if err != nil {
		s, focus := r.base.(step).refused(next, wizard.Refusal(err))
		r.base = s
		return r, tea.Batch(cmd, focus)
	}
	if r.unsaved == nil {
		r.notice = asideNotice(r.job.Aside)
	}
	show := r.visit()
	var save tea.Cmd
	if changed {
		save = r.save()
	}
	if r.job.Procedure.Finished() {
		r.leaving = true
		if !r.saving {
			return r, tea.Quit
		}
	}
	hand := r.export()
	return r, tea.Batch(cmd, show, save, hand)
}

func (r root) left(l left, cmd tea.Cmd) (root, tea.Cmd) {
	next, err := r.job.Left(l.visit, l.key, l.typed)
	r.job = next
	if err != nil {
		s, focus := r.base.(step).refused(next, wizard.Refusal(err))
		r.base, cmd = s, tea.Batch(cmd, focus)
	}
	return r, cmd
}

func (r root) lead(l led, cmd tea.Cmd) (root, tea.Cmd) {
	s := r.base.(step)
	r.job = r.job.Keep(s.place.Place, s.typing.values())
	next, err := r.job.Lead(l.kind, l.place)
	r.job, r.over = next, nil
	if err != nil {
		s.unmet = wizard.Refusal(err).Unmet
		r.base = s
		return r, cmd
	}
	return r, tea.Batch(cmd, r.visit())
}
