package screen

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/frame"
	"example.com/sawdatum/wizard/tell"
)

type savedMsg struct {
	err    error
	joined model.Profile // what is in the file now
}

// save writes the profile as a command. Saves follow each other.
func (r *root) save() tea.Cmd {
	if r.job.Store.Save == nil {
		return nil
	}
	if r.saving {
		r.again = true
		return nil
	}
	r.saving, r.again = true, false
	write, profile := r.job.Store.Save, r.job.Procedure.Profile()
	return func() tea.Msg {
		joined, err := write(profile)
		return savedMsg{err, joined}
	}
}

func (r root) saved(msg savedMsg) (tea.Model, tea.Cmd) {
	next, err := r.job.Placed(msg.err)
	aside := next.Aside != r.job.Aside
	r.job = next
	var show tea.Cmd
	if msg.err == nil && !r.again { // else what is saved next comes back with all of it
		r, show = r.join(msg.joined)
	}
	failed := r.unsaved != nil
	r.unsaved = err
	switch {
	case err != nil:
		r.notice = notSaved(err, "Nothing is lost while this runs; ctrl+s saves a copy.")
	case aside:
		r.notice = asideNotice(r.job.Aside)
	case failed:
		r.notice = notice{short: "Saved again.", full: tell.SavedAgain(r.job.Store)}
	}
	return r.onward(show)
}

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
	if !wizard.Differs(file, r.job.Procedure.Profile()) {
		return r, nil
	}
	next, ok := r.job.Join(file)
	if !ok {
		return r, nil
	}
	if s, isStep := r.base.(step); isStep {
		next = next.Keep(s.place.Place, s.typing.values())
	}
	r.job = next
	return r, r.visit()
}

func notSaved(err error, then string) notice {
	return notice{"NOT SAVED. ctrl+s saves it elsewhere. F1 says why.", strings.Replace("NOT SAVED: "+model.Printable(err.Error())+". "+then, "?. ", "? ", 1), true}
}

// noticed shows the root's notice on the step.
func (r root) noticed() root {
	if s, ok := r.base.(step); ok {
		s.notice = r.notice
		s.job.Store, s.job.Aside = r.job.Store, r.job.Aside
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

// export writes what the closing place was asked for as a command, after what is being
// written.
func (r *root) export() tea.Cmd {
	if e := r.job.Procedure.Export(); e.Shown {
		r.cover(newPaper(r.look, r.job, e))
	}
	write := r.job.Exporting()
	if write == nil {
		return nil
	}
	r.asked = append(slices.Clip(r.asked), write)
	if r.saving {
		return nil
	}
	return r.write()
}

// write begins with the first export that was asked for.
func (r *root) write() tea.Cmd {
	write := r.asked[0]
	r.saving, r.asked = true, r.asked[1:]
	return func() tea.Msg { return write() }
}

func (r root) exported(h wizard.Outcome) (tea.Model, tea.Cmd) {
	text := tell.ExportText(h, r.job.Saw != nil)
	r.job = r.job.Exported(h)
	r.notice = notice{text, text, !h.Written()}
	if r.unsaved != nil {
		r.notice = notSaved(r.unsaved, text)
	}
	if s, ok := r.base.(step); ok {
		s.job = r.job
		r.base = s
	}
	return r.onward(nil)
}

// notice is what the root has to tell over a step: a save that failed, a copy made.
type notice struct {
	short  string // for a window with little room; the help then has the rest
	full   string
	danger bool
}

// rows are the notice, with what went wrong standing out, and no more: short where there is little room.
func (n notice) rows(l frame.Look, w int) []string {
	set := func(text string) []string {
		head, rest := "    ", text
		if at := strings.IndexAny(text, ":."); n.danger && at > 0 && text[:at] == strings.ToUpper(text[:at]) {
			head, rest = l.Reversed.Render(text[:at])+text[at:at+1]+" ", strings.TrimSpace(text[at+1:])
		}
		return frame.Wrapped(head, rest, w, frame.Brush{})
	}
	if rows := set(n.full); len(rows) <= frame.SaidRows {
		return rows
	}
	return set(n.short)
}

// shownValues is how many of the values that differ stand over a step.
const shownValues = 3

// asideNotice tells over a step of a save that went elsewhere; nothing where none did.
func asideNotice(e *wizard.AsideError) notice {
	if e == nil {
		return notice{}
	}
	return notice{"KEPT ELSEWHERE: F1 says where, what differs, and how to settle it.", strings.Join(tell.AsideSentences(e, shownValues), " "), true}
}
