package stages

import (
	"fmt"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
)

// powerRow is the checklist before power comes back, answered with the saw isolated.
var powerRow = row{
	Name: "power", Stage: 5, Gate: true, Title: said("Power-up checklist"),
	Act: procedure.HandsIn{
		Says: func(c context, _ interlock.Hands) []string {
			on, _ := c.Lock.On()
			return []string{
				fmt.Sprintf("On: %s, %s. See each item, type it.", c.Name(on.Blade), c.Rings(strings.Fields(on.Rings))),
				"Free: blade touches neither plate nor knife; the knife stands between the two sides of the teeth.",
				"Clear: nobody in line with the blade, people told; eyes, ears covered.",
			}
		},
		Accept: func(t *taking, h interlock.Hands) {
			t.Does(interlock.PoweredUp(h, interlock.Checklist{Tight: true, Free: true, Guard: true, Clear: true, Off: true}))
			t.Say("live", model.Warns, "The saw is live. Hands stay away from the blade until it is isolated again.")
		},
	},
	Why:  lines("What is loose flies, and who does not know reaches in."),
	Help: []string{"Loose items out, parts whole, people clear and told, the lock taken off by its owner: then power. No gloves while it turns, stand out of the line of the blade.", "The saw's manual, the law and your safety officer come first."},
	Fields: func(c context) []field {
		return []field{
			word("tight", "Nut tight, flange and marks right, wrench and pin off", "tight"),
			word("free", "Throat plate closed; a full turn touches nothing", "free"),
			word("guard", "Guard on", "guard"),
			word("clear", "Table clear, wrenches counted, people told", "clear"),
			word("off", "Main switch off, then plug or lock", "off"),
			word("word", "The word", gateWord(c)),
		}
	},
}

// firstRow is the first start without stock.
var firstRow = row{
	Name: "first", Stage: 5, Gate: true, Title: said("First start, without stock"),
	Act: procedure.Spins{
		Says: lined[interlock.Turning]("Stand aside, out of the line of the blade. No stock near it.", "Start. Listen: no rub, no rattle, no shake. Stop, wait for standstill.",
			"Quiet: type quiet. Not quiet: do not start it again; say so under other work; isolate, and look."),
		Accept: func(t *taking, p interlock.Turning) { t.Does(interlock.Started(p)) },
	},
	Why:    lines("A loose nut or a ring that tilts is heard here, and not in the cut."),
	Fields: fields(word("quiet", "It ran and stopped", "quiet")),
}
