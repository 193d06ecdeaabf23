package tell

import (
	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard/procedure"
)

// Outlook tells which ring to buy, which blade drifts, what sharpening takes.
func Outlook(p procedure.Procedure) []string {
	var out []string
	for _, r := range p.Plan().Reasons {
		out = append(out, ReasonLine(r))
	}
	return out
}

// ReasonLine puts the word of danger before a reason.
func ReasonLine(r model.Reason) string {
	return [...]string{"", "Careful: ", "DANGER: "}[r.Weight] + model.Sentence(r.Text)
}

// SoLine puts the word of danger before a sentence; a verdict carries its own.
func SoLine(r model.Reason) string {
	if r.Weight == model.Danger {
		return "DANGER: " + model.Sentence(r.Text)
	}
	return model.Sentence(r.Text)
}
