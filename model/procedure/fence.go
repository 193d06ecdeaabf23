package procedure

import (
	"fmt"
	"slices"

	"example.com/sawdatum/model"
)

var ripCautions = []string{
	"Guard and knife on, eyes and ears covered, no gloves while it turns. Stand out of the line of the blade.",
	"Push stick for the last {300 mm|12 in}, and wherever the fence is closer than {150 mm|6 in} to the blade; a push block under {50 mm|2 in}.",
	"No measuring, clearing or reaching while it turns. Stock that binds: stop, isolate, find out why.",
	"Never pull a board back past a running blade: switch off with the board held to the fence, wait for standstill, then withdraw.",
}

// Two of them in one line each, for the screen of the rip itself.
const (
	guardCaution = "Guard and knife on. Eyes, ears covered, no gloves. Out of the blade's line."
	reachCaution = "No measuring, clearing, reaching while it turns. Stock binds: stop, isolate."
)

// referenceTurning is what a rip with the reference blade needs.
func referenceTurning(fence bool) func(context) needs {
	return func(c context) needs {
		return needs{power: Live, blade: c.profile.Reference, rings: c.profile.Standing, fence: fence}
	}
}

var fenceSteps = map[string]step{
	"boards": {
		number: 6, title: titled("Rip the gauge board"), needs: referenceTurning(false),
		do: func(c context) []string {
			wider := c.example("2 mm", "1/16 in")
			lay := fmt.Sprintf("Lay out, not ripped yet: a piece %s wider than the setting for each other blade, and for the scale one such piece and a wide one.", wider)
			if k := c.knifeWanted(); c.state.Scaled != nil && k.ID != c.knifeFitted().ID {
				lay = fmt.Sprintf("This board is for the knife of %s, which comes next. Lay out, not ripped yet: a piece %s wider than the setting for each blade that runs with it.", k.Thickness, wider)
			}
			return []string{
				fmt.Sprintf("Set the fence to %s and lock it. It stays locked until the knife is set.", c.set(c.profile.WorkingWidth)),
				fmt.Sprintf("Rip a gauge board of flat sheet stock at least %s long. Switch off, wait for standstill, measure its width at both ends.", c.gaugeBoard().Tape(c.unit())),
				lay,
			}
		},
		why:  words("The board must bear on the table in front of the throat opening and behind.", guardCaution),
		help: append([]string{"Sheet stock such as MDF neither swells nor bows with the days.", "A piece that is only a little wider than the cut leaves no strip: the blade takes the whole edge off, and the caliper reaches it."}, ripCautions...),
		fields: func(c context) []Field {
			measure := func(key, label string, lo, hi model.Length) Field {
				f := c.lengthField(key, label, c.like(2), model.Measure{}, lo, hi)
				f.Measuring = true
				return f.ruled(func(l model.Length) []model.Reason { return model.BoardWidth(l, c.profile.WorkingWidth.Length, c.show) })
			}
			length := c.lengthField("length", "Length of the gauge board", "900", model.Measure{}, 100*mm, 5000*mm)
			length.Hint = fmt.Sprintf("along the cut, at least %s", c.gaugeBoard().Tape(c.unit()))
			length.Measuring = true
			w := c.profile.WorkingWidth.Length
			return []Field{
				wordField("locked", "The fence is locked", "locked"),
				length,
				measure("lead", "Width at the leading end", w-model.BoardFarOff, w+model.BoardFarOff),
				measure("tail", "Width at the trailing end", w-model.BoardFarOff, w+model.BoardFarOff),
			}
		},
		accept: func(t *taking) {
			if least := t.context().gaugeBoard(); !holds("boards-length", t.length("length").Length >= least) {
				t.fault("length", "%s is too short to bear on both sides of the opening: rip one of at least %s", t.length("length"), least.Tape(t.context().unit()))
				return
			}
			t.limit("tail", model.BoardTaper(t.length("tail").Length-t.length("lead").Length, t.context().show))
			lock := t.lock(t.profile.WorkingWidth)
			t.record(model.Record{Kind: model.Boards, Lock: lock, Blade: t.profile.Reference, Rings: t.profile.Standing, Length: t.length("length"), Lead: t.length("lead"), Tail: t.length("tail")})
		},
	},
	"scale": {
		number: 8, title: titled("Verify the fence scale"), picture: ScalePicture, needs: referenceTurning(false),
		do: func(c context) []string {
			w := c.profile.WorkingWidth
			return []string{
				fmt.Sprintf("Set the fence to two or more widths round %s, the widest first, rip the wide piece at each, switch off, wait for standstill, and read it.", w),
				fmt.Sprintf("Then take the other piece, and nudge the fence until a rip measures %s within %s. Lock it, and set the cursor to %s.", w, c.set(c.profile.Tolerance), w),
				"The fence stays locked from here to the last comparison.",
			}
		},
		why:  words("The cursor cures an offset, but no slope and no fence that does not repeat.", guardCaution),
		help: append([]string{"A pair is typed as setting=reading without spaces: {60=60.12 120=120.11|2=2.005 5=5.004}. With three or more the program also tells whether the scale's slope is real."}, ripCautions...),
		fields: func(c context) []Field {
			w := c.profile.WorkingWidth.Length
			final := c.lengthField("final", "Last rip at "+c.set(c.profile.WorkingWidth)+", reads", c.like(1), model.Measure{}, w/2, 2*w)
			final.Measuring = true
			return []Field{
				{Key: "pairs", Label: "Settings and readings", Hint: "two or more, such as " + c.likePairs(), Kind: FieldPairs, Unit: c.unit(), AtLeast: 2, AtMost: 30, Min: mm, Max: 3000 * mm, Measuring: true},
				final,
				{Key: "cursor", Label: "Cursor moved by (may stay empty)", Hint: "+ toward the higher numbers", Kind: FieldLength, Unit: c.unit(), Optional: true, Min: -50 * mm, Max: 50 * mm},
				wordField("locked", "Fence locked, cursor set", "locked"),
			}
		},
		accept: acceptScale,
	},
	"lock": {
		number: 9, title: titled("Set the fence and lock it"), picture: ScalePicture,
		do: func(c context) []string {
			return []string{
				fmt.Sprintf("Set the fence to the working width, %s, by its scale, and lock it.", c.set(c.profile.WorkingWidth)),
				"It stays locked until the comparison is over. The reference blade cuts first, to find the datum again.",
			}
		},
		why:  words("A reading counts only against reference readings of the same fence lock."),
		help: []string{"The exact setting does not matter: the blades are compared with each other under one lock."},
		fields: func(c context) []Field {
			w := c.profile.WorkingWidth.Length
			return []Field{
				c.lengthField("width", "The scale now reads", c.set(c.profile.WorkingWidth), model.Measure{}, w-2*mm, w+2*mm),
				wordField("locked", "The fence is locked", "locked"),
			}
		},
		accept: func(t *taking) { t.lock(t.length("width")) },
	},
	"fence": {
		number: 9, once: true, title: titled("Was the fence left alone?"),
		do: func(c context) []string {
			return []string{
				fmt.Sprintf("The fence was locked at %s, as lock %s.", c.set(c.state.Width), c.state.Lock),
				"Nobody has moved, unlocked or bumped it since: type untouched.",
				"Moved, or you do not know: type moved. The datum is then found again with the reference blade.",
			}
		},
		why:  words("One bump of {0.1 mm|0.004 in} would go into every comparison that follows. No reading is lost either way."),
		help: []string{"If another shift has worked at the saw, the answer is moved."},
		fields: func(context) []Field {
			return []Field{{Key: "fence", Label: "The fence is", Hint: "untouched or moved", Kind: FieldChoice, Options: []string{"untouched", "moved"}, Whole: true}}
		},
		accept: func(t *taking) {
			if t.choice("fence") == "moved" {
				t.fenceMoved()
				return
			}
			t.run.fence = t.state.Lock
		},
	},
	"reference": {
		number: 9, picture: PiecePicture, needs: referenceTurning(true),
		title: func(c context) string { return "Reference half: piece for the " + c.name(c.blade) },
		do: func(c context) []string {
			return []string{
				fmt.Sprintf("Mark a piece %s wider than the setting for the %s, and its edge at the fence. Rip half its length with the reference blade.", c.example("2 mm", "1/16 in"), c.name(c.blade)),
				"Hold it to the fence, switch off, wait for standstill, then withdraw it.",
				"Read the width of the cut half at three or more places.",
			}
		},
		why:  words("The step between the halves will be the offset of the other blade.", reachCaution),
		help: ripCautions,
		fields: func(c context) []Field {
			return []Field{c.widths("readings", "Widths of the reference half", 3)}
		},
		accept: func(t *taking) {
			readings := t.lengths("readings")
			t.questionSpread("readings", readings)
			t.record(model.Record{Kind: model.ReferenceCut, Lock: t.state.Lock, Blade: t.profile.Reference, Rings: t.profile.Standing, Piece: t.blade, Readings: readings})
		},
	},
}

// widths asks for caliper readings of a ripped width.
func (c context) widths(key, label string, least int) Field {
	w := c.profile.WorkingWidth.Length
	return Field{Key: key, Label: label, Hint: many(least) + ", such as " + c.like(-2, -1, -2) + " " + c.unit().Label(), Kind: FieldLengths, Unit: c.unit(),
		AtLeast: least, AtMost: 50, Min: w / 2, Max: 2 * w, Measuring: true}
}

func many(least int) string {
	if least == 1 {
		return "one or more"
	}
	return "three or more"
}

// lock makes a fence lock on record and knows it untouched.
func (t *taking) lock(width model.Measure) string {
	name := t.lockName()
	t.record(model.Record{Kind: model.FenceLock, Lock: name, Width: width})
	t.run.fence = name
	return name
}

// fenceMoved voids the lock in force. Earlier readings stay as history.
func (t *taking) fenceMoved() {
	if t.state.Lock != "" && !model.Dropped("fence-moved-recorded") {
		t.record(model.Record{Kind: model.FenceMoved, Lock: t.state.Lock})
	}
	t.run.fence = ""
	if model.Dropped("fence-moved-recorded") {
		t.run.fence = t.state.Lock
	}
	t.say("fence-moved", model.Warns, "The fence lock is void. Earlier readings stay as history; the reference blade cuts anew before the next comparison.")
}

// questionSpread asks again where one reading lies far from the others.
func (t *taking) questionSpread(field string, readings []model.Measure) {
	sorted := model.Lengths(readings)
	slices.Sort(sorted)
	middle := sorted[len(sorted)/2]
	for i, r := range readings {
		if d := (r.Length - middle).Abs(); d > mm/2 {
			t.question(field, "reading %d, %s, lies %s from the others", i+1, r, t.context().show(d))
			return
		}
	}
}

func acceptScale(t *taking) {
	pairs, _ := parsePairs(t.text("pairs"), t.field("pairs").Unit)
	if slices.MinFunc(pairs, bySetting).Set.Length == slices.MaxFunc(pairs, bySetting).Set.Length {
		t.fault("pairs", "all settings are the same: read the scale at two widths at least")
	}
	for i, p := range pairs {
		if d := p.Read.Length - p.Set.Length; d.Abs() > 3*mm {
			t.question("pairs", "pair %d: set %s and read %s differ by %s", i+1, p.Set, p.Read, t.context().show(d.Abs()))
		}
	}
	w, final := t.profile.WorkingWidth, t.length("final")
	if off := final.Length - w.Length; off.Abs() > t.profile.Tolerance.Length {
		way := "toward the blade"
		if off < 0 {
			way = "away from the blade"
		}
		t.fault("final", "%s is not %s within %s: nudge the fence %s %s and rip again", final, w, t.profile.Tolerance, t.context().show(off.Abs()), way)
	}
	r := model.Record{Kind: model.Scale, Pairs: pairs, Cursor: t.lengthOrNone("cursor")}
	if len(t.faults) == 0 || t.onlyQuestions() {
		t.record(r)
		t.lock(w)
	}
}

func bySetting(a, b model.Pair) int { return int(a.Set.Length - b.Set.Length) }
