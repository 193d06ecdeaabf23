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
				fmt.Sprintf("On the arbor: the %s, %s. Each item is looked at, then typed.", c.Name(on.Blade), c.Rings(strings.Fields(on.Rings))),
				"Throat plate in and closed; then turn the blade once round by hand: it touches neither plate nor knife, and the knife stays between the two sides of the teeth.",
				"Count the wrenches. Fence locked, nobody in line with the blade, people told, eyes and ears covered.",
				"Main switch off. Only then plug in, or take off the lock: who took it off the power does it.",
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
			word("tight", "Nut tight, loose flange right way round, marks meet, wrench and pin off", "tight"),
			word("free", "Throat plate closed; a full turn by hand touches nothing", "free"),
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
		Says: lined[interlock.Turning]("Stand aside, out of the line of the blade. No stock near it.", "Start. Listen: no rub, no rattle, no shake. Stop, and wait for standstill.",
			"It was quiet: type quiet. It was not: do not start it again. Say so under other work; isolate, and look."),
		Accept: func(t *taking, p interlock.Turning) { t.Does(interlock.Started(p)) },
	},
	Why:    lines("A loose nut or a ring that tilts is heard here, and not in the cut."),
	Fields: fields(word("quiet", "It ran and stopped", "quiet")),
}

// lined are orders that read neither the moment nor the pass.
func lined[P any](texts ...string) func(context, P) []string {
	return func(context, P) []string { return texts }
}
