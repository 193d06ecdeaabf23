package wizard

import (
	"fmt"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/procedure"
)

// bladeRow is what the closing screen says about one blade.
type bladeRow struct {
	Blade    string
	Rings    string // flange first
	Knife    string
	Residual string // with its uncertainty
	Verdict  string
	Proved   string // when and by whom
	Ready    bool
	Reasons  []string // why not ready
}

func bladeRows(p procedure.Procedure) []bladeRow {
	profile, plan := p.Profile(), p.Plan()
	unit, digit := profile.Units, profile.Instruments.Caliper.Length/10
	rows := make([]bladeRow, 0, len(plan.Blades))
	for _, b := range plan.Blades {
		blade, _ := profile.BladeByID(b.ID)
		k, _ := profile.KnifeByID(blade.Knife)
		row := bladeRow{
			Blade: bladeName(profile, b.ID), Rings: ringNames(profile, b.Stack), Ready: b.Ready,
			Verdict: strings.ToUpper(string(b.Verdict)), Proved: "not yet",
			Knife:    knifeFitWords(b.Knife, k),
			Residual: fmt.Sprintf("%s ± %s", b.Residual.Signed(unit, digit), b.Expanded.Show(unit, digit)),
		}
		if b.ID == plan.Reference {
			row.Verdict, row.Residual, row.Proved = "REFERENCE", "the datum", ""
		}
		if b.Proved != nil {
			row.Proved = b.Proved.At.UTC().Format("2006-01-02") + " " + b.Proved.By
		}
		if !b.Ready {
			for _, r := range b.Reasons {
				row.Reasons = append(row.Reasons, reasonLine(r))
			}
		}
		rows = append(rows, row)
	}
	return rows
}

func knifeFitWords(fit model.KnifeFit, k model.Knife) string {
	thickness := k.Thickness.String()
	switch fit {
	case model.KnifeFits:
		return thickness
	case model.KnifeNone:
		return "none"
	case model.KnifeTooThick:
		return thickness + " TOO THICK"
	default:
		return thickness + " TOO THIN"
	}
}

// closingSentences read the table of blades row by row.
func closingSentences(p procedure.Procedure) []string {
	var out []string
	for _, r := range bladeRows(p) {
		ready := "NOT READY"
		if r.Ready {
			ready = "ready"
		}
		s := fmt.Sprintf("Blade %s: %s, %s. Rings, flange first: %s. Knife: %s. From the datum: %s.", r.Blade, ready, r.Verdict, r.Rings, r.Knife, strings.ReplaceAll(r.Residual, "±", "plus or minus"))
		if r.Proved != "" {
			s += " Proved: " + r.Proved + "."
		}
		out = append(out, s)
		for _, reason := range r.Reasons {
			out = append(out, "Why not ready: "+reason)
		}
	}
	return out
}
