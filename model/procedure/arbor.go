package procedure

import (
	"fmt"
	"slices"
	"strings"

	"example.com/sawdatum/model"
)

const sharpStill = "The blade is sharp when it is still: gloves or a rag to hold it."

var arborSteps = map[string]step{
	"arbor": {
		number: 4, title: titled("Clean the arbor"), needs: isolated, picture: DialPicture,
		do: func(c context) []string {
			return []string{
				"Take the blade off. Wipe flange and arbor; feel for burrs and stone them off.",
				"Mark the arbor where you can see it: every blade's mark will stand there.",
				fmt.Sprintf("Put the %s on without rings, nut by hand: measure the thread that shows past the nut. Take it off again.", c.name(c.profile.Reference)),
			}
		},
		why: func(c context) []string {
			return []string{"Dust of {0.02 mm|0.001 in} under a ring is a cut {0.02 mm|0.001 in} off."}
		},
		help: []string{sharpStill, "Dial readings round the flange are worth having: equally spaced, starting at the arbor's mark, as many as you like from four up. A flange runout of at most {0.08 mm|0.003 in} is common practice."},
		fields: func(c context) []Field {
			dial := Field{Key: "dial", Label: "Dial round the flange (may stay empty)", Hint: "four or more, equally spaced", Kind: FieldLengths, Unit: c.unit(), AtLeast: 4, AtMost: 72, Min: -5 * mm, Max: 5 * mm, Optional: true, Measuring: true}
			thread := c.lengthField("spare_thread", "Thread past the nut", c.example("9", "3/8 in"), model.Measure{}, mm/2, 60*mm)
			thread.Measuring = true
			if r := c.state.Cleaned; r != nil && c.run.again.Step == "arbor" {
				thread.Value, dial.Value = typed(r.SpareThread), typedAll(r.Dial)
			}
			return []Field{wordField("clean", "Flange clean and free of burrs, arbor marked", "clean"), thread, dial}
		},
		accept: func(t *taking) {
			thread, pitch := t.length("spare_thread"), t.profile.Saw.ThreadPitch
			if !holds("arbor-spare_thread", thread.Length >= pitch.Length) {
				t.fault("spare_thread", "%s is less than one pitch of %s: the nut would not hold; measure again", thread, pitch)
				return
			}
			t.record(model.Record{Kind: model.Arbor, SpareThread: thread, Dial: t.lengths("dial")})
			if thread.Length != t.profile.Saw.SpareThread.Length {
				t.say("thread-differs", model.Warns, "The thread is %s here and %s in the profile: the profile now says %s.", thread, t.profile.Saw.SpareThread, thread)
				t.head(func(p *model.Profile) { p.Saw.SpareThread = thread })
			}
		},
	},
	"mount": {
		number: 5, needs: isolated, picture: ArborSection,
		title: func(c context) string { return "Mount the " + c.name(c.blade) },
		do: func(c context) []string {
			off := "Wipe the flange."
			if m := c.state.Mounted; m != nil {
				off = fmt.Sprintf("Take off the %s%s. Wipe the flange.", c.name(m.Blade), with(c.rings(m.Rings), len(m.Rings)))
			}
			rings := c.ringsFor(c.blade)
			on := "No rings go behind this blade."
			if len(rings) > 0 {
				on = fmt.Sprintf("Rings on, flange first: %s.", c.rings(rings))
			}
			lines := []string{off, on, fmt.Sprintf("Put on the %s, its mark beside the arbor's; no mark yet: make one. Tighten the nut.", c.name(c.blade)), "Then count its teeth, and type the rings that are really on."}
			if k, ok := c.profile.KnifeByID(c.knifeBehind(c.blade)); ok {
				lines[0] = fmt.Sprintf("%s Take the knife off too: this blade must not run with it. Fit the one of %s, straight behind the plate.", off, k.Thickness)
			}
			return lines
		},
		why:  words(sharpStill, "Thinnest ring against the flange, thickest next to the blade."),
		help: []string{"The teeth are counted so that a wrong blade is found here and not in the cut.", "At least one pitch of thread must show past the nut."},
		fields: func(c context) []Field {
			rings := c.ringsFor(c.blade)
			fields := append(c.whose(c.blade, "Teeth of this blade"),
				Field{Key: "rings", Label: "Rings that are on, flange first", Hint: "thicknesses, or none", Kind: FieldRings, check: func(text string) error {
					on, err := c.profile.ParseStack(text)
					if err == nil && strings.Join(on, " ") != strings.Join(rings, " ") {
						return fmt.Errorf("%s is not what goes on: put on %s", c.rings(on), c.rings(rings))
					}
					return err
				}})
			if k, ok := c.profile.KnifeByID(c.knifeBehind(c.blade)); ok {
				fields = append(fields, c.knifeField(k))
			}
			return fields
		},
		accept: func(t *taking) {
			knife := t.knifeBehind(t.blade)
			if set := t.state.Knife; knife != "" && t.run.knife == "" && set != nil && t.state.Aligned {
				t.run.knife = set.Knife // what it was set for is not done
			}
			t.record(model.Record{Kind: model.Mount, Blade: t.blade, Rings: t.ringList("rings"), Knife: knife})
			t.run.seen = true
		},
	},
	"rim": {
		number: 5, picture: DialPicture, needs: referenceOn, once: true,
		title: titled("Runout at the rim"),
		do: words("Set a dial to the plate just inside the teeth. Turn the blade by hand and read at equally spaced places, from the arbor's mark on.",
			"For the best clocking loosen the nut, turn the blade on the arbor by a known angle, tighten, and read once more. Then put its mark back at the arbor's, nut tight.",
			"No dial at hand: leave all three empty."),
		why:  words("Flange and blade both wobble; turned right against each other they cancel in part."),
		help: []string{sharpStill, "Flange readings grow toward the rim by the ratio of radii: a {254 mm|10 in} blade on a {63.5 mm|2 1/2 in} flange shows four times the flange's wobble."},
		fields: func(c context) []Field {
			dial := func(key, label string) Field {
				return Field{Key: key, Label: label, Hint: "four or more, or empty", Kind: FieldLengths, Unit: c.unit(), AtLeast: 4, AtMost: 72, Min: -5 * mm, Max: 5 * mm, Optional: true, Measuring: true}
			}
			return []Field{
				dial("dial", "Dial round the rim"),
				{Key: "turned", Label: "Blade then turned by, degrees", Hint: "empty, or such as 180", Kind: FieldDegrees, Optional: true},
				dial("dial_turned", "Dial once more, turned"),
			}
		},
		accept: func(t *taking) {
			t.run.rim = true
			first, second := t.lengths("dial"), t.lengths("dial_turned")
			if (t.text("turned") == "") != (len(second) == 0) {
				t.fault("dial_turned", "the angle and the second set of readings belong together: type both or neither")
			}
			if len(second) > 0 && len(first) != len(second) {
				t.fault("dial_turned", "%d readings, and %d before: read at the same number of places", len(second), len(first))
			}
			if len(first) == 0 || len(t.faults) > 0 {
				return
			}
			r := model.Record{Kind: model.Mount, Blade: t.profile.Reference, Rings: t.profile.Standing, Dial: first, DialTurned: second}
			if len(second) > 0 {
				r.TurnedDeg, _ = parseDegrees(t.text("turned"))
			}
			t.record(r)
		},
	},
	"align": {
		number: 5, picture: AlignPicture, needs: referenceOn,
		title: titled("Heel and toe"),
		do: words("Hold a straightedge along the plate: the knife should be parallel to it. It is set later.",
			"Mark one tooth. Measure from it to the mitre slot and to the fence with the tooth at the front.",
			"Turn the blade by hand until the same tooth is at the rear. Measure both again, and how far it travelled."),
		why:  words("A fence that closes toward the rear pushes the stock onto the rising teeth: kickback."),
		help: []string{sharpStill, "Within {0.08 to 0.13 mm|0.003 to 0.005 in} from heel to toe is common practice. Correct the trunnion or the fence by the saw's manual, then measure again.", "Turn the blade by hand only: the saw stays isolated."},
		fields: func(c context) []Field {
			r := model.Record{}
			if c.state.Seated != nil && c.run.again.Step == "align" {
				r = *c.state.Seated
			}
			field := func(key, label, example, inches string, value model.Measure, lo, hi model.Length) Field {
				f := c.lengthField(key, label, c.example(example, inches), value, lo, hi)
				f.Measuring = true
				return f
			}
			return []Field{
				field("slot_front", "Tooth at the front to the slot", "95.00", "3.740", r.SlotFront, mm, 1000*mm),
				field("slot_rear", "Same tooth at the rear to the slot", "95.03", "3.741", r.SlotRear, mm, 1000*mm),
				field("fence_front", "Tooth at the front to the fence", c.like(0), c.like(0), r.FenceFront, mm, 2000*mm),
				field("fence_rear", "Same tooth at the rear to the fence", c.like(4), c.like(1), r.FenceRear, mm, 2000*mm),
				field("span", "Front to rear, the tooth's way", "200", "8", r.Span, 20*mm, 700*mm).ruled(func(l model.Length) []model.Reason { return model.ToothWay(l, c.show) }),
			}
		},
		accept: func(t *taking) {
			r := model.Record{Kind: model.Mount, Blade: t.profile.Reference, Rings: t.profile.Standing,
				SlotFront: t.length("slot_front"), SlotRear: t.length("slot_rear"), FenceFront: t.length("fence_front"), FenceRear: t.length("fence_rear"), Span: t.length("span")}
			if s := t.state.Seated; s != nil {
				r.Dial, r.DialTurned, r.TurnedDeg = s.Dial, s.DialTurned, s.TurnedDeg
			}
			show, over, doubt := t.context().show, r.Span.Length, t.profile.Instruments.Caliper.Length
			t.limit("slot_rear", model.BladeLies(r.SlotRear.Length-r.SlotFront.Length, over, doubt, show))
			lies := model.FenceLies(r.FenceRear.Length-r.FenceFront.Length, over, doubt, show)
			if t.limit("fence_rear", lies); len(lies) > 0 && lies[0].Weight == model.Danger {
				t.fault("fence_front", "measured at the fence as it was: measure again once it is turned")
			}
			t.record(r)
		},
	},
	"knife": {
		number: 7, picture: ArborSection,
		title: func(c context) string { return "Square the knife to the gauge board" },
		needs: func(c context) needs { return needs{power: Isolated, fence: true, board: true} },
		do: func(c context) []string {
			k, off := c.knifeWanted(), "Take the blade off. The fence stays locked as it is."
			if on := c.knifeFitted(); on.ID != k.ID {
				off = fmt.Sprintf("Take the blade off, and the knife of %s. Fit the one of %s. The fence stays locked as it is.", c.set(on.Thickness), c.set(k.Thickness))
			}
			return []string{
				off,
				fmt.Sprintf("Hold the gauge board to the fence. Press the knife of %s flat to the board's cut edge and tighten it.", c.set(k.Thickness)),
				"Feel the gap between knife and board at four points: front low, front high, rear low, rear high.",
				fmt.Sprintf("Put the %s back at its mark with %s, nut tight. Measure from the knife to the tooth tips.", c.name(c.profile.Reference), c.rings(c.profile.Standing)),
			}
		},
		why:  words("The knife's fence-side face must lie at the datum face, so that every blade's stock glides past it.", sharpStill),
		help: []string{"The gap to the tooth tips is {3 to 8 mm|1/8 to 5/16 in} and the knife's tip at least {2 mm|3/32 in} below the top of the blade (EN 1870-1, 6.3); in the United States at most {13 mm|1/2 in}.", "Too thick a knife wedges in the kerf; too thin a one lets the kerf close on the plate."},
		fields: func(c context) []Field {
			least, most := model.TipGapRange(c.profile.Gap)
			gap := c.lengthField("tip_gap", "Knife to the tooth tips", c.example("5", "0.2"), model.Measure{}, least, most)
			if gap.Measuring = true; least == 0 {
				gap.Hint = "more than 0, at most " + c.show(most) + ", such as " + c.example("5", "0.2")
			}
			gap = gap.ruled(func(l model.Length) []model.Reason { return model.TipGap(l, c.profile.Gap, c.show) })
			gaps := Field{Key: "gaps", Label: "Feeler gaps, four", Hint: "0 where no leaf goes in, such as " + c.example("0 0.05 0 0.05 mm", "0 0.002 0 0.002 in"), Kind: FieldLengths, Unit: c.unit(), AtLeast: 4, AtMost: 4, Max: 5 * mm, Measuring: true}
			gaps.rule = func(text string) []model.Reason {
				felt, err := model.ParseReadings(text, gaps.Unit)
				if err != nil {
					return nil
				}
				return model.FeelerGaps(model.Lengths(felt), c.leastPlay(c.knifeWanted().ID), c.show)
			}
			if r := c.state.Knife; r != nil && c.run.again.Step == "knife" {
				gap.Value, gaps.Value = typed(r.TipGap), typedAll(r.Gaps)
			}
			off := wordField("off", "The blade is off, the board is at the fence", "off")
			return slices.Concat([]Field{off, gaps}, c.whose(c.profile.Reference, "Blade back on, its teeth"), []Field{gap})
		},
		accept: acceptKnife,
	},
}

// with are the rings that come off with a blade, where there are some.
func with(rings string, n int) string {
	if n == 0 {
		return ""
	}
	return " and its rings, " + rings
}

// referenceOn is what the measurements at the standing reference blade need.
func referenceOn(c context) needs {
	return needs{power: Isolated, blade: c.profile.Reference, rings: c.profile.Standing}
}

// leastPlay is the smallest play that a knife has in the kerf of a blade that names it.
func (c context) leastPlay(knife string) model.Length {
	least := model.MostFeelerGap
	for _, row := range c.plan.Blades {
		if b, _ := c.profile.BladeByID(row.ID); b.Knife == knife && row.Knife == model.KnifeFits && row.Play > 0 {
			least = min(least, row.Play)
		}
	}
	return least
}

func acceptKnife(t *taking) {
	gaps, tip := t.lengths("gaps"), t.length("tip_gap")
	reference, standing := t.profile.Reference, t.profile.Standing
	t.record(model.Record{Kind: model.KnifeSet, Knife: t.context().knifeWanted().ID, Lock: t.state.Lock, Blade: reference, Rings: standing, Gaps: gaps, TipGap: tip})
	t.record(model.Record{Kind: model.Mount, Blade: reference, Rings: standing})
	t.run.knife, t.run.seen = "", true
}
