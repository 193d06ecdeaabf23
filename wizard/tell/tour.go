package tell

import (
	"slices"

	"example.com/sawdatum/model"
	"example.com/sawdatum/wizard"
)

// Tour explains a stage to somebody who practises, in three lines, the first time that the
// stage comes up.
func Tour(j wizard.Job, stage int) [3]string {
	lines := tour[stage]
	if stage == 1 {
		written, begin := "and nothing is written", "The saw is described and its blades, knife and rings are measured already"
		if j.Store.Save != nil {
			written = "and what you type is written to the file that you named"
		}
		if slices.ContainsFunc(j.Procedure.Profile().Validate(), unread) {
			begin = "What the profile does not tell of saw, blades, knives or rings is asked on the way"
		}
		lines[0] = "Practice takes ten to fifteen minutes. Saw and cuts are simulated, " + written + "."
		lines[1] = begin + "; you begin by isolating the saw."
	}
	return lines
}

// unread reports what a profile does not tell yet, and no setup works out.
func unread(f model.Finding) bool {
	return f.Missing && f.Path != "reference" && f.Path != "standing"
}

var tour = map[int][3]string{
	1: {2: "Gates want typed words, so that habit cannot click through. Leave any time: ctrl+c, in plain lines /quit."},
	2: {
		"The saw is described once: which way it tilts, where its flange sits, how long its thread is.",
		"Most of it stands in the saw's manual. What is measured is measured while the saw is empty.",
		"Leave a measuring field empty and press enter: the simulated saw reads it for you.",
	},
	3: {
		"A clean flange comes first: dust under a ring moves the cut as much as a ring does.",
		"The mark on the arbor is where every blade's own mark goes, each time it is put on.",
		"With a dial the wobble of the flange is read too; without one the field stays empty.",
	},
	4: {
		"Plate and kerf of every blade, the knives, and the shim rings that you own.",
		"From these alone the program works out which blade is the reference and which rings each blade needs.",
		"It also finds the blades that no knife fits, before anything is cut.",
	},
	5: {
		"The reference blade goes on. Its cut face is the line that all others are brought to.",
		"Counting teeth sounds simple; it is how a wrong blade is found before it cuts.",
		"No blade turns before its knife is seen in line with it and the checklist is passed.",
	},
	6: {
		"The reference blade rips a long board. Its cut edge shows where the datum face lies.",
		"The fence stays locked from here until the knife is set.",
		"A board that tapers says that fence and blade are not parallel.",
	},
	7: {
		"The knife is set to the edge that the reference blade cut.",
		"So it stands flush with the datum face, and every blade's stock glides past it.",
		"Feel the four gaps with a feeler; here the simulated saw tells them.",
	},
	8: {
		"The fence scale is compared with what the caliper reads, each width on a strip of its own.",
		"A constant error is cured by the cursor; a slope is not, and the program says which it is.",
		"The last strip is ripped at the working width; the fence then stays locked to the end.",
	},
	9: {
		"The reference blade rips three strips. The strips of all other blades are compared with them.",
		"Three readings or more of each, at marked places: their scatter tells how well you know the width.",
		"How far the strips differ tells how well a rip repeats in this shop.",
	},
	10: {
		"Each blade goes on with its predicted rings and rips two new strips under the same lock.",
		"The step from the reference strips is its offset; it is judged against the tolerance.",
		"OUT means look for dirt or take other rings; DOUBTFUL means another strip; IN is written on the box.",
	},
	11: {
		"This is the state of the whole rack: what is ready, with which rings and which knife.",
		"Whatever is not ready says why.",
		"From here the cards for the wall and a copy for the other shift are written, by typing their name.",
	},
}
