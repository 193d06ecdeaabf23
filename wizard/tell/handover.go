package tell

import (
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/export"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard"
)

// Handover is what the other shift has to know, in lines of so many columns.
func Handover(j wizard.Job, papers []wizard.Paper, width int) []string {
	p, now := j.Procedure.Profile(), j.Procedure.Now().At
	opt := export.Options{Now: now, Width: width, Before: solver.Judge(model.Before(p), now)}
	for _, old := range papers {
		opt.Papers = append(opt.Papers, export.Paper{Path: old.Path, As: old.Export.As, BothUnits: old.Export.BothUnits, Date: old.Date, State: old.State, Now: old.Now})
	}
	var b strings.Builder
	if err := export.Write(&b, "handover", p, j.Procedure.Plan(), opt); err != nil {
		return []string{model.Printable(err.Error())}
	}
	return strings.Split(strings.TrimRight(b.String(), "\n"), "\n")
}
