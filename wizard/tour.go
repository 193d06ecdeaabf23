package wizard

// tour explains each step of the procedure to somebody who practises, in three
// lines, the first time that the step comes up.
var tour = map[int][3]string{
	1: {
		"First the saw is described once: flange, arbor, thread, knives, instruments.",
		"Nothing is taken apart for it; most of it stands in the saw's manual.",
		"You can leave at any time with ctrl+c, or /quit in the plain face.",
	},
	2: {
		"Now the rack: plate and kerf of every blade, and the shim rings you own.",
		"From these alone the program works out which blade is the reference and which rings each blade needs.",
		"It also finds the blades that their knife does not fit, before anything is cut.",
	},
	3: {
		"Hands go near the blade only while the saw is cut off from power and proved dead.",
		"Each of these gates wants typed words, so that habit cannot click through them.",
		"In practice an empty answer takes the simulated run-down; the words you type yourself, as at a real saw.",
	},
	4: {
		"A clean flange comes first: dust under a ring moves the cut as much as a ring does.",
		"The thread past the nut limits how high a stack of rings may be.",
		"Leave a measuring field empty and press enter: the simulated saw reads it for you.",
	},
	5: {
		"The reference blade goes on. Its cut face is the line that all others are brought to.",
		"Counting teeth sounds simple; it is how a wrong blade is found before it cuts.",
		"The rim and heel-and-toe readings show whether blade and fence run true.",
	},
	6: {
		"The reference blade rips a long board. Its cut edge shows where the datum face lies.",
		"The fence stays locked from here until the knife is set.",
		"One short piece for every other blade is ripped later from the same stock.",
	},
	7: {
		"The knife is squared to the board that the reference blade cut.",
		"So it stands flush with the datum face, and every blade's stock glides past it.",
		"Read the four gaps with a feeler; here the simulated saw reads them.",
	},
	8: {
		"The fence scale is compared with what the caliper reads.",
		"A constant error is cured by the cursor; a slope is not, and the program says which it is.",
		"The last rip sets the working width; the fence then stays locked to the end.",
	},
	9: {
		"Each comparison piece is ripped along half its length by the reference blade.",
		"Three readings or more: their scatter tells how well you know the width.",
		"Hold each board to the fence until the blade stands still.",
	},
	10: {
		"Each blade goes on with its predicted rings and rips the other half of its piece.",
		"The step between the halves is the offset; it is judged against the tolerance.",
		"OUT means other rings and another rip; DOUBTFUL means more readings; IN is written on the blade.",
	},
	11: {
		"This is the state of the whole rack: what is ready, with which rings and which knife.",
		"Whatever is not ready says why.",
		"From here the cards for the wall and a copy for the other shift are written, by typing their name.",
	},
}
