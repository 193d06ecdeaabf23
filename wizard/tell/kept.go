package tell

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/procedure"
)

// Farewell says where the work is kept. It is for the end, when the terminal is as it was found.
func Farewell(w io.Writer, j wizard.Job, r wizard.Result) {
	for _, file := range j.Files {
		fmt.Fprintln(w, "Written for others: "+model.Printable(file))
	}
	if !wizard.Differs(j.Start, r.Profile) && j.Store.Save != nil {
		fmt.Fprintln(w, "Nothing of this run went on record, so no file was written.")
		return
	}
	if j.Aside != nil {
		for _, line := range AsideSentences(j.Aside, len(j.Aside.Values)) {
			fmt.Fprintln(w, line)
		}
	}
	fmt.Fprintln(w, Kept(j.Store, j.Saw != nil, r.Unsaved != nil))
	if j.Store.Kept != nil && j.Store.Kept() != "" {
		fmt.Fprintln(w, "The profile was in an older format or layout: it is kept as it was in "+model.Printable(j.Store.Kept())+".")
	}
	if shifts := model.ShiftsOf(r.Profile.Records); r.Finished && j.Procedure.Options().Mode == procedure.Swap && shifts.Other != "" && j.Store.Stale != nil {
		for _, line := range append([]string{""}, Handover(j, j.Store.Stale(r.Profile), 0)...) {
			fmt.Fprintln(w, line)
		}
	}
	switch {
	case r.Finished || j.Store.Save == nil:
	case r.Unsaved != nil:
		fmt.Fprintln(w, "Not finished: it goes on from what is saved the next time, with isolation asked anew.")
	default:
		fmt.Fprintln(w, "Not finished: it goes on from there the next time, with isolation asked anew.")
	}
}

// Kept says whether the work is saved, and where.
func Kept(s wizard.Store, practice, unsaved bool) string {
	switch {
	case unsaved:
		return "The last answers are NOT saved."
	case s.Save == nil && practice:
		return "Nothing was written: this was practice."
	case s.Save == nil:
		return "Nothing was written."
	}
	return "Everything that was accepted is saved in " + model.Printable(s.Path) + "."
}

// SavedAgain says that a save that failed before did not fail now.
func SavedAgain(s wizard.Store) string { return "Saved again in " + model.Printable(s.Path) + "." }

// AsideSentences tell all of a save that went elsewhere; at most so many values.
func AsideSentences(e *wizard.AsideError, most int) []string {
	out := []string{fmt.Sprintf("KEPT ELSEWHERE: %s in %s, so yours is kept in %s.", model.Printable(e.Why), model.Printable(e.Own), model.Printable(e.Path))}
	for i, v := range e.Values {
		if i == most {
			out = append(out, fmt.Sprintf("And %d more.", len(e.Values)-most))
			break
		}
		out = append(out, fmt.Sprintf("%s: here %s, there %s.", model.Printable(v.Path), model.Printable(v.Mine), model.Printable(v.Theirs)))
	}
	return append(out, "To settle it: "+model.Printable(e.Cure))
}

// ExportText tells the outcome of an export.
func ExportText(h wizard.Outcome, practice bool) string {
	switch {
	case errors.Is(h.Err, fs.ErrExist):
		return fmt.Sprintf("NOT WRITTEN: %s is there already. To replace it type %s again.", model.Printable(h.File), h.Export)
	case h.Err != nil:
		return "NOT WRITTEN: " + model.Printable(h.Err.Error()) + "."
	case h.File == "" && practice:
		return "NOT WRITTEN: this is practice, which writes nothing unless it is begun with --keep and the name of a new file: sawdatum practice --keep FILE."
	case h.File == "":
		return "NOT WRITTEN: nothing is written in this run."
	}
	return fmt.Sprintf("Written, %s: %s", h.Export, model.Printable(h.File))
}

// PaperAge says how old a paper is.
func PaperAge(p wizard.Paper) string {
	return fmt.Sprintf("%s is of %s, state %s; the blades are in state %s now", model.Printable(filepath.Base(p.Path)), p.Date, p.State, p.Now)
}

// PaperPlace says what is to be done with a paper that is written anew.
func PaperPlace(p wizard.Paper) string {
	if p.Export.As == "labels" {
		return "then change those on the boxes"
	}
	return "then change the one on the wall"
}

// StaleSentences name the papers that the closing place can write anew.
func StaleSentences(papers []wizard.Paper) []string {
	var out []string
	for _, p := range papers {
		out = append(out, fmt.Sprintf("STALE: %s. Type %s to write it anew, %s.", PaperAge(p), p.Export, PaperPlace(p)))
	}
	return out
}
