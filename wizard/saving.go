package wizard

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
)

type savedMsg struct {
	err    error
	joined model.Profile // what is in the file now
}

// save writes the profile as a command. Saves follow each other.
func (r *root) save() tea.Cmd {
	if r.job.store.Save == nil {
		return nil
	}
	if r.saving {
		r.again = true
		return nil
	}
	r.saving, r.again = true, false
	write, profile := r.job.store.Save, r.job.procedure.Profile()
	return func() tea.Msg {
		joined, err := write(profile)
		return savedMsg{err, joined}
	}
}

func (r root) saved(msg savedMsg) (tea.Model, tea.Cmd) {
	next, err := r.job.placed(msg.err)
	aside := next.aside != r.job.aside
	r.job = next
	var show tea.Cmd
	if msg.err == nil && !r.again { // else what is saved next comes back with all of it
		r, show = r.join(msg.joined)
	}
	failed := r.unsaved != nil
	r.unsaved = err
	switch {
	case err != nil:
		r.notice = notSaved(err, "Nothing is lost while this runs: ctrl+s saves it elsewhere.")
	case aside:
		r.notice = r.job.aside.notice()
	case failed:
		r.notice = notice{short: "Saved again.", full: savedAgain(r.job.store)}
	}
	return r.onward(show)
}

func savedAgain(s Store) string { return "Saved again in " + printable(s.Path) + "." }

// onward goes on when something has been written: with what waited for that, or out.
func (r root) onward(show tea.Cmd) (tea.Model, tea.Cmd) {
	r.saving = false
	var next tea.Cmd
	switch {
	case r.again:
		next = r.save()
	case len(r.asked) > 0:
		next = r.write()
	case r.leaving && r.unsaved == nil:
		next = tea.Quit
	default:
		r.leaving, r.warned = false, r.warned && r.unsaved != nil
	}
	return r.noticed(), tea.Batch(show, next)
}

// join goes on with what another shift recorded meanwhile, where the file holds more
// than was written.
func (r root) join(file model.Profile) (root, tea.Cmd) {
	if !differs(file, r.job.procedure.Profile()) {
		return r, nil
	}
	next, ok := r.job.join(file)
	if !ok {
		return r, nil
	}
	if s, isStep := r.base.(step); isStep {
		next = next.keep(s.place.Place, s.typing.values())
	}
	r.job = next
	return r, r.visit()
}

func notSaved(err error, then string) notice {
	return notice{"NOT SAVED. ctrl+s saves it elsewhere. F1 says why.", strings.Replace("NOT SAVED: "+printable(err.Error())+". "+then, "?. ", "? ", 1), true}
}

// noticed shows the root's notice on the step.
func (r root) noticed() root {
	if s, ok := r.base.(step); ok {
		s.notice = r.notice
		s.job.store, s.job.aside = r.job.store, r.job.aside
		r.base = s
	}
	return r
}

// leave quits once what is being written is written. Where that failed, the first
// key says so and the second one leaves.
func (r root) leave() (root, tea.Cmd) {
	switch {
	case r.saving && !r.leaving:
		r.leaving = true
		return r, nil
	case r.unsaved != nil && !r.warned:
		r.warned = true
		r.notice = notSaved(r.unsaved, "ctrl+s saves it elsewhere; ctrl+c once more leaves without.")
		return r.noticed(), nil
	}
	return r, tea.Quit
}
