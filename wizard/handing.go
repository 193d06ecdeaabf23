package wizard

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/sawdatum/wizard/procedure"
)

// handed is what became of an export that the closing place was asked for. The zero
// value is none.
type handed struct {
	export procedure.Export
	file   string // its full name; empty: nothing is written in this run
	err    error
}

// handing is the writing of the export that the last answer asked for, apart from the
// job since it takes its time; nil where nothing was asked for. A file that stood in
// the way goes where the same was asked for again.
func (j job) handing() func() handed {
	e, write, profile := j.procedure.Export(), j.store.Export, j.procedure.Profile()
	if e.As == "" {
		return nil
	}
	over := ""
	if j.refused.export == e {
		over = j.refused.file
	}
	for _, p := range j.papers { // named on the screen
		if p.Export.As == e.As {
			over = p.Path
		}
	}
	return func() handed {
		if write == nil {
			return handed{export: e}
		}
		file, err := write(e, over, profile)
		return handed{e, file, err}
	}
}

// handedOn tells what became of an export.
func (j job) handedOn(h handed) (next job, text string, written bool) {
	j.refused = handed{}
	switch {
	case errors.Is(h.err, fs.ErrExist):
		j.refused = h
		return j, fmt.Sprintf("NOT WRITTEN: %s is there already. To replace it type %s again.", printable(h.file), h.export), false
	case h.err != nil:
		return j, "NOT WRITTEN: " + printable(h.err.Error()) + ".", false
	case h.file == "" && j.saw != nil:
		return j, "NOT WRITTEN: this is practice, which writes nothing unless it is begun with --keep and the name of a new file: sawdatum practice --keep FILE.", false
	case h.file == "":
		return j, "NOT WRITTEN: nothing is written in this run.", false
	}
	if !slices.Contains(j.files, h.file) {
		j.files = append(slices.Clip(j.files), h.file)
	}
	j.papers = j.stale()
	return j, fmt.Sprintf("Written, %s: %s", h.export, printable(h.file)), true
}

// handOn writes what the closing place was asked for as a command, after what is being
// written.
func (r *root) handOn() tea.Cmd {
	write := r.job.handing()
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

func (r root) handedOn(h handed) (tea.Model, tea.Cmd) {
	next, text, written := r.job.handedOn(h)
	r.job = next
	r.notice = notice{text, text, !written}
	if r.unsaved != nil {
		r.notice = notSaved(r.unsaved, text)
	}
	if s, ok := r.base.(step); ok {
		s.job = next
		r.base = s
	}
	return r.onward(nil)
}
