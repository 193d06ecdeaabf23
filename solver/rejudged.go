package solver

import (
	"time"

	"example.com/sawdatum/model"
)

// Rejudged says which blades are judged otherwise at a moment than they were before records
// were taken over: strips that belong before a first look change what it saw.
func Rejudged(before, after model.Profile, now time.Time) []model.Reason {
	was, is := Judge(before, now), Judge(after, now)
	var out []model.Reason
	for _, old := range was.Blades {
		row, there := is.Row(old.ID)
		if !there || old.Basis != model.Measured || old.Verdict == row.Verdict && old.State == row.State {
			continue
		}
		weight := model.Explains
		if old.Usable() && !row.Usable() {
			weight = model.Warns
		}
		out = append(out, model.Because("rejudged", weight, "the %s was %s (%s), and with what was taken over it is %s (%s)", after.BladeName(old.ID), old.State, old.Verdict, row.State, row.Verdict)...)
	}
	return out
}
