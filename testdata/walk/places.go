package walk

import (
	"fmt"
	"strings"
)

// titles are the places of the stories by their titles on the screen. Those of one
// blade name it.
var titles = map[string]string{
	"who": "Who is at the saw?", "reason": "Why is the %s run again?", "sharpened": "Back from sharpening: the %s",
	"stop": "Stop the saw", "slow": "The run-down is too long", "isolate": "Isolate the saw", "power": "Power-up checklist",
	"unfit": "The knife does not fit the %s", "arbor": "Clean the arbor", "mount": "Mount the %s", "rim": "Runout at the rim", "align": "Heel and toe",
	"boards": "Rip the gauge board", "knife": "Square the knife to the gauge board", "scale": "Verify the fence scale",
	"lock": "Set the fence and lock it", "fence": "Was the fence left alone?", "reference": "Reference half: piece for the %s",
	"cut": "Comparison rip: %s", "reread": "Read it once more: %s", "more": "Doubtful: read the %s again", "written": "Write it down: %s", "leave": "Not brought in: %s",
	"source": "Where is it measured?", "out": "Out: the %s", "clean": "Clean what holds the %s",
	"close": "Where every blade stands", "rings": "Shim rings", "datum": "Reference blade and standing stack", "change-knife": "Set another knife", "blade-knife": "A blade runs with another knife",
	"fence-moved": "The fence may have moved", "other-blade": "Another blade or stack is on the arbor", "sharpened?": "A blade is back from sharpening", "void": "Void a record", "blade": "One more blade on the bench", "retire": "Take a blade off the rack", "returned": "Back on the rack: the %s", "returned?": "A blade is back on the rack",
}

// otherWork is work by its name in the list, where that is not the title of its place.
var otherWork = map[string]string{"rings": "A ring was bought, lost or measured", "datum": "Another reference or standing stack", "void": "A record is wrong: void it", "blade": "Add a blade to the rack"}

// titleOf is the title of a place as a story writes it: "mount rip".
func titleOf(place string, labels map[string]string) (string, error) {
	step, blade, of := strings.Cut(place, " ")
	if !of && (step == "sharpened" || step == "returned") {
		step += "?"
	}
	of = of && step != "source" // its title names no blade
	title, known := titles[step]
	if !known || of != strings.Contains(title, "%s") || of && labels[blade] == "" {
		return "", fmt.Errorf("%q is no place of the stories", place)
	}
	if of {
		title = fmt.Sprintf(title, labels[blade])
	}
	return title, nil
}
