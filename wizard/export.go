package wizard

import (
	"errors"
	"io/fs"
	"slices"

	"example.com/sawdatum/wizard/procedure"
)

// Outcome is the result of one export that the closing place was asked for. The zero value
// stands for no export.
type Outcome struct {
	Export procedure.Export
	File   string // its full name; empty: nothing is written in this run
	Err    error
}

// Written reports whether an export is on disk.
func (h Outcome) Written() bool { return h.Err == nil && h.File != "" }

// Exporting gives the function that writes the export which the last answer asked for; nil
// where it asked for none. It runs apart from the job, since writing takes time. It replaces
// a file that stood in the way only where the same export was asked for twice.
func (j Job) Exporting() func() Outcome {
	e, write, profile := j.Procedure.Export(), j.Store.Export, j.Procedure.Profile()
	if e.As == "" || e.Shown {
		return nil
	}
	over := ""
	if j.refused.Export == e {
		over = j.refused.File
	}
	for _, p := range j.Papers { // named on the screen
		if p.Export.As == e.As {
			over = p.Path
		}
	}
	return func() Outcome {
		if write == nil {
			return Outcome{Export: e}
		}
		file, err := write(e, over, profile)
		return Outcome{e, file, err}
	}
}

// Exported takes the outcome of an export into the job.
func (j Job) Exported(h Outcome) Job {
	j.refused = Outcome{}
	switch {
	case errors.Is(h.Err, fs.ErrExist):
		j.refused = h
	case h.Written():
		if !slices.Contains(j.Files, h.File) {
			j.Files = append(slices.Clip(j.Files), h.File)
		}
		j.Papers = j.Stale()
	}
	return j
}
