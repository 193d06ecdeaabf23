package tell

import (
	"fmt"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/export"
	"example.com/sawdatum/wizard/procedure"
)

// Blades are what the papers tell of the blades, at this moment.
func Blades(p procedure.Procedure) []export.Row {
	return export.Rows(p.Profile(), p.Plan(), export.Options{Now: p.Now().At})
}

// BladeSentences read the table of blades row by row.
func BladeSentences(p procedure.Procedure) []string {
	var out []string
	for _, r := range Blades(p) {
		if !r.Usable && r.Plan.Knife != model.KnifeFits {
			out = append(out, fmt.Sprintf("Blade %s: %s. It is not to be used. Knife: %s.", r.Name, Status(r), r.Knife))
			for _, reason := range r.Why {
				out = append(out, "Why not ready: "+ReasonLine(reason))
			}
			continue
		}
		s := fmt.Sprintf("Blade %s: %s. Rings: %s. Knife: %s. From the datum: %s.", r.Name, Status(r), r.Stack(), r.Knife, strings.ReplaceAll(r.Residual[0], "+-", "plus or minus"))
		out = append(out, s+ProvedWords(r, " Proved: ", "."))
		for _, reason := range r.Why {
			out = append(out, "Why not ready: "+ReasonLine(reason))
		}
	}
	return append(append(out, Legend), Outlook(p)...)
}

// Legend tells how the table of blades is meant.
const Legend = "Rings are listed flange first. Wide and narrow: by so much a part differs from one that the datum cuts."

// Status is the state of a blade, and whether it is the reference.
func Status(r export.Row) string {
	if r.Reference {
		return r.Status() + ", reference"
	}
	return r.Status()
}

// FromDatum is how far a blade cuts from the datum, with the sign for its doubt.
func FromDatum(r export.Row) string { return strings.ReplaceAll(r.Residual[0], "+-", "±") }

// ProvedWords say when and by whom a blade was proved, and from when that is to be done
// again.
func ProvedWords(r export.Row, before, after string) string {
	if r.Proved == "" {
		return ""
	}
	out := before + r.Proved
	if r.Due != "" {
		out += ", due " + r.Due
	}
	return out + after
}
