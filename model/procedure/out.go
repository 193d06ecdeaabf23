package procedure

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
)

// outSteps are what follows where a rip was out: it is read again, or cleaned and cut again
// with the same rings, or other rings go on.
var outSteps = map[string]step{
	"out": {
		number: 10, picture: PiecePicture, title: func(c context) string { return "Out: the " + c.name(c.blade) },
		do: func(c context) []string {
			row, _ := c.plan.Blade(c.blade)
			last, _ := c.state.Blades[c.blade].Last()
			lines := []string{
				fmt.Sprintf("With %s it cuts %s, plus or minus %s: not within %s.", c.rings(last.Rings), c.side(row.Offset), c.result(row.Expanded), c.set(c.profile.Tolerance)),
				"Look for " + model.LikelyCauses(c.profile.Saw.Flange, row.Offset) + ".",
				"read: nothing is ripped, the half that lies there is read once more.",
			}
			for _, way := range c.outWays() {
				switch way {
				case "same":
					lines = append(lines, "same: isolate, clean flange, rings and blade, put the same rings on and cut again.")
				case "rings":
					lines = append(lines, fmt.Sprintf("rings: %s instead, then cut again.", c.rings(row.Stack)))
				case "leave":
					lines = append(lines, "leave: no other stack of the kit is offered.")
				}
			}
			return lines
		},
		why: words("Other rings cure no dirt: they carry its error into every cut that follows."),
		fields: func(c context) []Field {
			return []Field{{Key: "way", Label: "Way on", Hint: model.Either(c.outWays()), Kind: FieldChoice, Options: c.outWays()}}
		},
		accept: func(t *taking) {
			last, _ := t.state.Blades[t.blade].Last()
			switch ref := last.Record.Ref(); t.choice("way") {
			case "read":
				t.run.again = Place{"reread", t.blade}
			case "same":
				t.run.clean = ref
			default:
				t.run.out = ref
			}
		},
	},
	"clean": {
		number: 10, picture: ArborSection, needs: isolated, title: func(c context) string { return "Clean what holds the " + c.name(c.blade) },
		do: func(c context) []string {
			return []string{
				fmt.Sprintf("Take off the %s and its rings. Look at flange, rings, bore and plate for dust, burrs and resin.", c.name(c.blade)),
				"Wipe all of it, stone burrs off. The rings go on again at the next place.",
				"Type what was found; nothing: that stack is out, and other rings go on.",
			}
		},
		why: words(sharpStill, "Only what was found takes the cut back: a second try without a reason proves nothing."),
		fields: func(context) []Field {
			return []Field{{Key: "found", Label: "Found", Hint: "such as: sawdust under the ring; or nothing", Kind: FieldText}}
		},
		accept: func(t *taking) {
			last, _ := t.state.Blades[t.blade].Last()
			mounted, found := t.state.Mounted, t.text("found")
			if t.run.clean = ""; strings.EqualFold(found, "nothing") {
				t.run.out = last.Record.Ref()
			} else {
				t.record(model.Record{Kind: model.Void, Of: last.Record.Ref(), Why: clipped("found and cleaned: " + found)})
			}
			if mounted != nil {
				t.record(model.Record{Kind: model.Void, Of: mounted.Ref(), Why: "taken off to be cleaned"})
			}
		},
	},
}

// clipped is a text no longer than a record takes.
func clipped(s string) string {
	r := []rune(s)
	return string(r[:min(len(r), model.MaxText)])
}

// outWays are the ways on from a rip that is out. One that left the knife outside its kerf
// is not cut again with the same rings.
func (c context) outWays() []string {
	row, _ := c.plan.Blade(c.blade)
	last, _ := c.state.Blades[c.blade].Last()
	var ways []string
	if c.rereads(c.blade) {
		ways = append(ways, "read")
	}
	if row.WasOut == 0 {
		ways = append(ways, "same")
	}
	if row.Outside == 0 && !slices.Equal(row.Stack, last.Rings) {
		return append(ways, "rings")
	}
	return append(ways, "leave")
}
