package tell

import (
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard"
)

// Tour explains a stage to somebody who practises, the first time that the stage comes up: in
// three lines how practice goes, and each stage behind the first in one.
func Tour(j wizard.Job, stage int) []string {
	if stage != 1 {
		return tour[stage : stage+1]
	}
	written, begin := "and nothing is written", "The saw is described and its blades, knife and rings are measured already"
	if j.Store.Save != nil {
		written = "and what you type is written to the file that you named"
	}
	if slices.ContainsFunc(j.Procedure.Profile().Validate(), unread) {
		begin = "What the profile does not tell of saw, blades, knives or rings is asked on the way"
	}
	return []string{
		"Practice takes about fifteen minutes. Saw and cuts are simulated, " + written + ".",
		begin + "; you begin by isolating the saw.",
		"A gate wants its word typed, so that habit cannot click through. Leave any time: ctrl+c, in plain lines /quit.",
	}
}

// unread reports what a profile does not tell yet, and no setup works out.
func unread(f model.Finding) bool {
	return f.Missing && f.Path != "reference" && f.Path != "standing"
}

var tour = [...]string{
	2:  "The saw is described once, while it is empty. A measuring field left empty: the simulated saw reads it for you.",
	3:  "A clean flange comes first: dust under a ring moves the cut as much as a ring does.",
	4:  "From plates, kerfs, knives and rings the program finds the reference blade, and the rings of each other one.",
	5:  "The reference blade goes on. Its cut face is the line that all others are brought to.",
	6:  "The reference blade rips a long board: its cut edge shows where that line lies.",
	7:  "The knife is set to that edge, so that every blade's stock glides past it.",
	8:  "The fence scale is held against the caliper. From its last strip on the fence stays locked.",
	9:  "The reference blade rips the strips that those of all other blades are compared with.",
	10: "Each blade rips two strips with its rings. OUT: dirt, or other rings; DOUBTFUL: another strip; IN: write its box.",
	11: "Every blade with its rings and its knife; what is not ready says why.",
}
