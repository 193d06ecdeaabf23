package tell

import (
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard"
	"example.com/sawdatum/wizard/procedure"
)

// Tour tells somebody who practises, before the first place, how that goes.
func Tour(j wizard.Job) []string {
	written, begin := "nothing is written", "Saw, blades, knife and rings are on file already"
	if j.Store.Save != nil {
		written = "what you type is written to the file that you named"
	}
	if slices.ContainsFunc(j.Procedure.Profile().Validate(), unread) {
		begin = "What the profile does not tell of saw, blades, knife or rings is asked on the way"
	}
	return []string{
		"Saw and cuts are simulated; " + written + ".",
		begin + "; you begin by isolating the saw.",
	}
}

// unread reports what a profile does not tell yet, and no setup works out.
func unread(f model.Finding) bool {
	return f.Missing && f.Path != "reference" && f.Path != "standing"
}

// Staged reports whether a run goes through the eleven stages, and says at which it is: a swap, a proof or
// an isolation goes through a few moves of its own.
func Staged(p procedure.Procedure) bool {
	mode := p.Options().Mode
	return mode == procedure.Setup || mode == procedure.OneBlade
}

// StageIs is what a stage of the work is for.
func StageIs(stage int) string { return stages[stage-1] }

var stages = [...]string{
	"Hands go in only where the saw is isolated and proved dead. A gate wants its word typed, so that habit cannot click through.",
	"The saw is described once, while it is empty.",
	"A clean flange comes first: dust under a ring moves the cut as much as a ring does.",
	"From plates, kerfs, knives and rings the program finds the reference blade, and the rings of each other one.",
	"The reference blade goes on. Its cut face is the line that all others are brought to.",
	"The reference blade rips a long board: its cut edge shows where that line lies.",
	"The knife is set to that edge, so that every blade's stock glides past it.",
	"The fence scale is held against the caliper. From its last strip on the fence stays locked.",
	"The reference blade rips the strips that those of all other blades are compared with.",
	"Each blade rips two strips with its rings. OUT: dirt, or other rings; DOUBTFUL: another strip; IN: write its box.",
	"Every blade with its rings and its knife; what is not ready says why.",
}
