package tell

import (
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/export"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/procedure"
)

// Handover is what the other shift has to know, in lines of so many columns.
func Handover(j wizard.Job, papers []wizard.Paper, width int) []string {
	return onScreen(j, papers, "handover", export.Options{Width: width})
}

// Paper is a paper as it would be written now, in lines of so many columns; in a window that is
// narrower than a card, what it tells of the blades.
func Paper(j wizard.Job, e procedure.Export, width int, ascii bool) []string {
	if e.As != "handover" && width < leastCard {
		return BladeSentences(j.Procedure)
	}
	return onScreen(j, j.Stale(), e.As, export.Options{BothUnits: e.BothUnits, Width: width, Plain: ascii})
}

// leastCard is how many columns a card takes at the least.
const leastCard = 76

func onScreen(j wizard.Job, papers []wizard.Paper, as string, opt export.Options) []string {
	p := j.Procedure.Profile()
	opt.Now = j.Procedure.Now().At
	opt.Before = solver.Judge(model.Before(p), opt.Now)
	for _, old := range papers {
		opt.Papers = append(opt.Papers, export.Paper{Path: old.Path, As: old.Export.As, BothUnits: old.Export.BothUnits, Date: old.Date, State: old.State, Now: old.Now})
	}
	var b strings.Builder
	if err := export.Write(&b, as, p, j.Procedure.Plan(), opt); err != nil {
		return []string{model.Printable(err.Error())}
	}
	return strings.Split(strings.TrimRight(b.String(), "\n"), "\n")
}
