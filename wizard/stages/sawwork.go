package stages

import (
	"fmt"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/solver"
	"example.com/sawdatum/wizard/procedure"
)

// sawWork is other work at the saw itself: what somebody says of it, and the knife check.
func sawWork() []row { return []row{fenceMovedRow, otherOnRow, emptyRow, knifeCheckRow, cleanedRow} }

var fenceMovedRow = row{
	Name: "fence-moved", Stage: 9, Title: said("The fence may have moved"),
	When: func(c context) bool { return c.Who != "" && c.State.Lock != "" },
	Act: procedure.Paper{
		Says:   lines("If the fence was moved, unlocked or bumped, or the tilt was opened, its lock is void.", "Type moved. It was not: esc leads back."),
		Accept: moveFence,
	},
	Why:    lines("No reading is lost: they stay as history, and new reference strips are ripped."),
	Fields: fields(word("moved", "The fence may have moved", "moved")),
}

var otherOnRow = row{
	Name: "other-on", Stage: 5, Title: said("Something else is on the arbor"),
	When: func(c context) bool { return c.Who != "" },
	Act: procedure.Paper{
		Says: func(c context) []string {
			by := "By the records nothing is on it."
			if on := c.State.On; on.Blade != "" {
				by = fmt.Sprintf("By the records: the %s, %s.", c.Name(on.Blade), c.Rings(on.Rings))
			}
			return []string{by, "It is another, the knife stands otherwise, or nobody knows: type other. Somebody then looks, with the saw isolated."}
		},
		Accept: func(t *taking) { t.Does(interlock.OtherOn()); t.Keep(knifeTyped, "") },
	},
	Why:    lines("Between two shifts blades are swapped from the cards, and no record tells of it."),
	Fields: fields(word("other", "It is another, or nobody knows", "other")),
}

// emptyRow takes everything off, at any time.
var emptyRow = row{
	Name: "empty", Stage: 11, Title: said("Empty the saw"),
	When: func(c context) bool { return c.Who != "" }, Act: clearRow.Act, Why: clearRow.Why, Help: clearRow.Help, Fields: clearRow.Fields,
}

// knifeCheckRow finds by a straightedge on the tips of a blade that is in where the knife
// stands to the datum. It needs no strip, and is no new datum.
var knifeCheckRow = row{
	Name: "knife-check", Stage: 7, Title: said("Check the knife with the blade on"),
	When: func(c context) bool { return c.Who != "" && c.Profile.Reference != "" },
	Needs: func(c context) interlock.Need {
		for _, b := range c.Plan.Blades {
			if b.Ready() && b.ID == c.State.On.Blade {
				return interlock.Need{On: dressed(c, b.ID, b.Stack)}
			}
		}
		return referenceOn(c)
	},
	Act: procedure.HandsIn{
		Says: func(c context, _ interlock.Hands) []string {
			return []string{
				"Lay a straightedge on the fence-side tips of the blade, at the front and at the rear.",
				"The knife's fence-side face stands 0 to 0.1 mm behind it. Feel the gap low and high.",
				"It stands in front of the straightedge: type how far with a minus before it.",
			}
		},
		Accept: checkKnife,
	},
	Why: lines("Whatever moved the knife takes ready from every blade that names it, until it is seen again.", sharpStill),
	Fields: func(c context) []field {
		return []field{
			lengths(c, "faces", "Knife behind the straightedge, low and high", "such as "+c.Pick("0.05 0.05", "0.002 0.002"), nil, 2, 2, -mm, mm),
			measuring(length(c, "tip_gap", "Knife to the tooth tips", c.Pick("5", "0.2"), model.Measure{}, 0, 60*mm)),
		}
	},
	Simulated: map[string]procedure.Simulated{
		"tip_gap": tipGap,
		"faces":   func(c context, _ procedure.Saw, _ answers) string { return c.Pick("0.05 0.05", "0.002 0.002") },
	},
	Follows: func(c context, a answers) []reason {
		gap, ok := parse(c, a["tip_gap"])
		if !ok {
			return nil
		}
		return solver.CheckTipGap(gap, c.Profile.Gap, solver.WordsOf(c.Profile))
	},
}

func checkKnife(t *taking, h interlock.Hands) {
	faces := t.Lengths("faces")
	for i, f := range faces {
		if f.Length > model.MostFeelerGap || f.Length < -model.MostFeelerGap {
			t.Fault("faces", "%s %s: more than %s off; set it by the saw's manual, then feel again", [...]string{"low", "high"}[i], t.Show(f.Length), t.Show(model.MostFeelerGap))
			return
		}
	}
	on, _ := t.Lock.On()
	need := t.State.On
	gap := t.Length("tip_gap")
	for _, r := range solver.CheckTipGap(gap.Length, t.Profile.Gap, solver.WordsOf(t.Profile)) {
		if r.Weight == model.Danger {
			t.Fault("tip_gap", "%s", r.Text)
			return
		}
		t.Question("tip_gap", "%s", r.Text)
	}
	t.Record(record{Kind: model.Line, Blade: on.Blade, Rings: need.Rings, Knife: on.Knife, TipGap: gap, Faces: faces})
	t.Does(interlock.GapTyped(h))
	t.Does(interlock.SeenInLine(h))
}

// cleanedRow cleans arbor and flange again.
var cleanedRow = row{
	Name: "cleaned", Stage: 3, Title: said("Arbor and flange were cleaned or worked on"),
	When: func(c context) bool { return c.Who != "" && c.State.Cleaned != nil },
	Act: procedure.Paper{
		Says:   lines("Stoned, cleaned or changed: every blade goes to check, and pairs make them ready again.", "Type worked."),
		Accept: func(t *taking) { t.Record(record{Kind: model.Arbor}); t.Does(interlock.OtherOn()) },
	},
	Why:    lines("Dust of 0.02 mm under a ring is a cut 0.02 mm off."),
	Fields: fields(word("worked", "The flange was worked on", "worked")),
}
