package stages

import (
	"fmt"
	"strings"

	"example.com/sawdatum/model"
	"example.com/sawdatum/model/interlock"
	"example.com/sawdatum/wizard/procedure"
	"example.com/sawdatum/wizard/stages/form"
)

// sawWork is other work at the saw itself: what somebody says of it, and the knife check.
func sawWork() []row {
	return []row{fenceMovedRow, otherOnRow, emptyRow, knifeCheckRow, knifeAnewRow, cleanedRow}
}

var fenceMovedRow = row{
	Name: "fence-moved", Stage: 9, Title: form.Said("The fence may have moved"), Also: "bumped unlocked",
	When: func(c context) bool { return c.Who != "" && c.State.Lock != "" },
	Act: procedure.Paper{
		Says: form.Lines("Moved, unlocked or bumped: its lock is void. Type moved.", "Tilt or fence screws opened: type opened; heel and toe come again.", "Neither: esc leads back."),
		Accept: func(t *taking) {
			moveFence(t)
			if seen := t.State.HeelToe; t.Choice("moved") == "opened" && seen != nil {
				t.Record(record{Kind: model.Void, Of: seen.Ref(), Why: model.Again})
				t.Keep(squared, "")
				t.Keep(driven, "")
			}
		},
	},
	Why:    form.Lines("No reading is lost; new reference strips are ripped."),
	Fields: form.Fields(form.Choice("moved", "The fence was moved, or tilt or fence opened", "", "moved", "opened")),
}

var otherOnRow = row{
	Name: "other-on", Stage: 5, Title: form.Said("Another is on the arbor, or backwards, or the knife moved"),
	When: func(c context) bool { return c.Who != "" },
	Act: procedure.Paper{
		Says: func(c context) []string {
			by := "By the records nothing is on it."
			if on := c.State.On; on.Blade != "" {
				by = fmt.Sprintf("By the records: the %s, %s.", c.Name(on.Blade), c.Rings(on.Rings))
			}
			return []string{by, "Another, backwards, not known: type other; it is looked at, isolated.", "The knife alone was moved: type knife; it is checked before a rip."}
		},
		Accept: func(t *taking) {
			if knife := t.State.On.Knife; t.Choice("other") == "knife" && knife != "" {
				t.Record(record{Kind: model.KnifeMoved, Knife: knife})
			}
			t.Does(interlock.OtherOn())
			t.Keep(knifeTyped, "")
		},
	},
	Why:    form.Lines("Between two shifts blades are swapped from the cards, and no record tells of it."),
	Fields: form.Fields(form.Choice("other", "What is on is not right, or not known; or the knife was moved", "", "other", "knife")),
}

// emptyRow takes everything off, at any time.
var emptyRow = row{
	Name: "empty", Stage: 11, Title: form.Said("Empty the saw"),
	When: func(c context) bool { return c.Who != "" }, Act: clearRow.Act, Why: clearRow.Why, Help: clearRow.Help, Fields: clearRow.Fields,
}

// knifeCheckRow finds by a straightedge on the tips of a blade that is in where the knife
// stands to the datum. It needs no strip, and is no new datum.
var knifeCheckRow = row{
	Name: "knife-check", Stage: 7, Title: form.Said("Check the knife with the blade on"),
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
				"Straightedge on the fence-side tips, front and rear.",
				fmt.Sprintf("Knife's face 0 to %s behind it, low and high.", c.Pick("0.1 mm", "0.003 in")),
				"In front of it: type a minus before the figure.",
			}
		},
		Accept: checkKnife,
	},
	Why: form.Lines("What moved a knife takes ready from its blades.", form.SharpStill),
	Fields: func(c context) []field {
		return append([]field{
			form.Ruled(form.Lengths(c, "faces", "Behind the straightedge, low and high", "such as "+c.Pick("0.05 0.05", "0.002 0.002"), nil, 2, 2, -5*mm, 5*mm),
				func(ls []model.Length) []reason { return model.KnifeFaces(ls, c.Show) }),
		}, gapField(c))
	},
	Simulated: map[string]procedure.Simulated{
		"tip_gap": lineRow.Simulated["tip_gap"],
		"faces":   func(c context, _ procedure.Saw, _ answers) string { return c.Pick("0.05 0.05", "0.002 0.002") },
	},
	Follows: form.TipGapFollows,
	Picture: func(c context, a answers) procedure.Picture {
		p := knifeBehind(c, a)
		p.Held = true
		return p
	},
}

func checkKnife(t *taking, h interlock.Hands) {
	faces := t.Lengths("faces")
	on, _ := t.Lock.On()
	gap := t.Lengths("tip_gap")[0]
	t.Keep(knifeTyped, on.Knife)
	form.Asked(t, "tip_gap", form.TipGapWords(t.Context, gap.Length))
	t.Record(record{Kind: model.Line, Blade: on.Blade, Rings: strings.Fields(on.Rings), Knife: on.Knife, TipGap: gap, Faces: faces})
	t.Does(interlock.GapTyped(h))
	t.Does(interlock.SeenInLine(h))
	t.After(func(c context) (out []reason) { // each blade is reckoned anew from there
		for _, row := range c.Plan.Blades {
			if b, _ := c.Profile.BladeByID(row.ID); b.Knife == on.Knife && astray(c, row.ID) {
				out = append(out, reason{Code: "falls-outside", Weight: model.Danger, Text: fmt.Sprintf("the knife stands outside the kerf of the %s: it must not run so", c.Name(row.ID))})
			}
		}
		return out
	})
}

// cleanedRow cleans arbor and flange again.
var cleanedRow = row{
	Name: "cleaned", Stage: 3, Title: form.Said("Arbor and flange were cleaned or worked on"),
	When: func(c context) bool { return c.Who != "" && c.State.Cleaned != nil },
	Act: procedure.Paper{
		Says:   form.Lines("Stoned, cleaned or changed: every blade goes to check, and pairs make them ready again.", "Type worked."),
		Accept: func(t *taking) { t.Record(record{Kind: model.Arbor}); t.Does(interlock.OtherOn()) },
	},
	Why:    form.Lines("Dust of {0.02 mm|0.001 in} under a ring is a cut {0.02 mm|0.001 in} off."),
	Fields: form.Fields(form.Word("worked", "The flange was worked on", "worked")),
}
